package reports

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"headroom/rules"
	"headroom/rules/changes"
)

// A Form writes a run's results, one circuit after the other in the order they
// are told, then what holds for the run as a whole.
type Form interface {
	Circuit(result *rules.Result) error
	Close(run Run) error
}

// A Run is what is said once, after all circuits.
type Run struct {
	Today   string   // the date against which concessions were judged; "" when none was
	Skipped int      // other YAML files met on the walk
	Notices []string // remarks about the run, one line each
	Exit    int      // the code that the run ends with
	Since   *Since   // what an older revision is compared with; nil where none is
}

// Since is what the circuits of a run changed since an older revision.
type Since struct {
	Revision    string // as it was asked for
	Comparisons []*changes.Comparison
}

// Options are what a form may be asked for.
type Options struct {
	Color   bool   // colour by grade
	Quiet   bool   // findings alone
	Version string // of the program
	Folder  string // folder from which forms for forges tell paths: as results tell them where it is ""

	// Fails tells whether a finding of that grade fails the run; nil for major and critical ones.
	Fails func(*rules.Result, rules.Grade) bool
}

// fails tells whether a finding fails the run.
func (o Options) fails(r *rules.Result, a *rules.Assessment) bool {
	switch {
	case a.Conceded != nil:
		return false
	case o.Fails == nil:
		return a.Grade >= rules.Major
	}
	return o.Fails(r, a.Grade)
}

// path is a file of a result as forges know it. Results tell files from the folder of
// their project; a repository is looked at from the folder in which the run began.
func (o Options) path(r *rules.Result, file string) string {
	if o.Folder == "" || r.Project == nil || r.Project.Folder == "" {
		return file
	}
	path, err := filepath.Rel(o.Folder, filepath.Join(r.Project.Folder, filepath.FromSlash(file)))
	if err != nil {
		return file
	}
	return filepath.ToSlash(path)
}

// A form is one way of telling.
type form struct {
	name    string
	open    func(io.Writer, Options) Form
	working bool // it tells the working of every margin, not of findings alone
}

// forms lists every form by its name on the command line, in alphabetical
// order: an output form is one file and one line here.
var forms = []form{
	{"annotations", openAnnotations, false},
	{"codequality", openCodeQuality, false},
	{"json", openJSON, true},
	{"junit", openJUnit, false},
	{"markdown", openMarkdown, false},
	{"sarif", openSARIF, false},
	{"text", openText, false},
}

// Names lists the forms that Open knows.
func Names() []string {
	var names []string
	for _, f := range forms {
		names = append(names, f.name)
	}
	return names
}

// TellsWorking tells whether a form shows the working of every margin.
func TellsWorking(name string) bool {
	return slices.ContainsFunc(forms, func(f form) bool { return f.name == name && f.working })
}

// Open starts a form of that name on w.
func Open(name string, w io.Writer, options Options) (Form, error) {
	for _, f := range forms {
		if f.name == name {
			return f.open(w, options), nil
		}
	}
	return nil, fmt.Errorf("unknown form %q: choose from %s", name, strings.Join(Names(), ", "))
}

// Counts tells how many of each there are in a circuit.
type Counts struct {
	Critical    int `json:"critical"`
	Major       int `json:"major"`
	Minor       int `json:"minor"`
	Observation int `json:"observation"`
	Conceded    int `json:"conceded"`
	Assessed    int `json:"assessed"`
	NotAssessed int `json:"not_assessed"`
}

// CountsOf counts a judgement's findings by grade; a conceded finding counts
// as conceded alone.
func CountsOf(j *rules.Judgement) Counts {
	c := Counts{Assessed: len(j.Assessments), NotAssessed: len(j.NotAssessed)}
	for _, f := range j.Findings {
		switch {
		case f.Conceded != nil:
			c.Conceded++
		case f.Grade == rules.Critical:
			c.Critical++
		case f.Grade == rules.Major:
			c.Major++
		case f.Grade == rules.Minor:
			c.Minor++
		default:
			c.Observation++
		}
	}
	return c
}

// Worst returns the gravest grade among findings that are not conceded, and
// whether there is any.
func Worst(j *rules.Judgement) (rules.Grade, bool) {
	worst, any := rules.Observation, false
	for _, f := range j.Findings {
		if f.Conceded == nil {
			worst, any = max(worst, f.Grade), true
		}
	}
	return worst, any
}

// missingByKey gathers what is not assessed by the key that would supply it,
// keys in alphabetical order but "simulation" last.
func missingByKey(unassessed []*rules.Unassessed) (keys []string, rulesOf map[string][]*rules.Unassessed) {
	rulesOf = map[string][]*rules.Unassessed{}
	for _, u := range unassessed {
		for _, key := range u.Missing {
			if rulesOf[key] == nil {
				keys = append(keys, key)
			}
			rulesOf[key] = append(rulesOf[key], u)
		}
	}
	slices.SortFunc(keys, func(a, b string) int {
		if (a == "simulation") != (b == "simulation") {
			if a == "simulation" {
				return 1
			}
			return -1
		}
		return strings.Compare(a, b)
	})
	return keys, rulesOf
}
