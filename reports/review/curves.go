package review

import (
	"cmp"
	"slices"
	"strings"

	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// This file says what is drawn of a case: which quantities, with which limits.

// mostPictures is how many pictures of one kind a case has at most, where each part has
// its own.
const mostPictures = 6

// portNode is the node at a part's port; "" for none.
func portNode(p specs.Part, key string) string {
	for _, port := range specs.Ports(p) {
		if port.Key == key {
			return port.Node
		}
	}
	return ""
}

// partsOf are the circuit's parts of one type, with what is known of each.
func partsOf[P specs.Part](d *drawer) (parts []P, known []*facts.Part) {
	for _, f := range d.r.Facts.Parts {
		if p, is := f.Spec.(P); is {
			parts, known = append(parts, p), append(known, f)
		}
	}
	return parts, known
}

func namesOf[P specs.Part](parts []P) (names []string) {
	for _, p := range parts {
		names = append(names, p.Base().Name)
	}
	return names
}

// A picker gathers names, each once, in the order in which they matter.
type picker struct{ names []string }

func (k *picker) add(names ...string) {
	for _, n := range names {
		if n != "" && !slices.Contains(k.names, n) {
			k.names = append(k.names, n)
		}
	}
}

// nodesThatMatter are the nodes whose pressure is looked at: those of expectations and
// findings, of accumulators, pump outlets and cylinders that release a pack, and of
// cylinders whose stroke is expected.
func (d *drawer) nodesThatMatter() []string {
	var k picker
	for i := range d.spec.Expects {
		k.add(d.spec.Expects[i].Node.Value)
	}
	for _, f := range d.found {
		if s := f.of.Subject; s.Kind == "node-in-case" && s.Case == d.spec.Name {
			k.add(s.Name)
		}
		for i := range f.of.Working {
			s := &f.of.Working[i]
			if o := s.Origin; o != nil && o.Case == d.spec.Name && s.Value != nil && isPressure(s.Value.Dimension) {
				k.add(o.Node)
			}
		}
	}
	accumulators, _ := partsOf[*specs.Accumulator](d)
	for _, a := range accumulators {
		k.add(a.AtPort.Node)
	}
	pumps, _ := partsOf[*specs.Pump](d)
	for _, p := range pumps {
		k.add(portNode(p, "to"))
	}
	packs, _ := partsOf[*specs.FrictionPack](d)
	for _, p := range packs {
		if c := d.r.Circuit.Part(p.ReleasedBy.Value); c != nil {
			k.add(portNode(c, "head"))
		}
	}
	for i := range d.spec.Expects {
		if c := d.r.Circuit.Part(d.spec.Expects[i].Part.Value); c != nil {
			k.add(portNode(c, "head"), portNode(c, "rod"))
		}
	}
	return k.names
}

func isPressure(d quantity.Dimension) bool {
	return d == quantity.Pressure || d == quantity.AbsolutePressure || d == quantity.PressureDifference
}

func (d *drawer) pressures() []*plot {
	nodes := d.nodesThatMatter()
	p := d.plot("Pressures", "pressure", nodes, plainly)
	drawn := nodes[:min(len(nodes), mostLines)]
	bar := unitOf(quantity.Pressure)
	for _, e := range d.expectations() {
		if !slices.Contains(drawn, e.Spec.Node.Value) {
			continue
		}
		s := d.span()
		s.low = e.Spec.From.SI
		if e.Spec.Until.Given() {
			s.high = e.Spec.Until.SI
		}
		if v := e.AtLeast; v.Known {
			p.limits = append(p.limits, limit{text: e.Spec.Node.Value + " at least " + quantity.Pressure.Format(v.Value), value: bar.of(v.Value), time: s})
		}
		if v := e.AtMost; v.Known {
			p.limits = append(p.limits, limit{text: e.Spec.Node.Value + " at most " + quantity.Pressure.Format(v.Value), value: bar.of(v.Value), time: s})
		}
	}
	p.limits = append(p.limits, d.reliefs(drawn)...)
	p.limits = append(p.limits, d.weakest(drawn)...)
	d.mark(p, quantity.Pressure, quantity.AbsolutePressure, quantity.PressureDifference)
	return []*plot{p}
}

// expectations are the facts of what the case expects.
func (d *drawer) expectations() (mine []*facts.Expectation) {
	for _, e := range d.r.Facts.Expectations {
		if e.Case != nil && e.Case.Name.Value == d.spec.Name && e.Spec != nil {
			mine = append(mine, e)
		}
	}
	return mine
}

// reliefs is the lowest cracking pressure of the relief valves at some nodes.
func (d *drawer) reliefs(nodes []string) (limits []limit) {
	valves, known := partsOf[*specs.ReliefValve](d)
	for i, v := range valves {
		if known[i].Cracking.Known && slices.Contains(nodes, portNode(v, "from")) {
			limits = append(limits, d.throughout(v.Name+" cracks at", quantity.Pressure, known[i].Cracking.Value))
		}
	}
	slices.SortStableFunc(limits, func(a, b limit) int { return cmp.Compare(a.value, b.value) })
	return limits[:min(len(limits), 1)]
}

// weakest is the lowest rated pressure among the parts at some nodes, measured by what
// their nodes come to.
func (d *drawer) weakest(nodes []string) []limit {
	var least *facts.Part
	tightest := 0.0
	for _, f := range d.r.Facts.Parts {
		if !f.RatedPressure.Known {
			continue
		}
		for _, port := range specs.Ports(f.Spec) {
			if top, known := d.highest(port.Node); known && slices.Contains(nodes, port.Node) {
				if share := top / f.RatedPressure.Value; least == nil || share > tightest {
					least, tightest = f, share
				}
			}
		}
	}
	if least == nil {
		return nil
	}
	return []limit{d.throughout(least.Name.Value+" rated", quantity.Pressure, least.RatedPressure.Value)}
}

func (d *drawer) highest(node string) (float64, bool) {
	for i := range d.record.Nodes {
		if n := &d.record.Nodes[i]; n.Name == node {
			return n.Pressure.Highest.Value, true
		}
	}
	return 0, false
}

func (d *drawer) stores() []*plot {
	parts, known := partsOf[*specs.Accumulator](d)
	gas := d.plot("Gas pressure of accumulators", "gas_pressure", namesOf(parts), plainly)
	oil := d.plot("Useful oil in accumulators", "useful", namesOf(parts), plainly)
	air := d.r.Facts.Environment.AirPressure
	for i, p := range parts[:min(len(parts), mostLines)] {
		if v := known[i].LowestWorking; v.Known && air.Known {
			gas.limits = append(gas.limits, d.throughout(p.Name+" of no use below", quantity.Pressure, v.Value-air.Value))
		}
	}
	d.mark(oil, quantity.Volume)
	return []*plot{gas, oil}
}

// strokes are pictures of cylinders, one each: those whose stroke is expected first, and
// then all that move.
func (d *drawer) strokes() (plots []*plot) {
	var k picker
	for i := range d.spec.Expects {
		k.add(d.spec.Expects[i].Part.Value)
	}
	cylinders, _ := partsOf[*specs.Cylinder](d)
	for _, c := range cylinders {
		if d.moves(c.Name) {
			k.add(c.Name)
		}
	}
	mm := unitOf(quantity.Length)
	for i, name := range k.names {
		if i == mostPictures {
			last := plots[len(plots)-1]
			last.notes = append(last.notes, "Other cylinders that move: "+listed(k.names[i:])+".")
			break
		}
		p := d.plot("Stroke of "+name, "position", []string{name}, plainly)
		for _, e := range d.expectations() {
			if e.Spec.Part.Value == name && e.Spec.Reaches.Given() {
				from := e.Spec.From.SI
				p.limits = append(p.limits, limit{
					text:  e.Name.Value + ", " + quantity.Length.Format(e.Spec.Reaches.SI) + " within " + quantity.Time.Format(e.Spec.Within.SI),
					value: mm.of(e.Spec.Reaches.SI), time: span{from, from + e.Spec.Within.SI}, deadline: true,
				})
			}
		}
		d.markOf(p, name)
		plots = append(plots, p)
	}
	return plots
}

// markOf adds the instants of findings about one part that are of no pressure or
// temperature.
func (d *drawer) markOf(p *plot, part string) {
	d.markWhere(p, func(f *finding, s *rules.Step) bool {
		if s.Value == nil || isPressure(s.Value.Dimension) || s.Value.Dimension == quantity.Temperature {
			return false
		}
		subject := f.of.Subject
		if subject.Kind == "expectation" {
			return subject.Case == d.spec.Name && d.expects(subject.Name, part)
		}
		return subject.Name == part || strings.HasPrefix(subject.Name, part+" ")
	})
}

// expects tells whether an expectation of that name is about a part.
func (d *drawer) expects(name, part string) bool {
	return slices.ContainsFunc(d.expectations(), func(e *facts.Expectation) bool {
		return e.Name.Value == name && (e.Spec.Part.Value == part || e.Spec.Pack.Value == part)
	})
}

// moves tells whether a cylinder's position changes by more than next to nothing.
func (d *drawer) moves(name string) bool {
	at := d.place[[2]string{name, "position"}]
	if at == 0 {
		return false
	}
	all := nothing()
	for _, row := range d.history.Rows {
		all.add(row[at])
	}
	return all.high-all.low > 1e-5
}

// hottestShown is how many of the hottest nodes are drawn, beside the reservoirs.
const hottestShown = 4

func (d *drawer) temperatures() []*plot {
	records := slices.Clone(d.record.Nodes)
	slices.SortStableFunc(records, func(a, b facts.NodeRecord) int {
		return cmp.Compare(b.Temperature.Highest.Value, a.Temperature.Highest.Value)
	})
	var k picker
	for i := range records[:min(len(records), hottestShown)] {
		k.add(records[i].Name)
	}
	reservoirs, _ := partsOf[*specs.Reservoir](d)
	for _, r := range reservoirs {
		k.add(portNode(r, "at"))
	}
	tanks := map[string]string{}
	for _, r := range reservoirs {
		tanks[portNode(r, "at")] = r.Name
	}
	p := d.plot("Temperatures: reservoir and hottest nodes", "temperature", k.names, func(node string) string {
		if tank := tanks[node]; tank != "" && tank != node {
			return node + " (" + tank + ")"
		}
		return node
	})
	if v := d.r.Facts.Fluid.MaxTemperature; v.Known {
		p.limits = append(p.limits, d.throughout("bulk at most", quantity.Temperature, v.Value))
	}
	if v := d.r.Facts.Fluid.PeakTemperature; v.Known {
		p.limits = append(p.limits, d.throughout("anywhere at most", quantity.Temperature, v.Value))
	}
	d.mark(p, quantity.Temperature, quantity.KinematicViscosity)
	return []*plot{p}
}

func (d *drawer) packs() (plots []*plot) {
	parts, known := partsOf[*specs.FrictionPack](d)
	plates := d.plot("Plate temperature", "plate_temperature", namesOf(parts), plainly)
	for i, p := range parts[:min(len(parts), mostLines)] {
		if v := known[i].PlatesMax; v.Known {
			plates.limits = append(plates.limits, d.throughout(p.Name+" plates at most", quantity.Temperature, v.Value))
		}
	}
	d.markPacks(plates, namesOf(parts))
	plots = append(plots, plates)
	for i, p := range parts {
		if i == mostPictures {
			break
		}
		plots = append(plots, d.slip(p))
	}
	return plots
}

// markPacks adds the instants of findings about packs.
func (d *drawer) markPacks(p *plot, packs []string) {
	d.markWhere(p, func(f *finding, _ *rules.Step) bool { return slices.Contains(packs, f.of.Subject.Name) })
}

// slip is a pack's speeds: it slips where they differ.
func (d *drawer) slip(pack *specs.FrictionPack) *plot {
	p := d.plot("Slip of "+pack.Name+": speeds of its two sides", "input_speed", []string{pack.Name}, func(string) string { return "input" })
	output := d.plot("", "output_speed", []string{pack.Name}, func(string) string { return "output" })
	p.lines, p.notes = append(p.lines, output.lines...), nil
	if p.unit == "" {
		p.unit = output.unit
	}
	for _, e := range d.expectations() {
		if e.Spec.Pack.Value == pack.Name && e.Spec.LocksWithin.Given() {
			from := e.Spec.From.SI
			p.limits = append(p.limits, limit{
				text: e.Name.Value + " within " + quantity.Time.Format(e.Spec.LocksWithin.SI),
				time: span{from, from + e.Spec.LocksWithin.SI}, upright: true,
			})
		}
	}
	d.markPacks(p, []string{pack.Name})
	d.markOf(p, pack.Name)
	return p
}

func (d *drawer) pumps() []*plot {
	parts, known := partsOf[*specs.Pump](d)
	flow := d.plot("Pump flow", "flow", namesOf(parts), plainly)
	power := d.plot("Pump shaft power", "power", namesOf(parts), plainly)
	for i, p := range parts[:min(len(parts), mostLines)] {
		if v := known[i].DrivePower; v.Known {
			power.limits = append(power.limits, d.throughout(p.Name+" drive gives", quantity.Power, v.Value))
		}
	}
	d.mark(flow, quantity.Flow)
	d.mark(power, quantity.Power)
	return []*plot{flow, power}
}
