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
	return named(resolve(declared[a].vector.times(declared[b].vector), family(a, b)))
}

// Divide is the dimension of a / b.
func Divide(a, b Dimension) (Dimension, bool) {
	switch {
	case a == Temperature || b == Temperature || a >= dimensions || b >= dimensions:
		return nameless, false
	case b == Number:
		return a, true
	case a == AbsolutePressure && b == AbsolutePressure:
		return Number, true
	case a == AbsolutePressure || b == AbsolutePressure:
		return nameless, false
	}
	return named(resolve(declared[a].vector.over(declared[b].vector), family(a, b)))
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
// dimensions share a vector, the one born of a parent (a spring rate of a force) is
// taken where that parent is among those given, else the other.
func resolve(v vector, from parents) Dimension {
	found := nameless
	for d := range dimensions {
		switch row := &declared[d]; {
		case row.vector != v || d.isLevel():
		case row.born == Number:
			found = d
		case from.has(row.born):
			return d
		}
	}
	return found
}

// named is d and whether it is a dimension with a name.
func named(d Dimension) (Dimension, bool) { return d, d != nameless }

// parents is the set of dimensions that a product or quotient is made of.
type parents uint64

const _ = uint(64 - dimensions) // a bit for each

func (p *parents) add(d Dimension)     { *p |= 1 << d }
func (p parents) has(d Dimension) bool { return p&(1<<d) != 0 }

func family(a, b Dimension) (p parents) {
	p.add(a)
	p.add(b)
	return p
}
