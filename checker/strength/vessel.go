package strength

import "math"

// Category is the pressure-equipment category of a vessel. The greater, the
// more a competent body has to say.
type Category int

const (
	NotCovered    Category = iota // at most 0.5 bar: the directive does not apply
	SoundPractice                 // article 4(3): sound engineering practice, no CE mark
	CategoryI
	CategoryII
	CategoryIII
	CategoryIV
)

// String is the category as the directive names it.
func (c Category) String() string {
	return [...]string{"not covered", "sound engineering practice", "I", "II", "III", "IV"}[c]
}

// VesselCategory is the category of a vessel for a gas of group 2 such as
// nitrogen, from its maximum allowable pressure PS (Pa above the air) and its
// whole volume V (m³), for an accumulator that of both chambers:
//
//	V > 1 L:  PS·V to 50 bar·L sound practice, to 200 I, to 1000 II, to 3000 III,
//	          above IV
//	V ≤ 1 L:  PS to 1000 bar sound practice, to 3000 III, above IV
//
// Domain: PS, V ≥ 0. That large vessels to 4 bar stay in III is left out.
// Safety accessories are IV whatever their size.
//
// Source: directive 2014/68/EU, annex II, table 2: from memory. That it begins
// at 0.5 bar and counts both chambers: articles 1 and 2; that small vessels to
// 1000 bar are sound practice: article 4(1)(a)(i), as guideline A-05 tells it.
//
// Accuracy: to be confirmed by a competent body in every case.
func VesselCategory(ps, volume float64) Category {
	const litre = 1e-3
	// Rounded, so that a vessel on a boundary falls where its printed figures do.
	pressure, size := tidy(ps/bar), tidy(volume/litre)
	content := tidy(pressure * size)
	switch {
	case pressure <= 0.5:
		return NotCovered
	case size <= 1:
		return smallVessel(pressure)
	case content > 3000:
		return CategoryIV
	case content > 1000:
		return CategoryIII
	case content > 200:
		return CategoryII
	case content > 50:
		return CategoryI
	}
	return SoundPractice
}

func smallVessel(bar float64) Category {
	switch {
	case bar > 3000:
		return CategoryIV
	case bar > 1000:
		return CategoryIII
	}
	return SoundPractice
}

func tidy(x float64) float64 { return math.Round(x*1e6) / 1e6 }
