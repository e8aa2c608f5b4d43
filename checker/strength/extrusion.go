package strength

// ExtrusionGap is the largest diametral clearance (m) that an O-ring of the
// given hardness (Shore A) bridges at the pressure (Pa) without a backup ring.
// A concentric gap is half the diametral one on each side.
//
// Between the table's pressures and hardnesses straight lines.
//
// Domain: to 3000 psi (206.8 bar) and from 70 Shore A. Below 500 psi the table's
// first column holds, above 90 Shore A its last row. Beyond 3000 psi and below
// 70 Shore A the source is silent and ok is false: there a backup ring is the
// rule.
//
// Source: common practice; clearance table of O-ring catalogues, "up to" each
// pressure.
//
// Accuracy: a guideline; seals that move or pulse want less.
func ExtrusionGap(pressure, hardness float64) (gap float64, ok bool) {
	last := len(extrusionPressures) - 1
	psi := inPsi(pressure)
	if !(psi <= extrusionPressures[last] && hardness >= softest) {
		return 0, false
	}
	soft := alongPressure(psi, softGaps)
	hard := alongPressure(psi, hardGaps)
	share := min((hardness-softest)/(hardest-softest), 1)
	return (soft + share*(hard-soft)) * inch, true
}

// BackedGap is the largest diametral clearance (m) that an O-ring with a backup
// ring bridges at the pressure (Pa): what one of 90 Shore A bridges alone, its
// last column kept beyond 3000 psi. The ring, not the elastomer, bears the gap.
//
// Domain: to 400 bar. Beyond it ok is false: only special rings go further.
//
// Source: 400 bar from memory; the clearance is our own cautious reading of the
// table of ExtrusionGap, which has no column for backup rings.
//
// Accuracy: on the safe side of what makers of backup rings allow.
func BackedGap(pressure float64) (gap float64, ok bool) {
	if !(tidy(pressure/bar) <= backedTo) {
		return 0, false
	}
	last := extrusionPressures[len(extrusionPressures)-1]
	return alongPressure(min(inPsi(pressure), last), hardGaps) * inch, true
}

const (
	bar      = 1e5   // Pa
	backedTo = 400.0 // bar
)

// inPsi is a pressure (Pa) in psi, rounded, so that one at the table's end is in it.
func inPsi(pressure float64) float64 { return tidy(pressure / poundPerSquareInch) }

const (
	poundPerSquareInch = 0.45359237 * 9.80665 / (inch * inch) // Pa, from the pound (kg), standard gravity and the inch
	inch               = 0.0254                               // m

	softest = 70.0 // Shore A, first row of the table
	hardest = 90.0 // Shore A, last row
)

// The table: pressures in psi, diametral clearances in inches.
var (
	extrusionPressures = [5]float64{500, 1000, 1500, 2000, 3000}
	softGaps           = [5]float64{0.016, 0.010, 0.006, 0.004, 0.002} // 70 Shore A
	hardGaps           = [5]float64{0.028, 0.024, 0.020, 0.016, 0.010} // 90 Shore A
)

func alongPressure(psi float64, gaps [5]float64) float64 {
	if psi <= extrusionPressures[0] {
		return gaps[0]
	}
	i := 1
	for psi > extrusionPressures[i] {
		i++
	}
	below, above := extrusionPressures[i-1], extrusionPressures[i]
	return gaps[i-1] + (psi-below)/(above-below)*(gaps[i]-gaps[i-1])
}
