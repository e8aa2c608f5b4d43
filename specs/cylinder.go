package specs

var _ = register("cylinder", "turns pressure into stroke; without `rod` it is single acting", func() Part { return new(Cylinder) })

// A Cylinder turns pressure into stroke; without `rod` it is single acting.
type Cylinder struct {
	Common
	Head           Port             `key:"head" doc:"full-area side"`
	Rod            Port             `key:"rod" opt:"yes" doc:"rod side; left out: single acting"`
	Bore           Quantity         `key:"bore" eg:"32 mm" dim:"length" range:"> 0 mm" doc:"piston diameter"`
	RodDiameter    Quantity         `key:"rod_diameter" dim:"length" opt:"yes" range:"> 0 mm" doc:"rod diameter; required with rod"`
	Stroke         Quantity         `key:"stroke" eg:"40 mm" dim:"length" range:"> 0 mm" doc:"from the retracted to the extended stop"`
	MovingMass     Quantity         `key:"moving_mass" dim:"mass" range:"> 0 kg" doc:"piston, rod and what they move"`
	Friction       CylinderFriction `key:"friction" opt:"yes" doc:"of its seals and guides"`
	Spring         *Spring          `key:"spring" opt:"yes" doc:"pushes towards retracted"`
	Load           Quantity         `key:"load" dim:"force" default:"0 N" doc:"against extending"`
	BucklingLength Quantity         `key:"buckling_length" eg:"0.9 m" dim:"length" opt:"yes" range:"> 0 mm" doc:"free length for buckling with the rod out: between two pins the whole length, with a free end twice that; for rods of solid steel"`
	Bleeds         Flag             `key:"bleeds" opt:"yes" doc:"a bleed point at its highest place lets air out"`
	Hangs          Flag             `key:"hangs" opt:"yes" doc:"its load hangs on it, and must not sink"`
	DeadVolume     DeadVolume       `key:"dead_volume" opt:"yes" doc:"fluid left in each chamber at its stop"`
}

// CylinderFriction is dry and viscous friction.
type CylinderFriction struct {
	At      Span
	Coulomb Quantity `key:"coulomb" dim:"force" default:"0 N" range:">= 0 N" doc:"dry friction"`
	Viscous Quantity `key:"viscous" dim:"viscous-friction" default:"0 N·s/m" range:">= 0 N·s/m" doc:"friction per speed"`
}

// A Spring is linear.
type Spring struct {
	At      Span
	Preload Quantity `key:"preload" dim:"force" range:">= 0 N" doc:"force at the retracted stop"`
	Rate    Quantity `key:"rate" dim:"spring-rate" range:">= 0 N/mm" doc:"force per stroke"`
}

// DeadVolume is the fluid left in the chambers at their stops.
type DeadVolume struct {
	At   Span
	Head Quantity `key:"head" eg:"2 cm3" dim:"volume" default:"0 cm3" range:">= 0 cm3" doc:"head side, retracted"`
	Rod  Quantity `key:"rod" eg:"2 cm3" dim:"volume" default:"0 cm3" range:">= 0 cm3" doc:"rod side, extended"`
}

func (c *Cylinder) check(r *reader, _ place) {
	if c.Rod.Given() && c.RodDiameter.At.Line == 0 {
		r.wrong(ruleMissing, c.At, "rod_diameter", "%s needs rod_diameter (rod diameter), because its rod side is connected, such as rod_diameter: 12 mm", c.Name)
	}
	r.below(c.RodDiameter, c.Bore)
}
