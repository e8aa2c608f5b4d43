package quantity

import (
	"errors"
	"math"
	"testing"
)

// FuzzParse: whatever the text, Parse and ParseAny come back with a finite value that
// prints and reads back, or with an error that points into the text.
func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"210 bar", "0.8 bar abs", "0.2 bar diff", "62 degC", "-40 °F", "5 K", "12 L/min", "1 gal (US)/min", "16 cm3/rev", "1500 rpm",
		"40 /h", "2.0e-8 1/Pa", "1.95 kJ/(kg·K)", "1 N·s/m", "2 m s⁻²", "3 kg*m^2", "50 %", "1e300 GPa2", "2,5 bar", "5 baar", "\u22125 m", "5\u00a0bar", "1/", "5 J/(kg",
	} {
		f.Add(text, uint8(Pressure))
		f.Add(text, uint8(Number))
	}
	f.Fuzz(func(t *testing.T, text string, want uint8) {
		d := Dimension(want) // beyond the last as well
		v, err := Parse(text, d)
		holds(t, text, v, d, err)
		v, any, err := ParseAny(text)
		holds(t, text, v, any, err)
	})
}

func holds(t *testing.T, text string, v Value, d Dimension, err error) {
	if err != nil {
		var e *Error
		if !errors.As(err, &e) || e.Message == "" {
			t.Fatalf("%q: error %v", text, err)
		}
		if e.Offset < 0 || e.Length < 0 || e.Offset+e.Length > len(text) {
			t.Fatalf("%q: the error points at %d, %d long", text, e.Offset, e.Length)
		}
		return
	}
	if math.IsNaN(v.SI) || math.IsInf(v.SI, 0) {
		t.Fatalf("%q = %v", text, v.SI)
	}
	printed := d.Format(v.SI)
	again, err := Parse(printed, d)
	if err != nil {
		var e *Error // the rounding of an extreme value may leave the range of float64
		if errors.As(err, &e) && e.Kind == OutOfRange || printed == "infinite" || printed == "minus infinite" {
			return
		}
		t.Fatalf("%q prints %q: %v", text, printed, err)
	}
	if twice := d.Format(again.SI); twice != printed {
		t.Fatalf("%q prints %q, then %q", text, printed, twice)
	}
}
