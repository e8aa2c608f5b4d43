package quantity

// row declares one dimension.
type row struct {
	key    string
	words  string
	vector vector
	born   Dimension // see resolve; Number for most
	// display is the one unit of machine-readable output.
	display string
	// usual are units named in messages, the most usual first.
	usual []string
	// ladder are the units for people, small to large; nil means display alone.
	ladder []rung
	// decimals caps the decimals for people; 0 means no cap.
	decimals int
}

// rung is a unit of a ladder, used from that many of it on.
type rung struct {
	unit string
	from float64
}

var unnamed = row{key: "unnamed", words: "quantity without a name"}

// vec lists exponents of mass, length, time, temperature, angle.
func vec(exponents ...int8) (v vector) {
	copy(v[:], exponents)
	return v
}

// declared describes every dimension: the one table that parsing, printing,
// messages and the README are made from.
var declared = [dimensions]row{
	Number: {key: "number", words: "number", display: "", usual: []string{"%"}},

	Pressure: {key: "pressure", words: "pressure", vector: vec(1, -1, -2),
		display: "bar", usual: []string{"bar", "MPa", "psi"},
		ladder: []rung{{"Pa", 0}, {"mbar", 1}, {"bar", 0.1}}},
	AbsolutePressure: {key: "absolute-pressure", words: "absolute pressure", vector: vec(1, -1, -2),
		display: "bar abs", usual: []string{"bar abs", "kPa abs", "psi abs"},
		ladder: []rung{{"Pa abs", 0}, {"mbar abs", 1}, {"bar abs", 0.1}}},
	PressureDifference: {key: "pressure-difference", words: "pressure difference", vector: vec(1, -1, -2),
		display: "bar diff", usual: []string{"bar", "MPa", "psi"},
		ladder: []rung{{"Pa", 0}, {"mbar", 1}, {"bar", 0.1}, {"MPa", 100}, {"GPa", 1}}},
	Temperature: {key: "temperature", words: "temperature", vector: vec(0, 0, 0, 1),
		display: "degC", usual: []string{"degC", "degF", "K"}, decimals: 1},
	TemperatureDifference: {key: "temperature-difference", words: "temperature difference", vector: vec(0, 0, 0, 1),
		display: "K", usual: []string{"K"}},

	Length: {key: "length", words: "length", vector: vec(0, 1),
		display: "mm", usual: []string{"mm", "m", "in"},
		ladder: []rung{{"µm", 0}, {"mm", 0.1}, {"m", 1}}},
	Area: {key: "area", words: "area", vector: vec(0, 2),
		display: "mm2", usual: []string{"mm2", "cm2", "in2"},
		ladder: []rung{{"mm2", 0}, {"cm2", 10}, {"m2", 0.1}}},
	Volume: {key: "volume", words: "volume", vector: vec(0, 3),
		display: "L", usual: []string{"L", "cm3", "gal (US)"},
		ladder: []rung{{"mm3", 0}, {"cm3", 0.1}, {"L", 1}, {"m3", 10}}},
	Time: {key: "time", words: "time", vector: vec(0, 0, 1),
		display: "s", usual: []string{"s", "ms", "min", "h"},
		ladder: []rung{{"µs", 0}, {"ms", 1}, {"s", 1}, {"min", 2}, {"h", 2}}},
	Frequency: {key: "frequency", words: "frequency", vector: vec(0, 0, -1),
		display: "/h", usual: []string{"/h", "/min", "Hz"},
		ladder: []rung{{"/h", 0}, {"/min", 10}, {"/s", 1}}},
	Angle: {key: "angle", words: "angle", vector: vec(0, 0, 0, 0, 1),
		display: "deg", usual: []string{"deg", "rad", "rev"}},
	Velocity: {key: "velocity", words: "velocity", vector: vec(0, 1, -1),
		display: "m/s", usual: []string{"m/s", "mm/s", "ft/s"},
		ladder: []rung{{"mm/s", 0}, {"m/s", 0.1}}},
	Acceleration: {key: "acceleration", words: "acceleration", vector: vec(0, 1, -2),
		display: "m/s2", usual: []string{"m/s2", "g0"}},
	RotationalSpeed: {key: "rotational-speed", words: "rotational speed", vector: vec(0, 0, -1, 0, 1),
		display: "rpm", usual: []string{"rpm", "rad/s", "rev/s"}},
	AngularAcceleration: {key: "angular-acceleration", words: "angular acceleration", vector: vec(0, 0, -2, 0, 1),
		display: "rad/s2", usual: []string{"rad/s2", "rpm/s"}},

	Mass: {key: "mass", words: "mass", vector: vec(1),
		display: "kg", usual: []string{"kg", "g", "lb"},
		ladder: []rung{{"g", 0}, {"kg", 1}, {"t", 10}}},
	Density: {key: "density", words: "density", vector: vec(1, -3),
		display: "kg/m3", usual: []string{"kg/m3", "kg/L", "g/cm3"}},
	Force: {key: "force", words: "force", vector: vec(1, 1, -2),
		display: "N", usual: []string{"N", "kN", "lbf"},
		ladder: []rung{{"N", 0}, {"kN", 1}}},
	Torque: {key: "torque", words: "torque", vector: vec(1, 2, -2, 0, -1),
		display: "N·m", usual: []string{"N·m", "kN·m", "lbf·ft"},
		ladder: []rung{{"mN·m", 0}, {"N·m", 0.1}, {"kN·m", 10}}},
	Energy: {key: "energy", words: "energy", vector: vec(1, 2, -2),
		display: "kJ", usual: []string{"J", "kJ", "MJ"},
		ladder: []rung{{"mJ", 0}, {"J", 1}, {"kJ", 1}, {"MJ", 1}}},
	Power: {key: "power", words: "power", vector: vec(1, 2, -3),
		display: "kW", usual: []string{"W", "kW", "hp"},
		ladder: []rung{{"mW", 0}, {"W", 1}, {"kW", 1}, {"MW", 10}}},
	Flow: {key: "flow", words: "flow", vector: vec(0, 3, -1),
		display: "L/min", usual: []string{"L/min", "gpm", "cm3/s"},
		ladder: []rung{{"mL/min", 0}, {"L/min", 0.1}}},
	Displacement: {key: "displacement", words: "displacement", vector: vec(0, 3, 0, 0, -1),
		display: "cm3/rev", usual: []string{"cm3/rev", "L/rev", "in3/rev"}},

	KinematicViscosity: {key: "kinematic-viscosity", words: "kinematic viscosity", vector: vec(0, 2, -1),
		display: "mm2/s", usual: []string{"mm2/s", "cSt"}},
	DynamicViscosity: {key: "dynamic-viscosity", words: "dynamic viscosity", vector: vec(1, -1, -1),
		display: "mPa·s", usual: []string{"mPa·s", "cP"}},
	SpecificHeat: {key: "specific-heat", words: "specific heat", vector: vec(0, 2, -2, -1),
		display: "kJ/kg/K", usual: []string{"kJ/kg/K", "J/kg/K"}},
	HeatCapacity: {key: "heat-capacity", words: "heat capacity", vector: vec(1, 2, -2, -1),
		display: "kJ/K", usual: []string{"J/K", "kJ/K"},
		ladder: []rung{{"J/K", 0}, {"kJ/K", 1}}},
	Conductance: {key: "conductance", words: "heat conductance", vector: vec(1, 2, -3, -1),
		display: "W/K", usual: []string{"W/K", "kW/K"},
		ladder: []rung{{"W/K", 0}, {"kW/K", 1}}},
	Expansion: {key: "expansion", words: "thermal expansion", vector: vec(0, 0, 0, -1),
		display: "1/K", usual: []string{"1/K"}},
	PressureViscosity: {key: "pressure-viscosity", words: "change per pressure", vector: vec(-1, 1, 2),
		display: "1/GPa", usual: []string{"1/Pa", "1/GPa", "1/bar"}},
	ModulusPerKelvin: {key: "modulus-per-kelvin", words: "pressure per kelvin", vector: vec(1, -1, -2, -1),
		display: "MPa/K", usual: []string{"MPa/K", "bar/K"}},
	Stretch: {key: "stretch", words: "volume per length and pressure", vector: vec(-1, 3, 2),
		display: "cm3/m/bar", usual: []string{"cm3/m/bar", "cm3/m/MPa"}},

	EnergyPerArea: {key: "energy-per-area", words: "energy per area", vector: vec(1, 0, -2),
		display: "kJ/m2", usual: []string{"J/m2", "kJ/m2", "J/cm2"},
		ladder: []rung{{"J/m2", 0}, {"kJ/m2", 1}, {"MJ/m2", 1}}},
	PowerPerArea: {key: "power-per-area", words: "power per area", vector: vec(1, 0, -3),
		display: "kW/m2", usual: []string{"W/m2", "kW/m2", "W/cm2"},
		ladder: []rung{{"W/m2", 0}, {"kW/m2", 1}, {"MW/m2", 1}}},
	SpringRate: {key: "spring-rate", words: "spring rate", vector: vec(1, 0, -2), born: Force,
		display: "N/mm", usual: []string{"N/mm", "kN/m", "lbf/in"}},
	MassFlow: {key: "mass-flow", words: "mass flow", vector: vec(1, 0, -1),
		display: "kg/s", usual: []string{"kg/s", "kg/min", "g/s"}},
	ViscousFriction: {key: "viscous-friction", words: "viscous friction", vector: vec(1, 0, -1), born: Force,
		display: "N·s/m", usual: []string{"N·s/m", "N·s/mm"}},
	Inertia: {key: "inertia", words: "inertia", vector: vec(1, 2, 0, 0, -2),
		display: "kg·m2", usual: []string{"kg·m2", "kg·cm2", "g·m2"}},
	LeakConductance: {key: "leak-conductance", words: "flow per pressure", vector: vec(-1, 4, 1),
		display: "L/min/bar", usual: []string{"L/min/bar", "m3/s/Pa"}},
	TorquePerPressure: {key: "torque-per-pressure", words: "torque per pressure", vector: vec(0, 3, 0, 0, -1), born: Torque,
		display: "N·m/bar", usual: []string{"N·m/bar", "N·m/MPa"}},

	MassFlux: {key: "mass-flux", words: "mass flow per area", vector: vec(1, -2, -1),
		display: "kg/m2/s", usual: []string{"kg/m2/s"}},
	SpecificEnergy: {key: "specific-energy", words: "energy per mass", vector: vec(0, 2, -2),
		display: "kJ/kg", usual: []string{"J/kg", "kJ/kg"}},
	Momentum: {key: "momentum", words: "momentum", vector: vec(1, 1, -1),
		display: "kg·m/s", usual: []string{"kg·m/s", "N·s"}},
	AngularMomentum: {key: "angular-momentum", words: "angular momentum", vector: vec(1, 2, -1, 0, -1),
		display: "N·m·s", usual: []string{"N·m·s"}},
	VolumePerPressure: {key: "volume-per-pressure", words: "volume per pressure", vector: vec(-1, 4, 2),
		display: "cm3/bar", usual: []string{"cm3/bar", "cm3/MPa"}},
	VolumePerKelvin: {key: "volume-per-kelvin", words: "volume per kelvin", vector: vec(0, 3, 0, -1),
		display: "cm3/K", usual: []string{"cm3/K", "L/K"}},
	PressurePerLength: {key: "pressure-per-length", words: "pressure per length", vector: vec(1, -2, -2),
		display: "bar/m", usual: []string{"bar/m", "Pa/m"}},
	PressureRate: {key: "pressure-rate", words: "pressure per time", vector: vec(1, -1, -3),
		display: "bar/s", usual: []string{"bar/s", "MPa/s"}},
	TemperatureRate: {key: "temperature-rate", words: "temperature per time", vector: vec(0, 0, -1, 1),
		display: "K/s", usual: []string{"K/s", "K/min"}},
}
