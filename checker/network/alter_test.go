package network

import (
	"strings"
	"testing"
)

// A coefficient altered by a few per cent must put the comparison with the
// independent solution out: one alteration for each part kind and law.
func TestAlteredCoefficientIsNoticed(t *testing.T) {
	for _, a := range []struct{ circuit, in, from, to string }{
		{"millrace-loop", "hot", "diameter: 2.8 mm", "diameter: 2.83 mm"},
		{"millrace-loop", "hot", "bore: 9 mm", "bore: 9.1 mm"},
		{"millrace-loop", "hot", "losses: 6", "losses: 6.8"},
		{"millrace-loop", "hot", "[100 degC, 5.4 mm2/s]", "[100 degC, 5.6 mm2/s]"},
		{"millrace-loop", "cold", "specific_heat: 1.95 kJ/kg/K", "specific_heat: 2.15 kJ/kg/K"},
		{"millrace-loop", "hot", "mechanical_efficiency: 90 %", "mechanical_efficiency: 86 %"},
		{"millrace-loop", "hot", "conductance: 90 W/K", "conductance: 96 W/K"},
		{"millrace-loop", "cold", "override: 6 bar", "override: 7 bar"},
		{"millrace-loop", "cold", "bypass: 2.5 bar", "bypass: 2.7 bar"},
		{"millrace-loop", "cold", "flow: 40 L/min, drop: 0.5 bar", "flow: 37 L/min, drop: 0.5 bar"},
		{"sluice-store", "lock-through", "time_constant: 40 s", "time_constant: 34 s"},
		{"sluice-store", "first-charge", "flow: 7.9 L/min", "flow: 7.8 L/min"},
		{"sluice-store", "first-charge", "pressure: 90 bar}", "pressure: 91.5 bar}"},
		{"sluice-store", "lock-through", "stretch: 0.03 cm3/m/bar", "stretch: 0.05 cm3/m/bar"},
		{"sluice-store", "lock-through", "lag: 30 ms", "lag: 36 ms"},
		{"sluice-store", "lock-through", "leak: {flow: 0.05 L/min", "leak: {flow: 0.08 L/min"},
		{"sluice-store", "lock-through", "moving_mass: 400 kg", "moving_mass: 450 kg"},
		{"sluice-store", "lock-through", "viscous: 2 kN·s/m", "viscous: 2.5 kN·s/m"},
		{"hazel-shift", "shifts-hot", "coulomb: 40 N", "coulomb: 60 N"},
		{"hazel-shift", "shifts-hot", "rate: 12 N/mm", "rate: 13 N/mm"},
		{"teasel-rail", "demands", "bulk_modulus: {value: 1.60 GPa", "bulk_modulus: {value: 1.40 GPa"},
		{"bramble-clutch", "launch", "inertia: 0.9 kg·m2", "inertia: 0.94 kg·m2"},
		{"bramble-clutch", "launch", "to_cylinder: 2 W/K", "to_cylinder: 8 W/K"},
		{"bramble-clutch", "launch", "band: 4 bar", "band: 5 bar"},
		{"bramble-clutch", "launch", "outer_radius: 62 mm", "outer_radius: 63 mm"},
		{"larkspur-ropeway", "haul", "inertia: 2.5 kg·m2", "inertia: 2.7 kg·m2"},
		{"larkspur-ropeway", "haul", "turns_at: {flow: 19.4 L/min", "turns_at: {flow: 19.2 L/min"},
		{"larkspur-ropeway", "haul", "needs: 8 bar", "needs: 9 bar"},
		{"larkspur-ropeway", "haul", "flow: 30 L/min, drop: 1 bar", "flow: 25 L/min, drop: 1 bar"},
		{"gatehouse-hold", "raise-hold-lower", "ratio: 3.5", "ratio: 3.3"},
		{"gatehouse-hold", "raise-hold-lower", "flow: 8 L/min, drop: 4 bar", "flow: 8 L/min, drop: 6 bar"},
		{"teasel-rail", "demands", "lag: 40 ms", "lag: 44 ms"},
		{"teasel-rail", "demands", "free_air: 0.8 %", "free_air: 2 %"},
		{"teasel-rail", "starved", "pressure_viscosity: 1.8e-8", "pressure_viscosity: 3.6e-8"},
	} {
		for _, c := range independentCircuits(t) {
			if c.Name.Value != a.circuit {
				continue
			}
			ref := referenceOf(t, c)
			text := strings.ReplaceAll(string(c.Source), a.from, a.to)
			if text == string(c.Source) {
				t.Errorf("%s has no %q", a.circuit, a.from)
				continue
			}
			altered := read(t, c.File, text)
			k := altered.Case(a.in)
			cmp, _ := compareCase(t, altered, k, ref)
			if cmp.rows[0].share <= 1 {
				t.Errorf("%s, %s: %s instead of %s is within the accuracy asked: %.2f of it, %s", a.circuit, a.in, a.to, a.from, cmp.rows[0].share, cmp.rows[0].what)
			}
		}
	}
}
