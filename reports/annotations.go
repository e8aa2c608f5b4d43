package reports

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"headroom/rules"
)

// annotationsForm writes workflow commands, a line each, by which the runners of some
// forges put messages beside the lines of a change:
//
//	::error file=PATH,line=N,endLine=N,col=N,endColumn=N,title=TEXT::MESSAGE
//
// Conceded findings and what is not assessed are no messages on a change; the run's last
// line counts them.
type annotationsForm struct {
	w       *bufio.Writer
	options Options
	tally   tally
	counts  Counts
}

func openAnnotations(w io.Writer, options Options) Form {
	return &annotationsForm{w: bufio.NewWriter(w), options: options}
}

// annotationLevels are the commands by grade.
var annotationLevels = map[rules.Grade]string{rules.Critical: "error", rules.Major: "error", rules.Minor: "warning", rules.Observation: "notice"}

// mostAnnotation is how many characters a message has at most: forges cut what is longer
// than 64 KiB, and people read less.
const mostAnnotation = 4000

func (f *annotationsForm) Circuit(r *rules.Result) error {
	f.tally.add(r)
	c := CountsOf(r.Judgement)
	f.counts.Conceded += c.Conceded
	f.counts.NotAssessed += c.NotAssessed
	for _, a := range r.Judgement.Findings {
		if a.Conceded == nil {
			fmt.Fprintln(f.w, f.annotation(r, a))
		}
	}
	return f.w.Flush()
}

func (f *annotationsForm) annotation(r *rules.Result, a *rules.Assessment) string {
	file := a.At.File
	if file == "" {
		file = r.Circuit.File
	}
	properties := []string{"file=" + commandProperty(f.options.path(r, file))}
	if a.At.Line > 0 {
		properties = append(properties, fmt.Sprintf("line=%d", a.At.Line), fmt.Sprintf("endLine=%d", max(a.At.Line, a.At.EndLine)))
	}
	if a.At.Line > 0 && a.At.EndLine == a.At.Line && a.At.EndColumn > a.At.Column { // columns are for a single line
		properties = append(properties, fmt.Sprintf("col=%d", a.At.Column), fmt.Sprintf("endColumn=%d", a.At.EndColumn))
	}
	properties = append(properties, "title="+commandProperty(cut(a.Grade.String()+" "+a.Rule.ID, 200)))
	message := aboutSubject(a.Subject) + a.Message
	if a.Rule.Remedy != "" {
		message += "\nRemedy: " + a.Rule.Remedy
	}
	if a.Rule.Basis != "" {
		message += "\nSource: " + a.Rule.Basis
	}
	return "::" + annotationLevels[a.Grade] + " " + strings.Join(properties, ",") + "::" + commandData(cut(message, mostAnnotation))
}

// commandData escapes a message: a command ends with its line.
func commandData(text string) string {
	return strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A").Replace(text)
}

// commandProperty escapes the value of a property, which ends at a comma or colons.
func commandProperty(text string) string {
	return strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C").Replace(text)
}

func (f *annotationsForm) Close(run Run) error {
	for _, n := range run.Notices {
		fmt.Fprintln(f.w, "::warning title=headroom::"+commandData(cut(n, mostAnnotation)))
	}
	fmt.Fprintln(f.w, "::notice title=headroom::"+commandData(fmt.Sprintf("%s. %d conceded, %d not assessed.", f.tally.text(), f.counts.Conceded, f.counts.NotAssessed)))
	return f.w.Flush()
}
