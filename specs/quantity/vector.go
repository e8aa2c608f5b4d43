package quantity

// vector holds the exponents of the five base dimensions: mass, length, time,
// temperature and angle.
//
// Angle is a base dimension here, though the SI counts the radian as the number
// one (BIPM, The International System of Units, 9th ed., section 2.3.3): that
// is what tells a displacement (m3/rad) from a volume and a rotational speed
// (rad/s) from a frequency. Two more consequences, kept everywhere:
//
//   - A torque does its work per angle, so it is J/rad. A force times a length
//     is an energy; divided by 1 rad it is the torque of that force on that lever.
//   - An inertia is kg·m2/rad2, so that inertia · angular acceleration is a
//     torque and inertia · speed² an energy.
//
// The usual spellings N·m and kg·m2 leave their radians out. Reading a unit puts
// them back: a force symbol times a length symbol is a torque, never an energy.
type vector [5]int8

// Positions in a vector.
const (
	mass = iota
	length
	time
	temperature
	angle
)

func (v vector) times(w vector) vector {
	for i := range v {
		v[i] += w[i]
	}
	return v
}

func (v vector) over(w vector) vector {
	for i := range v {
		v[i] -= w[i]
	}
	return v
}
