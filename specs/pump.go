package specs

import "headroom/specs/quantity"

var _ = register("pump", "moves fluid by displacement; may have a pressure compensator", func() Part { return new(Pump) })

// A Pump moves fluid by displacement, with slip, and may have a pressure compensator.
type Pump struct {
	Common
	From                 Port         `key:"from" doc:"inlet"`
	To                   Port         `key:"to" doc:"outlet"`
	Drain                Port         `key:"drain" default:"the only reservoir" doc:"where its slip goes; by default the only reservoir"`
	Displacement         Quantity     `key:"displacement" dim:"displacement" range:"> 0 cm3/rev" doc:"full displacement"`
	Delivers             RatedPoint   `key:"delivers" doc:"a measured or rated delivery, from which slip is taken"`
	MechanicalEfficiency Quantity     `key:"mechanical_efficiency" eg:"90 %" dim:"number" range:"> 0 %, <= 100 %" doc:"torque efficiency"`
	Drag                 Quantity     `key:"drag" dim:"torque" default:"0 N·m" range:">= 0 N·m" doc:"torque that does not depend on pressure"`
	Compensator          *Compensator `key:"compensator" opt:"yes" doc:"pressure control of its displacement"`
	MaxSpeed             Quantity     `key:"max_speed" dim:"rotational-speed" opt:"yes" range:"> 0 rpm" doc:"highest speed"`
	MinSpeed             Quantity     `key:"min_speed" eg:"600 rpm" dim:"rotational-speed" opt:"yes" range:"> 0 rpm" doc:"lowest speed in running"`
	InletMin             Quantity     `key:"inlet_min" dim:"absolute-pressure" opt:"yes" doc:"least inlet pressure, absolute"`
	DrivePower           Quantity     `key:"drive_power" dim:"power" opt:"yes" range:"> 0 W" doc:"power its drive can give"`
}

// A RatedPoint is a flow at a pressure, speed and viscosity.
type RatedPoint struct {
	At   Span
	Flow Quantity `key:"flow" eg:"3 L/min" dim:"flow" range:"> 0 L/min" doc:"flow at that point"`
	Cond RatedAt  `key:"at" doc:"the point"`
}

// RatedAt is the condition of a RatedPoint.
type RatedAt struct {
	At        Span
	Pressure  Quantity `key:"pressure" dim:"pressure-difference" range:"> 0 bar" doc:"pressure from inlet to outlet"`
	Speed     Quantity `key:"speed" dim:"rotational-speed" range:"> 0 rpm" doc:"shaft speed"`
	Viscosity Quantity `key:"viscosity" dim:"kinematic-viscosity" range:"> 0 mm2/s" doc:"viscosity of the fluid"`
}

// A Compensator takes the displacement from full at Set to none at Set + Band.
type Compensator struct {
	At   Span
	Set  Quantity `key:"set" dim:"pressure" range:"> 0 bar" doc:"pressure up to which displacement stays full"`
	Band Quantity `key:"band" dim:"pressure-difference" range:"> 0 bar" doc:"further rise to no displacement"`
	Lag  Quantity `key:"lag" dim:"time" range:"> 0 s" doc:"first-order lag"`
}

func (p *Pump) check(r *reader, _ place) {
	r.below(p.MinSpeed, p.MaxSpeed)
	most := p.Displacement.SI * p.Delivers.Cond.Speed.SI
	if r.all(p.Displacement, p.Delivers.Cond.Speed, p.Delivers.Flow) && p.Delivers.Flow.SI > most {
		r.wrong(ruleRange, p.Delivers.Flow.At, p.Delivers.Flow.Key, "%s is more than the displacement gives at %s: at most %s",
			print(p.Delivers.Flow), print(p.Delivers.Cond.Speed), quantity.Flow.Format(most))
	}
}
