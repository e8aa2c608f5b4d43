package specs

import (
	"strings"
	"testing"
	"time"
)

// FuzzDate: a day that a concession may last until is one of the calendar, written in
// the one way in which days compare as texts do.
func FuzzDate(f *testing.F) {
	for _, text := range []string{"2027-03-01", "2028-02-29", "2027-02-29", "2027-3-1", "0000-01-01", "27-03-01", "2027-03-01T00:00:00Z", " 2027-03-01", "２０２７-03-01"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		message := date(text)
		day, err := time.Parse("2006-01-02", text)
		if (message == "") != (err == nil) {
			t.Errorf("%q: %s, %v", text, message, err)
		}
		if message == "" && (day.Format("2006-01-02") != text || len(text) != 10) {
			t.Errorf("%q is taken for %v", text, day)
		}
		concession := "headroom: 1\ncircuit: c\nconcessions:\n- {rule: mass.budget, by: us, because: so, until: '" + strings.ReplaceAll(text, "'", "''") + "'}\n"
		c := Read("c.yaml", []byte(concession))
		soundProblems(t, c.Problems, []byte(concession))
		if message != "" && len(c.Concessions) == 1 && c.Concessions[0].Until.Given() {
			t.Errorf("%q is kept as a day", text)
		}
	})
}

// FuzzForms: each form of a text takes it, or says in words why not.
func FuzzForms(f *testing.F) {
	for _, text := range []string{"rail-2", "lines.velocity", "18/16/13", "-/16/13", "circuits/**/*.yaml", "[", "../x", "NBR", "E235", "HM", ""} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for name, form := range forms {
			if message := form.judge(text); message != "" && len(strings.Fields(message)) < 3 {
				t.Errorf("%s says of %q only %q", name, text, message)
			}
		}
		if code, fine := ParseCleanliness(text); fine && (code[1] < code[2] || code[0] >= 0 && code[0] < code[1] || code[2] < 0 || code[1] > maxScaleNumber) {
			t.Errorf("%q is the code %v", text, code)
		}
		if globForm(text) == "" {
			matchSegments(strings.Split(text, "/"), strings.Split("a/b/c.yaml", "/"))
		}
	})
}
