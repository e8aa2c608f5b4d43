package checker

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"headroom/rules"
	"headroom/specs"
)

// A Task is one spec to be judged and what it is judged by.
type Task struct {
	Path     string // to be opened; "" where Problems say all there is
	Name     string // as it is told
	Problems []specs.Problem
	Case     string   // the only case to be judged; "" for all
	Only     []string // what the rules are told to be narrowed to; the narrowing itself is in Settings
	Book     *rules.Rulebook
	Settings rules.Settings
	History  bool // what each case went through over time is to be kept
	Steps    int  // the budget of one pass of a case; 0 for the usual one
}

// Judge reads one spec, computes its facts and applies the rules. It never
// fails: what is wrong is in the result.
func Judge(task Task) (result *rules.Result) {
	defer func() {
		if fault := recover(); fault != nil && len(task.Problems) == 0 {
			result = faulty(task, fault)
		}
	}()
	circuit := task.read()
	if task.Case != "" {
		circuit, task.Settings = alone(circuit, task)
	}
	if task.Path == "" || !circuit.Readable() {
		task.Settings.Only = aboutProblems(task.Settings.Only)
	}
	asked := AskedBy(circuit, task.Book.NumbersFor(circuit, task.Settings.Project), func(fact string) bool {
		return task.Book.Reads(fact, task.Settings.Only)
	})
	asked.History, asked.Steps = task.History, task.Steps
	facts := SimulatedFacts(circuit, asked)
	judgement := task.Book.Judge(facts, task.Settings)
	return &rules.Result{
		Circuit:   circuit,
		Facts:     facts,
		Judgement: judgement,
		Coverage:  task.Book.Coverage(circuit, judgement, task.Settings),
		Cases:     facts.Records,
		Digest:    digest(circuit, task.Book, task.Settings.Project),
		Readable:  circuit.Readable(),
		Other:     task.Path == "",
		Book:      task.Book,
		Project:   task.Settings.Project,
		Scope:     rules.Scope{Only: task.Only, Case: task.Case},
		Conceding: conceding(circuit, task.Settings.Project),
	}
}

// faulty tells of a fault of this program that a spec has brought to light: the
// other specs are judged all the same.
func faulty(task Task, fault any) *rules.Result {
	at := specs.Span{File: task.Name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
	message := fmt.Sprintf("this file brings to light a fault of headroom (%v); nothing can be said of the circuit, please report the fault with the file", fault)
	result := Judge(Task{Name: task.Name, Book: task.Book, Problems: []specs.Problem{{Rule: "spec.syntax", At: at, Message: message}}})
	result.Other = false
	return result
}

// read reads the task's file, or makes of its problems a circuit that has
// nothing else.
func (t Task) read() *specs.Circuit {
	if t.Path == "" {
		return &specs.Circuit{File: t.Name, Problems: t.Problems}
	}
	circuit, err := specs.LoadAs(t.Path, t.Name)
	if err != nil {
		at := specs.Span{File: t.Name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
		return &specs.Circuit{File: t.Name, Problems: []specs.Problem{{Rule: "spec.syntax", At: at, Message: err.Error()}}}
	}
	return circuit
}

// aboutProblems narrows rules to those that tell what is wrong with a file: of
// one that is no circuit there is nothing else to judge.
func aboutProblems(only func(*rules.Rule) bool) func(*rules.Rule) bool {
	return func(r *rules.Rule) bool { return r.For == "problem" && (only == nil || only(r)) }
}

// conceding tells whether a spec or its project has concessions.
func conceding(c *specs.Circuit, p *specs.Project) bool {
	return len(c.Concessions) > 0 || p != nil && len(p.Concessions) > 0
}

// Stale tells of what in a project file covers nothing in any of its circuits, given
// what was used in them; nil where there is nothing of the kind.
func Stale(name string, task Task, used map[rules.Suppression]bool) *rules.Result {
	j := task.Book.Stale(task.Settings.Project, used, task.Settings)
	if len(j.Findings) == 0 {
		return nil
	}
	circuit := &specs.Circuit{File: name}
	return &rules.Result{
		Circuit: circuit, Judgement: j, Digest: digest(circuit, task.Book, task.Settings.Project),
		Readable: true, Other: true, Book: task.Book, Project: task.Settings.Project, Scope: rules.Scope{Only: task.Only},
	}
}

// digest is the SHA-256 of all that the result depends on: the spec, the packs
// and the project file, each preceded by its length.
func digest(c *specs.Circuit, book *rules.Rulebook, project *specs.Project) string {
	hash := sha256.New()
	add := func(data []byte) {
		fmt.Fprintf(hash, "%d\n", len(data))
		hash.Write(data)
	}
	add(c.Source)
	for _, pack := range book.Packs {
		add(pack.Source)
	}
	if project != nil {
		add(project.Source)
	}
	return hex.EncodeToString(hash.Sum(nil))
}

// All judges tasks, at most jobs of them at once, and tells their results in
// the order of the tasks. It ends early with the first error of tell.
func All(tasks []Task, jobs int, tell func(*rules.Result) error) error {
	jobs = max(1, jobs)
	stop := make(chan struct{})
	defer close(stop)
	queue := make(chan chan *rules.Result, jobs-1) // results under way, in order: no more than there are jobs
	go func() {
		defer close(queue)
		for _, task := range tasks {
			result := make(chan *rules.Result, 1)
			select {
			case queue <- result:
				go func() { result <- Judge(task) }()
			case <-stop:
				return
			}
		}
	}()
	for result := range queue {
		if err := tell(<-result); err != nil {
			return err
		}
	}
	return nil
}
