package fluid

import (
	"math"
	"strings"
	"testing"
)

// curve lays a curve through °C, mm²/s pairs.
func curve(t testing.TB, pairs ...float64) ViscosityCurve {
	t.Helper()
	var points []ViscosityPoint
	for i := 0; i < len(pairs); i += 2 {
		points = append(points, ViscosityPoint{T: kelvin(pairs[i]), Nu: pairs[i+1] * 1e-6})
	}
	c, err := NewViscosityCurve(points)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// zFull is Z of ν (mm²/s) with every term of ASTM D341-93, eq. 1, to judge
// the short form by.
func zFull(nu float64) float64 {
	C := math.Exp(-1.14883 - 2.65868*nu)
	D := math.Exp(-0.0038138 - 12.5645*nu)
	E := math.Exp(5.46491 - 37.6289*nu)
	F := math.Exp(13.0458 - 74.6851*nu)
	G := math.Exp(37.4619 - 192.643*nu)
	H := math.Exp(80.4945 - 400.468*nu)
	return nu + 0.7 + C - D + E - F + G - H
}

// Z and ν by both forms of ASTM D341, computed independently.
func TestFormsOfZ(t *testing.T) {
	for _, row := range []struct{ nu, full, short, back float64 }{
		{0.21, 1.059008, 1.062759, 0.20997},
		{0.30, 1.122673, 1.126451, 0.29993},
		{0.50, 1.282036, 1.280661, 0.50005},
		{1.00, 1.722200, 1.721928, 0.99995},
		{2.00, 2.701555, 2.700754, 2.00017},
		{5.00, 5.700001, 5.700000, 5.00000},
	} {
		near(t, "Z full", zFull(row.nu), row.full, 1e-6)
		near(t, "Z short", zShort(row.nu), row.short, 1e-6)
		back, _ := nuShort(zShort(row.nu))
		near(t, "ν back from Z short", back, row.back, 2e-5)
		near(t, "Z short against full", row.short, row.full, 0.004)
		if row.nu >= 1 {
			near(t, "Z short against full", row.short, row.full, 0.0003)
			near(t, "round trip", back, row.nu, 1e-4)
		} else if row.nu >= 0.3 {
			near(t, "round trip", back, row.nu, 3e-4)
		}
	}
}

// What the comment of ViscosityCurve says of the accuracy, all along the viscosities:
// no less and hardly more than the largest departure.
func TestFormsOfZAccuracy(t *testing.T) {
	for _, row := range []struct{ from, round, form float64 }{
		{leastViscosity, 3e-4, 5e-3},
		{0.5, 1.3e-4, 1.1e-3},
		{1, 1.2e-4, 6e-4},
		{5, 1e-9, 1e-6},
	} {
		round, form := 0.0, 0.0
		for nu := row.from; nu < 100; nu *= 1.001 {
			z := zShort(nu)
			back, _ := nuShort(z)
			round = max(round, math.Abs(back/nu-1))
			form = max(form, math.Abs(z/zFull(nu)-1))
		}
		if round > row.round || form > row.form {
			t.Errorf("from %g mm²/s: a point comes back %.2g off, Z is %.2g off; want at most %g and %g", row.from, round, form, row.round, row.form)
		}
		if row.from < 5 && (round < 0.9*row.round || form < 0.9*row.form) {
			t.Errorf("from %g mm²/s: a point comes back %.2g off, Z is %.2g off; the comment says %g and %g", row.from, round, form, row.round, row.form)
		}
	}
}

// Two-point fits through 40 and 100 °C, short form, computed independently;
// tolerance 1e-4, or half a last digit where the row is coarser.
// The last two oils are MIL-PRF-5606 at its least viscosities and one so thin
// that the correction of Z acts.
func TestTwoPointFits(t *testing.T) {
	type at struct {
		celsius float64
		nu      string
	}
	for _, oil := range []struct {
		nu40, nu100, A, B float64
		values            []at
	}{
		{32, 5.4, 9.53082, 3.74658, []at{{-20, "2291.5"}, {0, "336.00"}, {20, "86.28"}, {60, "15.186"}, {80, "8.533"}, {120, "3.724"}}},
		{46, 6.7604, 9.45545, 3.69945, []at{{-20, "4641.1"}, {0, "584.92"}, {20, "134.49"}, {60, "20.562"}, {80, "11.050"}, {120, "4.542"}}},
		{68, 8.6, 9.37781, 3.65169, []at{{-20, "9865.0"}, {0, "1060.4"}, {20, "216.86"}, {60, "28.492"}, {80, "14.586"}, {120, "5.615"}}},
		{13.2, 4.9, 6.09135, 2.41743, []at{{-40, "214.2"}, {-20, "80.85"}, {0, "38.25"}, {20, "21.21"}, {60, "8.941"}, {80, "6.458"}, {120, "3.865"}}},
		{10, 2.65, 9.59733, 3.84043, []at{{-40, "1569.5"}, {-20, "213.04"}, {0, "54.235"}, {20, "20.500"}, {60, "5.780"}, {80, "3.754"}, {120, "1.989"}, {150, "1.402"}}},
	} {
		c := curve(t, 40, oil.nu40, 100, oil.nu100)
		near(t, "A", c.lines[0].A, oil.A, 2e-6)
		near(t, "B", c.lines[0].B, oil.B, 2e-6)
		near(t, "ν at a given point", c.At(kelvin(40)), oil.nu40*1e-6, 1e-7)
		for _, v := range oil.values {
			nu, half := printed(t, v.nu)
			near(t, "ν", c.At(kelvin(v.celsius)), nu*1e-6, max(1e-4, half))
		}
	}
}

// A published worksheet (author not stated) takes 0 °C as 273 K: 32 and 5.4
// mm²/s give A 9.5259, B 3.7449 and 8.5 mm²/s at 80 °C.
func TestPublishedWorksheet(t *testing.T) {
	c, err := NewViscosityCurve([]ViscosityPoint{{T: 313, Nu: 32e-6}, {T: 373, Nu: 5.4e-6}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "A", c.lines[0].A, 9.52593, 1e-6)
	near(t, "B", c.lines[0].B, 3.74493, 2e-6)
	near(t, "ν at 80 °C", c.At(353), 8.5331e-6, 1e-5)
}

func TestMorePointsArePiecewise(t *testing.T) {
	c := curve(t, 0, 400, 40, 32, 100, 5.6)
	cold, hot := curve(t, 0, 400, 40, 32), curve(t, 40, 32, 100, 5.6)
	for _, celsius := range []float64{-30, 0, 20, 39.999} {
		near(t, "colder pair", c.At(kelvin(celsius)), cold.At(kelvin(celsius)), 1e-15)
	}
	for _, celsius := range []float64{40, 60, 100, 140} {
		near(t, "hotter pair", c.At(kelvin(celsius)), hot.At(kelvin(celsius)), 1e-15)
	}
	near(t, "meeting point", c.At(kelvin(40)), cold.At(kelvin(40)), 1e-12)
}

func TestCovers(t *testing.T) {
	c := curve(t, 0, 400, 40, 32, 100, 5.6)
	for celsius, want := range map[float64]bool{-0.01: false, 0: true, 60: true, 100: true, 100.01: false} {
		if got := c.Covers(kelvin(celsius)); got != want {
			t.Errorf("Covers(%g °C) = %v, want %v", celsius, got, want)
		}
	}
}

func TestViscosityFallsSmoothly(t *testing.T) {
	for _, c := range []ViscosityCurve{curve(t, 40, 32, 100, 5.4), curve(t, 40, 10, 100, 2.65)} {
		last := math.Inf(1)
		for celsius := -60.0; celsius <= 250; celsius += 0.5 {
			T := kelvin(celsius)
			nu, perKelvin := c.WithSlope(T)
			if !(nu > 0 && nu < last) {
				t.Fatalf("ν(%g °C) = %g after %g: not falling", celsius, nu, last)
			}
			last = nu
			near(t, "dν/dT", perKelvin, slope(c.At, T, 0.1), 1e-7)
		}
	}
}

func TestViscosityFarOutside(t *testing.T) {
	c := curve(t, 40, 32, 100, 5.4)
	if nu, perKelvin := c.WithSlope(60); nu != math.Pow(10, thickest)/perMM2 && math.Abs(nu*perMM2-1e10) > 1 || perKelvin != 0 {
		t.Errorf("at 60 K: %g, slope %g; want the bound 1e4 m²/s, flat", nu, perKelvin)
	}
	if nu := c.At(5000); !(nu > 0 && nu < 0.21e-6) {
		t.Errorf("at 5000 K: %g, want small and positive", nu)
	}
	near(t, "ν as T grows without bound", c.At(1e12), 0.115619e-6, 1e-5)
	if nu := c.At(-1); !math.IsNaN(nu) {
		t.Errorf("below absolute zero: %g, want NaN", nu)
	}
}

func TestViscosityPointsRefused(t *testing.T) {
	for _, row := range []struct {
		name   string
		points []ViscosityPoint
		says   string
	}{
		{"one point", []ViscosityPoint{{313, 32e-6}}, "two points"},
		{"same temperature", []ViscosityPoint{{313, 32e-6}, {313, 5e-6}}, "point 2:"},
		{"falling temperature", []ViscosityPoint{{373, 32e-6}, {313, 5e-6}}, "point 2: temperatures"},
		{"rising viscosity", []ViscosityPoint{{313, 5e-6}, {373, 32e-6}}, "point 2: viscosity"},
		{"third point rises", []ViscosityPoint{{313, 32e-6}, {373, 5e-6}, {393, 6e-6}}, "point 3: viscosity"},
		{"below D341", []ViscosityPoint{{313, 1e-6}, {373, 0.209e-6}}, "point 2: 0.209 mm2/s"},
		{"above D341", []ViscosityPoint{{213, 20.1}, {373, 5e-6}}, "point 1: 2.01e+07 mm2/s"},
		{"not a number", []ViscosityPoint{{313, math.NaN()}, {373, 5e-6}}, "point 1: NaN"},
		{"no temperature", []ViscosityPoint{{0, 32e-6}, {373, 5e-6}}, "point 1: temperature"},
		{"infinite temperature", []ViscosityPoint{{300, 32e-6}, {math.Inf(1), 5e-6}}, "point 2: temperature"},
	} {
		if _, err := NewViscosityCurve(row.points); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%s: error %v, want %q in it", row.name, err, row.says)
		}
	}
	if _, err := NewViscosityCurve([]ViscosityPoint{{213, 19.9}, {573, 0.211e-6}}); err != nil {
		t.Errorf("ends of D341's range refused: %v", err)
	}
}

func BenchmarkViscosity(b *testing.B) {
	c := curve(b, 40, 32, 100, 5.4)
	var sum float64
	for b.Loop() {
		sum += c.At(333.15)
	}
	sink = sum
}

var sink float64
