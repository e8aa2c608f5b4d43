package quantity

import (
	"flag"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the tables of README.md anew")

// TestReadme holds the tables of README.md to the declarations they are made from.
func TestReadme(t *testing.T) {
	const file = "README.md"
	old, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text := string(old)
	text = between(t, text, "dimensions", dimensionTable())
	text = between(t, text, "symbols", symbolTable())
	text = between(t, text, "prefixes", prefixTable())
	if text == string(old) {
		return
	}
	if !*update {
		t.Fatalf("%s is not what the declarations say; go test ./specs/quantity -run TestReadme -update writes it", file)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// between puts the table between the marks of that name.
func between(t *testing.T, text, name, table string) string {
	t.Helper()
	first, last := "<!-- "+name+" -->\n", "<!-- end of "+name+" -->\n"
	before, rest, ok1 := strings.Cut(text, first)
	_, after, ok2 := strings.Cut(rest, last)
	if !ok1 || !ok2 {
		t.Fatalf("no marks for the table of %s", name)
	}
	return before + first + table + last + after
}

func dimensionTable() string {
	var b strings.Builder
	b.WriteString("| dimension | key | in JSON | for people | usual units |\n|---|---|---|---|---|\n")
	for _, d := range Dimensions() {
		row := d.row()
		ladder := row.display
		if row.ladder != nil {
			ladder = rungs(row.ladder)
		}
		fmt.Fprintf(&b, "| %s | `%s` | %s | %s | %s |\n", d, d.Key(), row.display, ladder, strings.Join(row.usual, ", "))
	}
	return b.String()
}

// rungs tells from how much of it on each unit is used.
func rungs(ladder []rung) string {
	texts := []string{ladder[0].unit}
	for _, r := range ladder[1:] {
		texts = append(texts, "from "+strconv.FormatFloat(r.from, 'g', -1, 64)+" "+r.unit)
	}
	return strings.Join(texts, ", ")
}

func symbolTable() string {
	var b strings.Builder
	b.WriteString("| symbol | also | prefixes | dimension | in SI | source |\n|---|---|---|---|---|---|\n")
	for _, s := range symbols {
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s |\n",
			s.text, strings.Join(s.also, ", "), strings.Join(strings.Split(s.prefixes, ""), " "), s.dimension, inSI(s), s.source)
	}
	return b.String()
}

// inSI is one of the symbol in SI; scales with a zero of their own as a formula.
func inSI(s symbol) string {
	switch {
	case s.shift != 0 && s.den == 1:
		return fmt.Sprintf("(n + %g) K", s.shift)
	case s.shift != 0:
		return fmt.Sprintf("(n + %g) · %g/%g K", s.shift, s.num, s.den)
	}
	return strings.TrimSpace(strconv.FormatFloat(s.num/s.den, 'g', 12, 64) + " " + coherent[s.dimension])
}

// coherent are the SI units of the dimensions that have a symbol.
var coherent = map[Dimension]string{
	Pressure: "Pa", TemperatureDifference: "K", Length: "m", Volume: "m3", Flow: "m3/s", Time: "s", Frequency: "1/s", Angle: "rad",
	RotationalSpeed: "rad/s", Mass: "kg", Force: "N", Acceleration: "m/s2", Torque: "N·m", Energy: "J", Power: "W",
	KinematicViscosity: "m2/s", DynamicViscosity: "Pa·s",
}

// TestCoherentUnits: what the README calls the SI unit is it.
func TestCoherentUnits(t *testing.T) {
	for _, s := range symbols {
		unit, ok := coherent[s.dimension]
		if ok {
			if v, err := Parse("1 "+unit, s.dimension); err != nil || v.SI != 1 {
				t.Errorf("1 %s = %v in SI (%v)", unit, v.SI, err)
			}
		} else if s.dimension != Number && s.dimension != Temperature {
			t.Errorf("no SI unit for %s", s.text)
		}
	}
}

func prefixTable() string {
	var b strings.Builder
	b.WriteString("| prefix | also | factor |\n|---|---|---|\n")
	for _, letter := range "GMkhdcmµn" {
		p := prefixes[letter]
		fmt.Fprintf(&b, "| %c | %s | %g |\n", letter, strings.Join(strings.Split(p.also, ""), ", "), p.num/p.den)
	}
	return b.String()
}
