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
