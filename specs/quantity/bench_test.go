package quantity

import "testing"

func BenchmarkParse(b *testing.B) {
	for _, bench := range []struct {
		name, text string
		want       Dimension
	}{
		{"bar", "210 bar", Pressure},
		{"abs", "0.8 bar abs", AbsolutePressure},
		{"degC", "-10 degC", Temperature},
		{"compound", "12 L/min", Flow},
		{"number", "0.61", Number},
		{"unusual", "1.95 kJ/(kg·K)", SpecificHeat},
		{"typing-error", "210 baar", Pressure},
	} {
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Parse(bench.text, bench.want)
			}
		})
	}
}

func BenchmarkFormat(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Time.Format(2.314)
	}
}

func BenchmarkFormatAlike(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Pressure.FormatAlike(210.2e5, 210e5)
	}
}

// BenchmarkTables is what the package costs a program that starts.
func BenchmarkTables(b *testing.B) {
	for b.Loop() {
		spellings()
		shortCuts()
		readPrintings()
	}
}
