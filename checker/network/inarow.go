package network

import (
	"fmt"

	"headroom/specs"
)

// InARow counts how often a case can be repeated without pause before plates
// pass their limit, or the fluid its own. A repeat counts once, however often the
// pack grips in it: a launch that slips again for a moment is one engagement.
// happened is the case's outcome. A case that settles begins with settled plates, all
// others with those that they name. Counting ends at as many as are
// asked for; open tells that nothing was too hot until then.
func InARow(c *specs.Circuit, k *specs.Case, happened *Outcome, pack string, most int, o Options) (count int, open bool, err error) {
	o = o.complete()
	oil, err := newOil(&c.Fluid)
	if err != nil {
		return 0, false, err
	}
	m, err := newModel(c, k, oil)
	if err != nil {
		return 0, false, fmt.Errorf("case %s: %w", k.Name, err)
	}
	m.starts = o.Starts
	f, is := m.byPart[pack].(*frictionPack)
	if !is {
		return 0, false, fmt.Errorf("%s is no friction pack of the circuit", pack)
	}
	var r *runner
	out, keep := happened, happened.end
	if k.Repeats.Count > 1 { // what happened is the last of them; counting begins with the first
		if r, err = newRoughRunner(m, o); err != nil {
			return 0, false, err
		}
		out = &Outcome{Case: k.Name}
		r.pass(1, nil, out)
		keep = r.end
	}
	for pass := 1; ; pass++ {
		if out.Failure != nil {
			return count, false, fmt.Errorf("repeat %d of case %s could not be integrated: %s", pass, k.Name, out.Failure)
		}
		engaged := out.part(pack).Engagements
		if m.limitBroken(f, out) || len(engaged) == 0 {
			return count, false, nil
		}
		if count++; count >= most {
			return count, true, nil
		}
		if r == nil {
			if r, err = newRoughRunner(m, o); err != nil {
				return 0, false, err
			}
		}
		out = &Outcome{Case: k.Name}
		r.pass(pass+1, keep, out)
		keep = r.end
	}
}

// part is the outcome of a part by name.
func (o *Outcome) part(name string) *PartOutcome {
	for i := range o.Parts {
		if o.Parts[i].Part == name {
			return &o.Parts[i]
		}
	}
	return &PartOutcome{}
}

// limitBroken tells whether a pass was too hot for a pack's plates, for the bulk
// of the fluid, or for its peaks.
func (m *model) limitBroken(f *frictionPack, out *Outcome) bool {
	oil := &m.circuit.Fluid
	for i := range out.Nodes {
		hottest := out.Nodes[i].Temperature.Highest.Value
		if oil.PeakTemperature.Given() && hottest > oil.PeakTemperature.SI || m.nodes[i].reservoir && hottest > oil.MaxTemperature.SI {
			return true
		}
	}
	plates := out.part(f.part.Name).Reading("plate_temperature")
	return plates != nil && plates.Highest.Value > f.part.Plates.MaxTemperature.SI
}
