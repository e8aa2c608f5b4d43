package specs

var _ = register("friction-pack", "a spring-applied clutch or brake, released by a cylinder", func() Part { return new(FrictionPack) })

// A FrictionPack is a spring-applied clutch or brake, released by a cylinder.
type FrictionPack struct {
	Common
	ReleasedBy   Text     `key:"released_by" eg:"release-cylinder" ref:"cylinder" doc:"the cylinder whose spring is the clamp"`
	Faces        Count    `key:"faces" range:">= 1, <= 200" doc:"number of friction faces"`
	InnerRadius  Quantity `key:"inner_radius" eg:"40 mm" dim:"length" range:"> 0 mm" doc:"of the faces"`
	OuterRadius  Quantity `key:"outer_radius" eg:"60 mm" dim:"length" range:"> 0 mm" doc:"of the faces"`
	Contact      Text     `key:"contact" oneof:"uniform-wear|uniform-pressure" default:"uniform-wear" doc:"how the faces share pressure"`
	TakeUp       Quantity `key:"take_up" eg:"0.02 mm" dim:"length" default:"0.02 mm" range:"> 0 mm" doc:"lift over which the clamp fades"`
	Clearance    Quantity `key:"clearance" eg:"0.2 mm" dim:"length" opt:"yes" range:">= 0 mm" doc:"per face when released"`
	Wear         Quantity `key:"wear" eg:"0.3 mm" dim:"length" opt:"yes" range:">= 0 mm" doc:"per face to the service limit"`
	Friction     Table    `key:"friction" eg:"0.11" dim:"temperature,number" single:"yes" range:"> 0, <= 2" doc:"coefficient of friction: a number, or points over plate temperature"`
	Plates       Plates   `key:"plates" doc:"what takes the heat"`
	Drag         Quantity `key:"drag" dim:"torque" default:"0 N·m" range:">= 0 N·m" doc:"torque while fully released"`
	Driven       Driven   `key:"driven" doc:"what it sets in motion"`
	TorqueNeeded Quantity `key:"torque_needed" dim:"torque" opt:"yes" range:"> 0 N·m" doc:"torque it must hold"`
	ToCylinder   Quantity `key:"to_cylinder" dim:"conductance" range:">= 0 W/K" doc:"heat to the release cylinder's fluid per kelvin"`
	ToAir        Quantity `key:"to_air" dim:"conductance" range:">= 0 W/K" doc:"heat to the surroundings per kelvin"`
	EnergyLimit  Quantity `key:"energy_limit" dim:"energy-per-area" opt:"yes" range:"> 0 J/m2" doc:"per engagement"`
	PowerLimit   Quantity `key:"power_limit" dim:"power-per-area" opt:"yes" range:"> 0 W/m2" doc:"highest"`
}

// Plates are the pack's heat store.
type Plates struct {
	At             Span
	Mass           Quantity `key:"mass" dim:"mass" range:"> 0 kg" doc:"of the plates"`
	SpecificHeat   Table    `key:"specific_heat" dim:"temperature,specific-heat" single:"yes" range:"> 0 J/kg/K" doc:"a value, or points over temperature"`
	MaxTemperature Quantity `key:"max_temperature" eg:"300 degC" dim:"temperature" doc:"highest they survive"`
	MaxSpeed       Quantity `key:"max_speed" dim:"rotational-speed" opt:"yes" range:"> 0 rpm" doc:"highest speed"`
}

// Driven is the output side of a friction pack.
type Driven struct {
	At      Span
	Inertia Quantity `key:"inertia" dim:"inertia" range:"> 0 kg·m2" doc:"seen at the pack"`
	Load    Quantity `key:"load" dim:"torque" doc:"torque against its motion; below zero a torque that drives it forwards, as what hangs on a winch does"`
}

func (p *FrictionPack) check(r *reader, _ place) {
	r.below(p.InnerRadius, p.OuterRadius)
	if t, known := r.texts[p.ReleasedBy.Value]; known && valueOf(t.text, "spring") == nil {
		r.wrong(ruleReference, p.ReleasedBy.At, p.ReleasedBy.Key, "%s has no spring, which would clamp the pack; give it one, such as spring: {preload: 2 kN, rate: 60 N/mm}", p.ReleasedBy.Value)
	}
}
