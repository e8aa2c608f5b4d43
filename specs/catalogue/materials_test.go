package catalogue

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// strictly decodes a file and fails on a key that the rows do not have.
func strictly(t *testing.T, file string, into any) {
	t.Helper()
	text, err := data.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	d := yaml.NewDecoder(bytes.NewReader(text))
	d.KnownFields(true)
	if err := d.Decode(into); err != nil {
		t.Errorf("%s: %v", file, err)
	}
}

func TestNoUnknownKeys(t *testing.T) {
	strictly(t, "seals.yaml", &struct {
		Sources []Source
		Seals   map[string]writtenSeal
	}{})
	strictly(t, "tubes.yaml", &struct{ Tubes map[string]writtenTube }{})
	strictly(t, "families.yaml", &struct {
		Sources  []Source
		Families map[string]writtenFamily
	}{})
	for _, folder := range []string{"fluids", "parts"} {
		for _, stem := range stems(folder) {
			strictly(t, folder+"/"+stem+".yaml", &written{})
		}
	}
}

// The families of ISO 11158, ISO 12922 and ISO 15380 (scopes of those
// standards), HR and HS of ISO 6743-4 (from memory), and silicone oil.
func TestFamilies(t *testing.T) {
	standard := map[string]string{"HR": "ISO 6743-4", "HS": "ISO 6743-4", "silicone": ""}
	for _, s := range []string{"HH", "HL", "HM", "HV", "HG"} {
		standard[s] = "ISO 11158"
	}
	for _, s := range []string{"HFAE", "HFAS", "HFB", "HFC", "HFDR", "HFDU"} {
		standard[s] = "ISO 12922"
	}
	for _, s := range []string{"HETG", "HEPG", "HEES", "HEPR"} {
		standard[s] = "ISO 15380"
	}
	if len(Families()) != len(standard) {
		t.Errorf("%d families, want %d", len(Families()), len(standard))
	}
	plain := []string{"HH", "HL", "HR", "HS", "HFAE", "HFAS", "HFC", "silicone"}      // no anti-wear claim
	water := map[string]float64{"HFAE": 0.80, "HFAS": 0.80, "HFB": 0.40, "HFC": 0.35} // least shares, common practice
	for _, f := range Families() {
		if want, ok := standard[f.Symbol]; !ok || f.Standard != want {
			t.Errorf("%s: standard %q, want %q", f.Symbol, f.Standard, want)
		}
		if f.AntiWear == slices.Contains(plain, f.Symbol) {
			t.Errorf("%s: anti-wear is %v", f.Symbol, f.AntiWear)
		}
		if math.Abs(f.Water-water[f.Symbol]) > 1e-12 {
			t.Errorf("%s: water %g", f.Symbol, f.Water)
		}
		if mineral := slices.Contains([]string{"HH", "HL", "HM", "HR", "HV", "HG"}, f.Symbol); f.Mineral != mineral {
			t.Errorf("%s: mineral is %v", f.Symbol, f.Mineral)
		}
		if f.Name == "" || f.MaxTemperature != 0 && f.MaxTemperature <= f.MinTemperature {
			t.Errorf("%s: %+v", f.Symbol, f)
		}
		checkRowSources(t, f.Symbol, f.Sources, "standard", "mineral", "anti_wear", "water", "temperature")
	}
}

// Every seal material rates every family; the cells firm enough for a critical
// finding are these four cases and no others: EPDM in mineral oil, synthetic
// hydrocarbon, vegetable oil and ester (rating E in oil, common practice); NBR,
// AU, ACM in phosphate ester (from memory); AU and ACM in fluids with water
// (hydrolysis, common practice); VMQ in silicone oil (from memory).
func TestSealsRateEveryFamily(t *testing.T) {
	firm := map[string]bool{}
	add := func(seal string, families ...string) {
		for _, f := range families {
			firm[seal+" "+f] = true
		}
	}
	add("EPDM", "HH", "HL", "HM", "HR", "HV", "HG", "HEPR", "HETG", "HEES")
	add("NBR", "HFDR")
	add("AU", "HFDR", "HFAE", "HFAS", "HFB", "HFC")
	add("ACM", "HFDR", "HFAE", "HFAS", "HFB", "HFC")
	add("VMQ", "silicone")
	for _, s := range Seals() {
		if len(s.fits) != len(Families()) {
			t.Errorf("%s: %d families rated of %d", s.Symbol, len(s.fits), len(Families()))
		}
		for _, f := range Families() {
			cell := s.Symbol + " " + f.Symbol
			fit, ok := s.In(f.Symbol)
			if !ok || !slices.Contains([]Rating{Suitable, Limited, Unsuitable}, fit.Rating) {
				t.Errorf("%s: rating %q", cell, fit.Rating)
			}
			if fit.Firm != firm[cell] || fit.Firm && fit.Rating != Unsuitable {
				t.Errorf("%s: %s, firm %v", cell, fit.Rating, fit.Firm)
			}
			checkMark(t, cell, fit.Source, fit.Mark)
		}
	}
}

// Rating for oil and grease and range of standard compounds of the seal trade
// (common practice); A and B are suitable, C is limited or worse, E is unfit.
func TestSealsAgainstTheTrade(t *testing.T) {
	for _, c := range []struct {
		symbol    string
		low, high float64
		oil       string
	}{
		{"NBR", -30, 100, "B"}, {"HNBR", -30, 150, "B"}, {"FKM", -15, 200, "A"}, {"EPDM", -45, 130, "E"},
		{"VMQ", -55, 200, "C"}, {"FVMQ", -55, 175, "B"}, {"AU", -40, 100, "B"}, {"EU", -40, 100, "B"},
		{"CR", -40, 100, "C"}, {"FFKM", -15, 260, "A"},
	} {
		s, ok := Seal(c.symbol)
		if !ok {
			t.Errorf("no %s", c.symbol)
			continue
		}
		if !near(s.MinTemperature, c.low+celsius, 1e-9) || !near(s.MaxTemperature, c.high+celsius, 1e-9) {
			t.Errorf("%s: %g to %g K", c.symbol, s.MinTemperature, s.MaxTemperature)
		}
		fit, _ := s.In("HM")
		want := map[string][]Rating{"A": {Suitable}, "B": {Suitable}, "C": {Limited, Unsuitable}, "E": {Unsuitable}}[c.oil]
		if !slices.Contains(want, fit.Rating) || fit.Mark != CommonPractice {
			t.Errorf("%s in HM: %s, %s", c.symbol, fit.Rating, fit.Mark)
		}
	}
	if s, _ := Seal("ACM"); !near(s.MaxTemperature, 150+celsius, 1e-9) {
		t.Error("ACM: to 150 °C")
	}
}

// HS is open in its composition: never better than HEPR or HEES, never firm.
func TestSealsAreCautiousWhereCompositionIsOpen(t *testing.T) {
	order := []Rating{Suitable, Limited, Unsuitable}
	for _, s := range Seals() {
		rank := func(family string) int {
			fit, _ := s.In(family)
			return slices.Index(order, fit.Rating)
		}
		if fit, _ := s.In("HS"); rank("HS") != max(rank("HEPR"), rank("HEES")) || fit.Firm {
			t.Errorf("%s in HS: %s", s.Symbol, fit.Rating)
		}
	}
}

func TestSealsAreComplete(t *testing.T) {
	for _, s := range Seals() {
		if s.Name == "" || !strings.HasPrefix(s.Standard, "ISO 1") || s.MinTemperature >= s.MaxTemperature || s.Hardness < 60 || s.Hardness > 100 {
			t.Errorf("%s: %+v", s.Symbol, s)
		}
		checkRowSources(t, s.Symbol, s.Sources, "standard", "temperature", "fluids", "hardness", "speed")
	}
	moving := map[string][2]float64{"NBR": {0.5, 12}, "AU": {0.5, 0}, "EU": {0.5, 0}, "PTFE": {4, 0}, "FKM": {0, 35}, "VMQ": {0, 35}, "ACM": {0, 18}} // from memory
	for symbol, want := range moving {
		if s, _ := Seal(symbol); s.ReciprocatingSpeed != want[0] || s.RotarySpeed != want[1] {
			t.Errorf("%s: speeds %g, %g", symbol, s.ReciprocatingSpeed, s.RotarySpeed)
		}
	}
}

// Strengths at 20 °C: E235 235/340, E355 355/490 MPa (EN 10305 tables of the
// grades), 6061-T6 240/260 MPa (EN 755-2), grade 9 485/620 MPa (trade).
// Young's modulus 200 GPa (EN 10088-1), expansion of type 304 16.0e-6 1/K (same).
func TestTubesAgainstStandards(t *testing.T) {
	for name, want := range map[string][2]float64{"E235": {235, 340}, "E355": {355, 490}, "6061-T6": {240, 260}, "Ti-3Al-2.5V": {485, 620}} {
		m, ok := Tube(name)
		if !ok || !near(m.Yield[0].Stress, want[0]*1e6, 1e-9) || !near(m.Tensile[0].Stress, want[1]*1e6, 1e-9) {
			t.Errorf("%s: %+v", name, m)
		}
	}
	for _, name := range []string{"1.4301", "1.4571"} {
		if m, _ := Tube(name); !near(m.Modulus, 200e9, 1e-9) {
			t.Errorf("%s: modulus %g", name, m.Modulus)
		}
	}
	if m, _ := Tube("1.4301"); !near(m.Expansion, 16.0e-6, 1e-9) {
		t.Errorf("1.4301: expansion %g", m.Expansion)
	}
}

func TestTubesAreComplete(t *testing.T) {
	for _, m := range Tubes() {
		for _, s := range [][]Strength{m.Yield, m.Tensile} {
			if len(s) < 2 || !near(s[0].Temperature, 20+celsius, 1e-9) || !near(s[len(s)-1].Temperature, m.MaxTemperature, 1e-9) {
				t.Errorf("%s: strength must run from 20 °C to the highest temperature: %v", m.Name, s)
			}
			for i := 1; i < len(s); i++ {
				if s[i].Temperature <= s[i-1].Temperature || s[i].Stress > s[i-1].Stress {
					t.Errorf("%s: strength must not rise with heat: %v", m.Name, s)
				}
			}
		}
		for i := range min(len(m.Yield), len(m.Tensile)) {
			if m.Yield[i].Stress >= m.Tensile[i].Stress {
				t.Errorf("%s: yield %g reaches tensile strength", m.Name, m.Yield[i].Stress)
			}
		}
		if m.Modulus < 60e9 || m.Modulus > 220e9 || m.Poisson < 0.25 || m.Poisson > 0.35 || m.Expansion < 8e-6 || m.Expansion > 25e-6 ||
			m.Density < 2500 || m.Density > 8500 || m.MinTemperature >= 0+celsius || m.About == "" || m.Standard == "" {
			t.Errorf("%s: %+v", m.Name, m)
		}
		checkRowSources(t, m.Name, m.Sources, "standard", "yield", "tensile", "modulus", "poisson", "expansion", "density", "temperature")
	}
}

// ISO 3448: twenty grades, each about half as thick again as the one before;
// limits 10 % either side of the midpoint: VG 46 is 41.4 to 50.6.
func TestGrades(t *testing.T) {
	all := Grades()
	if len(all) != 20 {
		t.Fatalf("%d grades", len(all))
	}
	for i, g := range all {
		if i > 0 && !near(g.Midpoint/all[i-1].Midpoint, math.Pow(10, 1.0/6), 0.05) {
			t.Errorf("VG %d is %.2f times the grade before", g.VG, g.Midpoint/all[i-1].Midpoint)
		}
		if i > 4 && g.Midpoint != float64(g.VG) {
			t.Errorf("VG %d has midpoint %g", g.VG, g.Midpoint)
		}
	}
	for viscosity, want := range map[float64]int{41.41: 46, 50.59: 46, 2.2: 2, 6.8: 7} {
		if g, ok := GradeOf(viscosity); !ok || g.VG != want {
			t.Errorf("%g mm2/s is VG %d", viscosity, g.VG)
		}
	}
	for _, viscosity := range []float64{41.3, 50.7, 1, 5000} {
		if g, ok := GradeOf(viscosity); ok {
			t.Errorf("%g mm2/s is VG %d", viscosity, g.VG)
		}
	}
}

// One name, one row: no alias hides another row.
func TestNamesAreUnique(t *testing.T) {
	seen := map[string]string{}
	check := func(kind string, names []string, index map[string]int) {
		for _, n := range names {
			if index[strings.ToLower(n)] != slices.Index(names, n) {
				t.Errorf("%s %s is hidden by an alias", kind, n)
			}
		}
		for alias, row := range index {
			seen[fmt.Sprint(kind, alias)] = names[row]
		}
	}
	check("seal", seals().names, seals().index)
	check("tube", tubes().names, tubes().index)
	check("family", families().names, families().index)
	for alias, want := range map[string]string{"sealFPM": "FKM", "sealpur": "AU", "tube304": "1.4301", "tubee235+n": "E235", "familyhlp": "HM", "familyhfa": "HFAE"} {
		if got := seen[strings.ToLower(alias)]; got != want {
			t.Errorf("%s is %q, want %s", alias, got, want)
		}
	}
}
