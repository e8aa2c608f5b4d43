package checker

import (
	"headroom/checker/fluid"
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/catalogue"
)

// A survey is one circuit while its facts are gathered: the spec, the circuit
// as a graph, and what several families of facts need.
type survey struct {
	spec  *specs.Circuit
	graph *topology.Graph
	roots []string // key path of each part: "parts.clutch-hose"
	air   float64  // pressure of the surrounding air, Pa

	declared []float64 // volume that the spec gives each node, m³

	oil    *fluid.Oil            // nil where the spec lacks something of it
	oilKey string                // the key path of what it lacks
	curve  *fluid.ViscosityCurve // nil where not given
	vapour *fluid.VapourCurve    // nil where not given
	cases  []caseView

	coldest        facts.Fact // fluid anywhere
	startViscosity facts.Fact // at cold start

	rest    *topology.Rest
	shutter *topology.Shutter
	round   *topology.Circulation
	pumps   []int          // parts
	fed     []topology.Set // nodes that each pump feeds past nothing that can be shut
	reliefs []relief
	bounder *bounder
	bound   extremes // that hold at any time
	sees    extremes // what the families of facts read: simulated, or the bounds
	runs    []run    // of the cases, where they are simulated
	asked   Asked    // what else is to be simulated
	flower  *flower
	flows   [][]float64 // through what always lets pass, by case and part

	origins  []facts.Origin
	entries  map[string]catalogue.Entry // by name in `like`
	warmings map[warming]float64        // see trapped.go
}

// standardAir stands in where the spec states an air pressure that cannot be
// read: gauge pressures of the spec are then resolved against it (ISO 2533).
const standardAir = 101325.0

func newSurvey(c *specs.Circuit) *survey {
	s := &survey{
		spec:     c,
		graph:    topology.New(c),
		roots:    make([]string, len(c.Parts)),
		air:      standardAir,
		entries:  map[string]catalogue.Entry{},
		warmings: map[warming]float64{},
	}
	if c.Environment.AirPressure.Given() {
		s.air = c.Environment.AirPressure.SI
	}
	for i, p := range c.Parts {
		s.roots[i] = "parts." + p.Base().Name
		if _, ok := p.(*specs.Pump); ok {
			s.pumps = append(s.pumps, i)
		}
	}
	s.declared = make([]float64, len(s.graph.Nodes))
	for _, n := range c.Nodes {
		at, _ := s.graph.Node(n.Name)
		s.declared[at] = n.Volume.SI
	}
	s.oil, s.oilKey = oilOf(&c.Fluid)
	s.curve = viscosityOf(&c.Fluid)
	s.vapour = vapourOf(&c.Fluid)
	s.cases = s.viewCases()
	s.coldest, s.startViscosity = s.coldestFluid(), s.viscosityAtStart()
	for _, pump := range s.pumps {
		s.fed = append(s.fed, s.graph.Fed(pump))
	}
	s.rest = s.graph.AtRest()
	s.shutter = s.graph.Shutter()
	s.round = s.graph.Circulates()
	s.reliefs = s.findReliefs()
	s.bound = s.bounds()
	s.sees = s.bound
	s.flows = s.flowsPerCase()
	return s
}

// path is a key path below a part.
func (s *survey) path(part int, key string) string { return s.roots[part] + "." + key }
