package specs

import (
	"strings"
	"testing"
	"time"
)

func same(name string) string { return name }

// Nothing is written in a file that cannot be read, and no edit is told of it.
func TestNothingIsWrittenInUnreadableFiles(t *testing.T) {
	sound := Read("a.yaml", []byte("headroom: 1\ncircuit: x\n"))
	for _, text := range []string{"", "parts: {", "headroom: 1\ncircuit: &a x\n", "parts: " + strings.Repeat("[", 9000) + strings.Repeat("]", 9000), "headroom: 1\nparts: " + strings.Repeat("{a: ", 30) + "1" + strings.Repeat("}", 30)} {
		c := Read("a.yaml", []byte(text))
		if c.Written().root != nil {
			t.Errorf("%.40q has something written in it", text)
		}
		if edits := append(sound.Written().Edits(c.Written(), same), c.Written().Edits(sound.Written(), same)...); edits != nil {
			t.Errorf("edits of %.40q: %+v", text, edits)
		}
	}
	if edits := sound.Written().Edits(Read("a.yaml", []byte("headroom: 1\ncircuit: y\n")).Written(), same); len(edits) != 1 || edits[0].Path != "circuit" || edits[0].Line != 2 {
		t.Errorf("%+v", edits)
	}
}

// No text takes long to compare with another one like it.
func TestHostileEdits(t *testing.T) {
	for name, text := range hostile() {
		t.Run(name, func(t *testing.T) {
			older, newer := Read("a.yaml", []byte(text)), Read("a.yaml", []byte(strings.Replace(text, "a", "b", 1)))
			done := make(chan bool)
			go func() {
				older.Written().Edits(newer.Written(), same)
				close(done)
			}()
			select {
			case <-done:
			case <-time.After(time.Minute): // hundreds of times what any of them takes
				t.Error("takes more than a minute")
			}
		})
	}
}
