package specs

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// A Project is the project file headroom.yaml: what holds for all specs below it.
type Project struct {
	File          string
	Folder        string          // of the file, to open what it names; "" where it was not loaded
	Specs         []Text          `key:"specs" opt:"yes" form:"glob" eg:"circuits/**/*.yaml" doc:"globs of spec files, relative to this file"`
	Packs         []Text          `key:"packs" opt:"yes" eg:"rules/house.yaml" doc:"rule packs, relative to this file"`
	FailAt        Text            `key:"fail_at" oneof:"critical|major|minor|observation|never" opt:"yes" doc:"grade from which a run fails"`
	Limits        *Setting        `key:"limits" opt:"yes" eg:"{mass: 9.5 kg}" doc:"acceptance limits for all specs"`
	Concessions   []Concession    `key:"concessions" opt:"yes" doc:"accepted findings"`
	NotApplicable []NotApplicable `key:"not_applicable" opt:"yes" doc:"rules that need not be assessed although they are critical, or demanded of a run, with the reason"`
	Problems      []Problem
	Source        []byte
}

// NotApplicable says why a rule need not be assessed.
type NotApplicable struct {
	At      Span
	Rule    Text `key:"rule" form:"rule" eg:"store.isolation" doc:"the rule's id"`
	Subject Text `key:"subject" opt:"yes" doc:"name of the subject; all when left out"`
	Because Text `key:"because" eg:"the store is too small to hurt" doc:"why it does not apply"`
}

// projectFile is the name of a project file.
const projectFile = "headroom.yaml"

// FindProject is the path of the project file nearest to a folder: in it or
// above; "" where there is none.
func FindProject(folder string) (string, error) {
	at, err := filepath.Abs(folder)
	if err != nil {
		return "", fmt.Errorf("cannot look for a project file: %w", err)
	}
	for {
		file := filepath.Join(at, projectFile)
		if info, err := os.Stat(file); err == nil && info.Mode().IsRegular() {
			return file, nil
		}
		above := filepath.Dir(at)
		if above == at {
			return "", nil
		}
		at = above
	}
}

// LoadProject reads a project file. The error is about the file system alone.
func LoadProject(file string) (*Project, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, fmt.Errorf("cannot read the project file: %w", err)
	}
	p := ReadProject(filepath.Base(file), data)
	p.Folder = filepath.Dir(file)
	return p, nil
}

// Tell is a path as it is told in reports: relative to the project's folder, or
// without a project to the working folder, with slashes.
func (p *Project) Tell(path string) string {
	from := "."
	if p != nil && p.Folder != "" {
		from = p.Folder
	}
	base, err := filepath.Abs(from)
	if err != nil {
		return filepath.ToSlash(path)
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return filepath.ToSlash(path)
	}
	relative, err := filepath.Rel(base, full)
	if err != nil {
		return filepath.ToSlash(path)
	}
	return filepath.ToSlash(relative)
}

// globs takes the files that the project's globs name. One without a wildcard
// names a file, or a folder and all below it.
func (s *search) globs() {
	var files []string // relative to the project's folder, with slashes
	s.root = s.project.Folder
	s.walk(s.root, func(file string) { files = append(files, s.project.Tell(file)) })
	for _, glob := range s.project.Specs {
		if !s.glob(glob.Value, files) {
			s.Problems = append(s.Problems, Problem{Rule: ruleReference, At: glob.At, Path: glob.Key,
				Message: fmt.Sprintf("no file below this folder matches %s", glob.Value)})
		}
	}
	s.Problems = sorted(s.Problems, 0)
}

// glob takes the files that one glob names and tells whether there are any.
func (s *search) glob(glob string, files []string) bool {
	pattern := strings.Split(path.Clean(glob), "/")
	plain := !strings.ContainsAny(glob, `*?[\`)
	any := false
	for _, file := range files {
		segments := strings.Split(file, "/")
		full := filepath.Join(s.project.Folder, filepath.FromSlash(file))
		switch {
		case plain && file == path.Clean(glob):
			s.named(full)
		case matchSegments(pattern, segments), plain && within(pattern, segments):
			s.consider(full)
		default:
			continue
		}
		any = true
	}
	return any
}

// named takes a file that is named outright for a spec, whatever is in it.
func (s *search) named(path string) {
	if LeadsOut(s.root, path) {
		s.outside(path)
		return
	}
	s.take(path)
}

// within tells whether a file lies below the folder that segments name.
func within(folder, file []string) bool {
	return len(folder) < len(file) && strings.Join(folder, "/") == strings.Join(file[:len(folder)], "/") || folder[0] == "." && len(folder) == 1
}

// matchSegments tells whether a path matches a glob, both split at their
// slashes: ** stands for any number of folders, also none, and path.Match says
// what a segment may hold.
func matchSegments(glob, segments []string) bool {
	reached := make([]bool, len(segments)+1) // how much of the path the glob so far can stand for
	reached[0] = true
	for _, g := range glob {
		next := make([]bool, len(segments)+1)
		for i := range reached {
			switch {
			case g == "**":
				next[i] = reached[i] || i > 0 && next[i-1]
			case i > 0 && reached[i-1]:
				next[i], _ = path.Match(g, segments[i-1])
			}
		}
		reached = next
	}
	return reached[len(segments)]
}

// globForm is the form of a glob: it stays below the project's folder.
func globForm(glob string) string {
	switch {
	case len(glob) > 256:
		return "a glob has at most 256 characters"
	case strings.HasPrefix(glob, "/") || strings.Contains(glob, ":"):
		return fmt.Sprintf("%s must be relative to this file's folder", glob)
	}
	for _, segment := range strings.Split(path.Clean(glob), "/") {
		if segment == ".." {
			return fmt.Sprintf("%s leads out of this file's folder", glob)
		}
		if _, err := path.Match(segment, ""); err != nil {
			return fmt.Sprintf("%s is no glob: a [ is not closed, or a \\ ends it", glob)
		}
	}
	return ""
}
