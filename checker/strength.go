package checker

import (
	"fmt"
	"math"

	"headroom/checker/strength"
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

// strength tells what a part is rated for, and what it sees.
func (s *survey) strength(i int, part specs.Part, f *facts.Part) {
	common := part.Base()
	rated := &common.Rated
	f.RatedPressure = s.given(rated.Pressure, s.path(i, "rated.pressure"))
	written := facts.Origin{At: common.At, Key: s.roots[i]}
	f.BareTube = s.holds(s.bareTube(i), written)
	if f.RatedPressure.Known {
		f.BareTube.From = f.RatedPressure.From
	}
	f.ProofPressure = s.proof(i, part)
	f.BurstPressure = s.burst(i, part)
	f.RatedMin = s.given(rated.Temperature.Min, s.path(i, "rated.temperature.min"))
	f.RatedMax = s.ratedMax(i, part)
	f.RatedFlow = s.given(rated.Flow, s.path(i, "rated.flow"))
	f.RatedBackPressure = s.given(rated.BackPressure, s.path(i, "rated.back_pressure"))
	f.CyclesRated = s.holds(rated.Cycles != specs.RatedCycles{}, written)
	f.MinerSum = s.miner(i, common)
	if len(s.graph.Ports[i]) > 0 {
		f.HighestPressure = s.sees.pressureAt(s.graph.Ports[i])
		f.HottestTemperature = s.sees.hottestAt(s.graph.Ports[i])
		f.ColdestTemperature = s.coldest
		f.ReturnPressure = s.returnPressure(i)
	}
	if hose, ok := part.(*specs.Hose); ok {
		s.bend(i, hose, f)
	}
	if c, ok := part.(*specs.Cylinder); ok {
		f.RodCanBeShut, f.Intensified = s.intensified(i, c)
	}
}

// ratedMax is the highest temperature that a part is rated for: as stated; else
// for a tube that up to which the strength of its material is known.
func (s *survey) ratedMax(i int, part specs.Part) facts.Fact {
	stated := s.given(part.Base().Rated.Temperature.Max, s.path(i, "rated.temperature.max"))
	tube, ok := part.(*specs.Tube)
	if stated.Known || !ok {
		return stated
	}
	material, known := catalogue.Tube(tube.Material.Value)
	if !known {
		return stated
	}
	o := *s.source(tube.Material.Source, tube.Material.At, s.path(i, "material"))
	source, _ := material.Source("yield")
	o.Note, o.Basis = "the strength of "+material.Name+" is known up to there", told(source)
	return s.known(material.MaxTemperature, o)
}

// returnPressure is the highest pressure on a part's return or drain side: at the
// port `t` of a valve, at the outlet of what oil works in or is blown off by, at a
// drain that is written.
func (s *survey) returnPressure(i int) facts.Fact {
	key := ""
	switch s.spec.Parts[i].(type) {
	case *specs.DirectionalValve, *specs.ReducingValve:
		key = "t"
	case *specs.Motor, *specs.Consumer, *specs.ReliefValve:
		key = "to"
	}
	var sides []topology.Port
	for _, port := range s.graph.Ports[i] {
		if port.Key == "drain" || port.Key == key {
			sides = append(sides, port)
		}
	}
	switch {
	case sides != nil:
		return s.sees.pressureAt(sides)
	case key != "":
		return missing(s.path(i, key))
	case s.spec.Parts[i].Base().Rated.BackPressure.Given():
		return missing("a return or drain side of " + s.graph.Name(i))
	}
	return facts.Fact{}
}

// bend tells the bend radii of a hose.
func (s *survey) bend(i int, hose *specs.Hose, f *facts.Part) {
	if hose.Bend == nil {
		f.BendRadius, f.MinBendRadius = missing(s.path(i, "bend")), missing(s.path(i, "bend"))
		return
	}
	f.BendRadius = s.given(hose.Bend.Radius, s.path(i, "bend.radius"))
	f.MinBendRadius = s.given(hose.Bend.MinRadius, s.path(i, "bend.min_radius"))
}

// miner says what keeps a part's fatigue from being told: cycles are counted in
// a simulated case.
func (s *survey) miner(i int, common *specs.Common) facts.Fact {
	cycles := &common.Rated.Cycles
	at := under(s.path(i, "rated.cycles"))
	switch {
	case !cycles.Count.Given() && !cycles.Pressure.Given() && !cycles.Exponent.Given():
		return missing(s.path(i, "rated.cycles"))
	case !s.spec.Environment.ServiceInterval.Given():
		return missing("environment.service_interval")
	}
	if key := lacking(at(cycles.Count, "count"), at(cycles.Pressure, "at"), at(cycles.Exponent, "exponent")); key != "" {
		return missing(key)
	}
	return simulated()
}

// burst is the pressure at which a part bursts: as stated; else for a tube from
// wall and material at its hottest.
func (s *survey) burst(i int, part specs.Part) facts.Fact {
	return s.stands(i, part, part.Base().BurstPressure, "burst_pressure", strength.TubeBurst,
		"the lower of Lamé to the tensile strength (SAE J1065) and Faupel 1956")
}

// proof is the pressure that leaves no mark on a part: as stated; else for a tube
// that at which its bore begins to yield.
func (s *survey) proof(i int, part specs.Part) facts.Fact {
	return s.stands(i, part, part.Base().ProofPressure, "proof_pressure",
		func(yield, _, k float64) float64 { return strength.FirstYield(yield, k) }, "Lamé and von Mises: the bore begins to yield")
}

// stands is a pressure that a part stands: as stated; else for a tube by a law of
// yield and tensile strength at its hottest and of the ratio of its diameters.
func (s *survey) stands(i int, part specs.Part, stated specs.Quantity, path string, law func(yield, tensile, k float64) float64, basis string) facts.Fact {
	tube, ok := part.(*specs.Tube)
	if stated.Given() || !ok {
		return s.given(stated, s.path(i, path))
	}
	if key := lacking(keyed{tube.Bore, s.path(i, "bore")}, keyed{tube.Wall, s.path(i, "wall")}); key != "" {
		return missing(key)
	}
	material, ok := catalogue.Tube(tube.Material.Value)
	if !ok {
		return missing(s.path(i, "material"))
	}
	hottest, of := s.hottestFor(i)
	if math.IsNaN(hottest) {
		return missing(of)
	}
	if hottest > material.MaxTemperature {
		return missing(s.path(i, path)) // its strength there is not known
	}
	k := (tube.Bore.SI + 2*tube.Wall.SI) / tube.Bore.SI
	yield, tensile := strengthAt(material.Yield, hottest), strengthAt(material.Tensile, hottest)
	source, _ := material.Source("yield")
	return s.known(law(yield, tensile, k), facts.Origin{
		At:    tube.Wall.At,
		Key:   s.path(i, "wall"),
		Note:  fmt.Sprintf("wall and bore, %s at %s (%s)", material.Name, print(hottest, quantity.Temperature), of),
		Basis: basis + "; " + told(source),
	})
}

// hottestFor is the temperature (K) at which a part's strength is taken, and
// what it is: the hottest it is known to get, else the fluid's limit. NaN, and
// the key that would supply it, where neither is known.
func (s *survey) hottestFor(i int) (T float64, what string) {
	if seen := s.sees.hottestAt(s.graph.Ports[i]); seen.Known {
		return seen.Value, "the hottest it gets"
	}
	return s.hotLimit(s.spec.Fluid.PeakTemperature)
}

// strengthAt is a strength between its points (Pa); outside them the nearest
// value holds.
func strengthAt(points []catalogue.Strength, T float64) float64 {
	for i, p := range points {
		if T <= p.Temperature && i == 0 {
			return p.Stress
		}
		if T <= p.Temperature {
			below := points[i-1]
			return below.Stress + (T-below.Temperature)/(p.Temperature-below.Temperature)*(p.Stress-below.Stress)
		}
	}
	return points[len(points)-1].Stress
}

// intensified is the rod-side pressure of a cylinder whose rod side can be shut
// while its head side is pressed.
func (s *survey) intensified(i int, c *specs.Cylinder) (can facts.Flag, to facts.Fact) {
	o := facts.Origin{At: c.At, Key: s.roots[i]}
	closer, blocks, untold := s.shutter.Blocks(i)
	if c.Rod.Given() && untold {
		return facts.Flag{Missing: tooManyStates(c.Name + ".rod")}, facts.Fact{}
	}
	if !c.Rod.Given() || !blocks {
		return s.holds(false, o), facts.Fact{}
	}
	o.Note = "by " + s.graph.Name(closer)
	can = s.holds(true, o)
	if key := lacking(keyed{c.Bore, s.path(i, "bore")}, keyed{c.RodDiameter, s.path(i, "rod_diameter")}); key != "" {
		return can, missing(key)
	}
	return can, s.intensifiedBound(i, closer)
}

// intensifiedBound is the highest rod-side pressure over the cases that what
// presses on the head side comes to without time. A load that grows less while
// both sides are shut leaves the head side what the whole load pressed on it.
func (s *survey) intensifiedBound(i, closer int) (worst facts.Fact) {
	head, _ := s.graph.At(i, "head")
	w := s.bounder.without(i)
	for in := range s.cases {
		v := &s.cases[in]
		b := w.still(v)[s.graph.Nodes[head].Section]
		if math.IsInf(b.value, 1) {
			return simulated()
		}
		full, ring := areas(v.parts[i].(*specs.Cylinder))
		load := push{cylinder: i, head: true}
		if own := s.air + load.force(v)/full; own > b.value {
			b = bound{value: own, by: setter{kind: byLoad, part: i}}
		}
		to := strength.Intensified(b.value-s.air, v.leastForce(i), full, ring)
		if worst.Known && to <= worst.Value {
			continue
		}
		o := s.boundOrigin(b, in, head)
		o.At, o.Key = s.spec.Parts[i].Base().At, s.roots[i]
		o.Note = s.shutWhile(i, closer, b.value-s.air, v) + ": " + o.Note
		worst = s.known(to, o)
	}
	if !worst.Known {
		return simulated()
	}
	return worst
}

// shutWhile tells what shuts a cylinder's rod side, what its head side is pressed
// to and what load it bears.
func (s *survey) shutWhile(i, closer int, pressed float64, v *caseView) string {
	note := fmt.Sprintf("%s shut while the head side is at %s", s.graph.Name(closer), print(pressed, quantity.Pressure))
	switch load := v.leastForce(i); {
	case load > 0:
		note += " against a load of " + print(load, quantity.Force)
	case load < 0:
		note += " and a load of " + print(-load, quantity.Force) + " pulls"
	}
	return note
}
