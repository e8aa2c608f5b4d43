package review

import (
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"headroom/specs"
	"headroom/specs/quantity"
)

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		from, to float64
		want     string
	}{
		{0, 10, "0 2 4 6 8 10"},
		{3, 207, "0 50 100 150 200 250"},
		{80, 92.4, "80 85 90 95"},
		{-0.001, 2.6, "0 1 2 3"},
		{-15, 5, "-15 -10 -5 0 5"},
		{5200, 5200, "4800 5000 5200 5400 5600"},
		{0, 0, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{0, 9.84e-5, "0.00000 0.00002 0.00004 0.00006 0.00008 0.00010"},
	} {
		s, ticks := around(span{c.from, c.to}, 5)
		var got []string
		for _, v := range ticks {
			got = append(got, tickText(v, ticks[1]-ticks[0]))
		}
		if text := strings.Join(got, " "); text != c.want {
			t.Errorf("from %g to %g: %s, not %s", c.from, c.to, text, c.want)
		}
		if s.high < c.to || s.low > math.Max(c.from, 0) {
			t.Errorf("from %g to %g: the axis runs from %g to %g", c.from, c.to, s.low, s.high)
		}
	}
	if s, ticks := around(nothing(), 5); s != (span{0, 1}) || len(ticks) != 6 {
		t.Errorf("of nothing: %v, %v", s, ticks)
	}
}

func TestUnits(t *testing.T) {
	for _, c := range []struct {
		d    quantity.Dimension
		si   float64
		want string
	}{
		{quantity.Pressure, 190e5, "190 bar"}, {quantity.Temperature, 353.15, "80.0 degC"}, {quantity.Length, 0.0026, "2.60 mm"},
		{quantity.Flow, 1e-3 / 60, "1.00 L/min"}, {quantity.RotationalSpeed, 2 * math.Pi * 50, "3000 rpm"}, {quantity.Volume, 0.111e-3, "0.111 L"},
	} {
		u := unitOf(c.d)
		if got := short(u.of(c.si)) + " " + u.name; got != c.want {
			t.Errorf("%g is %s, not %s", c.si, got, c.want)
		}
	}
}

// Thinning keeps every peak, and the ends.
func TestThinKeepsPeaks(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	var points []point
	low, high := math.Inf(1), math.Inf(-1)
	for i := range 5000 {
		v := math.Sin(float64(i)/200) + 0.2*random.NormFloat64()
		if i == 3333 {
			v = 9
		}
		points = append(points, point{float64(i) / 1000, v})
		low, high = min(low, v), max(high, v)
	}
	kept := thin(points, 0, 4.999)
	if len(kept) > 2*buckets+4 {
		t.Errorf("%d of %d points are kept", len(kept), len(points))
	}
	keptLow, keptHigh := math.Inf(1), math.Inf(-1)
	for i, q := range kept {
		keptLow, keptHigh = min(keptLow, q.v), max(keptHigh, q.v)
		if i > 0 && q.t < kept[i-1].t {
			t.Fatal("time runs backwards")
		}
	}
	if keptLow != low || keptHigh != high || kept[0] != points[0] || kept[len(kept)-1] != points[len(points)-1] {
		t.Errorf("from %g to %g, of %g to %g", keptLow, keptHigh, low, high)
	}
	line := straighten([]point{{0, 0}, {1, 1}, {2, 2.05}, {3, 3}, {4, 9}}, 0.1)
	if len(line) != 3 {
		t.Errorf("a line and a corner come to %v", line)
	}
}

// Labels at line ends keep apart, in their order, on the picture.
func TestSpread(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	for range 500 {
		at := make([]float64, 1+random.IntN(6))
		for i := range at {
			at[i] = 40 + 30*random.Float64()*float64(random.IntN(8))
		}
		slices.Sort(at)
		got := spread(at, 14, 44, 236)
		for i, y := range got {
			if y < 44-1e-6 || y > 236+1e-6 || i > 0 && y-got[i-1] < 13.9 {
				t.Fatalf("%v become %v", at, got)
			}
		}
	}
	if got := spread([]float64{50, 100}, 14, 44, 236); got[0] != 50 || got[1] != 100 {
		t.Errorf("what is apart is moved: %v", got)
	}
}

func ramp(name string, from, to float64) line {
	return line{name, [][]point{{{0, from}, {10, to}}}}
}

// A plot draws lines where their values are, limits, and the instants of findings
// together where they are close.
func TestPlot(t *testing.T) {
	p := &plot{title: "Pressures", unit: "bar", time: span{0, 10}, lines: []line{ramp("rail", 0, 200), ramp("a-node-with-a-very-long-name", 50, 50)}}
	p.limits = []limit{{text: "rail at least 130 bar", value: 130, time: span{2, 8}}, {text: "far away", value: 9000, time: span{0, 10}}}
	p.marks = []mark{{5, &finding{Number: 3, Rule: "a.b", Anchor: "f3"}}, {5.1, &finding{Number: 2, Rule: "c.d", Anchor: "f2"}}, {9, &finding{Number: 4, Rule: "e.f", Anchor: "f4"}}}
	got := string(p.svg("k"))
	for _, want := range []string{
		`<title id="k-t">Pressures</title>`, "rail: lowest 0 bar at 0 s, highest 200 bar at 10.0 s", "a-node-with-a-very-long-name: 50.0 bar throughout",
		"limit: rail at least 130 bar", `href="#f2"`, "▼2+1", "▼4", "finding 3, a.b, at 5.00 s", `stroke-dasharray="8 4"`, "a-node-with…-name", `tabindex="0" role="img"`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s", want)
		}
	}
	if strings.Contains(got, "far away") || len(p.notes) != 1 || p.notes[0] != "Off the picture: far away." {
		t.Errorf("a limit far away: %v", p.notes)
	}
	axis := regexp.MustCompile(`data-t="(\S+) (\S+) (\S+) (\S+)" data-v="(\S+) (\S+) (\S+) (\S+)"`).FindStringSubmatch(got)
	line := regexp.MustCompile(`points="(\S+),(\S+) (\S+),(\S+)"`).FindStringSubmatch(got)
	if axis == nil || line == nil {
		t.Fatal(got)
	}
	at := func(text string) float64 { v, _ := strconv.ParseFloat(text, 64); return v }
	read := func(y string) float64 {
		return at(axis[5]) + (at(axis[6])-at(axis[5]))*(at(axis[7])-at(y))/(at(axis[7])-at(axis[8]))
	}
	if v := read(line[2]); math.Abs(v) > 0.2 {
		t.Errorf("the line begins at %g", v)
	}
	if v := read(line[4]); math.Abs(v-200) > 0.2 || line[3] != axis[4] {
		t.Errorf("the line ends at %g", v)
	}
}

// Labels of limits keep off each other and off lines where there is room.
func TestLimitLabels(t *testing.T) {
	f := &frame{left: 40, right: 380, top: 40, bottom: 236, time: span{0, 10}, value: span{0, 300}}
	p := &plot{lines: []line{ramp("rail", 203, 203)}}
	limits := []limit{{text: "pump rated 250 bar", value: 250, time: span{0, 10}}, {text: "relief cracks at 228 bar", value: 228, time: span{0, 10}}, {text: "rail at least 130 bar", value: 130, time: span{0, 10}}, {text: "down within 1.2 s", value: 0, time: span{2, 4}, upright: true}}
	boxes := p.drawLimits(&pen{}, f, limits)
	for i, b := range boxes {
		if b.x < f.left || b.x+b.width > f.right || b.y < f.top || b.y > f.bottom {
			t.Errorf("%s is off the picture: %+v", b.text, b)
		}
		for _, o := range boxes[:i] {
			if b.overlaps(o) {
				t.Errorf("%s covers %s", b.text, o.text)
			}
		}
		if y := f.y(203); b.y-10 < y && y < b.y+2 {
			t.Errorf("%s lies on the line", b.text)
		}
	}
}

// The exact span is marked, whatever stands on the line.
func TestExcerpt(t *testing.T) {
	text := []byte("\ufeffa: 1\r\n\tb: \"é ° x\" # c\r\n  c: [1,\r\n      2]\r\nd: 4\r\n\r\n")
	marked := func(at specs.Span) string {
		var out []string
		for _, l := range excerpt(text, at) {
			if l.Hit {
				out = append(out, l.Before+"<"+l.Marked+">"+l.After)
			}
		}
		return strings.Join(out, "|")
	}
	for _, c := range []struct {
		at   specs.Span
		want string
	}{
		{specs.Span{Line: 1, Column: 4, EndLine: 1, EndColumn: 5}, "a: <1>"},
		{specs.Span{Line: 2, Column: 5, EndLine: 2, EndColumn: 12}, "\tb: <\"é ° x\"> # c"},
		{specs.Span{Line: 3, Column: 6, EndLine: 4, EndColumn: 9}, "  c: <[1,>|      <2]>"},
		{specs.Span{Line: 5, Column: 90, EndLine: 5, EndColumn: 99}, "d: 4<>"},
		{specs.Span{Line: 99, Column: 1, EndLine: 99, EndColumn: 2}, ""},
		{specs.Span{}, ""},
	} {
		if got := marked(c.at); got != c.want {
			t.Errorf("%+v: %q, not %q", c.at, got, c.want)
		}
	}
	if lines := excerpt(text, specs.Span{Line: 3, Column: 1, EndLine: 3, EndColumn: 2}); len(lines) != 5 || lines[0].Number != 1 {
		t.Errorf("%+v", lines)
	}
	if excerpt(nil, specs.Span{Line: 1}) != nil {
		t.Error("there is an excerpt of nothing")
	}
}
