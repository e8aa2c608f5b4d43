package checker

import (
	"math"

	"headroom/checker/gas"
	"headroom/checker/resistance"
	"headroom/checker/topology"
	"headroom/specs"
)

// This file adds up the fluid in the circuit.

// leastNode is the least fluid that a node holds: 1 cm³.
const leastNode = 1e-6

// nodeVolume is what a node holds (m³): as declared, half of each line at it,
// and the chambers at it with their cylinders as they stand.
func (s *survey) nodeVolume(n int, stands func(cylinder int) topology.Placement) float64 {
	volume := s.declared[n]
	for _, port := range s.graph.Nodes[n].Ports {
		part := s.spec.Parts[port.Part]
		if l := lineOf(part); l != nil {
			line := tubeOf(l)
			volume += line.Volume() / 2
		}
		if c, ok := part.(*specs.Cylinder); ok {
			volume += chamber(c, port.Key, stands(port.Part))
		}
	}
	return max(volume, leastNode)
}

// chamber is the fluid on one side of a cylinder (m³). Between its stops it
// counts as half way.
func chamber(c *specs.Cylinder, side string, at topology.Placement) float64 {
	head, rod := areas(c)
	share := [...]float64{topology.Retracted: 0, topology.Between: 0.5, topology.Extended: 1}[at]
	if side == "head" {
		return c.DeadVolume.Head.SI + head*c.Stroke.SI*share
	}
	return c.DeadVolume.Rod.SI + rod*c.Stroke.SI*(1-share)
}

func retracted(int) topology.Placement { return topology.Retracted }

// lineVolume is all fluid in nodes, lines and chambers but reservoirs and
// accumulators (m³), cylinders retracted.
func (s *survey) lineVolume() float64 {
	sum := 0.0
	for n := range s.graph.Nodes {
		if s.graph.Nodes[n].Reservoir {
			sum += s.halfLines(n)
			continue
		}
		sum += s.nodeVolume(n, retracted)
	}
	return sum
}

// halfLines is the half of each line that ends at a node.
func (s *survey) halfLines(n int) float64 {
	sum := 0.0
	for _, port := range s.graph.Nodes[n].Ports {
		if l := lineOf(s.spec.Parts[port.Part]); l != nil {
			line := tubeOf(l)
			sum += line.Volume() / 2
		}
	}
	return sum
}

// stroked is the fluid that a cylinder takes from the reservoir on its way out
// (m³): what the head side takes less what the rod side gives.
func stroked(c *specs.Cylinder) float64 {
	head, rod := areas(c)
	return (head - rod) * c.Stroke.SI
}

// stored is the fluid in an accumulator at a pressure (Pa absolute), its gas at
// T (K): what the nitrogen has given way to. NaN where it cannot be said.
func (s *survey) stored(a *specs.Accumulator, pressure, T float64) float64 {
	if !a.Size.Given() || !a.Precharge.Pressure.Given() || !a.Precharge.Temperature.Given() {
		return math.NaN()
	}
	charge, err := gas.NewCharge(a.Precharge.Pressure.SI, a.Precharge.Temperature.SI, a.Size.SI)
	if err != nil {
		return math.NaN()
	}
	left, err := charge.Volume(pressure, T)
	if err != nil {
		return math.NaN()
	}
	return max(0, a.Size.SI-left)
}

// highestCharge is the highest charge that a case begins with (Pa absolute); ok
// is false where none does.
func (s *survey) highestCharge() (charge specs.Quantity, ok bool) {
	for c := range s.cases {
		q := s.cases[c].spec.Begins.Charge
		if q.Given() && (!ok || q.SI > charge.SI) {
			charge, ok = q, true
		}
	}
	return charge, ok
}

// bore is the area of a line (m²).
func bore(l *specs.Line) float64 { return resistance.CircleArea(l.Bore.SI) }
