package checker

import (
	"math"
	"testing"

	"headroom/specs"
)

// A history that is asked for spans what the record of its case tells: the same
// extremes, gauge, and of a repeated case its last repeat alone.
func TestHistoryBesideRecord(t *testing.T) {
	c := specs.Read("small.yaml", []byte(plain+replaced(press, "fast: {lasts: 4 s,", "fast: {lasts: 4 s, repeats: 3,")))
	for _, r := range SimulatedFacts(c, Asked{}).Records {
		if r.History != nil {
			t.Errorf("case %s keeps a history that nobody asked for", r.Case)
		}
	}
	records := SimulatedFacts(c, Asked{History: true}).Records
	if len(records) == 0 {
		t.Fatal("no case was simulated")
	}
	for _, r := range records {
		if r.History == nil {
			t.Fatalf("case %s has no history", r.Case)
		}
		rows := r.History.Rows
		if rows[0][0] != 0 || rows[len(rows)-1][0] != c.Case(r.Case).Lasts.SI {
			t.Errorf("case %s runs from %g s to %g s", r.Case, rows[0][0], rows[len(rows)-1][0])
		}
		for _, n := range r.Nodes {
			column := r.History.Column(n.Name, "pressure")
			if column == 0 {
				t.Fatalf("%s has no pressure over time", n.Name)
			}
			highest := math.Inf(-1)
			for _, row := range rows {
				highest = max(highest, row[column])
			}
			// The record looks between the steps too, and over all repeats.
			if top := n.Pressure.Highest.Value; highest > top+1 || highest < top-0.02*math.Abs(top)-2e3 {
				t.Errorf("%s in %s: highest %g Pa over time, %g Pa in the record", n.Name, r.Case, highest, top)
			}
		}
	}
	if h := records[0].History; h.Column("nowhere", "pressure") != 0 || h.Column("jet", "colour") != 0 {
		t.Error("there are quantities that there are not")
	}
}

// The fluid's viscosity is told from cold to hot.
func TestViscosityCurve(t *testing.T) {
	f := SimulatedFacts(specs.Read("small.yaml", []byte(plain+press)), Asked{})
	curve := f.Fluid.Curve
	if len(curve) < 3 {
		t.Fatalf("%d points", len(curve))
	}
	if v := f.Fluid.ViscosityColdest; v.Known && curve[0].Viscosity != v.Value {
		t.Errorf("at cold start %g, the fact says %g", curve[0].Viscosity, v.Value)
	}
	for i := range curve {
		for k := range curve {
			if curve[i].At < curve[k].At && curve[i].Viscosity <= curve[k].Viscosity {
				t.Errorf("%s thinner than %s", curve[i].What, curve[k].What)
			}
		}
	}
}
