package specs

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A value may be as much as the one that bounds it: a full reservoir, with all of it
// needed.
func TestAsMuchAsItsBound(t *testing.T) {
	text := strings.Replace(base, "volume: 10 L, fill: 8 L", "volume: 10 L, fill: 10 L, min_fill: 10 L", 1)
	if problems := Read("spec.yaml", []byte(text)).Problems; len(problems) > 0 {
		t.Error(problems)
	}
}

// Where both the air's pressure and an altitude are written, that is told, and the
// pressure holds.
func TestWrittenAirPressureHolds(t *testing.T) {
	air := func(keys string) float64 {
		text := strings.Replace(base, "{ambient: 40 degC}", "{ambient: 40 degC, "+keys+"}", 1)
		return Read("spec.yaml", []byte(text)).Environment.AirPressure.SI
	}
	if got := air("air_pressure: 0.8 bar abs, altitude: 5 km"); got != 80000 {
		t.Errorf("%g Pa", got)
	}
	if got := air("altitude: 5 km"); got > 55000 || got < 53000 { // ISO 2533, table 5: 54 020 Pa
		t.Errorf("at 5 km: %g Pa", got)
	}
}

// On a walk, no more of a file is searched than a spec may be long.
func TestKeysBeyondTheLongestSpec(t *testing.T) {
	for _, more := range []int{-100, 0} {
		text := "headroom: 1\n#" + strings.Repeat("x", maxFile+more-len("headroom: 1\n#\n")) + "\ncircuit: far\n"
		path := filepath.Join(t.TempDir(), "long.yaml")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		keys, err := topKeysOf(path)
		if err != nil || keys.headroom != 1 || (keys.circuit > 0) != (more < 0) {
			t.Errorf("the second key %d bytes from the bound: %+v, %v", more, keys, err)
		}
	}
}

// TestReadable holds what is no spec at all.
func TestReadable(t *testing.T) {
	for text, want := range map[string]bool{
		base: true, "headroom: 1\n": true, "circuit: x\n": true, "": false, "# nothing\n": false, "- 1\n": false, "just words\n": false,
		"services: {}\n": false, "headroom: [\n": false, "{}": false, "headroom: 1\ncircuit: x\ntitle: 3 [\n": true,
	} {
		if got := Read("spec.yaml", []byte(text)).Readable(); got != want {
			t.Errorf("%.30q: %v", text, got)
		}
	}
}

// TestContradictions holds what is told of values that do not go together.
func TestContradictions(t *testing.T) {
	for _, test := range []struct{ was, now, want string }{
		{"bore: 8 mm, length: 1 m, wall: 1 mm", "bore: 8 mm, length: 1 m, wall: 1 mm, rated: {pressure: 210 bar}, burst_pressure: 200 bar",
			"pressure (210 bar) must be no more than burst_pressure (200 bar)"},
		{"bore: 8 mm, length: 1 m, wall: 1 mm", "bore: 8 mm, length: 1 m, wall: 1 mm, proof_pressure: 300 bar, burst_pressure: 299 bar",
			"proof_pressure (300 bar) must be no more than burst_pressure (299 bar)"},
		{"bore: 8 mm, length: 1 m, wall: 1 mm", "bore: 8 mm, length: 1 m, wall: 1 mm, rated: {pressure: 210 bar}, proof_pressure: 200 bar, burst_pressure: 210 bar",
			"pressure (210 bar) must be no more than proof_pressure (200 bar)"},
		{"bore: 8 mm, length: 1 m, wall: 1 mm", "bore: 8 mm, length: 1 m, wall: 1 mm, rated: {pressure: 210 bar}, proof_pressure: 210 bar, burst_pressure: 210 bar", ""},
		{"volume: 10 L, fill: 8 L", "volume: 10 L, fill: 8 L, uncovers: {x: 0 m/s2}",
			"no acceleration at all would uncover the pickup; leave uncovers out, or give one above 0, such as x: 12 m/s2"},
		{"volume: 10 L, fill: 8 L", "volume: 10 L, fill: 8 L, uncovers: {x: 0 m/s2, y: 3 m/s2}", ""},
		{"mechanical_efficiency: 90 %", "mechanical_efficiency: 90 %, viscosity: {min: 10 mm2/s, max: 400 mm2/s, start_max: 300 mm2/s}",
			"max (400 mm2/s) must be no more than start_max (300 mm2/s)"},
		{"lasts: 5 s\n", "lasts: 5 s\n    repeats: settel\n", "repeats must be a whole number or settle; did you mean settle?"},
	} {
		if strings.Count(base, test.was) != 1 {
			t.Fatalf("%q is not in the base spec once", test.was)
		}
		var got []string
		for _, p := range Read("spec.yaml", []byte(strings.Replace(base, test.was, test.now, 1))).Problems {
			got = append(got, p.Message)
		}
		if text := strings.Join(got, "; "); text != test.want {
			t.Errorf("%s: %s", test.now, text)
		}
	}
}

// A reservoir whose node has no possible name is told of once: parts that drain into
// the only reservoir are not connected to it, nor told that there is none.
func TestReservoirWithoutNode(t *testing.T) {
	text := strings.Replace(base, "at: sump", "at: -15 degC", 1)
	c := Read("spec.yaml", []byte(text))
	for _, n := range c.Nodes {
		if n.At.Line == 0 || n.Name == "-15 degC" {
			t.Errorf("node %q at %v", n.Name, n.At)
		}
	}
	for _, p := range c.Problems {
		if strings.Contains(p.Message, "there is no reservoir") {
			t.Errorf("%v: %s", p.At, p.Message)
		}
	}
}

// What is missing has a place too: the beginning of the file.
func TestMissingFluidHasAPlace(t *testing.T) {
	text := strings.Replace(base, "fluid: {like: hm-32}\n", "", 1)
	if at := Read("spec.yaml", []byte(text)).Fluid.At; at.File != "spec.yaml" || at.Line != 1 || at.Column != 1 {
		t.Errorf("the fluid is at %+v", at)
	}
}
