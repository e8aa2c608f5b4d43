package checker

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"headroom/specs"
)

// A unitSystem writes quantities: each unit with what one of the trade's metric unit
// is in it, and what its zero is.
type unitSystem struct {
	pressure, flow, length, bigLength, volume, force, mass, temperature string
	perBar, perLitreAMinute, perMillimetre, perMetre, perLitre          float64
	perNewton, perKilogram, perKelvin, atFreezing                       float64
}

var metric = unitSystem{
	"bar", "L/min", "mm", "m", "L", "N", "kg", "degC",
	1, 1, 1, 1, 1,
	1, 1, 1, 0,
}

// inches are the inch, the US gallon (231 in³), the pound (0.45359237 kg), the pound-force
// by standard gravity (9.80665 m/s²), and degrees Fahrenheit; all of them by definition.
var inches = unitSystem{
	"psi", "gpm", "in", "ft", "in3", "lbf", "lb", "degF",
	1e5 / (0.45359237 * 9.80665 / (0.0254 * 0.0254)), 1 / (231 * 0.0254 * 0.0254 * 0.0254 * 1e3), 1 / 25.4, 1 / 0.3048, 1 / (0.0254 * 0.0254 * 0.0254 * 1e3),
	1 / (0.45359237 * 9.80665), 1 / 0.45359237, 1.8, 32,
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 17, 64) }

func (u *unitSystem) p(bar float64) string { return number(bar*u.perBar) + " " + u.pressure }
func (u *unitSystem) q(litresAMinute float64) string {
	return number(litresAMinute*u.perLitreAMinute) + " " + u.flow
}
func (u *unitSystem) l(millimetres float64) string {
	return number(millimetres*u.perMillimetre) + " " + u.length
}
func (u *unitSystem) m(metres float64) string  { return number(metres*u.perMetre) + " " + u.bigLength }
func (u *unitSystem) v(litres float64) string  { return number(litres*u.perLitre) + " " + u.volume }
func (u *unitSystem) f(newtons float64) string { return number(newtons*u.perNewton) + " " + u.force }
func (u *unitSystem) kg(mass float64) string   { return number(mass*u.perKilogram) + " " + u.mass }
func (u *unitSystem) t(celsius float64) string {
	return number(celsius*u.perKelvin+u.atFreezing) + " " + u.temperature
}

// A randomCircuit is a small circuit drawn by chance, before it is written: a pump with
// its relief valve, perhaps a store, a gallery of tubes, and functions that hang on it.
type randomCircuit struct {
	seed                                uint64
	displacement, speed, relief, charge float64
	store, precharge                    float64 // L, bar; 0 for none
	inlet                               float64
	gallery                             []float64 // bores, mm
	galleryLength                       float64
	functions                           []function
	bleed                               float64 // mm
	fluid                               float64 // degC
	shift                               float64 // s, of all that happens
}

// A function is a cylinder behind its valve, or an orifice to the reservoir.
type function struct {
	orifice                                 float64 // mm; 0 for a cylinder
	bore, rod, stroke, mass, load, friction float64
	flow, drop, lag                         float64
	line                                    float64 // bore, mm
	at, back                                float64 // s
}

// draw draws the circuit of a seed.
func draw(seed uint64) *randomCircuit {
	chance := rand.New(rand.NewPCG(seed, 42))
	between := func(low, high float64) float64 { return low + (high-low)*chance.Float64() }
	c := &randomCircuit{
		seed: seed, displacement: between(3, 16), speed: between(900, 2800), relief: between(80, 240),
		gallery: make([]float64, 1+chance.IntN(3)), galleryLength: between(0.2, 3), bleed: between(0.4, 1.2), fluid: between(15, 75),
	}
	if chance.IntN(3) > 0 {
		c.precharge = between(0.3, 0.6) * c.relief
		c.store, c.inlet, c.charge = between(0.2, 4), between(6, 16), between(0.7, 0.9)*c.relief
	}
	for i := range c.gallery {
		c.gallery[i] = between(6, 14)
	}
	for range 1 + chance.IntN(3) {
		f := function{
			bore: between(20, 63), stroke: between(40, 300), mass: between(2, 200), friction: between(50, 400),
			flow: between(10, 60), drop: between(2, 8), lag: between(8, 40), line: between(6, 12),
			at: between(0.1, 0.4), back: between(0.9, 1.4),
		}
		f.rod = f.bore * between(0.4, 0.7)
		f.load = between(0, 0.4) * c.relief * 1e5 * f.bore * f.bore * 0.785e-6
		if chance.IntN(4) == 0 {
			f.orifice = between(0.5, 2)
		}
		c.functions = append(c.functions, f)
	}
	return c
}

// lasts is how long its case lasts, s.
const lasts = 2.0

// parts are the lines of its parts.
func (c *randomCircuit) parts(u *unitSystem) []string {
	flow := c.displacement * c.speed / 1000
	parts := []string{
		fmt.Sprintf("tank: {kind: reservoir, at: sump, volume: %s, fill: %s, to_ambient: 12 W/K, heat_capacity: 5 kJ/K}", u.v(60), u.v(45)),
		fmt.Sprintf("suction: {kind: hose, from: sump, to: inlet, bore: %s, length: %s}", u.l(25), u.m(0.5)),
		fmt.Sprintf("pump: {kind: pump, from: inlet, to: out, displacement: %s cm3/rev, delivers: {flow: %s, at: {pressure: %s, speed: %s rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %%}",
			number(c.displacement), u.q(0.93*flow), u.p(150), number(c.speed)),
		fmt.Sprintf("relief: {kind: relief-valve, from: out, to: back, cracking: %s, flow: %s, override: %s}", u.p(c.relief), u.q(1.3*flow), u.p(15)),
		fmt.Sprintf("check: {kind: check-valve, from: out, to: rail0, cracking: %s, flow: %s, drop: %s}", u.p(0.5), u.q(2*flow), u.p(2)),
		fmt.Sprintf("bleed: {kind: orifice, from: rail0, to: back, diameter: %s}", u.l(c.bleed)),
		fmt.Sprintf("home: {kind: hose, from: back, to: sump, bore: %s, length: %s, losses: 2}", u.l(22), u.m(1)),
	}
	if c.store > 0 {
		parts = append(parts, fmt.Sprintf("store: {kind: accumulator, at: rail0, size: %s, precharge: {pressure: %s}, gas: nitrogen, time_constant: 12 s, inlet: %s}", u.v(c.store), u.p(c.precharge), u.l(c.inlet)))
	}
	for i, bore := range c.gallery {
		parts = append(parts, fmt.Sprintf("gallery%d: {kind: tube, from: rail%d, to: rail%d, bore: %s, length: %s, wall: %s}", i, i, i+1, u.l(bore), u.m(c.galleryLength), u.l(1.5)))
	}
	last := len(c.gallery)
	for i := range c.functions {
		f := &c.functions[i]
		if f.orifice > 0 {
			parts = append(parts, fmt.Sprintf("drain%d: {kind: orifice, from: rail%d, to: back, diameter: %s}", i, last, u.l(f.orifice)))
			continue
		}
		parts = append(parts,
			fmt.Sprintf("valve%d: {kind: directional-valve, p: rail%d, t: back, a: a%d, b: b%d, flow: %s, drop: %s, lag: %s ms, rest: 0}", i, last, i, i, u.q(f.flow), u.p(f.drop), number(f.lag)),
			fmt.Sprintf("line%d: {kind: tube, from: a%d, to: head%d, bore: %s, length: %s, wall: %s}", i, i, i, u.l(f.line), u.m(0.8), u.l(1)),
			fmt.Sprintf("ram%d: {kind: cylinder, head: head%d, rod: b%d, bore: %s, rod_diameter: %s, stroke: %s, moving_mass: %s, load: %s, friction: {coulomb: %s}, dead_volume: {head: %s, rod: %s}}",
				i, i, i, u.l(f.bore), u.l(f.rod), u.l(f.stroke), u.kg(f.mass), u.f(f.load), u.f(f.friction), u.v(0.02), u.v(0.02)))
	}
	return parts
}

// write writes it in a unit system, its parts and cases in an order by chance where
// there is one.
func (c *randomCircuit) write(u *unitSystem, order *rand.Rand) string {
	var b strings.Builder
	fmt.Fprintf(&b, "headroom: 1\ncircuit: random-%d\ntitle: Drawn by chance\nfluid: {like: hm-46}\nenvironment: {ambient: %s, cold_start: %s}\nparts:\n", c.seed, u.t(40), u.t(-10))
	parts := c.parts(u)
	cases := []string{c.work(u), fmt.Sprintf("  rest:\n    lasts: 0.2 s\n    begins: {fluid: %s}\n", u.t(20))}
	if order != nil {
		order.Shuffle(len(parts), func(i, k int) { parts[i], parts[k] = parts[k], parts[i] })
		slices.Reverse(cases)
	}
	for _, p := range parts {
		b.WriteString("  " + p + "\n")
	}
	b.WriteString("cases:\n" + strings.Join(cases, ""))
	return b.String()
}

// work is the case in which all functions work.
func (c *randomCircuit) work(u *unitSystem) string {
	at := func(t float64) string { return number(t+c.shift) + " s" }
	var b strings.Builder
	fmt.Fprintf(&b, "  work:\n    lasts: %s\n    begins: {fluid: %s, ambient: %s", at(lasts), u.t(c.fluid), u.t(c.fluid))
	if c.charge > 0 {
		fmt.Fprintf(&b, ", charge: %s", u.p(c.charge))
	}
	fmt.Fprintf(&b, "}\n    drives: {pump: [[%s, 0 rpm], [%s, %s rpm]]}\n", at(0), at(0.3), number(c.speed))
	var commands, expects []string
	for i := range c.functions {
		if f := &c.functions[i]; f.orifice == 0 {
			commands = append(commands, fmt.Sprintf("{at: %s, valve: valve%d, to: 1, over: 30 ms}", at(f.at), i), fmt.Sprintf("{at: %s, valve: valve%d, to: -1, over: 30 ms}", at(f.back), i))
			expects = append(expects, fmt.Sprintf("{name: out%d, part: ram%d, reaches: %s, from: %s, within: 1.5 s}", i, i, u.l(f.stroke*0.3), at(f.at)))
		}
	}
	if commands != nil {
		fmt.Fprintf(&b, "    commands: [%s]\n    expects: [%s]\n", strings.Join(commands, ", "), strings.Join(expects, ", "))
	}
	return b.String()
}

// read reads a random circuit, which has no fault.
func (c *randomCircuit) read(t *testing.T, u *unitSystem, order *rand.Rand) *specs.Circuit {
	t.Helper()
	text := c.write(u, order)
	read := specs.Read("random.yaml", []byte(text))
	for _, p := range read.Problems {
		t.Fatalf("%v\n%s", p, text)
	}
	return read
}
