package checker

import (
	"math"

	"headroom/specs"
)

// A caseView is one case as it is computed: its parts with what the case
// changes of them, its temperatures, how fast what is driven turns.
type caseView struct {
	spec  *specs.Case
	root  string       // key path: "cases.hill-start"
	parts []specs.Part // by index
	fluid float64      // K, of the fluid when it begins; NaN where not known
	speed []float64    // rad/s, highest of each part driven; NaN where not driven
	cold  bool         // it begins at cold start, or colder
	ways  []oneWay     // what lets flow pass one way only
}

func (s *survey) viewCases() []caseView {
	views := make([]caseView, len(s.spec.Cases))
	for i := range views {
		views[i] = s.viewCase(&s.spec.Cases[i])
	}
	return views
}

func (s *survey) viewCase(c *specs.Case) caseView {
	v := caseView{spec: c, root: "cases." + c.Name, parts: s.spec.Parts, fluid: math.NaN()}
	if begins := s.beginning(c); begins.Given() {
		v.fluid = begins.SI
		start := s.spec.Environment.ColdStart
		v.cold = start.Given() && begins.SI <= start.SI+sameTemperature
	}
	if len(c.With) > 0 {
		v.parts = s.changed(c.With)
	}
	v.speed = s.speeds(c)
	return v
}

// sameTemperature is how much warmer than cold start a case may begin and still
// be one at cold start, K.
const sameTemperature = 0.5

// beginning is the temperature of the fluid as a case begins.
func (s *survey) beginning(c *specs.Case) specs.Quantity {
	if c.Begins.Fluid.Given() {
		return c.Begins.Fluid
	}
	return s.spec.Environment.Ambient
}

// changed is the circuit's parts with those of a case in their places.
func (s *survey) changed(with []specs.Override) []specs.Part {
	parts := append([]specs.Part(nil), s.spec.Parts...)
	for _, o := range with {
		if i, known := s.graph.Part(o.Part); known && o.As != nil {
			parts[i] = o.As
		}
	}
	return parts
}

// speeds is the highest speed of each part that a case drives.
func (s *survey) speeds(c *specs.Case) []float64 {
	speeds := make([]float64, len(s.spec.Parts))
	for i := range speeds {
		speeds[i] = math.NaN()
	}
	for _, d := range c.Drives {
		i, known := s.graph.Part(d.Name)
		switch {
		case !known:
		case d.Value.Switch != nil && d.Value.Switch.Speed.Given():
			speeds[i] = d.Value.Switch.Speed.SI
		case d.Value.Speed.Given():
			speeds[i] = highest(d.Value.Speed)
		}
	}
	return speeds
}

// highest is the largest value of a profile.
func highest(p specs.Profile) float64 {
	top := math.Inf(-1)
	for _, point := range p.Points {
		top = max(top, point.Y)
	}
	return top
}

// turns tells whether a case turns a part at all.
func (v *caseView) turns(part int) bool { return v.speed[part] > 0 }

// stops tells whether a driven part has come to rest when the case ends.
func (v *caseView) stops(name string) bool {
	for _, d := range v.spec.Drives {
		if points := d.Value.Speed.Points; d.Name == name && len(points) > 0 {
			return points[len(points)-1].Y == 0
		}
	}
	return false
}

// delivers is the flow (m³/s) that a pump gives in a case at its highest speed,
// with full displacement and without slip; NaN where its displacement is not
// known.
func (v *caseView) delivers(pump int) float64 {
	p, ok := v.parts[pump].(*specs.Pump)
	if !ok || !v.turns(pump) {
		return 0
	}
	if !p.Displacement.Given() {
		return math.NaN()
	}
	return p.Displacement.SI * v.speed[pump]
}

// demand is the highest flow (m³/s) that a case asks of a consumer.
func (v *caseView) demand(name string) float64 {
	for _, d := range v.spec.Demands {
		if d.Name == name && d.Value.Given() {
			return max(0, highest(d.Value))
		}
	}
	return 0
}

// holds is the highest pressure (Pa absolute) that a reducing valve is to hold
// in a case: at rest, as the case begins, by command; or where it is stuck.
func (v *caseView) holds(valve *specs.ReducingValve) float64 {
	if valve.Stuck.Given() {
		return valve.Stuck.SI
	}
	top := valve.Rest.SI
	for _, spool := range v.spec.Begins.Spools {
		if spool.Name == valve.Name {
			top = max(top, spool.Value.SI)
		}
	}
	for _, command := range v.spec.Commands {
		if command.Valve.Value == valve.Name {
			top = max(top, command.To.SI)
		}
	}
	return top
}

// load is the load of a part in a case over time: the case's own, or the part's.
func (v *caseView) load(name string, own specs.Quantity) specs.Profile {
	for _, l := range v.spec.Loads {
		if l.Name == name && l.Value.Given() {
			return l.Value
		}
	}
	return specs.Profile{Points: []specs.Point{{Y: own.SI}}, Source: own.Source, Key: own.Key, At: own.At}
}

// lowest is the smallest value of a profile.
func lowest(p specs.Profile) float64 {
	least := math.Inf(1)
	for _, point := range p.Points {
		least = min(least, point.Y)
	}
	return least
}
