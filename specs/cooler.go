package specs

var _ = register("cooler", "gives heat to a coolant of fixed temperature", func() Part { return new(Cooler) })

// A Cooler gives heat to a coolant of fixed temperature.
type Cooler struct {
	Common
	From        Port     `key:"from" doc:"inlet"`
	To          Port     `key:"to" doc:"outlet"`
	Flow        Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow of its rated drop"`
	Drop        Quantity `key:"drop" dim:"pressure-difference" range:"> 0 bar" doc:"drop at that flow"`
	Conductance Quantity `key:"conductance" dim:"conductance" range:"> 0 W/K" doc:"heat passed per kelvin between fluid and coolant"`
	Coolant     Quantity `key:"coolant" dim:"temperature" doc:"temperature of the coolant"`
}
