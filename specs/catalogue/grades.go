package catalogue

// A Grade is a viscosity grade of ISO 3448.
type Grade struct {
	VG       int
	Midpoint float64 // mm2/s at 40 °C; the limits are GradeTolerance either side
}

// GradeTolerance is the half width of a grade, as a share of its midpoint
// (ISO 3448, ASTM D2422).
const GradeTolerance = 0.10

// grades are the twenty grades of ISO 3448. Midpoints and limits of VG 22 to
// 1500 as published; those of VG 2 to 15 and of VG 2200 and 3200 from memory.
// Limits come from the midpoint, not from the name.
var grades = [...]Grade{
	{2, 2.2}, {3, 3.2}, {5, 4.6}, {7, 6.8}, {10, 10}, {15, 15}, {22, 22}, {32, 32}, {46, 46}, {68, 68},
	{100, 100}, {150, 150}, {220, 220}, {320, 320}, {460, 460}, {680, 680},
	{1000, 1000}, {1500, 1500}, {2200, 2200}, {3200, 3200},
}

// Grades lists the viscosity grades, thinnest first.
func Grades() []Grade { return append([]Grade(nil), grades[:]...) }

// GradeOf finds the grade of a viscosity at 40 °C in mm2/s; between two grades
// there is none.
func GradeOf(viscosity float64) (Grade, bool) {
	for _, g := range grades {
		if viscosity >= g.Midpoint*(1-GradeTolerance) && viscosity <= g.Midpoint*(1+GradeTolerance) {
			return g, true
		}
	}
	return Grade{}, false
}
