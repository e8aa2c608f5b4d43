package fluid

import (
	"errors"
	"fmt"
	"math"
)

// VapourPoint is one vapour pressure P (Pa absolute) at T (K).
type VapourPoint struct{ T, P float64 }

// VapourCurve is vapour pressure over temperature through given points,
// straight in ln p over 1/T between neighbours:
//
//	ln p = ln p1 + (ln p2 − ln p1) (1/T1 − 1/T)/(1/T1 − 1/T2)
//
// Domain: from the first to the last point. Outside, the line of the end pair
// is extended, as the law bids; Covers tells.
//
// Source: Clausius–Clapeyron with constant heat of vaporisation between two
// points.
//
// Accuracy: low between the points, high beyond them. For water low by up to
// 1.7 % between 0 and 50 °C, 1.3 % between 30 and 80 °C and 0.7 % between 100 and
// 150 °C; it falls with the square of the distance of the points.
type VapourCurve struct{ points []VapourPoint }

// NewVapourCurve lays the curve through the points, which must be at least
// two and rise in temperature and in pressure.
func NewVapourCurve(points []VapourPoint) (VapourCurve, error) {
	if len(points) < 2 {
		return VapourCurve{}, errors.New("vapour pressure needs at least two points")
	}
	for i, p := range points {
		if !(p.T > 0) || !(p.P > 0) || math.IsInf(p.T, 0) || math.IsInf(p.P, 0) {
			return VapourCurve{}, fmt.Errorf("vapour pressure point %d: %g Pa at %g K is not a point above absolute zero", i+1, p.P, p.T)
		}
		if i > 0 && !(p.T > points[i-1].T && p.P > points[i-1].P) {
			return VapourCurve{}, fmt.Errorf("vapour pressure point %d: temperature and pressure must rise from point to point", i+1)
		}
	}
	return VapourCurve{points: append([]VapourPoint(nil), points...)}, nil
}

// At is the vapour pressure (Pa absolute) at T (K); meaningless for T ≤ 0.
func (c *VapourCurve) At(T float64) float64 {
	i := 0
	for i < len(c.points)-2 && T > c.points[i+1].T {
		i++
	}
	a, b := c.points[i], c.points[i+1]
	x := (1/a.T - 1/T) / (1/a.T - 1/b.T)
	return a.P * math.Exp(x*math.Log(b.P/a.P))
}

// Covers says whether T (K) lies between the first and the last given point,
// both included; outside, At extrapolates.
func (c *VapourCurve) Covers(T float64) bool {
	return T >= c.points[0].T && T <= c.points[len(c.points)-1].T
}
