package fluid

import "testing"

// ISO 3448: the grades from VG 22 to VG 1500 have their name as midpoint; VG
// 46 runs from 41.4 to 50.6 mm²/s; twenty grades in all.
func TestGrades(t *testing.T) {
	named := map[int]bool{22: true, 32: true, 46: true, 68: true, 100: true, 150: true, 220: true, 320: true, 460: true, 680: true, 1000: true, 1500: true}
	for i, g := range Grades {
		if named[g.VG] {
			near(t, "midpoint", g.Midpoint, float64(g.VG)*1e-6, 1e-12)
			delete(named, g.VG)
		}
		least, greatest := g.Limits()
		near(t, "least", least, 0.9*g.Midpoint, 1e-12)
		near(t, "greatest", greatest, 1.1*g.Midpoint, 1e-12)
		if i > 0 {
			// Steps of the Renard-like series: each grade about half as thick again.
			if step := g.Midpoint / Grades[i-1].Midpoint; step < 1.42 || step > 1.51 {
				t.Errorf("VG %d is %.3f times the grade below", g.VG, step)
			}
		}
	}
	if len(named) != 0 {
		t.Errorf("grades missing: %v", named)
	}
	least, greatest := Grades[8].Limits()
	near(t, "VG 46 least", least, 41.4e-6, 1e-12)
	near(t, "VG 46 greatest", greatest, 50.6e-6, 1e-12)
}

// The series repeats every six grades, ten times thicker.
func TestGradesRepeat(t *testing.T) {
	for i := 6; i < len(Grades); i++ {
		near(t, "six grades on", Grades[i].Midpoint, 10*Grades[i-6].Midpoint, 1e-12)
	}
}

// The numbers of the whole series (ISO 3448, table 1; the two thickest from
// memory), and the grade each midpoint falls in.
func TestGradeOf(t *testing.T) {
	names := []int{2, 3, 5, 7, 10, 15, 22, 32, 46, 68, 100, 150, 220, 320, 460, 680, 1000, 1500, 2200, 3200}
	for i, g := range Grades {
		if g.VG != names[i] {
			t.Errorf("grade %d is VG %d, want VG %d", i+1, g.VG, names[i])
		}
		for _, share := range []float64{0.901, 1, 1.099} {
			if got, ok := GradeOf(share * g.Midpoint); !ok || got != g {
				t.Errorf("GradeOf(%g of VG %d) = %v, %v", share, g.VG, got, ok)
			}
		}
	}
	// The limits as ISO 3448, table 1, prints them are inside.
	for _, row := range []struct {
		vg    int
		limit float64
	}{{5, 4.14}, {5, 5.06}, {15, 13.5}, {15, 16.5}, {46, 41.4}, {46, 50.6}, {100, 90}, {220, 198}, {220, 242}, {460, 414}, {460, 506}, {1500, 1350}} {
		for _, nu := range []float64{row.limit * 1e-6, row.limit / 1e6} {
			if g, ok := GradeOf(nu); !ok || g.VG != row.vg {
				t.Errorf("GradeOf(%g), a limit of VG %d, = VG %d, %v", nu, row.vg, g.VG, ok)
			}
		}
	}
	for _, nu := range []float64{0, 1e-6, 41.39e-6, 50.61e-6, 38e-6, 39e-6, 3600e-6} {
		if g, ok := GradeOf(nu); ok {
			t.Errorf("GradeOf(%g) = VG %d, want none", nu, g.VG)
		}
	}
}
