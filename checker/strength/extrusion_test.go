package strength

import (
	"math"
	"testing"
)

// The published table (common practice): psi and the metric figures printed
// beside it, bar and mm.
func TestExtrusionTable(t *testing.T) {
	psi := []float64{500, 1000, 1500, 2000, 3000}
	metric := []string{"34.5", "68.9", "103", "138", "207"}
	for hardness, gaps := range map[float64][]string{
		70: {"0.406", "0.254", "0.152", "0.102", "0.051"},
		90: {"0.711", "0.610", "0.508", "0.406", "0.254"},
	} {
		for i := range psi {
			p := psi[i] * 6894.757
			asPrinted(t, "pressure in bar", p/bar, metric[i])
			gap, ok := ExtrusionGap(p, hardness)
			if !ok {
				t.Fatalf("no gap at %g psi", psi[i])
			}
			asPrinted(t, "gap in mm", gap/mm, gaps[i])
		}
	}
}

func TestExtrusionBetweenAndBeyond(t *testing.T) {
	const psi, inch = 6894.757293168, 0.0254
	for _, row := range []struct{ psi, hardness, inches float64 }{
		{750, 70, 0.013}, {1750, 90, 0.018}, {2500, 70, 0.003}, {1250, 80, 0.015},
		{1000, 80, 0.017}, {1000, 75, 0.0135}, {1000, 95, 0.024}, {0, 70, 0.016}, {100, 90, 0.028},
		{2999.999, 70, 0.002},
	} {
		gap, ok := ExtrusionGap(row.psi*psi, row.hardness)
		if !ok {
			t.Errorf("no gap at %g psi, %g Shore", row.psi, row.hardness)
		}
		near(t, "gap in inches", gap/inch, row.inches, 1e-5)
	}
	for _, row := range []struct{ psi, hardness float64 }{{3001, 90}, {1000, 69}, {math.NaN(), 70}, {1000, math.NaN()}} {
		if gap, ok := ExtrusionGap(row.psi*psi, row.hardness); ok {
			t.Errorf("gap %g at %g psi, %g Shore: the source is silent there", gap, row.psi, row.hardness)
		}
	}
}

// The ends of the tables belong to them, for what is written as 3000 psi or 400 bar
// and came back from absolute pressure.
func TestExtrusionAtTheEnd(t *testing.T) {
	const air, psi = 101325.0, 4.4482216152605 / (0.0254 * 0.0254)
	for _, p := range []float64{3000 * psi, math.Nextafter(3000*psi, 1e9), air + 3000*psi - air} {
		gap, ok := ExtrusionGap(p, 90)
		if !ok {
			t.Fatalf("no gap at %.10g Pa, 3000 psi", p)
		}
		near(t, "gap in inches", gap/0.0254, 0.010, 1e-9)
	}
	if _, ok := BackedGap(math.Nextafter(400e5, 1e9)); !ok {
		t.Error("no gap at 400 bar")
	}
}

// A backup ring bridges what 90 Shore A does, to 400 bar: 0.024 in at 1000 psi,
// 0.013 half way from 2000 to 3000 psi, 0.010 in from there on.
func TestBackedGap(t *testing.T) {
	const psi, inch = 6894.757293168, 0.0254
	for _, row := range []struct{ pressure, inches float64 }{
		{0, 0.028}, {1000 * psi, 0.024}, {2500 * psi, 0.013}, {3000 * psi, 0.010}, {250e5, 0.010}, {400e5, 0.010},
	} {
		gap, ok := BackedGap(row.pressure)
		if !ok {
			t.Errorf("no gap at %g bar", row.pressure/1e5)
		}
		near(t, "gap in inches", gap/inch, row.inches, 1e-9)
	}
	for _, p := range []float64{400.1e5, math.NaN()} {
		if gap, ok := BackedGap(p); ok {
			t.Errorf("gap %g at %g Pa: beyond the rings", gap, p)
		}
	}
}

// More pressure never bears more gap, more hardness never less.
func TestExtrusionMonotone(t *testing.T) {
	for hardness := 70.0; hardness <= 95; hardness += 2.5 {
		last := math.Inf(1)
		for p := 0.0; p < 206e5; p += 3e5 {
			gap, ok := ExtrusionGap(p, hardness)
			softer, _ := ExtrusionGap(p, math.Max(70, hardness-2.5))
			if !ok || gap > last || gap < softer {
				t.Errorf("%g Pa, %g Shore: gap %g after %g, softer %g", p, hardness, gap, last, softer)
			}
			last = gap
		}
	}
}
