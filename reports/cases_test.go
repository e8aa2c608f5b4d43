package reports

import (
	"bytes"
	"math"
	"testing"

	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// simulated is a result with one simulated case and nothing judged.
func simulated() *rules.Result {
	r := clean()
	r.Judgement = &rules.Judgement{Verdict: rules.Holds}
	at := func(v, t float64) facts.Extreme { return facts.Extreme{Value: v, Time: t} }
	r.Cases = []facts.CaseRecord{{
		Case: "lift",
		Nodes: []facts.NodeRecord{{
			Name:        "rail",
			Pressure:    facts.Reading{Dimension: quantity.Pressure, Lowest: at(120.5e5, 1.25), Highest: at(190e5, 0)},
			Temperature: facts.Reading{Dimension: quantity.Temperature, Lowest: at(313.15, 0), Highest: at(321.4, 8)},
		}},
		Parts: []facts.PartRecord{
			{Name: "pump", Readings: []facts.Reading{{
				Name: "inlet_pressure_absolute", Dimension: quantity.AbsolutePressure, Ranged: true,
				Value: at(0.82e5, 1), Lowest: at(0.82e5, 1), Highest: at(0.88e5, 0),
			}}},
			{Name: "hose", Readings: []facts.Reading{{Name: "surge", Dimension: quantity.PressureDifference, Value: at(31e5, 4.5)}}},
		},
		Expectations: []facts.ExpectationRecord{
			{Name: "up", Dimension: quantity.Time, Came: true, Measure: 1.2, Limit: 2, AtMost: true, Time: 1.7},
			{Name: "down", Dimension: quantity.Time, Limit: 2, AtMost: true},
			{Name: "rail at least", Dimension: quantity.Pressure, Came: true, Measure: 120.5e5, Limit: 100e5, Time: 1.25},
		},
		NodeError: 1e-4, MassError: 2e-5, EnergyError: 3e-6, Steps: 412,
	}}
	return r
}

func TestCasesInJSON(t *testing.T) {
	expect(t, "cases.json", told(t, "json", Options{}, Run{}, simulated()))
}

func TestHistory(t *testing.T) {
	var out bytes.Buffer
	err := History(&out, &facts.History{
		Columns: []facts.Column{{Of: "rail", What: "pressure", Dimension: quantity.Pressure}, {Of: "pump, main", What: "swivel"}, {Of: "tank", What: "level", Dimension: quantity.Volume}},
		Rows:    [][]float64{{0, 190e5, 1, 2e-3}, {0.0123456789, 1e5 / 3, math.NaN(), 0}, {1, -2e3, 0.25, 1.99e-3}},
	})
	want := "time [s],rail pressure [bar],\"pump, main swivel\",tank level [L]\n0,190,1,2\n0.0123456789,0.3333333,,0\n1,-0.02,0.25,1.99\n"
	if err != nil || out.String() != want {
		t.Errorf("%v, got\n%s", err, out.String())
	}
}
