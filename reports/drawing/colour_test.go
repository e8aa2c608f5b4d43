package drawing

import (
	"math"
	"regexp"
	"strconv"
	"testing"
)

// All letters and lines stand out from the paper by 4.5 : 1 at least, in light, dark
// and print: WCAG 2.1, success criterion 1.4.3, with its relative luminance.
func TestContrast(t *testing.T) {
	schemes := regexp.MustCompile(`\{(--paper:[^}]*)\}`).FindAllStringSubmatch(styles, -1)
	if len(schemes) != 3 {
		t.Fatalf("%d schemes of colours", len(schemes))
	}
	for i, s := range schemes {
		colours := map[string]string{}
		for _, m := range regexp.MustCompile(`--([a-z]+):#([0-9a-f]{6})`).FindAllStringSubmatch(s[1], -1) {
			colours[m[1]] = m[2]
		}
		paper := luminance(t, colours["paper"])
		for _, k := range standings {
			if colours[k.standing.class()] == "" {
				t.Errorf("scheme %d has no colour for %s", i, k.standing)
			}
		}
		for name, c := range colours {
			if name == "paper" {
				continue
			}
			l := luminance(t, c)
			if ratio := (max(l, paper) + 0.05) / (min(l, paper) + 0.05); ratio < 4.5 {
				t.Errorf("scheme %d: %s #%s stands out by %.2f : 1 alone", i, name, c, ratio)
			}
		}
	}
}

func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		v, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(v) / 255
		if c <= 0.03928 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}
