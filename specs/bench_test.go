package specs

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"gopkg.in/yaml.v3"
)

// large is a spec of 33 parts and 5 cases.
func large() []byte {
	parts, cases, found := strings.Cut(string(starter), "\n# What happens")
	if !found {
		panic("the starter has no cases")
	}
	var out strings.Builder
	out.WriteString(parts)
	for i := range 13 {
		fmt.Fprintf(&out, `
  pipe-%d: {kind: tube, from: rail, to: far-%d, bore: 10 mm, length: 1.2 m, wall: 1 mm, losses: 2.5, rated: {pressure: 210 bar, temperature: {min: -30 degC, max: 120 degC}}, mass: 0.4 kg}
  valve-%d:
    kind: directional-valve
    p: far-%d
    t: back
    a: user-%d
    flow: 12 L/min
    drop: 4 bar
    lag: 20 ms
    rest: 0          # closed
    viscosity: {min: 10 mm2/s, max: 400 mm2/s}
    seals: [{material: NBR, hardness: 90, gap: 0.1 mm}]
`, i, i, i, i, i)
	}
	out.WriteString("\ncases:\n")
	_, cases, _ = strings.Cut(cases, "cases:\n")
	for i := range 3 {
		out.WriteString(strings.NewReplacer("working:", fmt.Sprintf("working-%d:", i), "cold-start:", fmt.Sprintf("cold-%d:", i)).Replace(cases) + "\n")
	}
	text := out.String()
	return []byte(text[:strings.LastIndex(text, "  cold-2:")])
}

func BenchmarkRead(b *testing.B) {
	text := large()
	if c := Read("spec.yaml", text); len(c.Problems) > 0 || len(c.Parts) < 30 || len(c.Cases) != 5 {
		b.Fatal(len(c.Parts), len(c.Cases), c.Problems)
	}
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		Read("spec.yaml", text)
	}
}

func bareYAML(b *testing.B, text []byte) {
	var root yaml.Node
	if err := yaml.Unmarshal(text, &root); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkBareYAML is the parse to nodes alone, of which a whole reading may
// cost twice as much.
func BenchmarkBareYAML(b *testing.B) {
	text := large()
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		bareYAML(b, text)
	}
}

// BenchmarkReadOverBareYAML takes turns at both, so that what else the machine
// does falls on both alike, and reports how many times the parse a reading costs.
func BenchmarkReadOverBareYAML(b *testing.B) {
	text := large()
	var read, bare time.Duration
	for b.Loop() {
		start := time.Now()
		Read("spec.yaml", text)
		middle := time.Now()
		bareYAML(b, text)
		read, bare = read+middle.Sub(start), bare+time.Since(middle)
	}
	b.ReportMetric(float64(read)/float64(bare), "times-bare")
}
