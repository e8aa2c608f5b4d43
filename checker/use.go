package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
)

// use tells whether some case works a part: commands a valve, drives a pump or
// pack, draws from a consumer.
func (s *survey) use(i int, part specs.Part, f *facts.Part) {
	name := part.Base().Name
	var worked func(c *specs.Case) bool
	switch part.(type) {
	case *specs.DirectionalValve, *specs.ReducingValve:
		worked = func(c *specs.Case) bool {
			for _, command := range c.Commands {
				if command.Valve.Value == name {
					return true
				}
			}
			return false
		}
	case *specs.Pump, *specs.FrictionPack:
		worked = func(c *specs.Case) bool {
			for _, d := range c.Drives {
				if d.Name == name {
					return true
				}
			}
			return false
		}
	case *specs.Consumer:
		worked = func(c *specs.Case) bool { return asked(c, name) }
	case *specs.Motor:
		f.Exercised.Missing = facts.Simulation // flow turns it, not a command
		return
	default:
		return
	}
	o := facts.Origin{At: part.Base().At, Key: s.roots[i]}
	for c := range s.spec.Cases {
		if worked(&s.spec.Cases[c]) {
			o.Case = s.spec.Cases[c].Name
			f.Exercised = s.holds(true, o)
			return
		}
	}
	f.Exercised = s.holds(false, o)
}

// asked tells whether a case asks a consumer for flow.
func asked(c *specs.Case, consumer string) bool {
	for _, d := range c.Demands {
		if d.Name == consumer && highest(d.Value) > 0 {
			return true
		}
	}
	return false
}
