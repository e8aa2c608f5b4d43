package checker

import (
	"testing"

	"headroom/specs/quantity"
)

// A clutch of one face, inner and outer diameter 100 and 200 mm, friction 0.2:
// Bhandari, Design of Machine Elements, examples 11.1 and 11.2.
const clutch = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 100 bar, flow: 20 L/min, override: 10 bar}
  valve: {kind: reducing-valve, p: rail, a: line, t: sump, band: 2 bar, rest: 0 bar}
  hose: {kind: hose, from: line, to: port, bore: 6 mm, length: 1 m}
  slave: {kind: cylinder, head: port, bore: 50 mm, stroke: 5 mm, spring: {preload: 15707.963 N, rate: 1 kN/mm}}
  clutch: {kind: friction-pack, released_by: slave, faces: 1, inner_radius: 50 mm, outer_radius: 100 mm,
    friction: 0.2, contact: uniform-wear, clearance: 0.48 mm, wear: 1 mm}
`

// That a reducing valve sets the cylinder's pressure is known where its band is not.
func TestSetByReducingValve(t *testing.T) {
	known := partOf(t, gather(t, clutch), "clutch")
	unread := partOf(t, gather(t, replaced(clutch, "band: 2 bar, ", "")), "clutch")
	spool := partOf(t, gather(t, replaced(clutch, "kind: reducing-valve, p: rail, a: line, t: sump, band: 2 bar, rest: 0 bar", "kind: directional-valve, p: rail, a: line, t: sump, rest: 0")), "clutch")
	if !known.ByReducingValve.Value || !unread.ByReducingValve.Value || spool.ByReducingValve.Value || !spool.ByReducingValve.Known {
		t.Errorf("with its band %+v, without %+v, by a spool %+v", known.ByReducingValve, unread.ByReducingValve, spool.ByReducingValve)
	}
	lacks(t, "torque per band", unread.TorquePerBand, "parts.valve.band")
}

func TestTorqueCapacity(t *testing.T) {
	wear := partOf(t, gather(t, clutch), "clutch")
	is(t, "uniform wear, example 11.1", wear.TorqueCapacity, "235.619 N·m", quantity.Torque, 1e-5)
	pressure := partOf(t, gather(t, replaced(replaced(clutch, "uniform-wear", "uniform-pressure"), "15707.963", "23561.945")), "clutch")
	is(t, "uniform pressure, example 11.2", pressure.TorqueCapacity, "366.519 N·m", quantity.Torque, 1e-5)
	// 1 bar left on 1963.495 mm2 takes 196.35 N off 15 707.963 N
	residual := partOf(t, gather(t, replaced(clutch, "rest: 0 bar", "rest: 1 bar")), "clutch")
	is(t, "1 bar left in the cylinder", residual.TorqueCapacity, "232.674 N·m", quantity.Torque, 1e-5)
	table := partOf(t, gather(t, replaced(clutch, "friction: 0.2", "friction: [[20 degC, 0.3], [200 degC, 0.2], [400 degC, 0.25]]")), "clutch")
	is(t, "the lowest friction of its table", table.TorqueCapacity, "235.619 N·m", quantity.Torque, 1e-5)
	returned := partOf(t, gather(t, replaced(clutch, "a: line, t: sump", "a: line, t: back")+"  home: {kind: hose, from: back, to: sump, bore: 6 mm, length: 1 m}\n"), "clutch")
	lacks(t, "behind a return line", returned.TorqueCapacity, "simulation")
	bare := partOf(t, gather(t, replaced(clutch, "preload: 15707.963 N, ", "")), "clutch")
	lacks(t, "without a preload", bare.TorqueCapacity, "parts.slave.spring.preload")
}

// 15 707.963 N on 1963.495 mm2 are 80.000 bar; every millimetre of lift adds
// 1 kN, 5.09296 bar. Take-up 0.02 mm and one clearance of 0.48 mm: 0.5 mm. Worn by 1
// mm the lift is 1.5 mm, from a spring with 1 kN less. One of 20 kN/mm
// ends 0.5 mm from its preload too: 10 kN more, 50.9296 bar.
func TestReleasePressure(t *testing.T) {
	f := partOf(t, gather(t, clutch), "clutch")
	is(t, "new", f.ReleaseNew, "82.5465 bar", quantity.Pressure, 1e-5)
	is(t, "worn", f.ReleaseWorn, "82.5465 bar", quantity.Pressure, 1e-5)
	stiff := partOf(t, gather(t, replaced(clutch, "rate: 1 kN/mm", "rate: 20 kN/mm")), "clutch")
	is(t, "with a stiff spring", stiff.ReleaseNew, "130.930 bar", quantity.Pressure, 1e-5)
	is(t, "with a stiff spring, worn", stiff.ReleaseWorn, "130.930 bar", quantity.Pressure, 1e-5)
	loaded := partOf(t, gather(t, replaced(clutch, "stroke: 5 mm,", "stroke: 5 mm, load: 1 kN, friction: {coulomb: 1 kN},")), "clutch")
	is(t, "against load and dry friction", loaded.ReleaseNew, "92.7324 bar", quantity.Pressure, 1e-5)
	lacks(t, "without a clearance", partOf(t, gather(t, replaced(clutch, "clearance: 0.48 mm, ", "")), "clutch").ReleaseNew, "parts.clutch.clearance")
	lacks(t, "without a wear", partOf(t, gather(t, replaced(clutch, ", wear: 1 mm", "")), "clutch").ReleaseWorn, "parts.clutch.wear")
}

// The same clutch: its spring gives 1 kN less for every millimetre that the one face
// is worn, 0.2 · 75 mm · (15 707.963 − 1000) N; a spring of 20 kN/mm gives nothing more.
func TestTorqueWorn(t *testing.T) {
	is(t, "worn by 1 mm", partOf(t, gather(t, clutch), "clutch").TorqueWorn, "220.619 N·m", quantity.Torque, 1e-5)
	is(t, "relaxed", partOf(t, gather(t, replaced(clutch, "rate: 1 kN/mm", "rate: 20 kN/mm")), "clutch").TorqueWorn, "0 N·m", quantity.Torque, 1e-5)
	worse := partOf(t, gather(t, clutch+"cases: {worn: {lasts: 1 s, begins: {fluid: 40 degC}, with: {clutch: {wear: 2 mm}}}}\n"), "clutch")
	is(t, "worn by 2 mm in a case", worse.TorqueWorn, "205.619 N·m", quantity.Torque, 1e-5)
	is(t, "which says nothing of new plates", worse.TorqueCapacity, "235.619 N·m", quantity.Torque, 1e-5)
	lacks(t, "without a wear", partOf(t, gather(t, replaced(clutch, ", wear: 1 mm", "")), "clutch").TorqueWorn, "parts.clutch.wear")
}

// Take-up 0.02 mm, one clearance of 0.48 mm, one wear of 1 mm.
func TestFullLift(t *testing.T) {
	f := partOf(t, gather(t, clutch), "clutch")
	is(t, "lift", f.FullLift, "1.5 mm", quantity.Length, 1e-9)
	is(t, "stroke", f.ReleaseStroke, "5 mm", quantity.Length, 1e-9)
	is(t, "lift with new plates", partOf(t, gather(t, replaced(clutch, ", wear: 1 mm", "")), "clutch").FullLift, "0.5 mm", quantity.Length, 1e-9)
	short := partOf(t, gather(t, clutch+"cases: {short: {lasts: 1 s, begins: {fluid: 40 degC}, with: {slave: {stroke: 1 mm}}}}\n"), "clutch")
	is(t, "stroke of a case", short.ReleaseStroke, "1 mm", quantity.Length, 1e-9)
	if from := short.ReleaseStroke.From; from.Case != "short" || from.Key != "cases.short.with.slave.stroke" {
		t.Errorf("it is set by %+v", from)
	}
	lacks(t, "without a clearance", partOf(t, gather(t, replaced(clutch, "clearance: 0.48 mm, ", "")), "clutch").FullLift, "parts.clutch.clearance")
	lacks(t, "without a stroke", partOf(t, gather(t, replaced(clutch, " stroke: 5 mm,", "")), "clutch").ReleaseStroke, "parts.slave.stroke")
}

// μ z R A band = 0.2 · 75 mm · 1963.495 mm2 · 2 bar.
func TestTorquePerBand(t *testing.T) {
	is(t, "torque per band", partOf(t, gather(t, clutch), "clutch").TorquePerBand, "5.890486 N·m", quantity.Torque, 1e-6)
	direct := replaced(clutch, "{kind: reducing-valve, p: rail, a: line, t: sump, band: 2 bar, rest: 0 bar}", "{kind: directional-valve, p: rail, a: line, t: sump, rest: -1}")
	if f := partOf(t, gather(t, direct), "clutch"); f.TorquePerBand.Known {
		t.Error("a directional valve has a band")
	} else {
		is(t, "capacity behind a directional valve", f.TorqueCapacity, "235.619 N·m", quantity.Torque, 1e-5)
	}
}

func TestInputSpeed(t *testing.T) {
	f := gather(t, clutch+"cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {clutch: [[0 s, 1000 rpm], [1 s, 3000 rpm]]}}}\n")
	is(t, "input speed", partOf(t, f, "clutch").InputSpeed, "3000 rpm", quantity.RotationalSpeed, 1e-9)
	lacks(t, "input speed that no case drives", partOf(t, gather(t, clutch), "clutch").InputSpeed, "cases.*.drives.clutch")
}
