package validation

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Row is one value of the outside world beside the program's.
type Row struct {
	Laws    []string // what is held, the first above all: package.Function or package.Type.Method
	What    string   // what is computed, and from what
	Source  string   // standard, handbook or paper, with its edition
	Place   string   // clause, table, equation or page
	Printed string   // the value as the source prints it
	Unit    string
	Sure    Surety
	Within  Tolerance
	Ours    func() float64 // in Unit
	Says    func() string  // in place of Ours, where a word or a code is printed
}

// Surety says how sure it is that the source prints the value.
type Surety int

const (
	Seen     Surety = iota // read in a copy of the source
	Computed               // worked out a second time, by other means or another hand
	Defined                // exact by a definition
	Memory                 // from memory: listed apart, and no proof
)

func (s Surety) String() string {
	return [...]string{"seen", "computed independently", "exact by definition", "from memory"}[s]
}

// Tolerance is how far apart two values may be: as a share of the printed one, or
// absolute, and why. Without either it is half of the last digit printed.
type Tolerance struct {
	Share, Absolute float64
	Because         string
}

// share is a tolerance that needs a reason.
func share(of float64, because string) Tolerance {
	return Tolerance{Share: of, Because: because}
}

// Value is the printed value as a number, and half of its last digit.
func (r Row) Value() (value, half float64, err error) {
	value, err = strconv.ParseFloat(r.Printed, 64)
	mantissa, exponent, _ := strings.Cut(r.Printed, "e")
	power, _ := strconv.Atoi(exponent)
	return value, 0.5 * math.Pow10(power-decimals(mantissa)), err
}

func decimals(mantissa string) int {
	_, after, _ := strings.Cut(mantissa, ".")
	return len(after)
}

// allowed is how far from the printed value the program's may be.
func (r Row) allowed(value, half float64) float64 {
	switch {
	case r.Within.Share > 0:
		return r.Within.Share * math.Abs(value)
	case r.Within.Absolute > 0:
		return r.Within.Absolute
	}
	return half * (1 + 1e-6) // a value on the edge rounds either way
}

// Check says what is wrong with a row; nil where the program agrees with it.
func (r Row) Check() error {
	if r.Says != nil {
		if got := r.Says(); got != r.Printed {
			return fmt.Errorf("%s: %s: %s, printed %s (%s, %s)", r.Laws[0], r.What, got, r.Printed, r.Source, r.Place)
		}
		return nil
	}
	value, half, err := r.Value()
	if err != nil {
		return fmt.Errorf("%s: %s: %w", r.Laws[0], r.What, err)
	}
	if got := r.Ours(); !(math.Abs(got-value) <= r.allowed(value, half)) {
		return fmt.Errorf("%s: %s: %.9g %s, printed %s, %g apart of %g allowed (%s, %s)",
			r.Laws[0], r.What, got, r.Unit, r.Printed, math.Abs(got-value), r.allowed(value, half), r.Source, r.Place)
	}
	return nil
}

// Rows is the whole table, in the order of the packages.
func Rows() []Row {
	var all []Row
	for _, part := range []func() []Row{
		viscosityRows, indexRows, gradeRows, densityRows, modulusRows, airRows, vapourRows, ageingRows, cleanlinessRows, oilRows,
		nitrogenRows, chargeRows, atmosphereRows,
		frictionFactorRows, tubeRows, orificeRows, valveRows, waveRows,
		torqueRows, engagementRows, graphiteRows,
		stressRows, burstRows, rodRows, sealRows, trappedRows, cycleRows, vesselRows,
		unitRows, catalogueRows,
	} {
		all = append(all, part()...)
	}
	return all
}

const (
	bar    = 1e5
	mm     = 1e-3
	litre  = 1e-3
	lpm    = 1e-3 / 60 // m³/s in one L/min
	foot   = 0.3048
	inch   = 0.0254
	gallon = 231 * inch * inch * inch
	psi    = 0.45359237 * 9.80665 / (inch * inch)
)

func kelvin(celsius float64) float64 { return celsius + 273.15 }

// must gives the value of a law that knows errors; a row without a value is NaN.
func must(v float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return v
}
