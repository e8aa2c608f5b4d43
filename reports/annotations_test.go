package reports

import (
	"regexp"
	"strings"
	"testing"

	"headroom/rules"
)

// command is a workflow command by the documentation of the forges: properties in a
// fixed order, all that would end one escaped.
var command = regexp.MustCompile(`^::(error|warning|notice) (file=[^,:\r\n]+(,line=[0-9]+,endLine=[0-9]+(,col=[0-9]+,endColumn=[0-9]+)?)?,)?title=[^,:\r\n]+::[^\r\n]*$`)

// commands fails where a line is no command, or a percent sign is not escaped.
func commands(t *testing.T, out []byte) {
	t.Helper()
	for line := range strings.Lines(string(out)) {
		line = strings.TrimSuffix(line, "\n")
		if !command.MatchString(line) {
			t.Errorf("no command: %q", line)
		}
		if rest := regexp.MustCompile(`%(25|0A|0D|3A|2C)`).ReplaceAllString(line, ""); strings.Contains(rest, "%") {
			t.Errorf("a percent sign is in force: %q", line)
		}
	}
}

// Exact output; no text ends a command, or begins another.
func TestAnnotationsExactly(t *testing.T) {
	exactly(t, "annotations", "annotations.txt", commands)
	for _, text := range hostileTexts {
		out := told(t, "annotations", Options{}, Run{Notices: []string{text}}, hostile(text))
		commands(t, out)
		if n := strings.Count(string(out), "\n"); n != 4 {
			t.Errorf("%q makes %d lines", text, n)
		}
	}
}

// What is read back of a command is what was meant.
func TestCommandsReadBack(t *testing.T) {
	back := strings.NewReplacer("%0D", "\r", "%0A", "\n", "%3A", ":", "%2C", ",", "%25", "%")
	for _, text := range append(hostileTexts, "100 %", "%0A", "a,b:c") {
		if got := back.Replace(commandProperty(text)); got != text {
			t.Errorf("%q is read as %q", text, got)
		}
		if got := back.Replace(commandData(text)); got != text {
			t.Errorf("%q is read as %q", text, got)
		}
	}
}

// Columns are told of a place within a line alone; a finding without a line still names
// its file.
func TestAnnotationsOfPlaces(t *testing.T) {
	r := described(one())[0]
	a := r.Judgement.Findings[0]
	for _, c := range []struct {
		line, endLine int
		want          string
	}{
		{4, 4, "file=winch.yaml,line=4,endLine=4,col=54,endColumn=61,title="},
		{4, 6, "file=winch.yaml,line=4,endLine=6,title="},
		{0, 0, "file=winch.yaml,title="},
	} {
		a.At.Line, a.At.EndLine = c.line, c.endLine
		if got := (&annotationsForm{}).annotation(r, a); !strings.HasPrefix(got, "::error "+c.want) {
			t.Errorf("lines %d to %d: %s", c.line, c.endLine, got)
		}
	}
	if len(annotationLevels) != int(rules.Critical)+1 {
		t.Error("a grade has no level")
	}
}
