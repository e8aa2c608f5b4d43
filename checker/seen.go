package checker

import (
	"headroom/checker/network"
	"headroom/rules/facts"
	"headroom/specs"
)

// seen are the extremes that the simulated cases came to. Gauge pressures are
// against the surrounding air.
func (s *survey) seen() extremes {
	x := s.newExtremes()
	stated := s.statedNodes()
	for n := range s.graph.Nodes {
		name := s.graph.Nodes[n].Name
		from := facts.Origin{At: s.whereNode(n, stated[n])}
		at := func(pick func(o *network.NodeOutcome) network.Extreme, less float64) func(r *run) (moment, bool) {
			return func(r *run) (moment, bool) {
				if r.nodes[n] == nil {
					return moment{}, false
				}
				m := when(pick(r.nodes[n]))
				m.value -= less
				m.node = name
				return m, true
			}
		}
		x.pressure[n] = s.worst(search{from: from}, at(func(o *network.NodeOutcome) network.Extreme { return o.Pressure.Highest }, s.air))
		x.lowest[n] = s.worst(search{from: from, lowest: true}, at(func(o *network.NodeOutcome) network.Extreme { return emptied(o.Pressure.Lowest) }, 0))
		x.hottest[n] = s.worst(search{from: from, warmth: true}, at(func(o *network.NodeOutcome) network.Extreme { return o.Temperature.Highest }, 0))
		if x.pressure[n].Known {
			x.ceiling[n] = x.pressure[n].Value
		}
	}
	for i, p := range s.spec.Parts {
		if _, pack := p.(*specs.FrictionPack); pack {
			x.plates[i] = s.worst(search{from: s.partOrigin(i), warmth: true}, highestOf(i, "plate_temperature"))
		}
	}
	return x
}
