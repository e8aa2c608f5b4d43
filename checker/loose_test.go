package checker

import (
	"os"
	"strings"
	"testing"

	"headroom/rules"
)

// A node that is declared while the part at it could not be read is in no section
// of parts: the circuit is judged as far as it goes.
func TestDeclaredNodeWithoutParts(t *testing.T) {
	text, err := os.ReadFile("../specs/demo/ptarmigan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	wrong := strings.Replace(string(text), "    at: rail\n", "    at: the rail\n", -1)
	for _, way := range []string{"from: rail\n", "to: rail\n", "p: rail\n"} {
		wrong = strings.ReplaceAll(wrong, way, strings.TrimSuffix(way, "rail\n")+"the rail\n")
	}
	path := t.TempDir() + "/loose.yaml"
	if err := os.WriteFile(path, []byte(wrong), 0o600); err != nil {
		t.Fatal(err)
	}
	core, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	result := Judge(Task{Path: path, Name: "loose.yaml", Book: core})
	if !result.Readable || result.Judgement.Verdict != rules.Broken {
		t.Errorf("readable %v, verdict %v", result.Readable, result.Judgement.Verdict)
	}
}

// A fault of the program is told as such, and stops nothing else.
func TestFaultIsTold(t *testing.T) {
	core, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	result := faulty(Task{Path: "x.yaml", Name: "x.yaml", Book: core}, "index out of range")
	if result.Readable || len(result.Judgement.Findings) != 1 || !strings.Contains(result.Judgement.Findings[0].Message, "a fault of headroom (index out of range)") {
		t.Errorf("told: %+v", result.Judgement.Findings)
	}
}
