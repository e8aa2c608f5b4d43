package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"headroom/specs"
)

// TestHostilePacks holds that no pack costs more than it should: it comes with a
// pull request, from anyone. Each of these is refused, or judges a circuit, within
// 0.2 s and 80 MiB where it was measured; the bounds leave room for slow machines and
// the race detector, and catch growth without end.
func TestHostilePacks(t *testing.T) {
	again := strings.Repeat
	rule := func(id, expression string) string {
		return fmt.Sprintf("- {id: h.%s, title: t, for: part, require: %q, grade: critical, basis: b, why: w, remedy: r, examples: []}\n", id, expression)
	}
	many := func(n int, expression string) string {
		var rules strings.Builder
		for i := range n {
			rules.WriteString(rule(fmt.Sprintf("r%d", i), expression))
		}
		return rules.String()
	}
	different := func(n, size int) string {
		var rules strings.Builder
		for i := range n {
			rules.WriteString(rule(fmt.Sprintf("r%d", i), fmt.Sprintf("%d < %s", i, again("1+", size)+"1")))
		}
		return rules.String()
	}
	head := "pack: h\nabout: x\nrules:\n"
	packs := map[string]string{
		"too large":           again("#", 1<<20),
		"deep lists":          "pack: " + again("[", 10000),
		"deep mappings":       "limits: " + again("{a: ", 10000),
		"deep indentation":    indented(3000),
		"aliases":             "a: &a [x, x, x, x, x, x, x, x, x]\n" + bomb(9),
		"merge keys":          "a: &a {b: c}\nd: {<<: *a}\n",
		"tags":                "pack: !!binary aGk=\n",
		"many rules":          head + many(2000, "true"),
		"many keys":           head + "- {" + manyKeys(8000) + "}\n",
		"many limits":         "pack: h\nabout: x\nlimits:\n" + manyLimits(5000) + "rules: []\n",
		"deep limits":         "pack: h\nabout: x\nlimits: " + again("{a: ", 20) + "1" + again("}", 20) + "\n",
		"wide and deep sets":  "pack: h\nabout: x\nlimits: {a: {choose: s0, " + manySets(400) + "}}\n",
		"large expressions":   head + different(100, 140),
		"largest expressions": head + different(400, 190),
		"too large ones":      head + different(100, 900),
		"one expression":      head + many(400, again("!", 400)+"true"),
		"many unknown names":  head + many(400, again("x || ", 90)+"x"),
		"long names":          head + rule(again("a", 100000), "true"),
		"many examples":       head + strings.Replace(rule("a", "part.relief_present"), "examples: []", "examples: ["+again("{facts: {part: {relief_present: true}}, verdict: passes},", 3000)+"]", 1),
		"braces in sentences": head + strings.Replace(rule("a", "part.relief_present"), "why: w", "why: w, says: '"+again("{part.name}", 6000)+"'", 1),
		"open braces":         head + strings.Replace(rule("a", "part.relief_present"), "why: w", "why: w, says: '"+again("{", 60000)+"'", 1),
		"other files":         head + rule("a", "file('/etc/passwd') == ''"),
		"regular expressions": head + rule("a", "part.kind.matches('(a*)*b')"),
		"growing lists":       head + rule("a", "[1,2,3].map(x, [x,x,x] + [x,x,x]).size() > 0"),
		"switching off":       "pack: h\nabout: x\nswitch_off:\n" + again("- {rule: strength.burst-factor, because: x}\n", 4000),
		"not UTF-8":           "pack: \xff\xfe\n",
		"control characters":  "pack: \x00\n",
		"nothing":             "",
	}
	base := mustCore(t)
	c := sampleCircuit(5)
	for name, text := range packs {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "pack.yaml")
			if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			begun := time.Now()
			book, problems := Load(base, file)
			book.Judge(c, Settings{})
			took := time.Since(begun)
			runtime.ReadMemStats(&after)
			if took > 10*time.Second {
				t.Errorf("it took %v", took)
			}
			if grown := after.TotalAlloc - before.TotalAlloc; grown > 256<<20 {
				t.Errorf("it took %d MiB", grown>>20)
			}
			if len(problems) > 101 {
				t.Errorf("%d problems are told", len(problems))
			}
		})
	}
}

func indented(depth int) string {
	var text strings.Builder
	for i := range depth {
		text.WriteString(strings.Repeat(" ", min(i, 80)) + "a:\n")
	}
	return text.String()
}

// bomb is a list of lists of lists by aliases.
func bomb(levels int) string {
	var text strings.Builder
	for i := range levels {
		alias := "*" + string(rune('a'+i))
		fmt.Fprintf(&text, "%c: &%c [%s]\n", 'b'+i, 'b'+i, strings.TrimSuffix(strings.Repeat(alias+", ", 9), ", "))
	}
	return text.String()
}

func manyKeys(n int) string {
	keys := make([]string, n)
	for i := range keys {
		keys[i] = fmt.Sprintf("k%d: 1", i)
	}
	return strings.Join(keys, ", ")
}

func manyLimits(n int) string {
	var text strings.Builder
	for i := range n {
		fmt.Fprintf(&text, "  l%d: %d bar\n", i, i)
	}
	return text.String()
}

func manySets(n int) string {
	sets := make([]string, n)
	for i := range sets {
		sets[i] = fmt.Sprintf("s%d: {x: 1, y: {z: 2}}", i)
	}
	return strings.Join(sets, ", ")
}

// FuzzPack holds that any text is read as a pack without panic, that what is wrong
// with it has a place in it, and that a sound one judges.
func FuzzPack(f *testing.F) {
	f.Add(house)
	f.Add(limitsPack)
	f.Add(judgePack)
	f.Add(oneRule("measure: part.highest_pressure\n  at_most: limits.share * part.rated_pressure\n  reserve: none"))
	f.Add("pack: p\nabout: a\nlimits: {a: &x 1, b: *x}\nrules: [{id: p.a, where: >-\n  true # x\n}]\nswitch_off: [{}]\n")
	c := mill(sound, given{"hose", unknown, 250, 0, 60, 100, false})
	f.Fuzz(func(t *testing.T, text string) {
		packs, problems := addPack(nil, nil, "fuzz.yaml", []byte(text))
		lines := strings.Count(text, "\n") + 1
		for _, p := range specs.SortProblems(problems) {
			if p.Message == "" || p.At.Line < 1 || p.At.Line > lines || p.At.Column < 1 {
				t.Errorf("a problem that is nowhere: %+v", p)
			}
		}
		if len(packs) == 0 {
			if len(problems) == 0 {
				t.Error("refused without a word")
			}
			return
		}
		book, problems := assemble(packs)
		if problems != nil {
			t.Errorf("sound by itself, and then %v", problems)
		}
		j := book.Judge(c, Settings{})
		for _, a := range j.Findings {
			if a.Message == "" || a.ID == "" {
				t.Errorf("a finding of %s says %q under id %q", a.Rule.ID, a.Message, a.ID)
			}
		}
		book.TestExamples(book.Rules)
	})
}
