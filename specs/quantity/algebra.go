package quantity

// The algebra of dimensions: what a sum, difference, product or quotient of two
// of them is. All follows from the exponent vectors and from three levels:
//
//	temperature          a level: differences of it, and differences added to it; nothing else
//	pressure (gauge)     a level to add and subtract, else its difference to the surrounding air
//	absolute pressure    a level: as temperature, and it may be scaled and put in ratio to its like

// Add is the dimension of a + b.
func Add(a, b Dimension) (Dimension, bool) {
	switch {
	case a.isLevel() && b == a.difference():
		return a, true
	case b.isLevel() && a == b.difference():
		return b, true
	case a.isLevel() || b.isLevel() || !akin(a, b):
		return nameless, false
	}
	return a, true
}

// Subtract is the dimension of a − b.
func Subtract(a, b Dimension) (Dimension, bool) {
	switch {
	case a.isLevel() && a == b:
		return a.difference(), true
	case a.isLevel() && b == a.difference():
		return a, true
	case a.isLevel() || b.isLevel() || !akin(a, b):
		return nameless, false
	}
	return a, true
}

// Multiply is the dimension of a · b.
func Multiply(a, b Dimension) (Dimension, bool) {
	switch {
	case a == Temperature || b == Temperature || a >= dimensions || b >= dimensions:
		return nameless, false
	case a == Number:
		return b, true
	case b == Number:
		return a, true
	case a == AbsolutePressure || b == AbsolutePressure:
		return nameless, false
	}
	return resolve(declared[a].vector.times(declared[b].vector), a, b)
}

// Divide is the dimension of a / b.
func Divide(a, b Dimension) (Dimension, bool) {
	switch {
	case a == Temperature || b == Temperature || a >= dimensions || b >= dimensions:
		return nameless, false
	case b == Number:
		return a, true
	case a == AbsolutePressure || b == AbsolutePressure:
		return Number, a == b
	}
	return resolve(declared[a].vector.over(declared[b].vector), a, b)
}

// Comparable tells whether a may be compared with b.
func Comparable(a, b Dimension) bool {
	if a.isLevel() || b.isLevel() {
		return a == b
	}
	return akin(a, b)
}

// akin: the same base dimensions, such as a spring rate and an energy per area.
func akin(a, b Dimension) bool {
	return a < dimensions && b < dimensions && declared[a].vector == declared[b].vector
}

func (d Dimension) isLevel() bool {
	return d == Pressure || d == AbsolutePressure || d == Temperature
}

// difference is what the difference of two levels is.
func (d Dimension) difference() Dimension {
	if d == Temperature {
		return TemperatureDifference
	}
	return PressureDifference
}

// resolve names the dimension of an exponent vector; never a level. Where two
// dimensions share a vector, the one born of a parent (a spring rate of a
// force) is taken where that parent is among those given, else the other.
func resolve(v vector, parents ...Dimension) (Dimension, bool) {
	found := nameless
	for d := range dimensions {
		if declared[d].vector != v || d.isLevel() {
			continue
		}
		born := declared[d].born
		if born == Number && found == nameless {
			found = d
		}
		if born == Number {
			continue
		}
		for _, p := range parents {
			if p == born {
				return d, true
			}
		}
	}
	return found, found != nameless
}
