package checker

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"headroom/checker/resistance"
	"headroom/checker/strength"
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

// trappedFacts are the facts of all volumes that can be closed on all sides.
func (s *survey) trappedFacts() []*facts.Trapped {
	var all []*facts.Trapped
	for _, t := range s.shutter.Trapped() {
		all = append(all, s.trapped(&t))
	}
	return all
}

func (s *survey) trapped(t *topology.Trapped) *facts.Trapped {
	f := &facts.Trapped{Nodes: s.nodeNames(t.Nodes)}
	slices.Sort(f.Nodes) // whatever the order of the spec, the volume has one name
	name := strings.Join(f.Nodes, ", ")
	parts := s.partsAt(t.Nodes)
	written := facts.Origin{At: s.spec.Parts[parts[0]].Base().At, Key: "nodes." + f.Nodes[0], Note: "shut by " + s.names(t.Closers)}
	if t.Untold {
		written.Note = ""
	}
	f.At = written.At
	f.Name = s.word(name, written)
	f.WeakestRated = s.weakest(parts)
	s.trappedTubes(f, parts, written)
	if t.Untold {
		key := tooManyStates(f.Nodes[0])
		f.Volume, f.Rise, f.Pressure = missing(key), missing(key), missing(key)
		return f
	}
	space, key := s.space(t)
	if key != "" {
		f.Volume, f.Rise, f.Pressure = missing(key), missing(key), missing(key)
		return f
	}
	f.Volume = s.known(space.volume, written)
	f.Rise = s.rise(space, s.air, written)
	f.Pressure = s.shutPressure(t, space, f.Rise, f.WeakestRated, written)
	return f
}

// tooManyStates says what would be needed where so many valves stand around a place
// that not all of their states can be tried.
func tooManyStates(place string) string {
	return "a way out of " + place + " that nothing shuts: the valves around it have more states than can be tried"
}

// trappedTubes tells of tubes that state no rated pressure among the parts of a
// closed volume.
func (s *survey) trappedTubes(f *facts.Trapped, parts []int, o facts.Origin) {
	var bare []int
	for _, i := range parts {
		if s.bareTube(i) {
			bare = append(bare, i)
		}
	}
	o.Note = s.names(bare)
	f.BareTube = s.holds(len(bare) > 0, o)
	f.WeakestTubeBurst = s.weakestBurst(bare)
}

// partsAt are the parts at some nodes, in the spec's order.
func (s *survey) partsAt(nodes []int) []int {
	at := make([]bool, len(s.spec.Parts))
	for _, n := range nodes {
		for _, port := range s.graph.Nodes[n].Ports {
			at[port.Part] = true
		}
	}
	var parts []int
	for i, is := range at {
		if is {
			parts = append(parts, i)
		}
	}
	return parts
}

// A space is a closed volume and how its walls give way.
type space struct {
	volume float64    // m³
	gives  float64    // m³/Pa
	grows  float64    // m³/K, by the warming of its walls
	warmth facts.Fact // the hottest that its nodes come to, where cases are simulated
}

// space adds up nodes, lines and chambers. Tubes widen and grow by their
// material, hoses stretch; all else counts as rigid.
func (s *survey) space(t *topology.Trapped) (v space, key string) {
	v.warmth = s.warmest(t.Nodes)
	for _, n := range t.Nodes {
		v.volume += s.nodeVolume(n, func(c int) topology.Placement { return t.Cylinders[c] })
	}
	for _, i := range s.partsAt(t.Nodes) {
		part := s.spec.Parts[i]
		if key := s.unmeasured(i, part); key != "" {
			return space{}, key
		}
		switch line := part.(type) {
		case *specs.Hose:
			v.gives += resistance.HoseCompliance(line.Stretch.SI, line.Bore.SI) * lineVolume(&line.Line)
		case *specs.Tube:
			s.addWall(&v, line)
		}
	}
	return v, ""
}

func lineVolume(l *specs.Line) float64 {
	tube := tubeOf(l)
	return tube.Volume()
}

// addWall adds how a tube's wall gives way; one without wall or material is rigid.
func (s *survey) addWall(v *space, tube *specs.Tube) {
	material, ok := catalogue.Tube(tube.Material.Value)
	if !ok || !tube.Wall.Given() {
		return
	}
	k := (tube.Bore.SI + 2*tube.Wall.SI) / tube.Bore.SI
	v.gives += strength.TubeVolumeCompliance(k, material.Modulus, material.Poisson) * lineVolume(&tube.Line)
	v.grows += 3 * material.Expansion * lineVolume(&tube.Line)
}

// rise is the pressure rise of a closed space from cold start to the fluid's
// limit, or to what its nodes come to if that is hotter, from a pressure (Pa
// absolute) on.
func (s *survey) rise(v space, from float64, o facts.Origin) facts.Fact {
	start := s.given(s.spec.Environment.ColdStart, "environment.cold_start")
	if !start.Known {
		return start
	}
	if s.oil == nil {
		return missing(s.oilKey)
	}
	hot, of := s.hotLimit(specs.Quantity{})
	if math.IsNaN(hot) {
		return missing(of)
	}
	switch w := v.warmth; {
	case w.Known && w.Value > hot:
		hot, of = w.Value, "the hottest it gets, in "+w.From.Case
	case !w.Known && w.Missing != "":
		return unknown(w)
	}
	end := s.warmed(warming{from: from, cold: start.Value, hot: hot, gives: v.gives / v.volume, grows: v.grows / v.volume / 3})
	o.Note = fmt.Sprintf("%s, from %s to %s (%s)", o.Note, print(start.Value, quantity.Temperature), print(hot, quantity.Temperature), of)
	o.Basis = "dp/dT = (α − 3 α_wall)/(1/K + C)"
	return s.known(end-from, o)
}

// A warming of a closed space: its pressure (Pa absolute) and the temperatures
// (K), and how it gives way (1/Pa) and lengthens (1/K). Many spaces share one.
type warming struct{ from, cold, hot, gives, grows float64 }

// warmed is the pressure (Pa absolute) that a warming ends at. The modulus is the
// isentropic one that a spec gives, while a slow warming goes by the isothermal: the
// rise of an oil without a wall that gives way comes out 19 % high from 20 to 60 °C and
// 26 % from −20 to 80 °C, which is the safe side.
func (s *survey) warmed(w warming) float64 {
	if end, known := s.warmings[w]; known {
		return end
	}
	end := strength.TrappedPressure(w.from, w.cold, w.hot, func(T, p float64) float64 {
		return strength.TrappedRate(s.oil.Expansion(T), w.grows, s.oil.EffectiveModulus(T, p), w.gives)
	})
	s.warmings[w] = end
	return end
}

// shutPressure is what a closed space comes to. It is closed in at up to the
// highest pressure of its nodes; where that is not known, what it would come to
// from no pressure is told only if that alone is more than it is rated for.
func (s *survey) shutPressure(t *topology.Trapped, v space, fromNothing, rated facts.Fact, o facts.Origin) facts.Fact {
	if !fromNothing.Known {
		return fromNothing
	}
	before := s.sectionPressure(t.Nodes)
	if !before.Known {
		if !rated.Known || fromNothing.Value <= rated.Value {
			return unknown(before)
		}
		o.Note += ", even where it is shut without pressure in it"
		return s.known(fromNothing.Value, o)
	}
	risen := s.rise(v, before.Value+s.air, o)
	if !risen.Known {
		return risen
	}
	risen.From.Note += ", shut at " + print(before.Value, quantity.Pressure)
	return facts.Fact{Value: before.Value + risen.Value, Known: true, From: risen.From}
}
