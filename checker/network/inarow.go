package network

import (
	"fmt"

	"headroom/specs"
)

// InARow counts how often a case can be repeated without pause before plates
// pass their limit, or the fluid its peak temperature: the engagements of a
// pack before that. Counting ends at as many as are asked for, or after as many
// passes; open tells that nothing was too hot until then.
func InARow(c *specs.Circuit, k *specs.Case, pack string, most int, o Options) (count int, open bool, err error) {
	o = o.complete()
	o.Record = nil
	oil, err := newOil(&c.Fluid)
	if err != nil {
		return 0, false, err
	}
	m, err := newModel(c, k, oil)
	if err != nil {
		return 0, false, fmt.Errorf("case %s: %w", k.Name, err)
	}
	f, is := m.byPart[pack].(*frictionPack)
	if !is {
		return 0, false, fmt.Errorf("%s is no friction pack of the circuit", pack)
	}
	r, err := newRunner(m, o.Tolerance, o.Steps)
	if err != nil {
		return 0, false, err
	}
	var keep []float64
	for pass := 0; pass < most && count < most; pass++ {
		out := &Outcome{Case: k.Name}
		r.pass(pass+1, keep, out)
		if out.Failure != nil {
			return count, false, fmt.Errorf("case %s could not be integrated: %s", k.Name, out.Failure.Why)
		}
		if m.limitBroken(f, out) {
			return count, false, nil
		}
		for i := range out.Parts {
			if out.Parts[i].Part == pack {
				count += len(out.Parts[i].Engagements)
			}
		}
		if count == 0 {
			return 0, false, nil
		}
		keep = r.end
	}
	return count, true, nil
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
	for i := range out.Parts {
		if p := &out.Parts[i]; p.Part == f.part.Name {
			return p.Reading("plate_temperature").Highest.Value > f.part.Plates.MaxTemperature.SI
		}
	}
	return false
}
