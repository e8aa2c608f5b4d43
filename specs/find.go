package specs

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// Found is what a search for specs came upon.
type Found struct {
	Specs    []string  // spec files, to be opened; each folder's in the order of their names
	Others   int       // other YAML files met on a walk
	Problems []Problem // files with half of what makes a spec, files that cannot be read, globs without a match
	Missing  []string  // paths given that are neither a file nor a folder, each with the reason
}

// Find looks for spec files: each path is a file, which is taken for a spec
// whatever is in it, or a folder to walk. Without paths the project's globs are
// searched, and without those the working folder. Hidden folders are skipped and
// links to folders not followed; a link to a spec is, unless it leads out of the
// folder that is walked, which is a problem.
func Find(paths []string, project *Project) Found {
	s := search{project: project, met: map[string]bool{}, taken: map[string]bool{}}
	if len(paths) == 0 && project != nil && len(project.Specs) > 0 {
		s.globs()
		return s.Found
	}
	if len(paths) == 0 {
		paths = []string{"."}
	}
	for _, path := range paths {
		info, err := os.Stat(path)
		switch {
		case path == "-" && err != nil:
			s.Missing = append(s.Missing, "- is no file: specs are read from files and folders, not from standard input")
		case errors.Is(err, fs.ErrNotExist):
			s.Missing = append(s.Missing, path+": no such file or folder")
		case err != nil:
			s.Missing = append(s.Missing, fmt.Sprintf("%s: %v", path, bare(err)))
		case info.IsDir():
			s.root = filepath.Clean(path)
			s.walk(s.root, s.consider)
		case !info.Mode().IsRegular():
			s.Missing = append(s.Missing, path+" is neither a file nor a folder")
		default:
			s.take(filepath.Clean(path))
		}
	}
	s.Problems = sorted(s.Problems, 0)
	return s.Found
}

// bare is what the file system says, without the call and the path.
func bare(err error) error {
	var detail *fs.PathError
	if errors.As(err, &detail) {
		return detail.Err
	}
	return err
}

// search is a search under way.
type search struct {
	Found
	project    *Project
	met, taken map[string]bool // files by the name they are told with
	root       string          // the folder that is walked
}

// take adds a spec once.
func (s *search) take(path string) {
	if name := s.project.Tell(path); !s.taken[name] {
		s.taken[name] = true
		s.Specs = append(s.Specs, path)
	}
}

// walk visits the YAML files of a folder and those below it, each folder's in
// the order of their names.
func (s *search) walk(folder string, visit func(path string)) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		s.unreadable(folder, err)
		return
	}
	for _, e := range entries {
		path := filepath.Join(folder, e.Name())
		switch {
		case e.IsDir() && !strings.HasPrefix(e.Name(), "."):
			s.walk(path, visit)
		case isYAML(e.Name()) && e.Name() != projectFile && regular(path, e):
			visit(path)
		}
	}
}

func isYAML(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return ext == ".yaml" || ext == ".yml"
}

// regular tells whether an entry is a file, or a link to one, or to nothing:
// pipes and devices are not to be read.
func regular(path string, e fs.DirEntry) bool {
	if e.Type()&fs.ModeSymlink == 0 {
		return e.Type().IsRegular()
	}
	info, err := os.Stat(path)
	return err != nil || info.Mode().IsRegular()
}

// consider takes a file met on a walk for a spec if it has the keys of one.
func (s *search) consider(path string) {
	name := s.project.Tell(path)
	if s.met[name] {
		return
	}
	s.met[name] = true
	keys, err := topKeysOf(path)
	switch {
	case err != nil:
		s.unreadable(path, err)
	case keys != (topKeys{}) && LeadsOut(s.root, path):
		s.outside(path)
	case keys.headroom > 0 && keys.circuit > 0:
		s.take(path)
	case keys.headroom > 0:
		s.half(path, keys.headroom, "headroom", "circuit")
	case keys.circuit > 0:
		s.half(path, keys.circuit, "circuit", "headroom")
	default:
		s.Others++
	}
}

func (s *search) half(path string, line int, has, lacks string) {
	at := Span{File: s.project.Tell(path), Line: line, Column: 1, EndLine: line, EndColumn: 1 + len(has)}
	s.Problems = append(s.Problems, Problem{Rule: ruleMissing, At: at, Path: lacks,
		Message: fmt.Sprintf("this file has the key %s of a spec but not %s; a spec has both, other files neither", has, lacks)})
}

// LeadsOut tells whether a path is or goes through a link to what is not below a folder,
// or to what cannot be found.
func LeadsOut(folder, path string) bool {
	from, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return true
	}
	to, err := filepath.EvalSymlinks(path)
	if err != nil {
		return true
	}
	if from, err = filepath.Abs(from); err == nil {
		to, err = filepath.Abs(to)
	}
	if err != nil {
		return true
	}
	below, err := filepath.Rel(from, to)
	return err != nil || !filepath.IsLocal(below)
}

// outside tells of a spec that a link brings in from elsewhere.
func (s *search) outside(path string) {
	at := Span{File: s.project.Tell(path), Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
	s.Problems = append(s.Problems, Problem{Rule: ruleReference, At: at,
		Message: "this is a link that leads out of the folder; it is not read: name the file itself, or copy it here"})
}

func (s *search) unreadable(path string, err error) {
	at := Span{File: s.project.Tell(path), Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
	s.Problems = append(s.Problems, Problem{Rule: ruleSyntax, At: at, Message: fmt.Sprintf("cannot be read: %v", bare(err))})
}

// topKeys are the lines of the two keys that make a spec; 0 where they are not.
type topKeys struct {
	headroom, circuit int
}

// topKeysOf reads a file until both keys are found, to the end of its first
// document, or as far as a spec may be long.
func topKeysOf(path string) (topKeys, error) {
	f, err := os.Open(path)
	if err != nil {
		return topKeys{}, err
	}
	defer f.Close()
	return scanTopKeys(io.LimitReader(f, maxFile))
}

// scanTopKeys looks at the beginning of each line alone, so that it copes with
// what is no YAML; a document in braces is parsed.
func scanTopKeys(from io.Reader) (topKeys, error) {
	in := bufio.NewReader(from)
	var keys topKeys
	indent := -1 // of the top-level keys; -1 until the first is seen
	for line := 1; keys.headroom == 0 || keys.circuit == 0; line++ {
		text, err := beginning(in)
		if line == 1 {
			text = bytes.TrimPrefix(text, []byte(bom))
		}
		bare := bytes.TrimLeft(text, " ")
		switch {
		case len(bare) == 0 || bare[0] == '#' || bare[0] == '%' && indent < 0:
		case bytes.HasPrefix(text, []byte("---")) || bytes.HasPrefix(text, []byte("...")):
			if indent >= 0 {
				return keys, nil
			}
		case indent < 0 && bare[0] == '{':
			return bracedTopKeys(text, in, line)
		case indent < 0 && bare[0] == '[':
			return keys, nil
		case indent < 0:
			indent = len(text) - len(bare)
			fallthrough
		case len(text)-len(bare) == indent:
			keys.note(bare, line)
		}
		if err == io.EOF {
			return keys, nil
		}
		if err != nil {
			return keys, err
		}
	}
	return keys, nil
}

// beginning reads a line and returns what of it fits a buffer, without its end.
func beginning(in *bufio.Reader) ([]byte, error) {
	text, err := in.ReadSlice('\n')
	if !errors.Is(err, bufio.ErrBufferFull) {
		return bytes.TrimRight(text, "\r\n"), err
	}
	text = bytes.Clone(text)
	for errors.Is(err, bufio.ErrBufferFull) {
		_, err = in.ReadSlice('\n')
	}
	return text, err
}

// note keeps the line where it begins with one of the two keys.
func (k *topKeys) note(text []byte, line int) {
	name, rest, colon := bytes.Cut(text, []byte(":"))
	if !colon || len(rest) > 0 && !isSpace(rest[0]) {
		return
	}
	switch strings.Trim(string(bytes.TrimSpace(name)), `"'`) {
	case "headroom":
		k.headroom = line
	case "circuit":
		k.circuit = line
	}
}

// bracedTopKeys parses a document that is a mapping in braces; what is no YAML
// has none of the keys.
func bracedTopKeys(first []byte, in io.Reader, line int) (keys topKeys, err error) {
	rest, err := io.ReadAll(in)
	if err != nil {
		return topKeys{}, err
	}
	r := newReader("", slices.Concat(first, []byte("\n"), rest))
	root := r.parse()
	if root == nil || root.Kind != yaml.MappingNode {
		return topKeys{}, nil
	}
	for i := 0; i < len(root.Content); i += 2 {
		switch at := line + root.Content[i].Line - 1; root.Content[i].Value {
		case "headroom":
			keys.headroom = at
		case "circuit":
			keys.circuit = at
		}
	}
	return keys, nil
}
