package checker

import (
	"testing"

	"headroom/specs/quantity"
)

// Nitrogen in a fixed volume, 10 and 20 MPa at 20 °C warmed to 60 °C: 11.6755
// and 23.830 MPa by the reference equation (Span et al. 2000), 11.6757 and
// 23.813 MPa by the short one.
func TestPrechargeHotAndCold(t *testing.T) {
	const store = `
environment: {ambient: 60 degC, cold_start: 20 degC}
parts:
  ten: {kind: accumulator, at: a, size: 1 L, precharge: {pressure: 100 bar abs, temperature: 20 degC}, lowest_working: 120 bar}
  twenty: {kind: accumulator, at: a, size: 1 L, precharge: {pressure: 200 bar abs}}
  hot: {kind: accumulator, at: a, size: 1 L, precharge: {pressure: 116.757 bar abs, temperature: 60 degC}}
`
	f := gather(t, store)
	ten := partOf(t, f, "ten")
	is(t, "10 MPa as set", ten.PrechargeAbsolute, "100 bar abs", quantity.AbsolutePressure, 1e-9)
	is(t, "10 MPa hot", ten.PrechargeHot, "116.757 bar abs", quantity.AbsolutePressure, 1e-5)
	is(t, "20 MPa hot", partOf(t, f, "twenty").PrechargeHot, "238.13 bar abs", quantity.AbsolutePressure, 3e-5)
	is(t, "11.7 MPa cold", partOf(t, f, "hot").PrechargeCold, "100 bar abs", quantity.AbsolutePressure, 1e-5)
	is(t, "lowest working", ten.LowestWorking, "121.01325 bar abs", quantity.AbsolutePressure, 1e-9)
	lacks(t, "lowest working, not stated", partOf(t, f, "twenty").LowestWorking, "parts.twenty.lowest_working")
	mild := gather(t, replaced(store, ", cold_start: 20 degC", ""))
	lacks(t, "cold without a cold start", partOf(t, mild, "ten").PrechargeCold, "environment.cold_start")
}

// At work the gas begins at the coldest surroundings of the cases, cold starts
// left out: 60 °C, 20 °C by the fluid of a second case; numbers as above.
func TestPrechargeAtWork(t *testing.T) {
	const store = `
environment: {ambient: 60 degC, cold_start: 0 degC}
parts:
  ten: {kind: accumulator, at: a, size: 1 L, precharge: {pressure: 100 bar abs, temperature: 20 degC}}
`
	const hot = "  hot: {lasts: 1 s}\n"
	const mild = "  mild: {lasts: 1 s, begins: {fluid: 20 degC}}\n"
	const cold = "  cold: {lasts: 1 s, begins: {fluid: 0 degC}}\n"
	for _, tt := range []struct{ name, cases, want, lacks string }{
		{"hot", hot, "116.757 bar abs", ""},
		{"the colder of two", hot + mild, "100 bar abs", ""},
		{"beside a cold start", cold + hot, "116.757 bar abs", ""},
		{"its own ambient", "  shade: {lasts: 1 s, begins: {fluid: 60 degC, ambient: 20 degC}}\n", "100 bar abs", ""},
		{"cold starts alone", cold, "", "a case that begins warmer than cold start"},
	} {
		got := partOf(t, gather(t, store+"cases:\n"+tt.cases), "ten").PrechargeWorking
		if tt.want == "" {
			lacks(t, tt.name, got, tt.lacks)
			continue
		}
		is(t, tt.name, got, tt.want, quantity.AbsolutePressure, 1e-5)
	}
	lacks(t, "no cases", partOf(t, gather(t, store), "ten").PrechargeWorking, "cases")
}

// Hot is the hottest ambient of the environment and of the cases: 60 °C in a case, as above.
func TestPrechargeHotInAHotCase(t *testing.T) {
	f := gather(t, `
environment: {ambient: 30 degC}
parts:
  ten: {kind: accumulator, at: a, size: 1 L, precharge: {pressure: 100 bar abs, temperature: 20 degC}}
cases:
  mild: {lasts: 1 s}
  summer: {lasts: 1 s, begins: {fluid: 70 degC, ambient: 60 degC}}
`)
	hot := partOf(t, f, "ten").PrechargeHot
	is(t, "precharge hot", hot, "116.757 bar abs", quantity.AbsolutePressure, 1e-5)
	notes(t, "precharge hot", hot, "cases.summer.begins.ambient")
}

// Pressure-equipment examples for gas of group 2 (2014/68/EU, annex II table 2;
// thresholds from memory).
func TestVesselCategory(t *testing.T) {
	tests := []struct{ size, rated, product, want string }{
		{"10 L", "350 bar", "350 kJ", "IV"},
		{"4 L", "210 bar", "84 kJ", "II"},
		{"0.75 L", "330 bar", "24.75 kJ", "sound engineering practice"},
		{"32 L", "330 bar", "1056 kJ", "IV"},
	}
	for _, tt := range tests {
		f := gather(t, "parts: {store: {kind: accumulator, at: a, size: "+tt.size+", rated: {pressure: "+tt.rated+"}}}\n")
		p := partOf(t, f, "store")
		is(t, tt.size, p.VesselProduct, tt.product, quantity.Energy, 1e-9)
		if p.VesselCategory.Value != tt.want || f.Whole.VesselCategory.Value != tt.want {
			t.Errorf("%s at %s is %q (circuit %q), want %q", tt.size, tt.rated, p.VesselCategory.Value, f.Whole.VesselCategory.Value, tt.want)
		}
	}
	f := gather(t, "parts: {store: {kind: accumulator, at: a, size: 1 L}}\n")
	lacks(t, "product without a rating", partOf(t, f, "store").VesselProduct, "parts.store.rated.pressure")
}

func TestMeansOfAnAccumulator(t *testing.T) {
	f := gather(t, "parts: {store: {kind: accumulator, at: a, isolation: true}}\n")
	p := partOf(t, f, "store")
	if !p.Isolation.Known || !p.Isolation.Value {
		t.Error("the isolation that is stated is not told")
	}
	if p.Discharge.Known || p.Discharge.Missing != "parts.store.discharge" {
		t.Errorf("a discharge that is not stated: %+v", p.Discharge)
	}
}
