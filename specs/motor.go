package specs

var _ = register("motor", "turns flow into rotation", func() Part { return new(Motor) })

// A Motor turns flow into rotation.
type Motor struct {
	Common
	From                 Port       `key:"from" doc:"inlet"`
	To                   Port       `key:"to" doc:"outlet"`
	Drain                Port       `key:"drain" default:"the only reservoir" doc:"where its slip goes; by default the only reservoir"`
	Displacement         Quantity   `key:"displacement" dim:"displacement" range:"> 0 cm3/rev" doc:"displacement"`
	TurnsAt              RatedPoint `key:"turns_at" doc:"flow it takes at a pressure, speed and viscosity, from which slip is taken"`
	MechanicalEfficiency Quantity   `key:"mechanical_efficiency" dim:"number" range:"> 0 %, <= 100 %" doc:"torque efficiency"`
	Inertia              Quantity   `key:"inertia" dim:"inertia" range:"> 0 kg·m2" doc:"of its shaft and what that turns"`
	Load                 Quantity   `key:"load" dim:"torque" doc:"torque against its rotation"`
}
