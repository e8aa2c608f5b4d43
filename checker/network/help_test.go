package network

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"headroom/specs"
)

// load reads a spec that must be without fault.
func load(t testing.TB, file string) *specs.Circuit {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return read(t, filepath.Base(file), string(data))
}

// read reads the text of a spec that must be without fault.
func read(t testing.TB, name, text string) *specs.Circuit {
	t.Helper()
	c := specs.Read(name, []byte(text))
	for _, p := range c.Problems {
		t.Fatalf("%s:%d: %s", name, p.At.Line, p.Message)
	}
	return c
}

// independentCircuits are the circuits of the independent solution.
func independentCircuits(t testing.TB) []*specs.Circuit {
	t.Helper()
	files, err := filepath.Glob("independent/circuits/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no circuits of the independent solution: ", err)
	}
	var all []*specs.Circuit
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		// A jump in a profile is written as a ramp of a microsecond.
		text := strings.ReplaceAll(string(data), "[8 s, 9 L/min]", "[8.000001 s, 9 L/min]")
		all = append(all, read(t, filepath.Base(f), text))
	}
	return all
}

// start makes the model of a case and its first state.
func startOf(t testing.TB, c *specs.Circuit, k *specs.Case) (*model, []float64) {
	t.Helper()
	o, err := newOil(&c.Fluid)
	if err != nil {
		t.Fatal(err)
	}
	m, err := newModel(c, k, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, in := range m.inputs {
		in.reset()
		in.enter(0)
	}
	y := make([]float64, len(m.states))
	m.start(y, nil)
	return m, y
}

// seconds is a time as a spec has it.
func seconds(s int) string { return fmt.Sprintf("%d s", s) }
