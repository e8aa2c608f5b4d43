package checker

import (
	"fmt"
	"strings"
	"testing"

	"headroom/specs"
)

// The demo circuit: some 30 parts, 5 cases.
func BenchmarkFactsOfTheDemo(b *testing.B) {
	c := specs.Read("stonechat.yaml", read(b, "../specs/demo/stonechat.yaml"))
	b.ReportAllocs()
	for b.Loop() {
		Facts(c)
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(len(c.Parts)), "µs/part")
}

// One rail with a store feeds a growing number of functions, each a valve, two
// lines, a cylinder and a branch to a consumer: 5 parts each.
func BenchmarkFacts(b *testing.B) {
	for _, parts := range []int{50, 200, 800} {
		b.Run(fmt.Sprint(parts), func(b *testing.B) {
			c := specs.Read("wide.yaml", []byte(wide(parts)))
			for _, p := range c.Problems {
				b.Fatal(p)
			}
			b.ReportAllocs()
			for b.Loop() {
				Facts(c)
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(len(c.Parts)), "µs/part")
		})
	}
}

// wide is a circuit of about so many parts on one rail, in five cases.
func wide(parts int) string {
	var b, commands strings.Builder
	b.WriteString(plain + `title: one rail, many functions
environment: {cold_start: -10 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L, service_loss: 0.1 L}
  pump: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev, mechanical_efficiency: 90 %,
    delivers: {flow: 28 L/min, at: {pressure: 200 bar, speed: 3000 rpm, viscosity: 32 mm2/s}}}
  relief: {kind: relief-valve, from: out, to: back, cracking: 200 bar, flow: 40 L/min, override: 20 bar, rated: {pressure: 350 bar}}
  check: {kind: check-valve, from: out, to: rail, cracking: 0.5 bar, flow: 40 L/min, drop: 1 bar, rated: {pressure: 350 bar}}
  store: {kind: accumulator, at: rail, size: 1 L, precharge: {pressure: 90 bar}, gas: nitrogen, time_constant: 10 s, inlet: 8 mm}
  second: {kind: relief-valve, from: rail, to: back, cracking: 210 bar, flow: 40 L/min, override: 20 bar, rated: {pressure: 350 bar}}
  filter: {kind: filter, from: back, to: clean, flow: 40 L/min, drop: 1 bar, viscosity: 32 mm2/s, bypass: 2 bar, reaches: 18/16/13}
  home: {kind: hose, from: clean, to: sump, bore: 20 mm, length: 1 m}
`)
	for i := range (parts - 8) / 5 {
		fmt.Fprintf(&b, `  valve%[1]d: {kind: directional-valve, p: rail, t: back, a: a%[1]d, b: b%[1]d, flow: 10 L/min, drop: 5 bar, lag: 10 ms, rest: 0, leak: {flow: 0.1 L/min, pressure: 200 bar}, rated: {pressure: 315 bar}}
  out%[1]d: {kind: tube, from: a%[1]d, to: head%[1]d, bore: 6 mm, length: 1 m, wall: 1 mm, material: E235}
  in%[1]d: {kind: tube, from: b%[1]d, to: rod%[1]d, bore: 6 mm, length: 1 m, wall: 1 mm, material: E235}
  ram%[1]d: {kind: cylinder, head: head%[1]d, rod: rod%[1]d, bore: 20 mm, rod_diameter: 10 mm, stroke: 50 mm, moving_mass: 1 kg, seals: [{material: NBR, hardness: 70, gap: 0.1 mm}]}
  user%[1]d: {kind: consumer, from: rail, to: back, min_pressure: 50 bar, rated: {pressure: 300 bar}}
`, i)
		fmt.Fprintf(&commands, "{at: 0.1 s, valve: valve%d, to: 1}, ", i)
	}
	b.WriteString("cases:\n")
	for i := range 5 {
		fmt.Fprintf(&b, "  case%d: {lasts: 1 s, begins: {fluid: %d degC, charge: 150 bar}, drives: {pump: 3000 rpm}, commands: [%s]}\n", i, -10+20*i, commands.String())
	}
	return b.String()
}
