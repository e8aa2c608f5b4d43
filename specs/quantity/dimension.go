package quantity

// Dimension says what a value is a measure of. Levels (Pressure,
// AbsolutePressure, Temperature) are told from differences of the same unit.
type Dimension uint8

// The dimensions. Each is described by its row in the table `declared`.
const (
	Number             Dimension = iota
	Pressure                     // a level, against the surrounding air unless written abs
	AbsolutePressure             // a level against vacuum, always written abs
	PressureDifference           // also bulk moduli and stresses
	Temperature                  // a level
	TemperatureDifference
	Length
	Area
	Volume
	Time
	Frequency // 1/s, without an angle
	Angle
	Velocity
	Acceleration
	RotationalSpeed     // rad/s
	AngularAcceleration // rad/s2
	Mass
	Density
	Force
	Torque // J/rad, written N·m
	Energy
	Power
	Flow
	Displacement // m3/rad
	KinematicViscosity
	DynamicViscosity
	SpecificHeat
	HeatCapacity
	Conductance       // W/K
	Expansion         // 1/K
	PressureViscosity // 1/Pa
	ModulusPerKelvin  // Pa/K
	Stretch           // volume per length per pressure, m2/Pa
	EnergyPerArea
	PowerPerArea
	SpringRate
	MassFlow
	ViscousFriction // N·s/m
	Inertia         // kg·m2/rad2, written kg·m2
	LeakConductance // m3/s/Pa
	TorquePerPressure
	// Met on the way in expressions.
	MassFlux          // density · velocity
	SpecificEnergy    // velocity · velocity, specific heat · kelvin
	Momentum          // mass · velocity
	AngularMomentum   // inertia · rotational speed
	VolumePerPressure // volume / bulk modulus
	VolumePerKelvin   // volume · expansion
	PressurePerLength // density · acceleration
	PressureRate      // pressure difference / time
	TemperatureRate   // temperature difference / time
	dimensions        // how many there are
)

// nameless stands for a dimension that has no name here, such as mass · volume.
const nameless Dimension = dimensions

// String is the dimension in plain words, for messages: "pressure difference".
func (d Dimension) String() string { return d.row().words }

// WithArticle is String with "a" or "an" before it: "an absolute pressure".
func (d Dimension) WithArticle() string {
	words := d.String()
	switch words[0] {
	case 'a', 'e', 'i', 'o', 'u':
		return "an " + words
	}
	return "a " + words
}

// Key is the dimension's name in files: "pressure-difference".
func (d Dimension) Key() string { return d.row().key }

// Units are a few usual units that fit, the most usual first.
func (d Dimension) Units() []string { return append([]string(nil), d.row().usual...) }

// DimensionNamed finds a dimension by its Key.
func DimensionNamed(key string) (Dimension, bool) {
	for d := range dimensions {
		if declared[d].key == key {
			return d, true
		}
	}
	return Number, false
}

// Dimensions lists all of them, in the order of their declaration.
func Dimensions() []Dimension {
	all := make([]Dimension, dimensions)
	for i := range all {
		all[i] = Dimension(i)
	}
	return all
}

func (d Dimension) row() *row {
	if d >= dimensions {
		return &unnamed
	}
	return &declared[d]
}
