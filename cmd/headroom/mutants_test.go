package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"gopkg.in/yaml.v3"

	"headroom/checker"
	"headroom/checker/network"
	"headroom/reports"
	"headroom/reports/drawing"
	"headroom/reports/review"
	"headroom/rules"
	"headroom/specs"
)

// mutantsAsked is the environment variable that asks for other mutants than the few of
// an ordinary run: HEADROOM_MUTANTS=10000 is a night's run, HEADROOM_MUTANTS=4000-10000
// goes on where one was left.
const mutantsAsked = "HEADROOM_MUTANTS"

const (
	fewMutants = 500
	fewSteps   = 1000        // budget of a pass in an ordinary run; a night's run has that of the program
	stuck      = time.Minute // for a mutant, hundreds of times what any takes within its budget of few steps
)

// mutantSources are the specs that mutants are made of: the demos, the bases of the
// tests of rules, and the circuits of the independent solution.
var mutantSources = []string{
	"../../specs/demo/*.yaml", "testdata/rules/bases/*.yaml", "../../checker/network/independent/circuits/*.yaml",
}

// A mutant is a spec with one to three values dropped, swapped, scaled or doubled.
type mutant struct {
	number int
	of     string // the file it was made of
	did    []string
	text   []byte
}

// TestMutants holds that whatever is done to the values of a sound spec, the run comes
// to findings or a verdict within its budget: no panic, nothing that is no number in any
// form, no hang, and JSON that keeps its contract. Mutants are the same in every run.
func TestMutants(t *testing.T) {
	first, end, budget, patience := 0, fewMutants, fewSteps, stuck
	if text := os.Getenv(mutantsAsked); text != "" {
		var err error
		if first, end, err = mutantNumbers(text); err != nil {
			t.Fatalf("%s=%s: %v", mutantsAsked, text, err)
		}
		if end > fewMutants {
			budget, patience = network.DefaultSteps, 10*stuck
		}
	}
	count := end - first
	sources := mutantTexts(t)
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	numbers := make(chan int)
	tried := newTally()
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for n := range numbers {
				m := makeMutant(n, sources)
				began := time.Now()
				told, problems := m.run(folder, book, budget, patience)
				tried.add(told, m, time.Since(began))
				for _, p := range problems {
					t.Errorf("mutant %d of %s (%s): %s", m.number, m.of, strings.Join(m.did, "; "), p)
				}
			}
		})
	}
	for n := first; n < end; n++ {
		numbers <- n
		if done := n - first; done > 0 && done%fewMutants == 0 {
			t.Logf("mutants %d to %d begun: %s", first, n, tried)
		}
	}
	close(numbers)
	workers.Wait()
	t.Log(tried)
	if count < fewMutants {
		return // too few for any of each
	}
	for _, verdict := range []string{"broken", "incomplete"} {
		if tried.verdicts[verdict] == 0 {
			t.Errorf("no mutant is %s: mutants do not reach the rules", verdict)
		}
	}
	if tried.simulated < count/4 {
		t.Errorf("only %d of %d mutants have a case that was simulated: most are no circuits", tried.simulated, count)
	}
}

// mutantNumbers reads which mutants are asked for: N is the first N of them, A-B those
// from A up to B, without B.
func mutantNumbers(text string) (first, end int, err error) {
	from, to, ranged := strings.Cut(text, "-")
	if !ranged {
		from, to = "0", text
	}
	first, err = strconv.Atoi(from)
	if err == nil {
		end, err = strconv.Atoi(to)
	}
	if err != nil || first < 0 || end <= first {
		return 0, 0, errors.New("no number of mutants, and no range of them as in 4000-10000")
	}
	return first, end, nil
}

// A tally is what mutants came to.
type tally struct {
	sync.Mutex
	verdicts  map[string]int
	simulated int
	longest   time.Duration
	slowest   string
}

func newTally() *tally { return &tally{verdicts: map[string]int{}} }

func (y *tally) add(told *toldCircuit, m mutant, took time.Duration) {
	y.Lock()
	defer y.Unlock()
	if told != nil {
		y.verdicts[told.Verdict]++
		if len(told.Cases) > 0 {
			y.simulated++
		}
	}
	if took > y.longest {
		y.longest, y.slowest = took, fmt.Sprintf("mutant %d of %s (%s)", m.number, m.of, strings.Join(m.did, "; "))
	}
}

func (y *tally) String() string {
	y.Lock()
	defer y.Unlock()
	return fmt.Sprintf("verdicts %v, %d with simulated cases, the longest %v: %s", y.verdicts, y.simulated, y.longest.Round(time.Millisecond), y.slowest)
}

// mutantTexts reads what mutants are made of, by file, in the order of their names.
func mutantTexts(t *testing.T) (texts [][2]string) {
	t.Helper()
	for _, glob := range mutantSources {
		files, err := filepath.Glob(glob)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s names no spec: %v", glob, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, [2]string{filepath.Base(file), string(data)})
		}
	}
	return texts
}

// heaviest is the source that costs as much as all others together, so that it is taken
// in one turn of eight alone.
const heaviest = "stonechat.yaml"

// makeMutant makes the mutant of a number.
func makeMutant(number int, sources [][2]string) mutant {
	source := sources[number%len(sources)]
	if turn := number / len(sources); source[0] == heaviest && turn%8 > 0 {
		source = sources[(number+turn)%len(sources)]
	}
	chance := rand.New(rand.NewPCG(uint64(number), 6))
	m := mutant{number: number, of: source[0]}
	var document yaml.Node
	if err := yaml.Unmarshal([]byte(source[1]), &document); err != nil {
		panic(err)
	}
	for range 1 + chance.IntN(3) {
		m.did = append(m.did, mutate(document.Content[0], chance))
	}
	var err error
	if m.text, err = yaml.Marshal(&document); err != nil {
		panic(err)
	}
	return m
}

// A spot is one value of a document: the entry of a mapping or of a list.
type spot struct {
	in *yaml.Node
	at int // of the value in its Content
}

func (s spot) value() *yaml.Node { return s.in.Content[s.at] }

// name is the key of the value, or its place in a list.
func (s spot) name() string {
	if s.in.Kind == yaml.MappingNode {
		return s.in.Content[s.at-1].Value
	}
	return fmt.Sprintf("[%d]", s.at)
}

// spots lists all values of a document, in order.
func spots(n *yaml.Node, all []spot) []spot {
	step, first := 1, 0
	if n.Kind == yaml.MappingNode {
		step, first = 2, 1
	}
	for i := first; i < len(n.Content); i += step {
		all = spots(n.Content[i], append(all, spot{n, i}))
	}
	return all
}

// mutate changes one value and tells what it did.
func mutate(root *yaml.Node, chance *rand.Rand) string {
	all := spots(root, nil)
	leaf := func(s spot) bool { return s.value().Kind == yaml.ScalarNode }
	number := func(s spot) bool { return leaf(s) && leadingNumber.MatchString(s.value().Value) }
	pick := func(fits func(spot) bool) (spot, bool) {
		some := slices.DeleteFunc(slices.Clone(all), func(s spot) bool { return !fits(s) })
		if len(some) == 0 {
			return spot{}, false
		}
		return some[chance.IntN(len(some))], true
	}
	switch way := chance.IntN(10); {
	case way < 5: // most of all: what stays a circuit tries the most of the program
		if s, any := pick(number); any {
			factor := factors[chance.IntN(len(factors))]
			was := s.value().Value
			s.value().SetString(scaled(was, factor))
			return fmt.Sprintf("%s %s is %s", s.name(), was, s.value().Value)
		}
	case way < 7:
		s := all[chance.IntN(len(all))]
		name := s.name()
		s.drop()
		return name + " dropped"
	case way < 9:
		kind := func(s spot) string { return unitOf(s.value().Value) }
		a, any := pick(leaf)
		if b, other := pick(func(s spot) bool { return leaf(s) && (way == 7 || kind(s) == kind(a)) }); any && other {
			a.in.Content[a.at], b.in.Content[b.at] = b.value(), a.value()
			return fmt.Sprintf("%s and %s swapped", a.name(), b.name())
		}
	default:
		s := all[chance.IntN(len(all))]
		return s.double()
	}
	return "nothing"
}

// drop removes a value, and its key.
func (s spot) drop() {
	from := s.at
	if s.in.Kind == yaml.MappingNode {
		from--
	}
	s.in.Content = slices.Delete(s.in.Content, from, s.at+1)
}

// double writes a value of a list twice, and one of a mapping under a second name.
func (s spot) double() string {
	if s.in.Kind != yaml.MappingNode {
		s.in.Content = slices.Insert(s.in.Content, s.at, s.value())
		return s.name() + " doubled"
	}
	key := *s.in.Content[s.at-1]
	key.Value += "-2"
	s.in.Content = append(s.in.Content, &key, s.value())
	return s.name() + " doubled as " + key.Value
}

var leadingNumber = regexp.MustCompile(`^[-+]?[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?`)

// factors are what numbers are scaled by.
var factors = []float64{-1, 0, 1e-12, 1e-6, 1e-3, 0.1, 0.5, 0.9, 1.1, 2, 10, 1e3, 1e6, 1e12, 1e300}

func scaled(text string, factor float64) string {
	at := leadingNumber.FindString(text)
	v, err := strconv.ParseFloat(at, 64)
	if err != nil {
		return text
	}
	return strconv.FormatFloat(v*factor, 'g', -1, 64) + text[len(at):]
}

// unitOf is what follows a number, to swap like with like.
func unitOf(text string) string { return leadingNumber.ReplaceAllString(text, "#") }

// toldCircuit is a circuit as JSON tells it, in so far as it is looked at.
type toldCircuit struct {
	Verdict                       string
	Findings, Margins             []toldAssessment
	Not_assessed                  []toldAssessment
	Cases                         map[string]toldCase
	Circuit, File, Title, Digest  string
	Counts                        map[string]int
	Revision, Scope, Rule_changes any
	No_circuit                    bool
}

type toldCase struct {
	Steps   int
	Balance struct{ Node, Mass, Energy *float64 }

	Unfinished string
	Nodes      map[string]struct{ Pressure, Temperature toldRange }
	Parts      map[string]map[string]struct {
		toldMoment
		toldRange
	}
}

type toldRange struct{ Lowest, Highest *toldMoment }

type toldMoment struct{ Value, Time *float64 }

// sound tells whether a moment that came has a value; one that never came has no time.
func (m *toldMoment) sound() bool { return m == nil || m.Value != nil || m.Time == nil }

func (r toldRange) sound() bool { return r.Lowest.sound() && r.Highest.sound() }

type toldAssessment struct {
	ID, Rule, Grade, Message string
	Subject                  struct{ Kind, Name, Case string }
	Measure, Limit, Margin   *struct{ Value *float64 }
	Missing                  []string
	At                       struct {
		File               string
		Line, End_line     int
		Column, End_column int
	}
}

// run judges a mutant, tells it in every form, and says what is wrong with what was told.
func (m mutant) run(folder string, book *rules.Rulebook, budget int, patience time.Duration) (*toldCircuit, []string) {
	path := filepath.Join(folder, strconv.Itoa(m.number)+".yaml")
	if err := os.WriteFile(path, m.text, 0o600); err != nil {
		return nil, []string{err.Error()}
	}
	defer os.Remove(path)
	task := checker.Task{Path: path, Name: m.of, Book: book, History: true, Steps: budget, Settings: rules.Settings{Today: "2027-03-01", Working: true}}
	done := make(chan *rules.Result, 1)
	go func() { done <- checker.Judge(task) }()
	select {
	case result := <-done:
		return m.examine(result, budget)
	case <-time.After(patience):
		return nil, []string{"is still being judged:\n" + string(m.text)}
	}
}

// pageEvery says how many mutants there are to one that is shown as a page and a diagram
// too, which cost more than the judging.
const pageEvery = 20

// examine tells a result in every form and says what is wrong with that.
func (m mutant) examine(result *rules.Result, budget int) (told *toldCircuit, wrong []string) {
	for _, name := range reports.Names() {
		text, err := inForm(func(w io.Writer) (reports.Form, error) { return reports.Open(name, w, reports.Options{}) }, result)
		if err != nil {
			wrong = append(wrong, fmt.Sprintf("%s: %v", name, err))
		}
		wrong = append(wrong, unsound(name, text)...)
		if name == "json" {
			var problems []string
			told, problems = m.readJSON(text, budget)
			wrong = append(wrong, problems...)
		}
	}
	if m.number%pageEvery > 0 {
		return told, wrong
	}
	page, err := inForm(func(w io.Writer) (reports.Form, error) { return review.Open(w), nil }, result)
	if err != nil {
		wrong = append(wrong, fmt.Sprintf("review: %v", err))
	}
	wrong = append(wrong, unsound("review", page)...)
	var diagram bytes.Buffer
	if err := drawing.Draw(&diagram, result, drawing.Options{}); err != nil && result.Readable {
		wrong = append(wrong, fmt.Sprintf("drawing: %v", err))
	}
	return told, append(wrong, unsound("drawing", diagram.Bytes())...)
}

func inForm(open func(io.Writer) (reports.Form, error), result *rules.Result) ([]byte, error) {
	var out bytes.Buffer
	form, err := open(&out)
	if err != nil {
		return nil, err
	}
	err = errors.Join(form.Circuit(result), form.Close(reports.Run{Today: "2027-03-01"}))
	return out.Bytes(), err
}

// noNumbers are what Go and we print for what is no finite number.
var noNumbers = [][]byte{[]byte("NaN"), []byte("+Inf"), []byte("-Inf"), []byte(" Inf "), []byte("infinite")}

// unsound says what of a form's text cannot be: what is no number, and what is not of
// its language.
func unsound(name string, text []byte) (wrong []string) {
	for _, word := range noNumbers {
		if at := bytes.Index(text, word); at >= 0 {
			wrong = append(wrong, fmt.Sprintf("%s has what is no number: …%s…", name, text[max(0, at-80):min(len(text), at+40)]))
		}
	}
	switch name {
	case "json", "sarif", "codequality":
		if !json.Valid(text) {
			wrong = append(wrong, name+" is no JSON")
		}
	case "junit", "drawing":
		decoder := xml.NewDecoder(bytes.NewReader(text))
		for {
			if _, err := decoder.Token(); err == io.EOF {
				break
			} else if err != nil {
				return append(wrong, fmt.Sprintf("%s is no XML: %v", name, err))
			}
		}
	}
	return wrong
}

// readJSON reads the JSON form and says how it breaks its contract.
func (m mutant) readJSON(text []byte, budget int) (*toldCircuit, []string) {
	var all struct {
		Headroom int
		Circuits []toldCircuit
		Notices  []string
		Today    string
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := json.Unmarshal(text, &all); err != nil || all.Headroom != 1 || len(all.Circuits) != 1 {
		return nil, []string{fmt.Sprintf("JSON of %d circuits: %v", len(all.Circuits), err)}
	}
	c := &all.Circuits[0]
	var wrong []string
	say := func(format string, a ...any) { wrong = append(wrong, fmt.Sprintf(format, a...)) }
	if !slices.Contains([]string{"holds", "incomplete", "broken"}, c.Verdict) || c.File != m.of || len(c.Digest) != 64 {
		say("verdict %q of %q, digest %q", c.Verdict, c.File, c.Digest)
	}
	lines := bytes.Count(m.text, []byte("\n")) + 1
	for _, a := range slices.Concat(c.Findings, c.Margins, c.Not_assessed) {
		if a.Rule == "" || a.Subject.Kind == "" || a.At.Line < 1 || a.At.End_line < a.At.Line || a.At.Column < 1 || a.At.File == m.of && a.At.End_line > lines {
			say("a finding that is nowhere: %+v", a)
		}
		if strings.Contains(a.Message, "fault of headroom") {
			say("%s", a.Message)
		}
		for _, v := range []*struct{ Value *float64 }{a.Measure, a.Limit, a.Margin} {
			if v != nil && v.Value == nil {
				say("a value of %s on %s is no number", a.Rule, a.Subject.Name)
			}
		}
	}
	for _, a := range c.Findings {
		if _, known := rules.GradeNamed(a.Grade); !known || a.ID == "" || a.Message == "" {
			say("a finding that says nothing: %+v", a)
		}
	}
	if n := len(c.Findings); n != c.Counts["critical"]+c.Counts["major"]+c.Counts["minor"]+c.Counts["observation"]+c.Counts["conceded"] {
		say("%d findings, counted as %v", n, c.Counts)
	}
	for name, k := range c.Cases {
		// All passes of a case may take two and a half budgets, a case with tighter tolerances as many again.
		if most := cmp.Or(budget, network.DefaultSteps) * 5; k.Steps > most {
			say("case %s took %d steps, more than %d", name, k.Steps, most)
		}
		k.examine(func(format string, a ...any) { say("case "+name+": "+format, a...) })
	}
	return c, wrong
}

// examine says where what a case came to is no number.
func (k *toldCase) examine(say func(format string, a ...any)) {
	if b := &k.Balance; k.Unfinished == "" && (b.Node == nil || b.Mass == nil || b.Energy == nil) {
		say("a balance is no number")
	}
	for name, n := range k.Nodes {
		for _, m := range []*toldMoment{n.Pressure.Lowest, n.Pressure.Highest, n.Temperature.Lowest, n.Temperature.Highest} {
			if m == nil || m.Value == nil || m.Time == nil {
				say("node %s has what is no number", name)
			}
		}
	}
	for part, readings := range k.Parts {
		for name, r := range readings {
			if !r.toldMoment.sound() || !r.toldRange.sound() {
				say("%s of %s is no number", name, part)
			}
		}
	}
}

// TestMutantsAreMade holds that mutants are what they are taken for: changed in what
// they say they are, each way of changing among them, and the same in every run.
func TestMutantsAreMade(t *testing.T) {
	sources := mutantTexts(t)
	ways := map[string]int{}
	for n := range 200 {
		m := makeMutant(n, sources)
		if again := makeMutant(n, sources); !bytes.Equal(m.text, again.text) {
			t.Fatalf("mutant %d is not the same twice", n)
		}
		for _, did := range m.did {
			for _, way := range []string{" is ", " dropped", " swapped", " doubled"} {
				if strings.Contains(did, way) {
					ways[way]++
				}
			}
		}
		if c := specs.Read("m.yaml", m.text); len(c.Source) == 0 {
			t.Errorf("mutant %d has no text", n)
		}
	}
	if len(ways) != 4 {
		t.Errorf("ways of changing: %v", ways)
	}
}
