package drawing

import (
	"regexp"
	"slices"
	"strconv"
	"testing"
)

// The widths that the layout reckons with are those of the sizes that are written.
func TestFacesAreThoseOfTheStyles(t *testing.T) {
	for class, f := range faces {
		rule := regexp.MustCompile(`\.circuit-drawing \.` + class + `\{[^}]*\}`).FindString(styles)
		size, bold := 13.0, false // of .circuit-drawing text
		if m := regexp.MustCompile(`font-size:([0-9]+)px`).FindStringSubmatch(rule); m != nil {
			size, _ = strconv.ParseFloat(m[1], 64)
		}
		bold = regexp.MustCompile(`font-weight:600`).MatchString(rule)
		if (face{size, bold}) != f {
			t.Errorf("letters of class %s are reckoned as %v and set as %v", class, f, face{size, bold})
		}
	}
}

// Widths by hand from the advances: regular a 613, bold m 1042, minus as plus.
func TestWidthOf(t *testing.T) {
	for _, c := range []struct {
		text string
		f    face
		want float64
	}{
		{"", nameFace, 0},
		{"a", face{1000, false}, 613},
		{"m~", face{1000, true}, 1042 + 838},
		{"−1", face{100, false}, 83.8 + 63.6},
		{"Ж", face{1000, false}, 1100},
	} {
		if got := widthOf(c.text, c.f); got < c.want-1e-9 || got > c.want+1e-9 {
			t.Errorf("%q is %g wide, not %g", c.text, got, c.want)
		}
	}
}

func TestBroken(t *testing.T) {
	for name, want := range map[string][]string{
		"pump":                       {"pump"},
		"clutch-cylinder":            {"clutch-cylinder"},
		"steering-return-hose":       {"steering-", "return-hose"},
		"averyveryverylongname-x":    {"averyveryverylo", "ngname-x"},
		"-":                          {"-"},
		"":                           nil,
		"exactly-fifteen-characters": {"exactly-", "fifteen-", "characters"},
	} {
		if got := broken(name); !slices.Equal(got, want) {
			t.Errorf("%s is broken into %q", name, got)
		}
	}
}
