package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"headroom/rules"
	"headroom/specs"
)

// A home is a project, or the lack of one, with its rules.
type home struct {
	project  *specs.Project // nil for none
	book     *rules.Rulebook
	problems []specs.Problem // of the project file and the packs
}

// A shelf keeps the homes met, each read once.
type shelf struct {
	core   *rules.Rulebook
	packs  []string // those of the command line, over all others
	within string   // folder above which no project file counts; "" for none
	byFile map[string]*home
	met    []*home // in the order in which they were met
}

func newShelf(packs []string) (*shelf, error) {
	for _, pack := range packs {
		if info, err := os.Stat(pack); err != nil || !info.Mode().IsRegular() {
			return nil, fmt.Errorf("--rules %s: no such file", pack)
		}
	}
	core, err := rules.Core()
	if err != nil {
		return nil, err
	}
	return &shelf{core: core, packs: packs, byFile: map[string]*home{}}, nil
}

// home finds the home of what lies in a folder.
func (s *shelf) home(folder string) (*home, error) {
	file, err := specs.FindProject(folder)
	if err != nil {
		return nil, err
	}
	if s.within != "" && !strings.HasPrefix(file, s.within+string(filepath.Separator)) {
		file = ""
	}
	if h, known := s.byFile[file]; known {
		return h, nil
	}
	h := &home{book: s.core}
	packs, missing := s.packs, []specs.Problem(nil)
	if file != "" {
		if h.project, err = specs.LoadProject(file); err != nil {
			return nil, err
		}
		own, without := projectPacks(h.project)
		packs, missing = append(own, packs...), without
	}
	if len(packs) > 0 {
		h.book, h.problems = rules.Load(s.core, packs...)
	}
	for i := range h.problems {
		h.problems[i].At.File = h.project.Tell(h.problems[i].At.File)
	}
	if h.project != nil {
		h.problems = append(append(h.problems, missing...), h.project.Problems...)
		h.problems = append(h.problems, h.book.CheckProject(h.project)...)
	}
	s.byFile[file] = h
	s.met = append(s.met, h)
	return h, nil
}

// projectPacks are the paths of a project's own packs, and what it names that is none. A
// project comes with a pull request: it names what lies below its folder, and by no link
// what lies elsewhere.
func projectPacks(p *specs.Project) (paths []string, missing []specs.Problem) {
	for _, pack := range p.Packs {
		path := filepath.Join(p.Folder, filepath.FromSlash(pack.Value))
		if message := notAPack(p, pack.Value, path); message != "" {
			missing = append(missing, specs.Problem{Rule: "spec.reference", At: pack.At, Path: pack.Key, Message: message})
			continue
		}
		paths = append(paths, path)
	}
	return paths, missing
}

// notAPack says why a pack that a project names is not read; "" where it is.
func notAPack(p *specs.Project, name, path string) string {
	if !filepath.IsLocal(filepath.FromSlash(name)) {
		return fmt.Sprintf("%s leads out of this file's folder; a project's packs lie below it, others are given with --rules", name)
	}
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return fmt.Sprintf("there is no rule pack %s below this folder", name)
	}
	if specs.LeadsOut(p.Folder, path) {
		return fmt.Sprintf("%s is a link that leads out of this file's folder; a project's packs lie below it, others are given with --rules", name)
	}
	return ""
}

// one reads one spec and finds its home, for the verbs that look at a single one.
func (s *shelf) one(path string) (*specs.Circuit, *home, error) {
	h, err := s.home(filepath.Dir(path))
	if err != nil {
		return nil, nil, err
	}
	circuit, err := specs.LoadAs(path, h.project.Tell(path))
	if err != nil {
		return nil, nil, err
	}
	if len(h.problems) > 0 {
		return nil, nil, problemList(h.problems)
	}
	return circuit, h, nil
}
