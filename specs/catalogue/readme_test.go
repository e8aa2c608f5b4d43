package catalogue

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

var update = flag.Bool("update", false, "write the tables of README.md anew")

// The tables of README.md are made from the data; `go test ./specs/catalogue
// -update` writes them.
func TestReadmeIsCurrent(t *testing.T) {
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	const begin, end = "<!-- tables: written by go test -update -->\n", "<!-- end of tables -->"
	head, rest, ok1 := strings.Cut(string(text), begin)
	_, tail, ok2 := strings.Cut(rest, end)
	if !ok1 || !ok2 {
		t.Fatal("README.md has lost the marks around its tables")
	}
	want := head + begin + tables() + end + tail
	if want == string(text) {
		return
	}
	if !*update {
		t.Fatal("the tables of README.md are not those of the data; run go test ./specs/catalogue -update")
	}
	if err := os.WriteFile("README.md", []byte(want), 0o644); err != nil {
		t.Fatal(err)
	}
}

// tables is all of them, one under another.
func tables() string {
	var b strings.Builder
	for _, section := range []func(*strings.Builder){marksTable, fluidTable, partTable, sealTable, fitTable, tubeTable, familyTable, gradeLine} {
		section(&b)
		b.WriteString("\n")
	}
	return b.String()
}

// header starts a section and its table.
func header(b *strings.Builder, title string, columns ...string) {
	fmt.Fprintf(b, "## %s\n\n| %s |\n|%s\n", title, strings.Join(columns, " | "), strings.Repeat("---|", len(columns)))
}

// row adds one row.
func row(b *strings.Builder, cells ...string) {
	fmt.Fprintf(b, "| %s |\n", strings.Join(cells, " | "))
}

// text is the scalars at a dotted key as written; points as "40 °C 32 mm2/s".
func text(e Entry, key string) string {
	var words []string
	leaves(e.Values, "", func(k string, scalar *yaml.Node) {
		if k == key || strings.HasPrefix(k, key+"/") {
			words = append(words, scalar.Value)
		}
	})
	return strings.ReplaceAll(strings.Join(words, " "), "degC", "°C")
}

// marksTable counts values by mark.
func marksTable(b *strings.Builder) {
	counts := func(entries []Entry) map[Mark]int {
		n := map[Mark]int{}
		for _, e := range entries {
			seen := map[string]bool{}
			leaves(e.Values, "", func(key string, _ *yaml.Node) {
				key, _, _ = strings.Cut(key, "/")
				if s, _ := e.Source(key); !seen[key] {
					n[s.Mark]++
					seen[key] = true
				}
			})
		}
		return n
	}
	fits := map[Mark]int{}
	for _, s := range Seals() {
		for _, fit := range s.fits {
			fits[fit.Mark]++
		}
	}
	header(b, "How sure: values by mark", "", string(Published), string(CommonPractice), string(FromMemory))
	for _, r := range []struct {
		name string
		n    map[Mark]int
	}{{"fluids", counts(Fluids())}, {"part grades", counts(Parts())}, {"seal material in fluid", fits}} {
		row(b, r.name, fmt.Sprint(r.n[Published]), fmt.Sprint(r.n[CommonPractice]), fmt.Sprint(r.n[FromMemory]))
	}
}

func fluidTable(b *strings.Builder) {
	header(b, "Fluids", "name", "what it is", "family", "viscosity", "density", "bulk", "peak", "pour point")
	for _, e := range Fluids() {
		row(b, "`"+e.Name+"`", e.About, text(e, "family"), viscosities(e), text(e, "density"),
			text(e, "max_temperature"), text(e, "peak_temperature"), text(e, "pour_point"))
	}
}

// viscosities are the points as "32 at 40 °C, 5.4 at 100 °C".
func viscosities(e Entry) string {
	words := strings.Fields(text(e, "viscosity"))
	var all []string
	for i := 0; i+3 < len(words); i += 4 {
		all = append(all, fmt.Sprintf("%s at %s °C", words[i+2], words[i]))
	}
	return strings.Join(all, ", ") + " mm2/s"
}

func partTable(b *strings.Builder) {
	header(b, "Part grades", "name", "what it is", "sizes (hoses: rated pressure in bar)")
	for _, stem := range stems("parts") {
		var about string
		var sizes []string
		for _, e := range Parts() {
			size, ok := strings.CutPrefix(e.Name, stem+"-")
			if !ok || e.File != "parts/"+stem+".yaml" {
				continue
			}
			about = e.About
			if p := text(e, "rated.pressure"); p != "" {
				size += ": " + strings.TrimSuffix(p, " bar")
			}
			sizes = append(sizes, size)
		}
		row(b, "`"+stem+"-`size", about, strings.Join(sizes, ", "))
	}
}

// degrees is a temperature in °C, nothing for one that is not known.
func degrees(kelvin float64) string {
	if kelvin == 0 {
		return ""
	}
	return fmt.Sprintf("%.0f °C", kelvin-celsius)
}

func sealTable(b *strings.Builder) {
	header(b, "Seal materials", "symbol", "name", "from", "to", "Shore A", "note")
	for _, s := range Seals() {
		row(b, s.Symbol, s.Name, degrees(s.MinTemperature), degrees(s.MaxTemperature), fmt.Sprint(s.Hardness), s.Note)
	}
}

func fitTable(b *strings.Builder) {
	sign := map[Rating]string{Suitable: "+", Limited: "○", Unsuitable: "−"}
	columns := []string{"fluid"}
	for _, s := range Seals() {
		columns = append(columns, s.Symbol)
	}
	header(b, "Seal material in fluid (+ suitable, ○ limited, − unsuitable, −! firm enough for a critical finding)", columns...)
	for _, f := range Families() {
		cells := []string{f.Symbol}
		for _, s := range Seals() {
			fit, _ := s.In(f.Symbol)
			cell := sign[fit.Rating]
			if fit.Firm {
				cell += "!"
			}
			cells = append(cells, cell)
		}
		row(b, cells...)
	}
}

func tubeTable(b *strings.Builder) {
	header(b, "Tube materials", "name", "what it is", "standard", "yield at 20 °C", "tensile", "modulus", "from", "to")
	for _, m := range Tubes() {
		row(b, "`"+m.Name+"`", m.About, m.Standard, fmt.Sprintf("%.0f MPa", m.Yield[0].Stress/1e6), fmt.Sprintf("%.0f MPa", m.Tensile[0].Stress/1e6),
			fmt.Sprintf("%.3g GPa", m.Modulus/1e9), degrees(m.MinTemperature), degrees(m.MaxTemperature))
	}
}

func familyTable(b *strings.Builder) {
	header(b, "Fluid families", "symbol", "what it is", "standard", "water at least", "anti-wear", "from", "to")
	for _, f := range Families() {
		water, wear := "", "no"
		if f.Water > 0 {
			water = fmt.Sprintf("%.0f %%", 100*f.Water)
		}
		if f.AntiWear {
			wear = "yes"
		}
		row(b, f.Symbol, f.Name, f.Standard, water, wear, degrees(f.MinTemperature), degrees(f.MaxTemperature))
	}
}

func gradeLine(b *strings.Builder) {
	var all []string
	for _, g := range Grades() {
		all = append(all, fmt.Sprintf("VG %d: %g", g.VG, g.Midpoint))
	}
	fmt.Fprintf(b, "## Viscosity grades\n\nISO 3448, midpoints in mm2/s at 40 °C, limits %.0f %% either side: %s.\n", 100*GradeTolerance, strings.Join(all, ", "))
}
