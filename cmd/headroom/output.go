package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"github.com/mattn/go-isatty"

	"headroom/reports"
)

// outputs are the forms that one run is told in: one at most to standard
// output, each other to its file.
type outputs[F closer] struct {
	forms []F
	files []*wholeFile
}

// A closer is a form that ends with what holds for the run as a whole.
type closer interface{ Close(reports.Run) error }

// An opener starts a form by its name.
type opener[F closer] func(name string, w io.Writer, options reports.Options) (F, error)

// openOutputs opens what --as asks for: FORM, or FORM=FILE. Options are those that do
// not hang on where a form goes.
func openOutputs[F closer](as []string, stdout io.Writer, color string, options reports.Options, open opener[F]) (*outputs[F], error) {
	if len(as) == 0 {
		as = []string{"text"}
	}
	colored, err := wantsColor(color, stdout)
	if err != nil {
		return nil, err
	}
	out := &outputs[F]{}
	taken := ""
	for _, word := range as {
		name, path, toFile := strings.Cut(word, "=")
		w := stdout
		options.Color = colored && !toFile
		if toFile {
			file, err := out.create(path)
			if err != nil {
				out.discard()
				return nil, err
			}
			w = file
		} else if taken != "" {
			out.discard()
			return nil, fmt.Errorf("both %s and %s would go to standard output: give one of them a file, as in --as %s=FILE", taken, name, name)
		} else {
			taken = name
		}
		form, err := open(name, w, options)
		if err != nil {
			out.discard()
			return nil, err
		}
		out.forms = append(out.forms, form)
	}
	return out, nil
}

// create makes a file that appears once all are complete; two forms do not share one.
func (o *outputs[F]) create(path string) (*wholeFile, error) {
	for _, f := range o.files {
		if canonical(f.path) == canonical(path) {
			return nil, fmt.Errorf("two forms would go to %s: give each a file of its own", path)
		}
	}
	file, err := createWhole(path)
	if err == nil {
		o.files = append(o.files, file)
	}
	return file, err
}

// canonical is the one way to a file, however it is named: an absolute one, without links.
// What cannot be followed stays as it is.
func canonical(path string) string {
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	if folder, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		return filepath.Join(folder, filepath.Base(path))
	}
	return path
}

// each lets every form tell something.
func (o *outputs[F]) each(tell func(F) error) error {
	for _, f := range o.forms {
		if err := tell(f); err != nil {
			return fmt.Errorf("cannot write: %w", err)
		}
	}
	return nil
}

// close ends every form and puts the files in place.
func (o *outputs[F]) close(run reports.Run) error {
	if err := o.each(func(f F) error { return f.Close(run) }); err != nil {
		return err
	}
	for _, f := range o.files {
		if err := f.complete(); err != nil {
			return err
		}
	}
	for _, f := range o.files {
		if err := f.keep(); err != nil {
			return err
		}
	}
	return nil
}

// discard removes files that were not put in place.
func (o *outputs[F]) discard() {
	for _, f := range o.files {
		f.discard()
	}
}

// wantsColor tells whether text output is coloured: on a terminal, unless
// NO_COLOR is set or --color says otherwise.
func wantsColor(word string, w io.Writer) (bool, error) {
	switch word {
	case "always":
		return true, nil
	case "never":
		return false, nil
	case "auto":
		file, ok := w.(*os.File)
		return ok && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isatty.IsTerminal(file.Fd()), nil
	}
	return false, fmt.Errorf("--color takes auto, always or never, not %q", word)
}

// A wholeFile appears under its name once it is complete, or not at all. A device or
// pipe is written to as it is.
type wholeFile struct {
	*os.File
	path   string      // as asked for
	place  string      // where it goes: behind a link, the file that this names
	direct bool        // it is no ordinary file
	mode   fs.FileMode // permissions of the file that it replaces; 0 for a new one
	done   bool        // complete on disk
	kept   bool        // in its place
}

func createWhole(path string) (*wholeFile, error) {
	if path == "" {
		return nil, errors.New("the name of the file to write is empty")
	}
	info, err := os.Stat(path)
	there := err == nil
	switch {
	case there && info.IsDir():
		return nil, fmt.Errorf("cannot write %s: it is a folder", path)
	case there && !info.Mode().IsRegular():
		file, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return nil, fmt.Errorf("cannot write %s: %w", path, bare(err))
		}
		return &wholeFile{File: file, path: path, direct: true}, nil
	}
	place, mode := path, fs.FileMode(0)
	if there {
		mode = info.Mode().Perm()
		if place, err = filepath.EvalSymlinks(path); err != nil {
			return nil, fmt.Errorf("cannot write %s: %w", path, bare(err))
		}
	}
	var file *os.File
	err = unfinished.make(func() (string, error) {
		file, err = createBeside(place)
		if err != nil {
			return "", err
		}
		return file.Name(), nil
	})
	if err != nil {
		return nil, fmt.Errorf("cannot write %s: %w", path, bare(err))
	}
	return &wholeFile{File: file, path: path, place: place, mode: mode}, nil
}

// createBeside makes a file of a name of its own in the folder of another one, with the
// permissions of an ordinary new file.
func createBeside(place string) (*os.File, error) {
	for {
		name := fmt.Sprintf(".%s.%x", filepath.Base(place), rand.Uint64())
		file, err := os.OpenFile(filepath.Join(filepath.Dir(place), name), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return file, err
		}
	}
}

// complete puts all of the file on disk, with the permissions of the one that it
// replaces, but under no name yet.
func (f *wholeFile) complete() error {
	if f.done {
		return nil
	}
	f.done = true
	var err error
	if f.mode != 0 {
		err = f.Chmod(f.mode)
	}
	if !f.direct {
		err = errors.Join(err, f.Sync())
	}
	if err := errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("cannot write %s: %w", f.path, bare(err))
	}
	return nil
}

// keep puts the file in place.
func (f *wholeFile) keep() error {
	if err := f.complete(); err != nil {
		return err
	}
	if !f.direct {
		if err := os.Rename(f.Name(), f.place); err != nil {
			return fmt.Errorf("cannot write %s: %w", f.path, bare(err))
		}
		unfinished.forget(f.Name())
	}
	f.kept = true
	return nil
}

// bare is what the file system says, without its call and the name of a file that
// nobody asked for.
func bare(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

func (f *wholeFile) discard() {
	if f.kept {
		return
	}
	f.Close()
	if !f.direct {
		unfinished.remove(f.Name())
	}
}
