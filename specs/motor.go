package specs

import "headroom/specs/quantity"

var _ = register("motor", "turns flow into rotation", func() Part { return new(Motor) })

// A Motor turns flow into rotation.
type Motor struct {
	Common
	From                 Port       `key:"from" doc:"inlet"`
	To                   Port       `key:"to" doc:"outlet"`
	Drain                Port       `key:"drain" default:"the only reservoir" doc:"where its slip goes; by default the only reservoir"`
	Displacement         Quantity   `key:"displacement" dim:"displacement" range:"> 0 cm3/rev" doc:"displacement"`
	TurnsAt              RatedPoint `key:"turns_at" eg:"{flow: 6.5 L/min, at: {pressure: 160 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}" doc:"flow it takes at a pressure, speed and viscosity, from which slip is taken"`
	MechanicalEfficiency Quantity   `key:"mechanical_efficiency" eg:"90 %" dim:"number" range:"> 0 %, <= 100 %" doc:"torque efficiency"`
	Inertia              Quantity   `key:"inertia" dim:"inertia" range:"> 0 kg·m2" doc:"of its shaft and what that turns"`
	MaxSpeed             Quantity   `key:"max_speed" eg:"4000 rpm" dim:"rotational-speed" opt:"yes" range:"> 0 rpm" doc:"highest speed"`
	Load                 Quantity   `key:"load" dim:"torque" doc:"torque against its rotation; below zero a torque that drives it forwards, as what hangs on a winch does"`
}

func (m *Motor) check(r *reader, _ place) {
	least := m.Displacement.SI * m.TurnsAt.Cond.Speed.SI
	if r.all(m.Displacement, m.TurnsAt.Cond.Speed, m.TurnsAt.Flow) && m.TurnsAt.Flow.SI < least {
		r.wrong(ruleRange, m.TurnsAt.Flow.At, m.TurnsAt.Flow.Key, "%s is less than the displacement takes at %s: at least %s",
			print(m.TurnsAt.Flow), print(m.TurnsAt.Cond.Speed), quantity.Flow.Format(least))
	}
}
