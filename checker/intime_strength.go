package checker

import (
	"fmt"
	"math"

	"headroom/checker/strength"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// strengthInTime tells what pressures do to a part over its cases.
func (s *survey) strengthInTime(i int, part specs.Part, f *facts.Part) {
	if f.MinerSum.Missing == facts.Simulation {
		f.MinerSum = s.minerSum(i, part.Base())
	}
	if c, ok := part.(*specs.Cylinder); ok && f.Intensified.Missing == facts.Simulation {
		f.Intensified = s.intensifiedFrom(i, c)
	}
	if len(s.graph.Ports[i]) > 0 {
		f.Reached = s.reached(i)
	}
}

// minerSum is the share of a part's fatigue life that the cases use up between
// services, each as often as its weight says: of each node at the part, the
// worst of them. A case comes back to where it began, so that its history counts
// as one that repeats; of one that counts its repeats, that of all of them.
func (s *survey) minerSum(i int, common *specs.Common) facts.Fact {
	weighted, lacks := s.weighted()
	if lacks != "" {
		return missing(lacks)
	}
	cycles := &common.Rated.Cycles
	endures := strength.Endurance{Count: cycles.Count.SI, At: cycles.Pressure.SI, Exponent: cycles.Exponent.SI}
	interval := s.spec.Environment.ServiceInterval.SI
	worst, most, chief := -1.0, -1.0, (*run)(nil)
	for _, port := range s.graph.Ports[i] {
		sum := 0.0
		for _, r := range weighted {
			if r.nodes[port.Node] == nil {
				continue
			}
			turns := strength.RainflowRepeating(r.nodes[port.Node].Turns)
			share := endures.Damage(turns) * r.view.spec.Weight.SI * interval
			sum += share
			if share > most {
				most, chief = share, r
			}
		}
		worst = max(worst, sum)
	}
	if worst < 0 {
		return facts.Fact{}
	}
	o := s.partOrigin(i)
	o.At, o.Key, o.Case = cycles.At, s.path(i, "rated.cycles"), chief.view.spec.Name
	o.Note = fmt.Sprintf("most of it in this case, %s over %s", print(chief.view.spec.Weight.SI, quantity.Frequency), print(interval, quantity.Time))
	if n := chief.view.spec.Repeats.Count; n > 1 {
		o.Note += fmt.Sprintf(", %d repeats each", n)
	}
	o.Note += s.unweighted()
	o.Basis = "ASTM E1049-85, 5.4.5; Miner 1945"
	return s.known(worst, o)
}

// intensifiedFrom is the highest rod-side pressure over the cases that the highest
// head-side pressure of each would make, where nothing bounds the latter without
// time.
func (s *survey) intensifiedFrom(i int, c *specs.Cylinder) facts.Fact {
	head, _ := s.graph.At(i, "head")
	closer, _, _ := s.shutter.Blocks(i)
	return s.worst(search{from: facts.Origin{At: c.At, Key: s.roots[i]}}, func(r *run) (moment, bool) {
		if r.nodes[head] == nil {
			return moment{}, false
		}
		m := when(r.nodes[head].Pressure.Highest)
		full, ring := areas(r.view.parts[i].(*specs.Cylinder))
		m.node = s.graph.Nodes[head].Name
		m.note = s.shutWhile(i, closer, m.value-s.air, r.view) + ", the highest that it comes to"
		m.value = strength.Intensified(m.value-s.air, r.view.leastForce(i), full, ring)
		return m, true
	})
}

// What reaches a part at least where anything does.
const (
	reachedFlow     = 1e-7 // m³/s
	reachedPressure = 1e4  // Pa above the reservoirs
	reachedVolume   = 1e-9 // m³, of a reservoir's level
)

// flows are the names under which parts tell their flows.
var flowNames = [...]string{"flow", "flow_a", "flow_b", "flow_pa", "flow_at", "flow_pb", "flow_bt", "flow_pt"}

// reached tells whether flow or pressure reaches a part in some case.
func (s *survey) reached(i int) facts.Flag {
	o := s.partOrigin(i)
	idle := s.idlePressure()
	for c := range s.runs {
		r := &s.runs[c]
		if r.lacks != "" {
			continue
		}
		o.Case = r.view.spec.Name
		if level := r.reading(i, "level"); level != nil && level.Highest.Value-level.Lowest.Value > reachedVolume {
			o.Note = "its level changes"
			return s.holds(true, o)
		}
		for _, name := range flowNames {
			if v := r.reading(i, name); v != nil && most(&v.Range).value > reachedFlow {
				o.Note = "flow " + print(most(&v.Range).value, quantity.Flow)
				return s.holds(true, o)
			}
		}
		for _, port := range s.graph.Ports[i] {
			if n := r.nodes[port.Node]; n != nil && n.Pressure.Highest.Value-idle > reachedPressure {
				o.Node, o.Note = s.graph.Nodes[port.Node].Name, "pressure "+print(n.Pressure.Highest.Value-s.air, quantity.Pressure)
				return s.holds(true, o)
			}
		}
	}
	for c := range s.runs {
		if s.runs[c].lacks != "" {
			return facts.Flag{Missing: s.runs[c].lacks}
		}
	}
	if len(s.runs) == 0 {
		return facts.Flag{Missing: "cases"}
	}
	o.Case = ""
	return s.holds(false, o)
}

// idlePressure is the pressure of the reservoir with the most (Pa absolute).
func (s *survey) idlePressure() float64 {
	idle := s.air
	for _, p := range s.spec.Parts {
		if r, ok := p.(*specs.Reservoir); ok && r.Pressure.Given() {
			idle = math.Max(idle, r.Pressure.SI)
		}
	}
	return idle
}
