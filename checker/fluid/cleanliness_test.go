package fluid

import (
	"strings"
	"testing"
)

// ISO 4406:1999, table 1, in particles per millilitre.
func TestScaleLimits(t *testing.T) {
	limits := map[int]float64{
		11: 20, 12: 40, 13: 80, 14: 160, 15: 320, 16: 640, 17: 1300, 18: 2500, 19: 5000,
		20: 10000, 21: 20000, 22: 40000, 23: 80000, 24: 160000,
		0: 0.01, 1: 0.02, 2: 0.04, 3: 0.08, 4: 0.16, 5: 0.32, 6: 0.64, 7: 1.3, 8: 2.5, 9: 5, 10: 10,
		25: 320000, 26: 640000, 27: 1300000, 28: 2500000,
	}
	for n, want := range limits {
		above, upTo, ok := ScaleLimits(n)
		if !ok {
			t.Errorf("no limits for %d", n)
		}
		near(t, "upper limit", upTo, want, 1e-12)
		if n > 0 {
			_, below, _ := ScaleLimits(n - 1)
			near(t, "lower limit", above, below, 1e-12)
			if step := upTo / above; step < 1.9 || step > 2.05 {
				t.Errorf("scale number %d is %.2f wide, want about 2", n, step)
			}
		} else if above != 0 {
			t.Errorf("scale number 0 begins at %g", above)
		}
	}
	for _, n := range []int{-1, 29} {
		if _, _, ok := ScaleLimits(n); ok {
			t.Errorf("limits for %d", n)
		}
	}
}

// ISO 4406: 19/16/13 stands for 2500 to 5000, 320 to 640 and 40 to 80
// particles per millilitre above 4, 6 and 14 µm(c).
func TestCodeExample(t *testing.T) {
	c, err := ParseCleanliness("19/16/13")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		n           int
		above, upTo float64
	}{{c.Over4, 2500, 5000}, {c.Over6, 320, 640}, {c.Over14, 40, 80}} {
		above, upTo, _ := ScaleLimits(row.n)
		near(t, "above", above, row.above, 1e-12)
		near(t, "up to", upTo, row.upTo, 1e-12)
		if n, ok := ScaleNumber(upTo); !ok || n != row.n {
			t.Errorf("ScaleNumber(%g) = %d, %v", upTo, n, ok)
		}
		if n, ok := ScaleNumber(above * 1.0001); !ok || n != row.n {
			t.Errorf("ScaleNumber(%g) = %d, %v", above*1.0001, n, ok)
		}
	}
	for _, count := range []float64{-1, 2.6e6} {
		if n, ok := ScaleNumber(count); ok {
			t.Errorf("ScaleNumber(%g) = %d", count, n)
		}
	}
	if n, ok := ScaleNumber(2.4e6); !ok || n != 28 {
		t.Errorf("ScaleNumber(2.4e6) = %d, %v", n, ok)
	}
	if n, ok := ScaleNumber(0); !ok || n != 0 {
		t.Errorf("ScaleNumber(0) = %d, %v", n, ok)
	}
}

func TestParseCleanliness(t *testing.T) {
	for text, want := range map[string]Cleanliness{
		"18/16/13":     {18, 16, 13},
		"-/16/13":      {NotCounted, 16, 13},
		"18/-/13":      {18, NotCounted, 13},
		" 18 / 16/ 13": {18, 16, 13},
		"16/16/16":     {16, 16, 16},
		"28/0/0":       {28, 0, 0},
	} {
		got, err := ParseCleanliness(text)
		if err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
		if again, err := ParseCleanliness(got.String()); err != nil || again != got {
			t.Errorf("%q written as %q reads back %v, %v", text, got, again, err)
		}
	}
	for text, says := range map[string]string{
		"16/13":      "three numbers",
		"":           "three numbers",
		"18/16/13/9": "three numbers",
		"18/16/x":    `"x" is not`,
		"29/16/13":   `"29" is not`,
		"-1/16/13":   `"-1" is not`,
		"13/16/18":   "cannot rise",
		"16/-/17":    "cannot rise",
	} {
		if _, err := ParseCleanliness(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: error %v, want %q in it", text, err, says)
		}
	}
}

func TestOverTarget(t *testing.T) {
	for _, row := range []struct {
		have, want string
		over       int
		ok         bool
	}{
		{"18/16/13", "18/16/13", 0, true},
		{"17/15/12", "18/16/13", -1, true},
		{"17/15/15", "18/16/13", 2, true},
		{"20/16/13", "18/16/13", 2, true},
		{"18/17/13", "18/16/13", 1, true},
		{"0/0/0", "28/28/28", -28, true},
		{"18/16/13", "-/16/13", 0, true},
		{"20/16/13", "-/17/14", -1, true},
		{"-/16/13", "18/16/13", 0, false},
		{"18/16/13", "-/-/-", 0, false},
	} {
		have, err := ParseCleanliness(row.have)
		if err != nil {
			t.Fatal(err)
		}
		want, err := ParseCleanliness(row.want)
		if err != nil {
			t.Fatal(err)
		}
		if over, ok := have.Over(want); ok != row.ok || ok && over != row.over {
			t.Errorf("%s over %s = %d, %v; want %d, %v", row.have, row.want, over, ok, row.over, row.ok)
		}
	}
}
