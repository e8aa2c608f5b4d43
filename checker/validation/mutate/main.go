//go:build mutate

// Mutate alters every numeric coefficient of a law package by 3 %, one at a time,
// and tells which of them no test notices.
//
//	go run -tags mutate ./checker/validation/mutate LAW...
//
// The package is rewritten once, in a scratch folder, so that each literal passes
// through a function that alters the one named by the environment; its tests and
// the table of validation are built once against that, and run once a literal.
// No file of the repository is touched. Survivors that survivors.txt explains are
// expected; one that it does not explain, and an explanation of one that is noticed,
// end the run with status 1.
package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "which law packages, as in: fluid gas resistance friction strength")
		os.Exit(2)
	}
	failed := false
	for _, law := range os.Args[1:] {
		if err := mutate(law); err != nil {
			fmt.Fprintf(os.Stderr, "%s: %v\n", law, err)
			failed = true
		}
	}
	if failed {
		os.Exit(1)
	}
}

func mutate(law string) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	scratch, err := os.MkdirTemp("", "mutate-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(scratch)
	r := run{law: filepath.Join(root, "checker", law), table: filepath.Join(root, "checker", "validation"), scratch: scratch}
	if r.literals, err = rewrite(r.law, scratch); err != nil {
		return err
	}
	if err := r.build(); err != nil {
		return err
	}
	for _, name := range []string{"law", "table"} {
		if out, ok := r.passes(name, -1); !ok {
			return fmt.Errorf("unaltered, the tests fail:\n%s", out)
		}
	}
	r.all()
	explained, err := explanations(filepath.Join(r.table, "survivors.txt"), law)
	if err != nil {
		return err
	}
	return r.report(law, explained)
}

// explanations are why coefficients of a law may go unnoticed, by file, line and text.
func explanations(file, law string) (map[[3]string]string, error) {
	data, err := os.ReadFile(file)
	explained := map[[3]string]string{}
	for line := range strings.Lines(string(data)) {
		if f := strings.Split(strings.TrimSpace(line), "\t"); len(f) == 5 && f[0] == law {
			explained[[3]string{f[1], f[2], f[3]}] = f[4]
		}
	}
	return explained, err
}

func moduleRoot() (string, error) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	return strings.TrimSpace(string(out)), err
}

// run is the mutation run of one law package.
type run struct {
	law, table, scratch string
	literals            []literal
	caught              [][2]bool // of each literal, by the law's own tests and by the table
}

// build makes the tests of the law and the table against the rewritten package.
func (r *run) build() error {
	files, err := filepath.Glob(filepath.Join(r.scratch, "*.go"))
	if err != nil {
		return err
	}
	replace := map[string]string{}
	for _, f := range files {
		replace[filepath.Join(r.law, filepath.Base(f))] = f
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return err
	}
	list := filepath.Join(r.scratch, "overlay.json")
	if err := os.WriteFile(list, overlay, 0o644); err != nil {
		return err
	}
	for name, folder := range map[string]string{"law": r.law, "table": r.table} {
		build := exec.Command("go", "test", "-c", "-overlay", list, "-o", filepath.Join(r.scratch, name+".test"), ".")
		build.Dir = folder
		if out, err := build.CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %v\n%s", folder, err, out)
		}
	}
	return nil
}

// passes runs the tests of the law or the rows of the table with one literal altered.
func (r *run) passes(name string, altered int) (output string, ok bool) {
	folder, only := r.law, "."
	if name == "table" {
		folder, only = r.table, "^TestRows$"
	}
	test := exec.Command(filepath.Join(r.scratch, name+".test"), "-test.failfast", "-test.timeout=60s", "-test.run", only)
	test.Dir = folder
	test.Env = append(os.Environ(), fmt.Sprintf("%s=%d", variable, altered))
	out, err := test.CombinedOutput()
	return string(out), err == nil
}

// all tries every literal, two at a time.
func (r *run) all() {
	r.caught = make([][2]bool, len(r.literals))
	next := make(chan int)
	var wait sync.WaitGroup
	for range 2 {
		wait.Go(func() {
			for i := range next {
				for by, name := range []string{"law", "table"} {
					_, ok := r.passes(name, i)
					r.caught[i][by] = !ok
				}
			}
		})
	}
	for i := range r.literals {
		next <- i
	}
	close(next)
	wait.Wait()
}

// report tells how many were noticed, and every survivor with its explanation.
func (r *run) report(law string, explained map[[3]string]string) error {
	var own, table, none, open int
	var survivors strings.Builder
	for i, l := range r.literals {
		if r.caught[i][0] {
			own++
		}
		if r.caught[i][1] {
			table++
		}
		if r.caught[i][0] || r.caught[i][1] {
			continue
		}
		none++
		key := [3]string{l.file, l.line, l.text}
		why, ok := explained[key]
		if !ok {
			why = "NOT EXPLAINED"
			open++
		}
		delete(explained, key)
		fmt.Fprintf(&survivors, "  %s:%d: %s in %s: %s\n", l.file, l.number, l.text, l.line, why)
	}
	for key := range explained {
		fmt.Fprintf(&survivors, "  %s: %s in %s is noticed: its explanation is out of date\n", key[0], key[2], key[1])
		open++
	}
	fmt.Printf("%s: %d coefficients altered, %d noticed by its own tests, %d by the table, %d by neither\n%s", law, len(r.literals), own, table, none, survivors.String())
	if open > 0 {
		return fmt.Errorf("%d to look into", open)
	}
	return nil
}
