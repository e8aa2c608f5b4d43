package strength

import "math"

// Cycle is one counted load cycle: its Range (highest less lowest) and Mean,
// and its Count, 1 or ½.
type Cycle struct{ Range, Mean, Count float64 }

// Rainflow counts the cycles of a history of loads, such as the pressures of
// a part, from its first to its last value. Ranges that never close count
// half.
//
// Domain: finite values; a history without a turn gives at most one half
// cycle.
//
// Source: ASTM E1049-85, §5.4.4, rainflow counting.
//
// Accuracy: exact.
func Rainflow(history []float64) []Cycle {
	cycles, open := pair(reversals(history), false)
	for i := 1; i < len(open); i++ {
		cycles = append(cycles, cycle(open[i-1], open[i], 0.5))
	}
	return cycles
}

// RainflowRepeating counts the cycles of a history that repeats without end,
// from its highest value round to itself. Every range closes and counts 1.
//
// Domain: finite values.
//
// Source: ASTM E1049-85, §5.4.5, simplified rainflow counting for repeating
// histories.
//
// Accuracy: exact.
func RainflowRepeating(history []float64) []Cycle {
	if len(history) == 0 {
		return nil
	}
	top := 0
	for i, v := range history {
		if v > history[top] {
			top = i
		}
	}
	round := append(append([]float64(nil), history[top:]...), history[:top+1]...)
	cycles, _ := pair(reversals(round), true)
	return cycles
}

// pair takes the closed ranges out of a row of reversals: a range Y before a
// range X at least as large. One that holds the starting point counts half,
// and only its first reversal goes, unless the history is round. What stays
// open is given back.
func pair(turns []float64, round bool) (cycles []Cycle, open []float64) {
	for _, turn := range turns {
		open = append(open, turn)
		for len(open) >= 3 {
			n := len(open)
			x, y := math.Abs(open[n-1]-open[n-2]), math.Abs(open[n-2]-open[n-3])
			if x < y {
				break
			}
			if n == 3 && !round {
				cycles = append(cycles, cycle(open[0], open[1], 0.5))
				open = open[1:]
				continue
			}
			cycles = append(cycles, cycle(open[n-3], open[n-2], 1))
			open = append(open[:n-3], open[n-1])
		}
	}
	return cycles, open
}

func cycle(a, b, count float64) Cycle {
	return Cycle{Range: math.Abs(a - b), Mean: (a + b) / 2, Count: count}
}

// reversals are the first value, the turning points and the last value.
func reversals(history []float64) []float64 {
	var turns []float64
	for _, v := range history {
		n := len(turns)
		switch {
		case n > 0 && v == turns[n-1]:
		case n > 1 && (v > turns[n-1]) == (turns[n-1] > turns[n-2]):
			turns[n-1] = v // still going the same way
		default:
			turns = append(turns, v)
		}
	}
	return turns
}
