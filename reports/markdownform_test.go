package reports

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"headroom/rules"
	"headroom/rules/changes"
)

// inert are the only tags that a comment has, and pieces of code, in which nothing is in
// force.
var inert = regexp.MustCompile("<!-- headroom -->|</?details>|</?summary>|`[^`\n]*`")

var escaped = regexp.MustCompile(`\\.`)

// sound fails where a comment is too large, where tables are ragged, where folds are not
// closed, and where a text of the spec is in force.
func sound(t *testing.T, out []byte) {
	t.Helper()
	text := string(out)
	if len(out) > mostMarkdown {
		t.Errorf("%d bytes", len(out))
	}
	if strings.Count(text, "<details>") != strings.Count(text, "</details>") {
		t.Error("a fold is not closed")
	}
	if rest := inert.ReplaceAllString(escaped.ReplaceAllString(text, ""), ""); strings.ContainsAny(rest, "<") || strings.Contains(rest, "@all") {
		t.Errorf("a tag or a mention is in force:\n%s", rest)
	}
	width := 0
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, "|") {
			width = 0
			continue
		}
		cells := strings.Count(escaped.ReplaceAllString(line, ""), "|")
		if width != 0 && cells != width {
			t.Errorf("%d cells, not %d: %s", cells-1, width-1, line)
		}
		width = cells
	}
	if !strings.HasPrefix(text, Marker+"\n## headroom: ") || !strings.HasSuffix(text, Caution+"\n") {
		t.Errorf("it does not begin with a verdict and end with the caution:\n%s", text)
	}
}

// Exact output, safe whatever texts are in it.
func TestMarkdownExactly(t *testing.T) {
	exactly(t, "markdown", "md", sound)
	since := someRun
	since.Since = &Since{"v1.4", []*changes.Comparison{changed(), {Old: clean(), New: clean()}}}
	expect(t, "since.md", told(t, "markdown", Options{}, since, some()...))
	for _, text := range hostileTexts {
		old := hostile(text)
		sound(t, told(t, "markdown", Options{}, Run{Notices: []string{text}, Since: &Since{text, []*changes.Comparison{changes.Between(nil, old)}}}, hostile(text)))
	}
}

// many is a result with so many findings of each grade.
func many(n int) *rules.Result {
	r := described(broken())[0]
	var all []*rules.Assessment
	for _, a := range r.Judgement.Findings {
		for i := range n {
			one := *a
			one.Subject.Name = fmt.Sprintf("part-%d", i)
			one.Message = strings.Repeat("a long story ", 20)
			all = append(all, &one)
		}
	}
	r.Judgement.Findings, r.Judgement.Assessments = all, all
	for i := range n {
		r.Judgement.NotAssessed = append(r.Judgement.NotAssessed, &rules.Unassessed{Rule: all[0].Rule, Missing: []string{fmt.Sprintf("parts.part-%d.mass", i)}})
	}
	return r
}

// However much is found, a comment fits, keeps what is gravest, and counts what it
// leaves out.
func TestMarkdownFits(t *testing.T) {
	out := told(t, "markdown", Options{}, Run{}, many(2000))
	sound(t, out)
	rows := regexp.MustCompile(`(?m)^\| (critical|minor) \|`).FindAllString(string(out), -1)
	if len(rows) < 20 || slices.Contains(rows, "| minor |") {
		t.Errorf("%d rows, %v", len(rows), slices.Compact(rows))
	}
	if !strings.Contains(string(out), fmt.Sprintf("| %d more |", 4000-len(rows))) {
		t.Error("what is left out is not counted")
	}
	var crowd []*rules.Result
	for i := range 3000 {
		r := clean()
		if i == 2999 {
			r = many(3)
		}
		r.Circuit.File = fmt.Sprintf("circuits/%d.yaml", i)
		crowd = append(crowd, r)
	}
	out = told(t, "markdown", Options{}, Run{}, crowd...)
	sound(t, out)
	first, _, _ := strings.Cut(string(out), " · Ropeway winch")
	if !strings.Contains(first, "## headroom: 3000 circuits: 1 broken, 2999 hold") || !strings.HasSuffix(first, "### circuits/2999.yaml") {
		t.Errorf("the broken circuit is not told first: %s", first)
	}
	if shown := strings.Count(string(out), "### circuits/"); !strings.Contains(string(out), fmt.Sprintf("\n%d circuits more", 3000-shown)) {
		t.Errorf("%d circuits are shown, and the others not counted", shown)
	}
	long := changes.Between(nil, many(3000))
	out = told(t, "markdown", Options{}, Run{Since: &Since{"HEAD~1", []*changes.Comparison{long}}}, clean())
	sound(t, out)
	if !regexp.MustCompile(`(?m)^\| [0-9]+ more \|`).Match(out) {
		t.Error("what is left out of the comparison is not counted")
	}
}
