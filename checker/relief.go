package checker

import (
	"cmp"
	"math"

	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
)

// A relief is one relief valve in the circuit.
type relief struct {
	part      int
	from, to  int          // nodes
	protects  topology.Set // nodes that nothing can shut off from it
	above     topology.Set // nodes from which flow can come to it
	reservoir int          // node that its outlet reaches past nothing that can shut
	returns   bool         // whether it does
}

func (s *survey) findReliefs() []relief {
	var all []relief
	for i, p := range s.spec.Parts {
		if _, ok := p.(*specs.ReliefValve); !ok {
			continue
		}
		from, connected := s.graph.At(i, "from")
		to, also := s.graph.At(i, "to")
		if !connected || !also {
			continue
		}
		r := relief{part: i, from: from, to: to, protects: s.graph.Protected(i)}
		r.above = s.graph.Above(from, func(*topology.Passage) bool { return false })
		r.reservoir, r.returns = s.graph.Discharge(i)
		all = append(all, r)
	}
	return all
}

// reliefOf finds a relief valve by its part; nil where it is not connected.
func (s *survey) reliefOf(part int) *relief {
	for i := range s.reliefs {
		if s.reliefs[i].part == part {
			return &s.reliefs[i]
		}
	}
	return nil
}

// An opening is a relief valve that takes a flow: the pressure before it, and
// what is lost on the way to it from where the flow comes.
type opening struct {
	pressure float64 // Pa absolute, at its inlet
	flow     float64 // m³/s
	back     float64 // Pa, lost behind it
	lost     float64 // Pa, lost before it
	lacks    string  // key path of a value without which it cannot be said
}

// open works out a relief valve with a flow (m³/s) in it, in one case:
//
//	p = p_reservoir + return losses + cracking + override · Q/Q_rated
func (s *survey) open(r *relief, v *caseView, flow float64) opening {
	valve := v.parts[r.part].(*specs.ReliefValve)
	at := under(s.roots[r.part])
	if key := lacking(at(valve.Cracking, "cracking"), at(valve.Flow, "flow"), at(valve.Override, "override")); key != "" {
		return opening{lacks: key}
	}
	if math.IsNaN(flow) {
		return opening{lacks: s.unknownDelivery(v)}
	}
	o := opening{flow: flow}
	rise := valve.Cracking.SI + valve.Override.SI*flow/valve.Flow.SI
	o.back, o.lacks = s.pathLoss(r.to, topology.Downstream, v, flow, s.air, []int{r.reservoir})
	o.pressure = s.reservoirPressure(v, r.reservoir) + o.back + rise
	return o
}

// unknownDelivery names the key of a driven pump whose delivery is not known.
func (s *survey) unknownDelivery(v *caseView) string {
	for i, p := range v.parts {
		if pump, ok := p.(*specs.Pump); ok && v.turns(i) && !pump.Displacement.Given() {
			return s.path(i, "displacement")
		}
	}
	return ""
}

// pathLoss is the most that a flow loses between the start and any of the ends
// by the easiest way, past nothing that can be shut. Fluid as the case begins,
// at about the pressure p (Pa absolute).
func (s *survey) pathLoss(start int, d topology.Direction, v *caseView, flow, p float64, ends []int) (lost float64, lacks string) {
	if math.IsNaN(v.fluid) {
		return 0, "environment.ambient"
	}
	costs := s.graph.Cheapest(start, d, func(i int) float64 {
		part := s.graph.Passages[i].Part
		drop, key := s.loss(part, v.parts[part], flow, v.fluid, p)
		if key != "" {
			lacks = key
			return math.Inf(1)
		}
		return drop
	})
	for _, n := range ends {
		lost = max(lost, costs[n])
	}
	if math.IsInf(lost, 1) {
		return 0, cmp.Or(lacks, facts.Simulation)
	}
	return lost, ""
}

// reservoirPressure is the gas pressure of the reservoir at a node (Pa absolute).
func (s *survey) reservoirPressure(v *caseView, node int) float64 {
	for _, port := range s.graph.Nodes[node].Ports {
		if r, ok := v.parts[port.Part].(*specs.Reservoir); ok && r.Pressure.Given() {
			return r.Pressure.SI
		}
	}
	return s.air
}

// pumped is the flow of the pumps in a set of nodes, in one case.
func (s *survey) pumped(v *caseView, from topology.Set) (flow float64, pumps []int) {
	for _, pump := range s.pumps {
		if to, ok := s.graph.At(pump, "to"); ok && from[to] && v.turns(pump) {
			flow += v.delivers(pump)
			pumps = append(pumps, pump)
		}
	}
	return flow, pumps
}
