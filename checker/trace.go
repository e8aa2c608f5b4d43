package checker

import (
	"fmt"

	"headroom/checker/network"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// Trace simulates one case and keeps what its nodes and parts went through: at
// the integrator's own steps, or every so often (s) where every is above 0. Of a
// repeated case the last repeat is kept. Where the case could not be integrated
// to its end, or has not settled, the history comes with an error that says why.
func Trace(c *specs.Circuit, name string, every float64) (*facts.History, error) {
	s := newSurvey(c)
	var view *caseView
	for i := range s.cases {
		if s.cases[i].spec.Name == name {
			view = &s.cases[i]
		}
	}
	if view == nil {
		return nil, fmt.Errorf("there is no case %s; this circuit has %s", name, caseNames(c))
	}
	if lacks := s.incomplete(view); lacks != "" {
		return nil, fmt.Errorf("case %s cannot be simulated for want of %s: run check to see what is wrong with it", name, lacks)
	}
	h := &historian{air: s.air}
	out, err := network.Simulate(c, view.spec, network.Options{
		Record: &network.Recorder{Every: every, Begin: h.begin, Sample: h.sample},
		Starts: s.resting(view),
	})
	if err != nil {
		return nil, err
	}
	if e := out.Failure; e != nil {
		return &h.kept, fmt.Errorf("case %s could not be integrated past %s: %s", name, print(e.Time, quantity.Time), e.Why)
	}
	if u := out.Repeats.Unsettled; u != nil {
		return &h.kept, fmt.Errorf("case %s has not settled: %s; what is written is its last repeat", name, unsettledText(&out.Repeats))
	}
	return &h.kept, nil
}

// A historian keeps a history; gauge pressures are against the surrounding air.
type historian struct {
	kept  facts.History
	gauge []bool // by channel
	air   float64
}

// begin starts anew with each repeat.
func (h *historian) begin(_ string, _ int, channels []network.Channel) {
	h.kept = facts.History{}
	h.gauge = make([]bool, len(channels))
	for i, c := range channels {
		d, _ := quantity.DimensionNamed(c.Dimension)
		h.gauge[i] = d == quantity.Pressure
		h.kept.Columns = append(h.kept.Columns, facts.Column{Of: c.Of, What: c.Name, Dimension: d})
	}
}

func (h *historian) sample(t float64, values []float64) {
	row := make([]float64, len(values)+1)
	row[0] = t
	for i, v := range values {
		if h.gauge[i] {
			v -= h.air
		}
		row[i+1] = v
	}
	h.kept.Rows = append(h.kept.Rows, row)
}

// beside records what another recorder takes as well, which may be nil.
func (h *historian) beside(other *network.Recorder) *network.Recorder {
	if other == nil {
		return &network.Recorder{Begin: h.begin, Sample: h.sample}
	}
	return &network.Recorder{
		Begin: func(c string, repeat int, channels []network.Channel) {
			other.Begin(c, repeat, channels)
			h.begin(c, repeat, channels)
		},
		Sample: func(t float64, values []float64) {
			other.Sample(t, values)
			h.sample(t, values)
		},
	}
}
