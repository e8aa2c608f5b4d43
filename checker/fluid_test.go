package checker

import (
	"testing"

	"headroom/specs"
	"headroom/specs/quantity"
)

// 32 mm2/s at 40 °C and 5.4 at 100 °C are 336.00 mm2/s at 0 °C by ASTM D341
// (published two-point fit, recomputed).
func TestStartViscosity(t *testing.T) {
	f := gather(t, "environment: {cold_start: 0 degC}\nparts: {tank: {kind: reservoir, at: sump, viscosity: {start_max: 1000 mm2/s}}}\n")
	tank := partOf(t, f, "tank")
	is(t, "of the fluid", f.Fluid.ViscosityColdest, "336.00 mm2/s", quantity.KinematicViscosity, 1e-4)
	is(t, "of a part", tank.StartViscosity, "336.00 mm2/s", quantity.KinematicViscosity, 1e-4)
	is(t, "what it bears", tank.ViscosityStartMax, "1000 mm2/s", quantity.KinematicViscosity, 1e-9)
	notes(t, "of the fluid", f.Fluid.ViscosityColdest, "outside the points given")
	lacks(t, "running, most", tank.ViscosityMax, "parts.tank.viscosity.max")
	mild := gather(t, "parts: {tank: {kind: reservoir, at: sump}}\n")
	lacks(t, "without a cold start", partOf(t, mild, "tank").StartViscosity, "environment.cold_start")
}

func TestFluidFamily(t *testing.T) {
	for family, want := range map[string][2]bool{ // anti-wear, watery: ISO 11158, ISO 12922
		"HM": {true, false}, "HL": {false, false}, "HFC": {false, true}, "HETG": {true, false},
	} {
		f := gatherOf(t, replaced(plain, "family: HM", "family: "+family)+"parts: {tank: {kind: reservoir, at: sump}}\n")
		if f.Fluid.AntiWear.Value != want[0] || f.Fluid.Watery.Value != want[1] {
			t.Errorf("%s: anti-wear %v, watery %v; want %v", family, f.Fluid.AntiWear.Value, f.Fluid.Watery.Value, want)
		}
	}
	f := gatherOf(t, replaced(plain, "  family: HM\n", "")+"parts: {tank: {kind: reservoir, at: sump}}\n")
	if f.Fluid.AntiWear.Known || f.Fluid.AntiWear.Missing != "fluid.family" {
		t.Errorf("without a family: %+v", f.Fluid.AntiWear)
	}
}

func TestFluidFromTheCatalogue(t *testing.T) {
	f := gatherOf(t, "headroom: 1\ncircuit: small\nfluid: {like: hm-32, max_temperature: 70 degC}\nparts: {tank: {kind: reservoir, at: sump}}\n")
	if f.Fluid.Name.Value != "hm-32" || f.Fluid.Family.Value != "HM" {
		t.Errorf("name %q, family %q", f.Fluid.Name.Value, f.Fluid.Family.Value)
	}
	is(t, "inline wins", f.Fluid.MaxTemperature, "70 degC", quantity.Temperature, 1e-9)
	if from := f.Fluid.MaxTemperature.From; from.Basis != "" || from.At.File != "small.yaml" {
		t.Errorf("the inline value comes from %+v", from)
	}
	if from := f.Fluid.PourPoint.From; from == nil || from.Basis == "" || from.Note != "catalogue entry hm-32" {
		t.Errorf("the catalogue's value comes from %+v", from)
	}
	is(t, "coldest point", f.Fluid.LowestPoint, "40 degC", quantity.Temperature, 1e-9)
}

func TestColdestUsed(t *testing.T) {
	const cases = "parts: {tank: {kind: reservoir, at: sump}}\ncases: {a: {lasts: 1 s, begins: {fluid: -25 degC}}, b: {lasts: 1 s, begins: {fluid: 60 degC}}}\n"
	is(t, "a case colder than cold start", gather(t, "environment: {cold_start: -10 degC}\n"+cases).Fluid.ColdestUsed, "-25 degC", quantity.Temperature, 1e-9)
	is(t, "cold start", gather(t, "environment: {cold_start: -40 degC}\n"+cases).Fluid.ColdestUsed, "-40 degC", quantity.Temperature, 1e-9)
	is(t, "without a cold start", gather(t, cases).Fluid.ColdestUsed, "-25 degC", quantity.Temperature, 1e-9)
	lacks(t, "of a part, without a cold start", partOf(t, gather(t, cases), "tank").ColdestTemperature, "environment.cold_start")
}

func TestHottestSurface(t *testing.T) {
	const parts = "parts: {tank: {kind: reservoir, at: sump}}\n"
	surfaces := func(list string) string {
		return "environment: {ambient: 50 degC, hot_surfaces: {" + list + "}}\n" + parts
	}
	is(t, "unshielded", gather(t, surfaces("exhaust: {temperature: 600 degC, shielded: true}, brake: {temperature: 350 degC}")).Fluid.HottestSurface, "350 degC", quantity.Temperature, 1e-9)
	is(t, "all shielded", gather(t, surfaces("exhaust: {temperature: 600 degC, shielded: true}")).Fluid.HottestSurface, "50 degC", quantity.Temperature, 1e-9)
	lacks(t, "none stated", gather(t, parts).Fluid.HottestSurface, "environment.hot_surfaces")
	is(t, "beside friction plates", gather(t, "environment: {hot_surfaces: {brake: {temperature: 350 degC}}}\n"+clutch).Fluid.HottestSurface, "350 degC", quantity.Temperature, 1e-9)
}

// Between 20 °C with 0.02 bar and 40 °C with 0.1 bar ln p is straight over 1/T: at 30 °C
// 0.02 · 5^x bar, x = (1/293.15 − 1/303.15)/(1/293.15 − 1/313.15). Outside its
// points it says from which it is extrapolated.
func TestVapourPressureOutsideItsPoints(t *testing.T) {
	text := replaced(plain, "  free_air: 0 %", "  free_air: 0 %\n  vapour_pressure: [[20 degC, 0.02 bar abs], [40 degC, 0.1 bar abs]]")
	tests := []struct{ begins, want, note string }{
		{"30 degC", "0.04592 bar abs", "at 30.0 degC"},
		{"60 degC", "0.4121 bar abs", "at 60.0 degC, extrapolated from the point at 40.0 degC"},
		{"10 degC", "0.008213 bar abs", "at 10.0 degC, extrapolated from the point at 20.0 degC"},
	}
	still := replaced(replaced(alwaysWarm, "drives: {pump: 2000 rpm}", "weight: 1 /h"), ", demands: {user: 20 L/min}", "")
	for _, tt := range tests {
		c := specs.Read("small.yaml", []byte(text+replaced(still, "begins: {fluid: 40 degC", "begins: {ambient: "+tt.begins+", fluid: "+tt.begins)))
		f := nodeOf(t, SimulatedFacts(c, Asked{}), "sump").VapourPressure
		is(t, "at "+tt.begins, f, tt.want, quantity.AbsolutePressure, 1e-3)
		if f.Known && (f.From.Note != tt.note || f.From.Basis != "Clausius–Clapeyron between points") {
			t.Errorf("it is told %q by %q, want %q", f.From.Note, f.From.Basis, tt.note)
		}
	}
}
