package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/mattn/go-isatty"

	"headroom/reports"
	"headroom/rules"
)

// outputs are the forms that one run is told in: one at most to standard
// output, each other to its file.
type outputs struct {
	forms    []reports.Form
	files    []*wholeFile
	conceded bool // a circuit has concessions: the date is part of the result
}

// openOutputs opens what --as asks for: FORM, or FORM=FILE.
func openOutputs(as []string, stdout io.Writer, color string) (*outputs, error) {
	if len(as) == 0 {
		as = []string{"text"}
	}
	colored, err := wantsColor(color, stdout)
	if err != nil {
		return nil, err
	}
	out := &outputs{}
	taken := ""
	for _, word := range as {
		name, path, toFile := strings.Cut(word, "=")
		w, options := stdout, reports.Options{Color: colored}
		if toFile {
			file, err := createWhole(path)
			if err != nil {
				out.discard()
				return nil, err
			}
			out.files = append(out.files, file)
			w, options = file, reports.Options{}
		} else if taken != "" {
			out.discard()
			return nil, fmt.Errorf("both %s and %s would go to standard output: give one of them a file, as in --as %s=FILE", taken, name, name)
		} else {
			taken = name
		}
		form, err := reports.Open(name, w, options)
		if err != nil {
			out.discard()
			return nil, err
		}
		out.forms = append(out.forms, form)
	}
	return out, nil
}

func (o *outputs) circuit(r *rules.Result) error {
	o.conceded = o.conceded || r.Conceding
	for _, f := range o.forms {
		if err := f.Circuit(r); err != nil {
			return fmt.Errorf("cannot write: %w", err)
		}
	}
	return nil
}

// today is the date to be told: that against which concessions were judged,
// where there were any.
func (o *outputs) today(date string) string {
	if o.conceded {
		return date
	}
	return ""
}

// close ends every form and puts the files in place.
func (o *outputs) close(run reports.Run) error {
	for _, f := range o.forms {
		if err := f.Close(run); err != nil {
			return fmt.Errorf("cannot write: %w", err)
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
func (o *outputs) discard() {
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

// A wholeFile appears under its name once it is complete, or not at all.
type wholeFile struct {
	*os.File
	path string
	kept bool
}

func createWhole(path string) (*wholeFile, error) {
	if path == "" {
		return nil, errors.New("--as FORM=FILE needs a file's name behind the =")
	}
	file, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return nil, fmt.Errorf("cannot write %s: %w", path, err)
	}
	return &wholeFile{File: file, path: path}, nil
}

// keep puts the file in place with the permissions of an ordinary new file.
func (f *wholeFile) keep() error {
	err := errors.Join(f.Chmod(0o644), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), f.path)
	}
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", f.path, err)
	}
	f.kept = true
	return nil
}

func (f *wholeFile) discard() {
	if !f.kept {
		f.Close()
		os.Remove(f.Name())
	}
}
