package main

import (
	"bytes"
	"errors"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
)

// A guarded buffer keeps what was written, for several writers.
type guarded struct {
	written chan []byte
}

func (g *guarded) Write(b []byte) (int, error) {
	g.written <- bytes.Clone(b)
	return len(b), nil
}

// Long work is told in one line that is written over, goes out of the way of what else
// is written, and leaves nothing behind.
func TestProgressIsToldAndGoesAway(t *testing.T) {
	w := &guarded{make(chan []byte, 10000)}
	p := startProgress(w, 0, time.Millisecond)
	p.begin("circuits of a-branch-with-a-name-that-is-much-too-long-for-a-line", 12)
	p.step()
	line := regexp.MustCompile(`^\r\x1b\[Kjudged 1 of 12 circuits of a-branch-with-a-name-that-i…, [0-9]+ s$`)
	for !line.Match(<-w.written) { // a line from before the first step may come first
	}
	failed := errors.New("told")
	err := p.aside(func() error {
		w.Write([]byte("a finding\n"))
		return failed
	})
	if err != failed {
		t.Errorf("what is written aside fails with %v", err)
	}
	p.end()
	p.end()
	close(w.written)
	var rest bytes.Buffer
	for b := range w.written {
		rest.Write(b)
	}
	before, after, found := strings.Cut(rest.String(), "a finding\n")
	if !found || !strings.HasSuffix(before, "\r\x1b[K") {
		t.Errorf("the line stands in the way: %q", rest.String())
	}
	if left := after[strings.LastIndex(after, "\x1b[K")+1:]; after != "" && left != "[K" {
		t.Errorf("the end leaves %q", left)
	}
}

// Work that is soon done is not told at all.
func TestProgressOfShortWork(t *testing.T) {
	var out bytes.Buffer
	p := startProgress(&out, time.Hour, time.Millisecond)
	p.begin("circuits", 1)
	p.step()
	p.end()
	if out.Len() > 0 {
		t.Errorf("%q", out.String())
	}
}

// Progress is for a terminal that is not dumb, and only where it is wanted; elsewhere
// all of it does nothing.
func TestProgressIsForTerminals(t *testing.T) {
	terminal, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer terminal.Close()
	reader, pipe, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer reader.Close()
	defer pipe.Close()
	for _, test := range []struct {
		name  string
		p     *progress
		tells bool
	}{
		{"a terminal", with(t, "xterm", func() *progress { return newProgress(terminal, false) }), true},
		{"quiet", with(t, "xterm", func() *progress { return newProgress(terminal, true) }), false},
		{"a dumb terminal", with(t, "dumb", func() *progress { return newProgress(terminal, false) }), false},
		{"a pipe", with(t, "xterm", func() *progress { return newProgress(pipe, false) }), false},
		{"no file", with(t, "xterm", func() *progress { return newProgress(&bytes.Buffer{}, false) }), false},
	} {
		if tells := test.p != nil; tells != test.tells {
			t.Errorf("%s: %v", test.name, tells)
		}
		test.p.begin("circuits", 1)
		test.p.step()
		if test.p.aside(func() error { return nil }) != nil {
			t.Errorf("%s: aside fails", test.name)
		}
		test.p.end()
	}
}

// with gives what is made under a kind of terminal.
func with(t *testing.T, term string, make func() *progress) *progress {
	t.Setenv("TERM", term)
	return make()
}
