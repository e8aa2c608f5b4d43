package checker

import (
	"testing"

	"headroom/specs/quantity"
)

// pushed is a piston of 10 cm² that a load of 12 kN drives home past a relief valve
// against 300 N·s/m: no pump gives it anything.
const pushed = `
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  ram: {kind: cylinder, head: line, bore: 35.6825 mm, stroke: 200 mm, moving_mass: 1 kg, friction: {viscous: 3000 N·s/m}, load: 12 kN, dead_volume: {head: 5 cm3}}
  relief: {kind: relief-valve, from: line, to: sump, cracking: 50 bar, flow: 20 L/min, override: 10 bar}
cases: {lowers: {lasts: 2 s, begins: {fluid: 40 degC, positions: {ram: 200 mm}}}}
`

// In the steady state p A = F − b v and Q = A v = Q_r (p − p_c)/Δ: with F = 12 kN,
// A = 10⁻³ m², b = 3000 N·s/m, Q_r/Δ = 20 L/min by 10 bar, v = (F/A − p_c)/(b/A +
// A Δ/Q_r) = 7 MPa/(3 MN·s/m³ + 3 MN·s/m³). It is over after 0.17 s.
func TestReliefTakesWhatALoadPushes(t *testing.T) {
	f := partOf(t, simulateText(t, pushed, Asked{}), "relief")
	v := (12e6 - 5e6) / (3000/1e-3 + 1e-3*1e6/(20e-3/60))
	near(t, "flow it must take", f.ReliefMustTake, 1e-3*v, 0.02e-3*v)
	notes(t, "flow it must take", f.ReliefMustTake, "more than the 0 L/min that pumps can give")
	near(t, "pressure at full flow", f.FullFlow, 5e6+1e6*f.ReliefMustTake.Value/(20e-3/60), 1e3)
	if bound := partOf(t, gather(t, pushed), "relief"); bound.ReliefMustTake.Value != 0 {
		t.Errorf("pumps give it %v", quantity.Flow.Format(bound.ReliefMustTake.Value))
	}
}

// Where no case sends a relief valve all that pumps can give, it must take that
// all the same: here an orifice takes most of it.
func TestReliefMustTakeWhatPumpsCouldGive(t *testing.T) {
	const relief = "  relief: {kind: relief-valve, from: press, to: back, cracking: 60 bar, flow: 20 L/min, override: 10 bar}\n"
	f := partOf(t, simulateText(t, replaced(press, "  home: {", relief+"  home: {"), Asked{}), "relief")
	is(t, "flow it must take", f.ReliefMustTake, "20 L/min", quantity.Flow, 1e-9)
	notes(t, "flow it must take", f.ReliefMustTake, "all that pump can give")
	if f.HighestFlow.Value < 1e-5 || f.HighestFlow.Value > 0.9*20e-3/60 {
		t.Errorf("through it went %v", quantity.Flow.Format(f.HighestFlow.Value))
	}
}
