package quantity

import (
	"errors"
	"strings"
	"testing"
)

// TestErrors holds every message in full, with the piece of the text that it points at.
func TestErrors(t *testing.T) {
	tests := []struct {
		text    string
		want    Dimension
		kind    Kind
		piece   string
		message string
	}{
		// units of something else
		{"210 L/min", Pressure, WrongDimension, "L/min", "L/min is a flow; a pressure is needed here, such as bar, MPa or psi"},
		{"5 g", Acceleration, WrongDimension, "g", "g is a mass; an acceleration is needed here, such as m/s2 or g0"},
		{"5 kg", Force, WrongDimension, "kg", "kg is a mass; a force is needed here, such as N, kN or lbf"},
		{"5 L/m", Flow, WrongDimension, "L/m", "L/m is an area; a flow is needed here, such as L/min, gpm or cm3/s"},
		{"5 N·m", Energy, WrongDimension, "N·m", "N·m is a torque; an energy is needed here, such as J, kJ or MJ"},
		{"5 J", Torque, WrongDimension, "J", "J is an energy; a torque is needed here, such as N·m, kN·m or lbf·ft"},
		{"5 nm", Torque, WrongDimension, "nm", "nm is a length; a torque is needed here, such as N·m, kN·m or lbf·ft"},
		{"5 N/mm", EnergyPerArea, WrongDimension, "N/mm", "N/mm is a spring rate; an energy per area is needed here, such as J/m2, kJ/m2 or J/cm2"},
		{"5 J/m2", SpringRate, WrongDimension, "J/m2", "J/m2 is an energy per area; a spring rate is needed here, such as N/mm, kN/m or lbf/in"},
		{"5 cm3/rev", TorquePerPressure, WrongDimension, "cm3/rev", "cm3/rev is a displacement; a torque per pressure is needed here, such as N·m/bar or N·m/MPa"},
		{"5 s", Frequency, WrongDimension, "s", "s is a time; a frequency is needed here, such as /h, /min or Hz"},
		{"5 bar abs ", Flow, WrongDimension, "bar abs", "bar abs is an absolute pressure; a flow is needed here, such as L/min, gpm or cm3/s"},
		{"5 bar", Number, WrongDimension, "bar", "bar is a pressure; a plain number is needed here, such as 0.5 or 50 %"},
		{"5 m4", Length, WrongDimension, "m4", "m4 fits no quantity known here; a length is needed here, such as mm, m or in"},
		{"5 m4", nameless, WrongDimension, "m4", "m4 fits no quantity known here"},
		{"5 N·m/s", Power, WrongDimension, "N·m/s", "N·m/s fits no quantity known here; a power is needed here, such as W, kW or hp"},

		// the angle
		{"16 cm3", Displacement, WrongDimension, "cm3", "cm3 is a volume; a displacement is needed here, such as cm3/rev, L/rev or in3/rev: the revolution must be written"},
		{"1500 1/min", RotationalSpeed, WrongDimension, "1/min", "1/min is a frequency; a rotational speed is needed here, such as rpm, rad/s or rev/s: the revolution must be written"},
		{"25 Hz", RotationalSpeed, WrongDimension, "Hz", "Hz is a frequency; a rotational speed is needed here, such as rpm, rad/s or rev/s: the revolution must be written"},
		{"40 rpm", Frequency, WrongDimension, "rpm", "rpm is a rotational speed; a frequency is needed here, such as /h, /min or Hz"},

		// levels and differences
		{"5 degC", TemperatureDifference, WrongDimension, "degC", "degC is a unit of temperature; a temperature difference is written in K"},
		{"5 °F", TemperatureDifference, WrongDimension, "°F", "°F is a unit of temperature; a temperature difference is written in K"},
		{"3 bar abs", PressureDifference, AbsNotAllowed, "bar abs", "a pressure difference takes no air pressure; leave out abs"},
		{"3 bar diff", Pressure, DiffNotAllowed, "bar diff", "a pressure is needed here, not a difference; leave out diff"},
		{"3 psi", AbsolutePressure, AbsRequired, "psi", "an absolute pressure must say so; write psi abs"},
		{"3 bar diff", AbsolutePressure, AbsRequired, "bar diff", "an absolute pressure must say so; write abs instead of diff"},
		{"3 L abs", Volume, AbsNotAllowed, "abs", "abs belongs behind a pressure only"},
		{"3 degC abs", Temperature, AbsNotAllowed, "abs", "abs belongs behind a pressure only"},
		{"3 L diff", Volume, DiffNotAllowed, "diff", "diff belongs behind a pressure only"},

		// no unit, no number
		{" 210 ", Pressure, MissingUnit, "210", "210 has no unit; a pressure is needed here, such as bar, MPa or psi"},
		{"5", TemperatureDifference, MissingUnit, "5", "5 has no unit; a temperature difference is needed here, such as K"},
		{"", Pressure, BadNumber, "", "there is nothing here; a quantity is a number and a unit, as in 210 bar"},
		{"  ", Pressure, BadNumber, "", "there is nothing here; a quantity is a number and a unit, as in 210 bar"},
		{"bar", Pressure, BadNumber, "bar", "bar is not a number; a quantity starts with one, as in 210 bar"},
		{"ca. 5 bar", Pressure, BadNumber, "ca.", "ca. is not a number; a quantity starts with one, as in 210 bar"},
		{"~5 bar", Pressure, BadNumber, "~5", "~5 is not a number; a quantity starts with one, as in 210 bar"},
		{"inf bar", Pressure, BadNumber, "inf", "inf is not a number; a quantity starts with one, as in 210 bar"},
		{"NaN bar", Pressure, BadNumber, "NaN", "NaN is not a number; a quantity starts with one, as in 210 bar"},
		{"--5 bar", Pressure, BadNumber, "--5", "--5 is not a number; a quantity starts with one, as in 210 bar"},
		{"\u2212-5 bar", Pressure, BadNumber, "\u2212-5", "\u2212-5 is not a number; a quantity starts with one, as in 210 bar"},
		{"true", Number, BadNumber, "true", "true is not a number; a quantity starts with one, as in 210 bar"},

		// numbers written another way
		{"2,5 bar", Pressure, BadNumber, "2,5", "2,5 has a comma; write a decimal point, as in 2.5, and no signs between thousands"},
		{"1,000.5 L", Volume, BadNumber, "1,000.5", "1,000.5 has a comma; write a decimal point, as in 2.5, and no signs between thousands"},
		{"1_000 L", Volume, BadNumber, "1_000", "1_000 groups its digits; write them without a sign between"},
		{"1'000 L", Volume, BadNumber, "1'000", "1'000 groups its digits; write them without a sign between"},
		{"10 000 L", Volume, BadNumber, "10 000", "10 000 is two numbers; digits are written without spaces between"},
		{"1.2.3 bar", Pressure, BadNumber, "1.2.3", "1.2.3 is not a number; it has two decimal points"},
		{"5-6 bar", Pressure, BadNumber, "5-6 bar", "5-6 bar is not one value; write a single number and its unit"},
		{"5 \u2013 6 bar", Pressure, BadNumber, "5 \u2013 6 bar", "5 \u2013 6 bar is not one value; write a single number and its unit"},
		{"5 ± 1 bar", Pressure, BadNumber, "5 ± 1 bar", "5 ± 1 bar is not one value; write a single number and its unit"},

		// misspelt units
		{"210 baar", Pressure, UnknownUnit, "baar", "unknown unit baar; did you mean bar?"},
		{"210 BAR", Pressure, UnknownUnit, "BAR", "unknown unit BAR; did you mean bar?"},
		{"5 mpa", Pressure, UnknownUnit, "mpa", "unknown unit mpa; did you mean MPa?"},
		{"5 mpa·s", DynamicViscosity, UnknownUnit, "mpa", "unknown unit mpa; did you mean mPa?"},
		{"5 psig", Pressure, UnknownUnit, "psig", "unknown unit psig; did you mean psi?"},
		{"5 psia", Pressure, UnknownUnit, "psia", "unknown unit psia; did you mean psi abs?"},
		{"5 bar absolute", Pressure, UnknownUnit, "absolute", "unknown unit absolute; did you mean abs?"},
		{"5 rmp", RotationalSpeed, UnknownUnit, "rmp", "unknown unit rmp; did you mean rpm?"},
		{"5 L/mn", Flow, UnknownUnit, "mn", "unknown unit mn; did you mean min?"},
		{"5 Liters/min", Flow, UnknownUnit, "Liters", "unknown unit Liters; did you mean L?"},
		{"5 cm3/U", Displacement, UnknownUnit, "U", "unknown unit U; did you mean rev?"},
		{"5 cm3/rv", Displacement, UnknownUnit, "rv", "unknown unit rv; did you mean rev?"},
		{"5 N.m", Torque, UnknownUnit, "N.m", "unknown unit N.m; did you mean N·m?"},
		{"5 C", Temperature, UnknownUnit, "C", "unknown unit C; did you mean degC?"},
		{"5 k", TemperatureDifference, UnknownUnit, "k", "unknown unit k; did you mean K?"},
		{"5 mPas", DynamicViscosity, UnknownUnit, "mPas", "unknown unit mPas; did you mean mPa·s?"},
		{"5 kJ/kgK", SpecificHeat, UnknownUnit, "kgK", "unknown unit kgK; did you mean kg/K?"},
		{"5 foo", Pressure, UnknownUnit, "foo", "unknown unit foo; a pressure is needed here, such as bar, MPa or psi"},
		{"5 foo", nameless, UnknownUnit, "foo", "unknown unit foo"},
		{"5 foo/fie", Flow, UnknownUnit, "foo", "unknown unit foo; a flow is needed here, such as L/min, gpm or cm3/s"},

		// units put together wrongly
		{"5 J/kg·K", SpecificHeat, Malformed, "·K", "a product behind a quotient is ambiguous; divide again, as in kJ/kg/K, or write parentheses, as in kJ/(kg·K)"},
		{"5 J/(kg·K", SpecificHeat, Malformed, "(kg·K", "the parenthesis is not closed"},
		{"5 J/(kg/K)", SpecificHeat, Malformed, "/", "parentheses hold a product, as in kJ/(kg·K)"},
		{"5 (m)", Length, Malformed, "(", "parentheses stand behind a quotient only, as in kJ/(kg·K); abs and diff take none"},
		{"5 bar(abs)", Pressure, Malformed, "(", "parentheses stand behind a quotient only, as in kJ/(kg·K); abs and diff take none"},
		{"5 J/(kg·", SpecificHeat, Malformed, "", "the unit breaks off; a symbol is missing at its end"},
		{"5 J/(kg·K)2", SpecificHeat, Malformed, "2", "a product behind a quotient is ambiguous; divide again, as in kJ/kg/K, or write parentheses, as in kJ/(kg·K)"},
		{"5 m/", Length, Malformed, "", "the unit breaks off; a symbol is missing at its end"},
		{"5 m//s", Velocity, Malformed, "/", "/ has no meaning here; units are joined by · and /"},
		{"5 N-m", Torque, Malformed, "-", "- has no meaning here; units are joined by · and /"},
		{"5 m5", Length, Malformed, "5", "an exponent is one digit from 1 to 4, as in m2, m^2 or m²"},
		{"5 m12", Length, Malformed, "12", "an exponent is one digit from 1 to 4, as in m2, m^2 or m²"},
		{"5 m0", Length, Malformed, "0", "an exponent is one digit from 1 to 4, as in m2, m^2 or m²"},
		{"5 m^", Length, Malformed, "^", "an exponent is one digit from 1 to 4, as in m2, m^2 or m²"},
		{"5 m⁻", Length, Malformed, "⁻", "an exponent is one digit from 1 to 4, as in m2, m^2 or m²"},
		{"5 m²²", Length, Malformed, "²²", "an exponent is one digit from 1 to 4, as in m2, m^2 or m²"},
		{"5 W/degC", Conductance, Malformed, "degC", "degC names a temperature; a unit made of several takes K"},
		{"5 degC2", Temperature, Malformed, "degC2", "degC2 names a temperature; a unit made of several takes K"},

		// text that cannot be meant
		{"5 bar\tabs", Pressure, Malformed, "\t", "character U+0009 cannot be printed and has no place in a quantity"},
		{"\x005 bar", Pressure, Malformed, "\x00", "character U+0000 cannot be printed and has no place in a quantity"},
		{"5 \u202ebar", Pressure, Malformed, "\u202e", "character U+202E cannot be printed and has no place in a quantity"},
		{"5 bar\xff", Pressure, Malformed, "\xff", "byte 0xff is not text in UTF-8"},
		{strings.Repeat("9", 101), Number, Malformed, strings.Repeat("9", 101), "a quantity of 101 characters is too long"},

		// values that cannot be
		{"1e400 bar", Pressure, OutOfRange, "1e400", "1e400 is too large to compute with: the most is 1e20 in SI units"},
		{"1e308 bar", Pressure, OutOfRange, "1e308 bar", "1e308 bar is too large to compute with: the most is 1e20 in SI units"},
		{"1e-400 bar", Pressure, OutOfRange, "1e-400", "1e-400 is too small to compute with: the least is 1e-25 in SI units"},
		{"2e23 mm", Length, OutOfRange, "2e23 mm", "2e23 mm is too large to compute with: the most is 1e20 in SI units"},
		{"-2e20 K", TemperatureDifference, OutOfRange, "-2e20 K", "-2e20 K is too large to compute with: the most is 1e20 in SI units"},
		{"1e-26 m", Length, OutOfRange, "1e-26 m", "1e-26 m is too small to compute with: the least is 1e-25 in SI units"},
		{"5e-324 mm", Length, OutOfRange, "5e-324 mm", "5e-324 mm is too small to compute with: the least is 1e-25 in SI units"},
		{"-300 degC", Temperature, OutOfRange, "-300 degC", "-300 degC is below absolute zero, -273.15 degC"},
		{"-1 K", Temperature, OutOfRange, "-1 K", "-1 K is below absolute zero, -273.15 degC"},
		{"-0.1 bar abs", AbsolutePressure, OutOfRange, "-0.1 bar abs", "-0.1 bar abs is below vacuum: an absolute pressure is never negative"},
		{"-0.1 bar abs ", Pressure, OutOfRange, "-0.1 bar abs", "-0.1 bar abs is below vacuum: an absolute pressure is never negative"},
	}
	for _, test := range tests {
		err := readAs(test.text, test.want)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q as %v: no error", test.text, test.want)
			continue
		}
		if e.Message != test.message || e.Kind != test.kind {
			t.Errorf("%q as %v:\n got %d %s\nwant %d %s", test.text, test.want, e.Kind, e.Message, test.kind, test.message)
		}
		if piece := test.text[e.Offset : e.Offset+e.Length]; piece != test.piece {
			t.Errorf("%q as %v points at %q, want %q", test.text, test.want, piece, test.piece)
		}
	}
}

// TestErrorOfNoDimension: a dimension that does not exist is an error like others.
func TestErrorOfNoDimension(t *testing.T) {
	for text, message := range map[string]string{
		"5":      "5 is a number",
		"5 bar ": "bar is a pressure",
		"5 m4":   "m4 fits no quantity known here",
		"5 baar": "unknown unit baar; did you mean bar?",
	} {
		if _, err := Parse(text, nameless); err == nil || err.Error() != message {
			t.Errorf("%q: %v, want %s", text, err, message)
		}
	}
}

// readAs reads text as the dimension, as any where it is nameless.
func readAs(text string, want Dimension) (err error) {
	if want == nameless {
		_, _, err = ParseAny(text)
	} else {
		_, err = Parse(text, want)
	}
	return err
}

// TestSlipsLeadSomewhere: what is suggested for a slip can be read, or is the word that
// belongs behind a pressure; and no slip hides a unit that exists.
func TestSlipsLeadSomewhere(t *testing.T) {
	for slip, unit := range slips {
		if _, err := readUnit(unit, 0, nameless); err != nil && unit != "abs" && unit != "diff" {
			t.Errorf("%s leads to %s: %v", slip, unit, err)
		}
		if _, known := spelled[slip]; known {
			t.Errorf("%s is a unit", slip)
		}
	}
}
