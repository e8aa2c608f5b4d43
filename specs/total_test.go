package specs

import (
	"os"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// holds checks what is true of every circuit, however wrong its text.
func holds(t *testing.T, c *Circuit) {
	t.Helper()
	soundProblems(t, c.Problems, c.Source)
	nodes := map[string]bool{}
	for _, n := range c.Nodes {
		nodes[n.Name] = true
	}
	sound := func(p Part) {
		for _, port := range Ports(p) {
			if !nodes[port.Node] {
				t.Errorf("%s is connected to %q, which is no node", p.Base().Name, port.Node)
			}
		}
		if pack, is := p.(*FrictionPack); is && pack.ReleasedBy.Given() {
			if _, is := c.Part(pack.ReleasedBy.Value).(*Cylinder); !is {
				t.Errorf("%s is released by %q, which is no cylinder", pack.Name, pack.ReleasedBy.Value)
			}
		}
	}
	for _, p := range c.Parts {
		sound(p)
	}
	for _, one := range c.Cases {
		for _, d := range one.Drives {
			known(t, c, d.Name)
			if s := d.Value.Switch; s != nil && s.Node.Given() && !nodes[s.Node.Value] {
				t.Errorf("a switch watches %q, which is no node", s.Node.Value)
			}
		}
		for _, o := range one.With {
			known(t, c, o.Part)
			if o.As == nil || o.As.Base().Name != o.Part {
				t.Errorf("the case's %s is %v", o.Part, o.As)
			}
			sound(o.As)
		}
		for _, command := range one.Commands {
			if command.Valve.Given() {
				known(t, c, command.Valve.Value)
			}
		}
		for _, e := range one.Expects {
			if e.Node.Given() && !nodes[e.Node.Value] {
				t.Errorf("expected at %q, which is no node", e.Node.Value)
			}
		}
	}
	if len(c.Problems) == 0 && (len(c.Parts) == 0 || !c.Name.Given() || !c.Environment.AirPressure.Given()) {
		t.Errorf("no problem, but %d parts and the name %q", len(c.Parts), c.Name.Value)
	}
}

func known(t *testing.T, c *Circuit, name string) {
	t.Helper()
	if c.Part(name) == nil {
		t.Errorf("a case names %q, which is no part", name)
	}
}

// soundProblems checks that problems are in order, each told once, at a place
// of the text, and in words.
func soundProblems(t *testing.T, problems []Problem, text []byte) {
	t.Helper()
	if len(problems) > maxProblems+1 {
		t.Errorf("%d problems", len(problems))
	}
	told := problems[:min(len(problems), maxProblems)]
	if !reflect.DeepEqual(sorted(slices.Clone(told), 0), told) {
		t.Error("problems are not in order")
	}
	lines := strings.Split(string(text), "\n")
	for _, p := range problems {
		at := p.At
		if at.Line < 1 || at.Line > len(lines) || at.EndLine < at.Line || at.EndLine > len(lines) || at.Column < 1 ||
			at.EndLine == at.Line && at.EndColumn < at.Column || at.Column > len([]rune(lines[at.Line-1]))+2 {
			t.Errorf("a problem at no place of the text: %v, %+v", p, at)
		}
		if p.Message == "" || strings.ContainsFunc(p.Message+p.Path, unseen) || len([]rune(p.Message)) > maxTidy {
			t.Errorf("message %q", p.Message)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(base))
	f.Add([]byte(fullSpec()))
	f.Add(starter)
	if data, err := os.ReadFile("testdata/problems.txt"); err == nil {
		for _, entry := range strings.Split(string(data), "\n\n") {
			_, edit, _ := strings.Cut(entry, "now ")
			now, _, _ := strings.Cut(edit, "\n")
			f.Add([]byte(now))
		}
	}
	for _, text := range hostile() {
		if len(text) < 2000 {
			f.Add([]byte(text))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 20000 {
			return // size is what TestHostile is about
		}
		c := Read("spec.yaml", data)
		holds(t, c)
		if again := Read("spec.yaml", data); !reflect.DeepEqual(c.Problems, again.Problems) {
			t.Error("read twice, told differently")
		}
	})
}

func FuzzProject(f *testing.F) {
	f.Add([]byte(baseProject))
	f.Add([]byte("specs: ['**/[a-z]?.yaml']\nlimits: {a: {b: 1}}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p := ReadProject("headroom.yaml", data)
		soundProblems(t, p.Problems, data)
		for _, glob := range p.Specs {
			matchSegments(strings.Split(glob.Value, "/"), []string{"a", "b", "c.yaml"})
		}
	})
}

// FuzzTopKeys holds the quick look at a file against a whole parse of it.
func FuzzTopKeys(f *testing.F) {
	f.Add([]byte("headroom: 1\ncircuit: x\n"))
	f.Add([]byte("{circuit: x}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		keys, err := scanTopKeys(strings.NewReader(string(data)))
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Count(string(data), "\n") + 1
		if keys.headroom > lines || keys.circuit > lines {
			t.Errorf("%+v in %d lines", keys, lines)
		}
	})
}

// hostile are texts made to be slow, large or fatal to read.
func hostile() map[string]string {
	const size = maxFile - 2000
	fill := func(s string) string { return strings.Repeat(s, size/len(s)) }
	numbered := func(head, each string) string {
		var b strings.Builder
		b.WriteString(head)
		for i := 0; b.Len() < size; i++ {
			b.WriteString(strings.ReplaceAll(each, "#", "n"+strings.Repeat("x", i%7)+string(rune('a'+i%26))+string(rune('a'+i/26%26))+string(rune('a'+i/676%26))))
		}
		return b.String()
	}
	head := "headroom: 1\ncircuit: x\ntitle: t\nfluid: {like: hm-32}\nparts:\n"
	ladder := func() string {
		var b strings.Builder
		for i := 0; b.Len() < size; i++ {
			b.WriteString(strings.Repeat(" ", i) + "a:\n")
		}
		return b.String()
	}
	return map[string]string{
		"alias bomb":      "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b]\nd: &d [*c,*c,*c,*c,*c,*c]\ne: [*d,*d,*d,*d]\n",
		"alias in itself": "a: &a [*a]\nb: &b {c: *b}\n",
		"merge bomb":      "a: &a {x: 1}\nb: &b {<<: [*a, *a]}\nc: {<<: [*b, *b]}\n",
		"many aliases":    "a: &a [1]\nb: [" + fill("*a,") + "]",
		"anchors":         fill("- &a a\n"),
		"tags":            fill("- !x a\n"),
		"directives":      fill("%TAG !a! b\n"),
		"nulls":           fill("-\n"),
		"commas":          "a: [" + fill("a,") + "]",
		"brackets":        fill("["),
		"braces":          fill("{a: "),
		"dashes":          fill("- "),
		"questions":       fill("? "),
		"colons":          fill(": "),
		"documents":       fill("---\n"),
		"open quotes":     "a: \"" + fill("a"),
		"escapes":         "a: \"" + fill("\\u0041") + "\"",
		"one line":        "a: " + strings.Repeat("a", 10<<20),
		"long key":        fill("a") + ": 1",
		"comments":        fill("#\n"),
		"comments within": fill("a:\n# c\n\n# d\n"),
		"equal keys":      fill("a: 1\n"),
		"blocks":          "a: |\n" + fill(" x\n"),
		"spaces":          strings.Repeat(" ", size) + "a",
		"ladder":          ladder(),
		"NUL":             fill("\x00"),
		"breaks":          fill("\r\n"),
		"marks":           fill(bom),
		"tabs":            fill("\t"),
		"bad bytes":       fill("\xff"),
		"parts":           numbered(head, "  #: {kind: tube, from: #, to: #}\n"),
		"unknown names":   numbered(numbered(head, "  #: {kind: consumer, from: a, to: b}\n")[:size/2]+"x: {}\ncases:\n  c:\n    lasts: 3 s\n    demands:\n", "      q#: 1\n"),
		"changed parts":   numbered(head+"  t: {kind: hose, from: a, to: b, bore: 3 mm, length: 3 m, seals: ["+strings.Repeat("{},", 20000)+"]}\ncases:\n", "  #: {with: {t: {}}}\n"),
		"expectations":    head + "  a: {kind: tube}\ncases: {c: {lasts: 1 s, expects: [" + fill("{},") + "]}}",
		"commands":        head + "  a: {kind: tube}\ncases: {c: {lasts: 1 s, commands: [" + fill("{},") + "]}}",
		"seals":           head + "  a: {kind: tube, seals: [" + fill("{},") + "]}",
		"points":          head + "  p: {kind: pump}\ncases: {c: {lasts: 1 s, drives: {p: [" + fill("[],") + "]}}}",
		"limits":          "limits: {" + fill("a: {},") + "}",
		"nested limits":   "limits: " + strings.Repeat("{a: ", 20) + "1" + strings.Repeat("}", 20),
	}
}

// No text takes more than 256 MB or much time to read, and each is told of.
func TestHostile(t *testing.T) {
	const most = 256 << 20
	for name, text := range hostile() {
		t.Run(name, func(t *testing.T) {
			runtime.GC()
			var peak atomic.Uint64
			done := make(chan *Circuit, 1)
			go func() { done <- Read("spec.yaml", []byte(text)) }()
			watch := time.NewTicker(5 * time.Millisecond)
			defer watch.Stop()
			deadline := time.After(time.Minute) // hundreds of times what any of them takes
			for {
				select {
				case c := <-done:
					if len(c.Problems) == 0 {
						t.Error("no problem")
					}
					holds(t, c)
					if peak.Load() > most {
						t.Errorf("took %d MB", peak.Load()>>20)
					}
					return
				case <-watch.C:
					var m runtime.MemStats
					runtime.ReadMemStats(&m)
					peak.Store(max(peak.Load(), m.HeapInuse))
				case <-deadline:
					t.Fatal("is still being read")
				}
			}
		})
	}
}

// Many may read at once, each as if alone.
func TestReadAtOnce(t *testing.T) {
	texts := []string{base, fullSpec(), string(starter), strings.Replace(base, "volume: 10 L", "volume: 10 bar", 1)}
	var want []*Circuit
	for _, text := range texts {
		want = append(want, Read("spec.yaml", []byte(text)))
	}
	var group sync.WaitGroup
	for i := range 40 {
		group.Go(func() {
			text := texts[i%len(texts)]
			if got := Read("spec.yaml", []byte(text)); !reflect.DeepEqual(got, want[i%len(texts)]) {
				t.Errorf("text %d reads otherwise: %s", i%len(texts), cmp.Diff(want[i%len(texts)].Problems, got.Problems))
			}
		})
	}
	group.Wait()
}

func TestLoad(t *testing.T) {
	root := files(t, map[string]string{"a.yaml": base})
	c, err := Load(root + "/a.yaml")
	if err != nil || len(c.Problems) > 0 || c.Name.Value != "test-rig" || string(c.Source) != base {
		t.Errorf("%v, %v", c, err)
	}
	if _, err := Load(root + "/b.yaml"); err == nil || !strings.Contains(err.Error(), "b.yaml") {
		t.Errorf("a file that does not exist: %v", err)
	}
	if _, err := Load(root); err == nil {
		t.Error("a folder was read")
	}
}

func TestStarter(t *testing.T) {
	text, err := Starter("lock-gate")
	if err != nil {
		t.Fatal(err)
	}
	c := Read("lock-gate.yaml", text)
	if len(c.Problems) > 0 || c.Name.Value != "lock-gate" || len(c.Parts) < 6 || len(c.Cases) != 2 {
		t.Errorf("%v, %d parts, %d cases, problems %v", c.Name, len(c.Parts), len(c.Cases), c.Problems)
	}
	for _, name := range []string{"", "a b", "a:b", "-x", "{}", strings.Repeat("a", 65)} {
		if _, err := Starter(name); err == nil {
			t.Errorf("%q is a name", name)
		}
	}
}
