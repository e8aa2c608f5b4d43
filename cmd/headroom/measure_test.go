//go:build measure

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A measurement is one row of the table: a time, what it allocates, and how many
// times the bare YAML parse of a spec it takes.
type measurement struct {
	what   string
	time   time.Duration
	allocs string
	note   string
}

// benchmarks are the rows that come from benchmarks of the packages.
var benchmarks = []struct{ pack, name, what string }{
	{"./specs", "BenchmarkBareYAML", "bare YAML parse of a spec of 33 parts and 5 cases (yaml.v3)"},
	{"./specs", "BenchmarkRead", "the same spec read and checked"},
	{"./rules", "BenchmarkCore", "core packs read"},
	{"./rules", "BenchmarkCompile", "core packs checked and planned"},
	{"./rules", "BenchmarkRule/simple", "a simple rule on a subject"},
	{"./rules", "BenchmarkJudge70Rules300Subjects", "70 rules over 300 subjects, one core"},
	{"./checker", "BenchmarkFactsOfTheDemo", "facts without time of the buggy demo"},
	{"./checker/network", "BenchmarkDemo", "its five cases integrated, one core"},
	{"./checker/network", "BenchmarkSize/50", "a case of 51 parts integrated"},
	{"./checker/network", "BenchmarkSize/200", "a case of 201 parts"},
	{"./checker/network", "BenchmarkSize/800", "a case of 801 parts"},
	{"./checker/network", "BenchmarkBegin/evaluation", "one evaluation of the buggy demo's equations"},
	{"./checker/network", "BenchmarkBegin/jacobian", "one Jacobian of them"},
	{"./reports/review", "BenchmarkPage", "the review page of the buggy demo"},
	{"./reports/drawing", "BenchmarkDraw/50", "the diagram of a plant of 50 parts"},
}

// TestMeasure measures everything once, prints the table and with -update writes it
// into checker/README.md. It is for a machine that does nothing else:
//
//	go test -tags measure -run Measure -v -timeout 30m ./cmd/headroom
func TestMeasure(t *testing.T) {
	var rows []measurement
	for _, b := range benchmarks {
		rows = append(rows, benchmark(t, b.pack, b.name, b.what)...)
	}
	program := build(t)
	for _, demo := range []string{"stonechat", "ptarmigan", "dipper"} {
		rows = append(rows, process(t, program, "check of "+demo+".yaml, cold process", "../../specs/demo/"+demo+".yaml"))
	}
	for _, count := range []int{1, 10, 100, 1000} {
		rows = append(rows, process(t, program, fmt.Sprintf("check of %d specs of 14 parts and 4 cases", count), copies(t, count)))
	}
	rows = append(rows, cvode(t)...)
	rows = append(rows, scipy(t)...)
	table := tableOf(rows)
	fmt.Print(table)
	if *update {
		writeMeasured(t, table)
	}
}

var benchLine = regexp.MustCompile(`(?m)^(Benchmark\S+?)(?:-\d+)?\s+\d+\s+([\d.]+) ns/op(.*)$`)

// benchmark runs one benchmark of a package and takes its quickest of three runs.
func benchmark(t *testing.T, pack, name, what string) []measurement {
	t.Helper()
	parts := strings.Split(name, "/")
	for i := range parts {
		parts[i] = "^" + parts[i] + "$"
	}
	command := exec.Command("go", "test", "-run", "^$", "-bench", strings.Join(parts, "/"), "-benchmem", "-count", "3", pack)
	command.Dir = "../.."
	out, err := command.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	row := measurement{what: what}
	for _, m := range benchLine.FindAllStringSubmatch(string(out), -1) {
		ns, err := strconv.ParseFloat(m[2], 64)
		if err != nil || m[1] != name {
			continue
		}
		if d := time.Duration(ns); row.time == 0 || d < row.time {
			row.time = max(d, 1)
			if a := regexp.MustCompile(`(\d+) allocs/op`).FindStringSubmatch(m[3]); a != nil {
				row.allocs = a[1]
			}
		}
	}
	if row.time == 0 {
		t.Fatalf("%s tells nothing:\n%s", name, out)
	}
	return []measurement{row}
}

// process runs the program three times on a path: its quickest wall time, and the
// most memory that it held.
func process(t *testing.T, program, what, path string) measurement {
	t.Helper()
	row := measurement{what: what}
	for range 3 {
		command := exec.Command(program, "check", "--fail-at", "never", "--as", "text="+filepath.Join(t.TempDir(), "out.txt"), path)
		begun := time.Now()
		if out, err := command.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", what, err, out)
		}
		if d := time.Since(begun); row.time == 0 || d < row.time {
			row.time = d
		}
		if use, ok := command.ProcessState.SysUsage().(*syscall.Rusage); ok {
			row.note = fmt.Sprintf("%d MB at most", use.Maxrss>>10)
		}
	}
	return row
}

// copies is a folder with so many specs.
func copies(t *testing.T, count int) string {
	t.Helper()
	text, err := os.ReadFile("../../specs/demo/ptarmigan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	for i := range count {
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("unit-%04d.yaml", i)), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// cvode is the time of a leading C solver on the same equations at equal measured
// error, over ours, where its Debian packages are there.
func cvode(t *testing.T) []measurement {
	command := exec.Command("go", "test", "-tags", "cvode", "-run", "SideBySide", "-v", "-timeout", "20m", "./checker/network")
	command.Dir = "../.."
	out, err := command.CombinedOutput()
	m := regexp.MustCompile(`CVODE takes ([\d.]+) times as long`).FindSubmatch(out)
	if err != nil || m == nil {
		t.Logf("no comparison with CVODE: %v", err)
		return nil
	}
	return []measurement{{what: "CVODE (BDF, KLU) on the cases of the independent solution, at equal measured error", note: string(m[1]) + " times ours"}}
}

// scipy is the time that the independent solution takes for one circuit, over ours.
func scipy(t *testing.T) []measurement {
	command := exec.Command("/usr/bin/python3", "reference.py", "teasel-rail", "--check")
	command.Dir = "../../checker/network/independent"
	begun := time.Now()
	if out, err := command.CombinedOutput(); err != nil {
		t.Logf("no comparison with scipy: %v\n%s", err, out)
		return nil
	}
	theirs := time.Since(begun)
	ours := process(t, build(t), "", "../../checker/network/independent/circuits/teasel-rail.yaml").time
	return []measurement{{what: "independent solution in Python (scipy, Radau IIA 5, tolerance 1e-9) of teasel-rail, a process", time: theirs, note: fmt.Sprintf("%.0f times ours", theirs.Seconds()/ours.Seconds())}}
}

func tableOf(rows []measurement) string {
	var out bytes.Buffer
	fmt.Fprintf(&out, "On %d cores of %s, %s/%s, %s. The bare parse is 1.\n\n", runtime.NumCPU(), processor(), runtime.GOOS, runtime.GOARCH, runtime.Version())
	out.WriteString("| what | time | bare parses | allocations | |\n|---|--:|--:|--:|---|\n")
	bare := rows[slices.IndexFunc(rows, func(r measurement) bool { return strings.HasPrefix(r.what, "bare") })].time
	for _, r := range rows {
		taken, ratio := "", ""
		if r.time > 0 {
			taken, ratio = r.time.Round(roundOf(r.time)).String(), strconv.FormatFloat(float64(r.time)/float64(bare), 'g', 3, 64)
		}
		fmt.Fprintf(&out, "| %s | %s | %s | %s | %s |\n", r.what, taken, ratio, r.allocs, r.note)
	}
	return out.String()
}

// roundOf leaves three digits.
func roundOf(d time.Duration) time.Duration {
	unit := time.Duration(1)
	for d/unit >= 1000 {
		unit *= 10
	}
	return unit
}

// processor is the machine's processor as it names itself.
func processor() string {
	data, err := os.ReadFile("/proc/cpuinfo")
	if m := regexp.MustCompile(`model name\s*: (.*)`).FindSubmatch(data); err == nil && m != nil {
		return string(m[1])
	}
	return "an unnamed processor"
}

// writeMeasured puts the table between its marks, which stand in a section of their own at
// the end where there are none yet.
func writeMeasured(t *testing.T, table string) {
	t.Helper()
	const file, begin, end = "../../checker/README.md", "<!-- measured: by go test -tags measure -run Measure -update ./cmd/headroom -->\n", "<!-- end of measured -->"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), begin) {
		data = append(data, "\n## What a run costs\n\n"+begin+end+"\n"...)
	}
	before, rest, found := strings.Cut(string(data), begin)
	_, after, closed := strings.Cut(rest, end)
	if !found || !closed {
		t.Fatalf("%s has no place for the table", file)
	}
	if err := os.WriteFile(file, []byte(before+begin+"\n"+table+"\n"+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
