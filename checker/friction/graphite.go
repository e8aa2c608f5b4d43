package friction

// Graphite is one published set of the two constants a and b in which the
// heat capacity equation of Butland & Maddison differs between sources.
type Graphite struct{ A, B float64 }

var (
	// ReactorGraphite is the set in an open-source reactor code.
	ReactorGraphite = Graphite{A: 0.54212, B: -2.42667e-6}

	// WebBookGraphite is the set in the NIST Chemistry WebBook.
	WebBookGraphite = Graphite{A: 0.538657, B: 9.11129e-6}
)

const (
	graphiteLeast    = 250.0  // K
	graphiteGreatest = 3000.0 // K
)

// HeatCapacity is the specific heat (J/kg/K) of graphite at T (K), and of
// carbon–carbon composites nearly so:
//
//	c_p = 4184 (a + b T − 90.2725/T − 43449.3/T² + 1.59309e7/T³ − 1.43688e9/T⁴)
//
// Domain: 250 to 3000 K; outside, the value at the nearer end.
//
// Source: Butland & Maddison, J. Nucl. Mater. 49 (1973/74) 45 (citation from
// memory; constants read in the two sources named above).
//
// Accuracy: the two sets differ by 1 % at 600 K and 4 % at 2000 K.
func (g Graphite) HeatCapacity(T float64) float64 {
	T = min(max(T, graphiteLeast), graphiteGreatest)
	i := 1 / T
	return 4184 * (g.A + g.B*T + i*(-90.2725+i*(-43449.3+i*(1.59309e7-i*1.43688e9))))
}
