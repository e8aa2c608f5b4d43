package fluid

import (
	"fmt"
	"strconv"
	"strings"
)

// Cleanliness is a contamination code by ISO 4406: a scale number each for the
// particles larger than 4, 6 and 14 µm(c) in a millilitre. NotCounted stands
// where a code has "-".
type Cleanliness struct{ Over4, Over6, Over14 int }

// NotCounted is the scale number of a size that was not counted, or of which
// nothing is required.
const NotCounted = -1

const highestScale = 28 // last numbered row of ISO 4406:1999, table 1

// ParseCleanliness reads a code such as "18/16/13" or "-/16/13".
//
// Source: ISO 4406:1999, clause 4: three scale numbers in the order of the
// sizes 4, 6 and 14 µm(c). As every particle larger than 14 µm is also larger
// than 6 µm, numbers never rise along the code.
func ParseCleanliness(code string) (Cleanliness, error) {
	fields := strings.Split(code, "/")
	if len(fields) != 3 {
		return Cleanliness{}, fmt.Errorf("cleanliness %q: an ISO 4406 code has three numbers, for 4, 6 and 14 µm, as in 18/16/13", code)
	}
	var n [3]int
	last := highestScale
	for i, field := range fields {
		field = strings.TrimSpace(field)
		if field == "-" {
			n[i] = NotCounted
			continue
		}
		v, err := strconv.Atoi(field)
		if err != nil || v < 0 || v > highestScale {
			return Cleanliness{}, fmt.Errorf("cleanliness %q: %q is not an ISO 4406 scale number (0 to %d, or -)", code, field, highestScale)
		}
		if v > last {
			return Cleanliness{}, fmt.Errorf("cleanliness %q: the numbers cannot rise, since the larger particles are among the smaller", code)
		}
		n[i], last = v, v
	}
	return Cleanliness{Over4: n[0], Over6: n[1], Over14: n[2]}, nil
}

// String is the code as ISO 4406 writes it.
func (c Cleanliness) String() string {
	return scaleText(c.Over4) + "/" + scaleText(c.Over6) + "/" + scaleText(c.Over14)
}

func scaleText(n int) string {
	if n == NotCounted {
		return "-"
	}
	return strconv.Itoa(n)
}

// Over is how many scale numbers c is dirtier than target, at the size where
// it is worst; negative where it is cleaner at every size. Sizes the target
// leaves open do not count. ok is false where c lacks a number the target
// asks for, or the target asks for none.
func (c Cleanliness) Over(target Cleanliness) (worst int, ok bool) {
	worst = -highestScale - 1
	for _, s := range [3]struct{ have, want int }{
		{c.Over4, target.Over4}, {c.Over6, target.Over6}, {c.Over14, target.Over14},
	} {
		switch {
		case s.want == NotCounted:
		case s.have == NotCounted:
			return 0, false
		default:
			worst, ok = max(worst, s.have-s.want), true
		}
	}
	return worst, ok
}

// scaleDecade are the upper limits, in particles per millilitre, of the scale
// numbers 11 to 20: ISO 4406:1999, table 1. Ten numbers further each limit is
// a thousand times larger. All rows from 0 to 28 were read in copies of the table
// as the filter trade prints it.
var scaleDecade = [10]float64{20, 40, 80, 160, 320, 640, 1300, 2500, 5000, 10000}

// ScaleLimits are the numbers of particles per millilitre a scale number
// stands for: more than above, up to and including upTo. Scale number 0
// reaches down to none at all.
//
// Domain: 0 to 28; outside ok is false. Source: ISO 4406:1999, table 1.
func ScaleLimits(n int) (above, upTo float64, ok bool) {
	if n < 0 || n > highestScale {
		return 0, 0, false
	}
	if n > 0 {
		above = scaleLimit(n - 1)
	}
	return above, scaleLimit(n), true
}

func scaleLimit(n int) float64 {
	switch {
	case n < 1:
		return scaleDecade[n+9] / 1e6
	case n < 11:
		return scaleDecade[n-1] / 1e3
	case n < 21:
		return scaleDecade[n-11]
	}
	return scaleDecade[n-21] * 1e3
}

// ScaleNumber is the scale number of a count of particles per millilitre; ok
// is false for counts below none or beyond the table.
func ScaleNumber(perMillilitre float64) (n int, ok bool) {
	if !(perMillilitre >= 0) {
		return 0, false
	}
	for n := range highestScale + 1 {
		if perMillilitre <= scaleLimit(n) {
			return n, true
		}
	}
	return 0, false
}
