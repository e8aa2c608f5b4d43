package checker

import (
	"math"

	"headroom/checker/resistance"
	"headroom/specs"
)

// A push is what load and spring make of a cylinder's chamber: a source of
// pressure, at rest.
type push struct {
	cylinder int
	node     int
	area     float64 // m², on which the force acts
	head     bool    // the head side, pressed by what retracts the cylinder
	rod      int     // of a head side borne whole, the node of the rod side,
	ring     float64 // m², and the area on which that side's pressure adds to the force
}

// findPushes lists the chambers of all cylinders. A cylinder with both sides
// under pressure is pressed back by its load against the rod's area alone.
func (s *survey) findPushes() []push {
	var all []push
	for i, p := range s.spec.Parts {
		c, ok := p.(*specs.Cylinder)
		if !ok || !c.Bore.Given() {
			continue
		}
		head, rod := areas(c)
		if n, ok := s.graph.At(i, "head"); ok {
			a := push{cylinder: i, node: n, area: head, head: true}
			if c.Rod.Given() {
				a.area = head - rod
			}
			all = append(all, a)
		}
		if n, ok := s.graph.At(i, "rod"); ok && rod > 0 {
			all = append(all, push{cylinder: i, node: n, area: rod})
		}
	}
	return all
}

// areas are the head and ring area of a cylinder (m²); the ring area is 0
// without a rod side.
func areas(c *specs.Cylinder) (head, rod float64) {
	head = resistance.CircleArea(c.Bore.SI)
	if c.Rod.Given() {
		rod = head - resistance.CircleArea(c.RodDiameter.SI)
	}
	return head, rod
}

// pushesBut are the pushes of all cylinders but one. A load on a cylinder whose sides
// no way joins is borne there by the whole area of the head side, with what presses
// on the rod side: what it comes to at once. That its own pressure comes back to the
// rod side later is left out.
func (s *survey) pushesBut(cylinder int, pushes []push) []push {
	var others []push
	for _, p := range pushes {
		if p.cylinder == cylinder {
			continue
		}
		rod, double := s.graph.At(p.cylinder, "rod")
		if p.head && double && !s.shutter.Joins(p.cylinder) {
			full, ring := areas(s.spec.Parts[p.cylinder].(*specs.Cylinder))
			p.area, p.rod, p.ring = full, rod, ring
		}
		others = append(others, p)
	}
	return others
}

// force is the greatest force (N) on the chamber in a case.
func (p *push) force(v *caseView) float64 {
	c := v.parts[p.cylinder].(*specs.Cylinder)
	load := v.load(c.Name, c.Load)
	if !p.head {
		return -lowest(load)
	}
	force := highest(load)
	if c.Spring != nil {
		force += c.Spring.Preload.SI + c.Spring.Rate.SI*c.Stroke.SI
	}
	return force
}

// leastForce is the least force (N) that retracts a cylinder in a case.
func (v *caseView) leastForce(cylinder int) float64 {
	c := v.parts[cylinder].(*specs.Cylinder)
	force := lowest(v.load(c.Name, c.Load))
	if c.Spring != nil {
		force += c.Spring.Preload.SI
	}
	return force
}

// spreads are the greatest differences of height (m) within each section.
func (s *survey) spreads() []float64 {
	g := s.graph
	spread := make([]float64, len(g.Sections))
	height := make([]float64, len(g.Nodes))
	for n := range height {
		height[n] = math.NaN()
	}
	for i := range g.Sections {
		low, high := 0.0, 0.0
		for _, start := range g.Sections[i].Nodes {
			if !math.IsNaN(height[start]) {
				continue
			}
			height[start] = 0
			for queue := []int{start}; len(queue) > 0; {
				n := queue[0]
				queue = queue[1:]
				for _, k := range g.Nodes[n].Passages {
					p := &g.Passages[k]
					rise, other := s.rises(p.Part), p.To
					if n == p.To {
						rise, other = -rise, p.From
					}
					if !g.Standing(k) {
						continue
					}
					at := height[n] + rise
					low, high = min(low, at), max(high, at)
					if math.IsNaN(height[other]) && g.Nodes[other].Section == i {
						height[other] = at
						queue = append(queue, other)
					}
				}
			}
		}
		spread[i] = high - low
	}
	return spread
}

// rises is how much higher a line's far end is (m).
func (s *survey) rises(part int) float64 {
	if l := lineOf(s.spec.Parts[part]); l != nil {
		return l.Elevation.SI
	}
	return 0
}

// lineOf is what a tube and a hose share; nil for other parts.
func lineOf(p specs.Part) *specs.Line {
	switch l := p.(type) {
	case *specs.Tube:
		return &l.Line
	case *specs.Hose:
		return &l.Line
	}
	return nil
}
