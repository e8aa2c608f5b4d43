package network

import (
	"fmt"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The demo's five cases, one after the other on one core, models and solvers
// built anew each time.
func BenchmarkDemo(b *testing.B) {
	c := load(b, "../../specs/demo/stonechat.yaml")
	steps, evaluations := 0, 0
	used := cpu()
	for b.Loop() {
		steps, evaluations = 0, 0
		for i := range c.Cases {
			out, err := Simulate(c, &c.Cases[i], Options{})
			if err != nil || out.Failure != nil {
				b.Fatal(err, out.Failure)
			}
			steps += out.Steps + out.Rejections
			evaluations += out.Evaluations
		}
	}
	b.ReportMetric((cpu()-used).Seconds()*1e3/float64(b.N), "cpu-ms/op")
	b.ReportMetric(float64(steps), "steps")
	b.ReportMetric(float64(evaluations), "evaluations")
}

// cpu is the processor time used so far, which the load of the machine changes less.
func cpu() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// generated is a circuit of about so many parts: groups of a pump, its rail with
// an accumulator and three functions each, on one reservoir.
func generated(parts int) string {
	var b, cases strings.Builder
	b.WriteString(strings.Replace(plainOil, "free_air: 0 %", "free_air: 0.5 %", 1))
	b.WriteString("parts:\n  tank: {kind: reservoir, at: sump, volume: 4000 L, fill: 3000 L}\n")
	for g := range max(1, parts/25) {
		fmt.Fprintf(&b, `  pump%[1]d: {kind: pump, from: sump, to: out%[1]d, displacement: 6 cm3/rev, delivers: {flow: 7.9 L/min, at: {pressure: 160 bar, speed: 1450 rpm, viscosity: 46 mm2/s}}, mechanical_efficiency: 91 %%}
  filter%[1]d: {kind: filter, from: out%[1]d, to: clean%[1]d, flow: 20 L/min, drop: 1 bar, viscosity: 32 mm2/s}
  check%[1]d: {kind: check-valve, from: clean%[1]d, to: rail%[1]d, cracking: 0.5 bar, flow: 20 L/min, drop: 1.5 bar}
  store%[1]d: {kind: accumulator, at: rail%[1]d, size: 2 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 20 s, inlet: 12 mm}
  relief%[1]d: {kind: relief-valve, from: rail%[1]d, to: back%[1]d, cracking: 160 bar, flow: 20 L/min, override: 15 bar}
  home%[1]d: {kind: hose, from: back%[1]d, to: sump, bore: 16 mm, length: 2 m, losses: 2}
  cooler%[1]d: {kind: orifice, from: rail%[1]d, to: back%[1]d, diameter: 0.5 mm}
`, g)
		for f := range 3 {
			fmt.Fprintf(&b, `  valve%[1]d-%[2]d: {kind: directional-valve, p: rail%[1]d, t: back%[1]d, a: a%[1]d-%[2]d, b: b%[1]d-%[2]d, flow: 12 L/min, drop: 5 bar, lag: 10 ms, rest: 0, leak: {flow: 0.02 L/min, pressure: 100 bar}}
  in%[1]d-%[2]d: {kind: hose, from: a%[1]d-%[2]d, to: head%[1]d-%[2]d, bore: 8 mm, length: 1 m, losses: 3, stretch: 0.01 cm3/m/bar}
  out%[1]d-%[2]d: {kind: hose, from: b%[1]d-%[2]d, to: mid%[1]d-%[2]d, bore: 8 mm, length: 1 m, losses: 3, stretch: 0.01 cm3/m/bar}
  brake%[1]d-%[2]d: {kind: orifice, from: mid%[1]d-%[2]d, to: rod%[1]d-%[2]d, diameter: 2 mm}
  ram%[1]d-%[2]d: {kind: cylinder, head: head%[1]d-%[2]d, rod: rod%[1]d-%[2]d, bore: 32 mm, rod_diameter: 16 mm, stroke: 200 mm, moving_mass: 30 kg, friction: {coulomb: 100 N, viscous: 500 N·s/m}, dead_volume: {head: 10 cm3, rod: 10 cm3}}
  need%[1]d-%[2]d: {kind: consumer, from: rail%[1]d, to: back%[1]d, min_pressure: 40 bar}
`, g, f)
			fmt.Fprintf(&cases, "      - {at: %d ms, valve: valve%d-%d, to: 1, over: 20 ms}\n      - {at: %d ms, valve: valve%d-%d, to: -1, over: 20 ms}\n", 200+300*f, g, f, 1500+300*f, g, f)
		}
	}
	b.WriteString("cases:\n  work:\n    lasts: 4 s\n    begins: {fluid: 40 degC, charge: 120 bar}\n    drives: {")
	for g := range max(1, parts/25) {
		fmt.Fprintf(&b, "pump%d: 1450 rpm, ", g)
	}
	b.WriteString("}\n    commands:\n" + cases.String())
	return b.String()
}

// Cost over size: 800 parts may cost at most 24 times 50 parts.
func BenchmarkSize(b *testing.B) {
	for _, parts := range []int{50, 200, 800} {
		b.Run(fmt.Sprint(parts), func(b *testing.B) {
			c := read(b, "generated.yaml", generated(parts))
			var out *Outcome
			used := cpu()
			for b.Loop() {
				var err error
				if out, err = Simulate(c, &c.Cases[0], Options{}); err != nil || out.Failure != nil {
					b.Fatal(err, out.Failure)
				}
			}
			b.ReportMetric((cpu()-used).Seconds()*1e3/float64(b.N), "cpu-ms/op")
			b.ReportMetric(float64(len(c.Parts)), "parts")
			b.ReportMetric(float64(out.Steps+out.Rejections), "steps")
			b.ReportMetric(float64(out.Evaluations), "evaluations")
		})
	}
}

// What comes before the first step: the oil's tables, the equations, the solver.
func BenchmarkBegin(b *testing.B) {
	c := load(b, "../../specs/demo/stonechat.yaml")
	o, err := newOil(&c.Fluid)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("oil", func(b *testing.B) {
		for b.Loop() {
			if _, err := newOil(&c.Fluid); err != nil {
				b.Fatal(err)
			}
		}
	})
	m, y := startOf(b, c, &c.Cases[0])
	b.Run("equations", func(b *testing.B) {
		for b.Loop() {
			if _, err := newModel(c, &c.Cases[0], o); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("solver", func(b *testing.B) {
		for b.Loop() {
			if _, err := newRunner(m, 1, DefaultSteps); err != nil {
				b.Fatal(err)
			}
		}
	})
	dy, values := make([]float64, len(y)), make([]float64, len(m.pattern.Row))
	b.Run("evaluation", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			m.evaluate(0, y, dy)
		}
	})
	b.Run("jacobian", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			m.jacobian(-1, y, values)
		}
	})
}
