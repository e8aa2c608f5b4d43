package main

import (
	"bytes"
	"os"
	"testing"
)

// On a terminal text is coloured, unless NO_COLOR is set or the terminal is dumb;
// elsewhere it is not, unless --color says so.
func TestColor(t *testing.T) {
	terminal, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer terminal.Close()
	for _, test := range []struct {
		word, noColor, term string
		onTerminal, inFile  bool
	}{
		{"auto", "", "xterm", true, false},
		{"auto", "1", "xterm", false, false},
		{"auto", "", "dumb", false, false},
		{"always", "1", "dumb", true, true},
		{"never", "", "xterm", false, false},
	} {
		t.Setenv("NO_COLOR", test.noColor)
		t.Setenv("TERM", test.term)
		on, err := wantsColor(test.word, terminal)
		in, again := wantsColor(test.word, &bytes.Buffer{})
		if err != nil || again != nil || on != test.onTerminal || in != test.inFile {
			t.Errorf("%+v: %v and %v (%v, %v)", test, on, in, err, again)
		}
	}
	if _, err := wantsColor("sometimes", terminal); err == nil {
		t.Error("any word will do")
	}
}
