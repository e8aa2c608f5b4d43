package strength

import "testing"

// Directive 2014/68/EU, annex II, table 2, from memory: what is checked is
// that the code says what its comment says, at and about every boundary, and
// four vessels.
func TestVesselCategory(t *testing.T) {
	const litre = 1e-3
	for _, row := range []struct {
		bar, litres float64
		want        string
	}{
		{350, 10, "IV"}, {210, 4, "II"}, {330, 0.75, "sound engineering practice"}, {330, 32, "IV"},
		{0.5, 1000, "not covered"}, {0.501, 10, "sound engineering practice"},
		{10, 5, "sound engineering practice"}, {10, 5.001, "I"},
		{10, 20, "I"}, {10, 20.001, "II"},
		{10, 100, "II"}, {10, 100.001, "III"},
		{10, 300, "III"}, {10, 300.001, "IV"},
		{1000, 1, "sound engineering practice"}, {1000.1, 1, "III"}, {3000, 1, "III"}, {3000.1, 1, "IV"},
		{1001, 0.2, "III"}, {999, 1.0009, "II"}, {1001, 1.0001, "III"}, {40, 1, "sound engineering practice"}, {60, 1.001, "I"},
	} {
		if got := VesselCategory(row.bar*bar, row.litres*litre).String(); got != row.want {
			t.Errorf("%g bar, %g L: %s, want %s", row.bar, row.litres, got, row.want)
		}
	}
	if CategoryIV != 5 || !(NotCovered < SoundPractice && SoundPractice < CategoryI && CategoryIII < CategoryIV) {
		t.Error("categories out of order")
	}
}
