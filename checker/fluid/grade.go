package fluid

// Grade is a viscosity grade of industrial liquid lubricants: its number, as
// in VG 46, and its Midpoint, the kinematic viscosity at 40 °C (m²/s) the
// grade is centred on.
//
// Source: ISO 3448:1992, table 1 (ASTM D2422). The four thinnest grades are
// named after rounded midpoints, so limits follow the midpoint, never the
// name.
type Grade struct {
	VG       int
	Midpoint float64
}

// gradeTolerance is the half width of every grade, ±10 % of its midpoint
// (ISO 3448:1992, clause 3).
const gradeTolerance = 0.10

// Grades are the twenty grades of ISO 3448, thinnest first. Midpoints and limits
// of VG 2 to VG 1500 were read in copies of the table, and that there are twenty in
// ASTM D2422; the midpoints of VG 2200 and VG 3200 are from memory.
var Grades = [20]Grade{
	{2, 2.2e-6}, {3, 3.2e-6}, {5, 4.6e-6}, {7, 6.8e-6},
	{10, 10e-6}, {15, 15e-6}, {22, 22e-6}, {32, 32e-6},
	{46, 46e-6}, {68, 68e-6}, {100, 100e-6}, {150, 150e-6},
	{220, 220e-6}, {320, 320e-6}, {460, 460e-6}, {680, 680e-6},
	{1000, 1000e-6}, {1500, 1500e-6}, {2200, 2200e-6}, {3200, 3200e-6},
}

// Limits are the least and the greatest viscosity at 40 °C (m²/s) of the
// grade, both of them inside it.
func (g Grade) Limits() (least, greatest float64) {
	return g.Midpoint * (1 - gradeTolerance), g.Midpoint * (1 + gradeTolerance)
}

// rounding is the share by which a limit as the standard prints it may lie outside
// the one reckoned, for neither is an exact binary number.
const rounding = 1e-12

// GradeOf is the grade whose limits hold nu40, the viscosity at 40 °C (m²/s).
// The grades leave gaps between them: there, and outside VG 2 to VG 3200, ok
// is false.
func GradeOf(nu40 float64) (g Grade, ok bool) {
	for _, g := range Grades {
		if least, greatest := g.Limits(); nu40 >= least*(1-rounding) && nu40 <= greatest*(1+rounding) {
			return g, true
		}
	}
	return Grade{}, false
}
