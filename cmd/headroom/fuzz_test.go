package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// FuzzToday: --today takes a day as concessions write it, and nothing else.
func FuzzToday(f *testing.F) {
	for _, text := range []string{"2027-03-01", "2027-02-30", "2027-3-1", "today", "", "2027-03-01 ", "+027-03-01"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := selection{today: text}
		err := s.settleToday()
		day, parsed := time.Parse(time.DateOnly, s.today)
		if (err == nil) != (parsed == nil) || err == nil && day.Format(time.DateOnly) != s.today || text != "" && s.today != text {
			t.Errorf("%q: %v, taken as %q", text, err, s.today)
		}
	})
}

// FuzzEvery: --every is a time above nothing, or is refused in words.
func FuzzEvery(f *testing.F) {
	for _, text := range []string{"10 ms", "", "0 s", "-1 s", "1e-300 s", "1e400 s", "10", "10 bar", "ms"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		every, err := interval(text)
		if err == nil && (!(every > 0) || math.IsInf(every, 0)) != (text == "") {
			t.Errorf("%q is %g s", text, every)
		}
		if err != nil && !strings.HasPrefix(err.Error(), "--every") {
			t.Errorf("%q: %v", text, err)
		}
	})
}

// FuzzRevision: REV:PATH names a file below the top of the repository, wherever the
// working folder is in it, or is refused.
func FuzzRevision(f *testing.F) {
	for _, argument := range []string{"HEAD~1:circuits/main.yaml", "HEAD:./a.yaml", "main:../x", "a:b:c", ":x", "HEAD:", "HEAD:/etc/passwd", "HEAD:a/../../b", "HEAD:..", "--output=x:y"} {
		f.Add(argument, "circuits/")
		f.Add(argument, "")
	}
	f.Fuzz(func(t *testing.T, argument, here string) {
		if here != "" && !filepath.IsLocal(here) {
			return // git gives no such folder
		}
		rev, inside, ok := cutRevision(argument)
		if !ok {
			return
		}
		if rev == "" || strings.Contains(rev, ":") || rev+":"+inside != argument {
			t.Errorf("%q is parted into %q and %q", argument, rev, inside)
		}
		at, err := pathOf(inside, here)
		if err != nil {
			return
		}
		top := filepath.FromSlash("/top")
		full := filepath.Join(top, filepath.FromSlash(at))
		if full != top && !strings.HasPrefix(full, top+string(filepath.Separator)) {
			t.Errorf("%q from %q leads to %s", argument, here, full)
		}
	})
}
