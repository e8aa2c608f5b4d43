package network

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"headroom/checker/fluid"
	"headroom/specs"
)

// reference is a file of independent/results, as far as it is compared.
type reference struct {
	Cases map[string]struct {
		Repeats []struct {
			Nodes        map[string]map[string]json.RawMessage
			Parts        map[string]map[string]json.RawMessage
			Expectations []struct {
				Measure, Time *float64
				Unit          string
			}
			History struct {
				Time   []float64
				States map[string][]float64
			}
			Balance struct{ Mass, Energy float64 }
		}
	}
}

type referenceRange struct {
	Lowest, Highest [2]float64
	End, Mean       *float64
}

// settlingTime is how long (s) after the start of a case nothing but the start
// itself is compared: all pressures jump there.
const settlingTime = 20e-3

// leastAccuracy is what is nothing in a quantity: residues of what is at rest.
var leastAccuracy = map[string]float64{"L/min": 1e-3, "m/s": 1e-5, "W": 0.1, "number": 0.1, "mm": 1e-3, "cm3": 1e-2}

// row is one comparison: how far off, as a share of the accuracy asked.
type row struct {
	what         string
	theirs, ours float64
	share        float64
}

// comparison collects the rows of one case.
type comparison struct {
	rows []row
	air  float64
}

// The accuracy asked: pressures and flows 0.5 % or 0.1 bar, temperatures 0.5 K,
// times 1 ms or 1 %, the rest 0.5 % of its largest magnitude.
func (c *comparison) add(what, unit string, theirs, ours, magnitude float64) {
	accuracy := 0.005 * math.Max(math.Abs(theirs), magnitude)
	switch unit {
	case "bar":
		accuracy = math.Max(0.005*math.Abs(theirs), 0.1)
	case "degC":
		accuracy = 0.5
	case "s":
		accuracy = math.Max(1e-3, 0.01*math.Abs(theirs))
	}
	share := math.Abs(ours-theirs) / math.Max(accuracy, leastAccuracy[unit])
	if theirs == ours {
		share = 0
	}
	if math.IsNaN(share) {
		share = math.Inf(1)
	}
	c.rows = append(c.rows, row{what, theirs, ours, share})
}

// unitOf is the unit of the independent solution for a dimension, and SI to it.
func (c *comparison) unitOf(dim string) (unit string, convert func(float64) float64) {
	scale := func(f float64) func(float64) float64 { return func(v float64) float64 { return v * f } }
	switch dim {
	case "pressure":
		return "bar", func(v float64) float64 { return (v - c.air) / 1e5 }
	case "absolute-pressure", "pressure-difference":
		return "bar", scale(1e-5)
	case "temperature":
		return "degC", func(v float64) float64 { return v - fluid.Celsius }
	case "flow":
		return "L/min", scale(60e3)
	case "volume":
		return "cm3", scale(1e6)
	case "length":
		return "mm", scale(1e3)
	case "velocity":
		return "m/s", scale(1)
	case "power":
		return "W", scale(1)
	case "number":
		return "number", scale(1)
	case "rotational-speed":
		return "rpm", scale(30 / math.Pi)
	}
	return "", scale(1)
}

// compareRange compares a range; extremes in the first instants are left out.
func (c *comparison) compareRange(what, dim string, raw json.RawMessage, ours Range) {
	var r referenceRange
	if json.Unmarshal(raw, &r) != nil {
		return
	}
	unit, convert := c.unitOf(dim)
	magnitude := math.Max(math.Abs(r.Lowest[0]), math.Abs(r.Highest[0]))
	if r.Lowest[1] > settlingTime && ours.Lowest.Time > settlingTime {
		c.add(what+" lowest", unit, r.Lowest[0], convert(ours.Lowest.Value), magnitude)
	}
	if r.Highest[1] > settlingTime && ours.Highest.Time > settlingTime {
		c.add(what+" highest", unit, r.Highest[0], convert(ours.Highest.Value), magnitude)
	}
	if r.End != nil {
		c.add(what+" end", unit, *r.End, convert(ours.End), magnitude)
	}
	if r.Mean != nil {
		c.add(what+" mean", unit, *r.Mean, convert(ours.Mean), magnitude)
	}
}

func (c *comparison) nodes(ref map[string]map[string]json.RawMessage, out *Outcome) {
	for _, n := range out.Nodes {
		r := ref[n.Node]
		if p, has := r["pressure_from_20_ms"]; has {
			c.compareRange(n.Node+" pressure", "pressure", p, n.Settled)
		}
		c.compareRange(n.Node+" temperature", "temperature", r["temperature"], n.Temperature)
	}
}

func (c *comparison) parts(ref map[string]map[string]json.RawMessage, out *Outcome) {
	for _, p := range out.Parts {
		for _, r := range p.Readings {
			if raw, has := ref[p.Part][r.Name]; has {
				c.compareRange(p.Part+" "+r.Name, r.Dimension, raw, r.Range)
			}
		}
		var engagements [][3]*float64
		if raw, has := ref[p.Part]["engagements"]; has && json.Unmarshal(raw, &engagements) == nil {
			c.add(p.Part+" engagements", "", float64(len(engagements)), float64(len(p.Engagements)), 0)
			for i, e := range p.Engagements {
				if i >= len(engagements) {
					break
				}
				c.add(p.Part+" slip starts", "s", *engagements[i][0], e.Starts, 0)
				if engagements[i][1] != nil {
					c.add(p.Part+" locks", "s", *engagements[i][1], e.Locks, 0)
				}
				c.add(p.Part+" energy", "", *engagements[i][2], e.Energy/1e3, 0)
			}
		}
	}
}

// history compares every state as the case begins and at every instant after the
// first, or up to a millisecond before or after it.
func (c *comparison) history(times []float64, states map[string][]float64, names []Channel, sampled []float64, samples [][]float64) {
	end := times[len(times)-1]
	for i, ch := range names {
		theirs, has := states[ch.Of+"."+ch.Name]
		if !has {
			continue
		}
		unit, convert := c.unitOf(ch.Dimension)
		ours := func(t float64) float64 {
			k, _ := slices.BinarySearch(sampled, t)
			return convert(samples[k][i])
		}
		magnitude, worst := 0.0, row{}
		for _, v := range theirs {
			magnitude = math.Max(magnitude, math.Abs(v))
		}
		one := comparison{air: c.air}
		for k, t := range times {
			if t > 0 && t <= settlingTime {
				continue
			}
			a, at, b := ours(max(0, t-moment)), ours(t), ours(min(t+moment, end))
			if t == 0 { // the beginning itself, not what it becomes
				a, b = at, at
			}
			nearest := max(min(theirs[k], max(a, at, b)), min(a, at, b))
			one.add(fmt.Sprintf("%s %s at %.5g s", ch.Of, ch.Name, t), unit, theirs[k], nearest, magnitude)
			if last := one.rows[len(one.rows)-1]; last.share >= worst.share {
				worst = last
			}
		}
		c.rows = append(c.rows, worst)
	}
}

// aroundEach lists, ascending, each time, a millisecond before and after it.
func aroundEach(times []float64, end float64) []float64 {
	var all []float64
	for _, t := range times {
		all = append(all, max(0, t-moment), t, min(t+moment, end))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// moment is how accurately (s) times are compared at best.
const moment = 1e-3

// TestCompare compares every case of the independent solution with the program:
// extremes, ends and means of all quantities, expectations, engagements, and
// every state at about two hundred instants. With -v it prints the table.
func TestCompare(t *testing.T) {
	for _, c := range independentCircuits(t) {
		ref := referenceOf(t, c)
		for i := range c.Cases {
			k := &c.Cases[i]
			cmp, out := compareCase(t, c, k, ref)
			t.Logf("%s, %s: %d quantities, worst %.3f of the accuracy asked; %d steps, mass %.1e, energy %.1e",
				c.Name.Value, k.Name, len(cmp.rows), cmp.rows[0].share, out.Steps, out.Balance.Mass, out.Balance.Energy)
			for i, r := range cmp.rows {
				if i < 3 {
					t.Logf("    %6.3f  %-44s %12.6g %12.6g", r.share, r.what, r.theirs, r.ours)
				}
				if r.share > 1 {
					t.Errorf("%s, %s: %s is %g, independently %g", c.Name.Value, k.Name, r.what, r.ours, r.theirs)
				}
			}
		}
	}
}

// referenceOf reads what the independent solution found.
func referenceOf(t *testing.T, c *specs.Circuit) *reference {
	t.Helper()
	data, err := os.ReadFile("independent/results/" + strings.TrimSuffix(c.File, ".yaml") + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var ref reference
	if err := json.Unmarshal(data, &ref); err != nil {
		t.Fatal(err)
	}
	return &ref
}

// compareCase simulates a case and compares all of it, the worst first.
func compareCase(t *testing.T, c *specs.Circuit, k *specs.Case, ref *reference) (cmp comparison, out *Outcome) {
	t.Helper()
	repeats := ref.Cases[k.Name].Repeats
	if len(repeats) == 0 {
		t.Fatalf("%s %s has no reference", c.Name.Value, k.Name)
	}
	last := &repeats[len(repeats)-1]
	beginAlike(t, c, k, last.History.States)
	var names []Channel
	var samples [][]float64
	times := aroundEach(last.History.Time, k.Lasts.SI)
	out, err := Simulate(c, k, Options{Record: &Recorder{
		Times:  times,
		Begin:  func(_ string, _ int, channels []Channel) { names, samples = channels, nil },
		Sample: func(_ float64, values []float64) { samples = append(samples, slices.Clone(values)) },
	}})
	if err != nil || out.Failure != nil || len(samples) != len(times) {
		t.Fatalf("%s %s: %v %+v, %d samples at %d times", c.Name.Value, k.Name, err, out, len(samples), len(times))
	}
	cmp.air = c.Environment.AirPressure.SI
	cmp.nodes(last.Nodes, out)
	cmp.parts(last.Parts, out)
	for i, e := range last.Expectations {
		cmp.expectation(fmt.Sprintf("expectation %d", i+1), e.Unit, e.Measure, &out.Expectations[i])
	}
	cmp.history(last.History.Time, last.History.States, names, times, samples)
	slices.SortStableFunc(cmp.rows, func(a, b row) int {
		switch {
		case a.share > b.share:
			return -1
		case a.share < b.share:
			return 1
		}
		return 0
	})
	return cmp, out
}

// expectation compares what came of one; coming about on one side only is
// beyond any accuracy.
func (c *comparison) expectation(what, unit string, theirs *float64, ours *ExpectationOutcome) {
	switch {
	case theirs == nil && !ours.Came:
	case theirs == nil || !ours.Came:
		c.rows = append(c.rows, row{what: what + " came about", share: math.Inf(1)})
	case unit == "s":
		c.add(what, "s", *theirs, ours.Measure, 0)
	default:
		c.add(what, "bar", *theirs, (ours.Measure-c.air)/1e5, 0)
	}
}

// beginAlike holds that the nodes of a case begin at the same pressures here and
// there.
func beginAlike(t *testing.T, c *specs.Circuit, k *specs.Case, states map[string][]float64) {
	m, y := startOf(t, c, k)
	for i := range m.nodes {
		n := &m.nodes[i]
		if n.reservoir {
			continue
		}
		theirs, here := states[n.name+".pressure"], (m.pressure(i, y)-m.air)/1e5
		if len(theirs) == 0 || math.Abs(theirs[0]-here) > 0.01 {
			t.Errorf("%s, %s: %s begins at %.2f bar here, at %.2f bar there", c.Name.Value, k.Name, n.name, here, theirs[:min(1, len(theirs))])
		}
	}
}
