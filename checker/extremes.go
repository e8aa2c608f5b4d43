package checker

import (
	"math"

	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
)

// extremes are what the nodes come to at worst, over all cases, by node. The
// families of facts read them here and nowhere else, so that it is all the same
// to them whether a value was simulated or is a bound that holds at any time.
// What is neither stays missing.
type extremes struct {
	pressure []facts.Fact // highest, gauge
	ceiling  []float64    // gauge, never passed, though not come to: +Inf where not known
	lowest   []facts.Fact // lowest absolute pressure
	hottest  []facts.Fact // temperature
	plates   []facts.Fact // temperature of friction plates, by part; no fact for other parts
}

// newExtremes knows nothing yet.
func (s *survey) newExtremes() extremes {
	nodes := len(s.graph.Nodes)
	x := extremes{
		pressure: make([]facts.Fact, nodes),
		ceiling:  make([]float64, nodes),
		lowest:   make([]facts.Fact, nodes),
		hottest:  make([]facts.Fact, nodes),
		plates:   make([]facts.Fact, len(s.spec.Parts)),
	}
	for n := range nodes {
		x.pressure[n], x.lowest[n], x.hottest[n] = simulated(), simulated(), simulated()
		x.ceiling[n] = math.Inf(1)
	}
	for i, p := range s.spec.Parts {
		if _, ok := p.(*specs.FrictionPack); ok {
			x.plates[i] = simulated()
		}
	}
	return x
}

// pressureAt is the highest pressure over some ports. A port whose pressure is
// not known does not matter where its ceiling is no higher than what is known.
func (x *extremes) pressureAt(ports []topology.Port) facts.Fact {
	var highest extreme
	for _, p := range ports {
		if f := x.pressure[p.Node]; f.Known {
			highest.add(f)
		}
	}
	top := highest.fact()
	for _, p := range ports {
		if f := x.pressure[p.Node]; !f.Known && !(top.Known && x.ceiling[p.Node] <= top.Value) {
			highest.add(f)
		}
	}
	return highest.fact()
}

// warmest is the hottest that some nodes come to in the simulated cases; unset
// where none is simulated.
func (s *survey) warmest(nodes []int) facts.Fact {
	var top extreme
	if len(s.runs) == 0 {
		return top.fact()
	}
	for _, n := range nodes {
		top.add(s.sees.hottest[n])
	}
	return top.fact()
}

// hottestAt is the highest temperature over some ports.
func (x *extremes) hottestAt(ports []topology.Port) facts.Fact {
	var top extreme
	for _, p := range ports {
		top.add(x.hottest[p.Node])
	}
	return top.fact()
}
