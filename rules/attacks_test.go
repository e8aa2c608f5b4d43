package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// attacks are expressions by which a pack from anyone might hang a run, exhaust its
// memory, read what is not its own, or get round the dimensions: each with the column
// at which it is refused, and what is said of it. Lists that grow when they are added,
// regular expressions, loops and dynamic values are the ones that cost an evaluator
// seconds and gigabytes; none of them gets past reading.
var attacks = []struct {
	name, expression string
	column           int // in the expression, from 1 on
	says             string
}{
	{"a list added to a list", "[1] + [1] == [1]", 1, "a list can stand on the right of `in` only"},
	{"a list that doubles", "[[1] + [1]].map(x, x + x).size() > 0", 27, "there is no function size here"},
	{"lists compared", "[1, 2] == [1, 2]", 1, "a list can stand on the right of `in` only"},
	{"lists in lists", "1 in [[1, 2], [3]]", 7, "a list can stand on the right of `in` only"},
	{"a list of two dimensions", "part.burst_pressure in [part.burst_pressure, fluid.max_temperature]", 46, "cannot compare a pressure with a temperature"},
	{"a value of any kind", "dyn(part.burst_pressure) > 1.0", 1, "there is no function dyn"},
	{"a value made to be of a kind", "double('nan') > 1.0", 1, "there is no function double"},
	{"a value as text", "string(1.0) == '1'", 1, "there is no function string"},
	{"the type of a value", "type(part.kind) == part.kind", 1, "there is no function type"},
	{"no value", "part.kind == null", 14, "a number, a text in single quotes, true or false is needed here"},
	{"bytes", "b'abc' == b'abc'", 1, "a number, a text in single quotes, true or false is needed here"},
	{"a regular expression", "part.kind.matches('(a*)*b')", 11, "there is no function matches"},
	{"a text that grows", "part.kind + part.kind == 'x'", 1, "a number or quantity is needed here, not a text"},
	{"a text replaced", "part.kind.replace('a', 'aaaa') == 'x'", 11, "there is no function replace"},
	{"a text filled in", "'%s'.format([part.kind]) == 'x'", 6, "there is no function format"},
	{"a loop", "[1, 2].all(a, a > 0)", 8, "there is no function all here; expressions have no loops"},
	{"loops in loops", "[1].exists(a, [1].exists(b, [1].exists(c, a + b + c > 0)))", 5, "expressions have no loops"},
	{"a loop that maps", "1 in [1, 2].map(x, x)", 13, "expressions have no loops"},
	{"a name of its own", "cel.bind(x, 1, x > 0)", 5, "there is no function bind"},
	{"an optional step", "part.?burst_pressure == part.?proof_pressure", 5, "a ? before a name has no meaning"},
	{"an optional entry", "limits.after_pump_loss[?'x'] == 1.0", 23, "a ? before a name has no meaning"},
	{"a message", "google.protobuf.Struct{} == google.protobuf.Struct{}", 23, "this has no meaning in a rule"},
	{"a table", "{'a': 1}['a'] == 1", 1, "this has no meaning in a rule"},
	{"another file", "file('/etc/passwd') == ''", 1, "there is no function file"},
	{"the environment of the program", "env('HOME') == ''", 1, "there is no function env"},
	{"the time", "timestamp('2027-01-01T00:00:00Z') > now()", 1, "there is no function timestamp"},
	{"a misspelt fact behind has", "has(part.burst_presure)", 10, "part has no burst_presure; did you mean burst_pressure?"},
	{"has of a whole", "has(part)", 5, "has takes the name of a fact or limit"},
	{"has of an entry", "has(limits['mass'])", 11, "has takes the name of a fact or limit"},
	{"a quantity that is no literal", "part.burst_pressure > q(part.kind)", 23, "q takes a quantity in quotes"},
	{"a quantity of no unit", "part.burst_pressure > q('1 baar')", 28, "unknown unit baar; did you mean bar?"},
	{"pressure and temperature", "part.burst_pressure + fluid.max_temperature > q('1 bar')", 21, "cannot add a pressure and a temperature"},
	{"gauge and absolute", "part.burst_pressure > part.inlet_min_absolute", 21, "cannot compare a pressure with an absolute pressure"},
	{"a number beyond counting", "99999999999999999999 > 1", 1, "the number here is too large"},
	{"a number beyond all", "1e999 > 1.0", 1, "the number here is too large"},
	{"a letter that looks like another", "part.k\u00efnd == 'x'", 7, "has no meaning in an expression"},
	{"two expressions", "true; true", 5, "; has no meaning"},
	{"an assignment", "part.kind = 'x'", 11, "= has no meaning"},
	{"quotes left open", "part.kind == 'x", 14, "the quotes that open here are not closed"},
	{"deep brackets", strings.Repeat("(", 220) + "true" + strings.Repeat(")", 220), 1, "400 are enough for any rule"},
	{"deep groups", strings.Repeat("(", 60) + "true" + strings.Repeat(")", 60), 1, "levels deep"},
	{"many nots", strings.Repeat("!", 400) + "true", 1, "400 are enough for any rule"},
	{"many steps", "part" + strings.Repeat(".kind", 390), 1, "levels deep"},
	{"many signs", "1 < " + strings.Repeat("1+", 400) + "1", 1, "400 are enough for any rule"},
	{"many characters", "1 < " + strings.Repeat("1 + ", 500) + "1", 1, "2000 are enough for any rule"},
	{"a long text", "part.kind == '" + strings.Repeat("a", 1990) + "'", 1, "2000 are enough for any rule"},
	{"choices in choices", strings.Repeat("true ? ", 100) + "true" + strings.Repeat(" : true", 100), 1, "400 are enough for any rule"},
	{"calls in calls", strings.Repeat("max(", 40) + "1" + strings.Repeat(", 1)", 40) + " > 0", 1, "levels deep"},
}

// TestAttacks holds that each of these is refused with file, line and column, and
// that refusing it costs next to nothing.
func TestAttacks(t *testing.T) {
	base := mustCore(t)
	for _, a := range attacks {
		t.Run(a.name, func(t *testing.T) {
			pack := "pack: h\nabout: x\nrules:\n- {id: h.a, title: t, for: part, grade: minor, basis: b, why: w, remedy: r, examples: [{facts: {}, verdict: passes}],\n   require: \"" + a.expression + "\"}\n"
			refused(t, base, pack, fmt.Sprintf("pack.yaml:5:%d: ", len("   require: \"")+a.column), a.says)
		})
	}
}

// packAttacks are whole packs that are refused at a place of theirs.
var packAttacks = []struct{ name, text, at, says string }{
	{"aliases that multiply", "a: &a [x, x, x, x, x, x, x, x, x]\n" + bomb(9), "1:4", "an anchor"},
	{"merged keys", "pack: h\nabout: x\nlimits: {<<: {a: 1}}\n", "3:10", "a merge key"},
	{"a tag", "pack: !!binary aGk=\n", "1:7", "a tag"},
	{"two documents", "pack: h\n---\npack: h\n", "2:1", "document"},
	{"a comment that cuts an expression", "pack: h\nabout: x\nrules:\n- {id: h.a, title: t, for: part, grade: minor, basis: b, why: w, remedy: r, examples: []}\n- id: h.b\n  title: t\n  for: part\n  require: part.relief_present && #part.isolation\n  grade: minor\n  basis: b\n  why: w\n  remedy: r\n", "8:34", "YAML takes what stands behind # for a comment"},
	{"deep lists", "pack: " + strings.Repeat("[", 9000) + strings.Repeat("]", 9000), "1:", "deep"},
	{"a pack too long", strings.Repeat("#", 1<<20), "1:1", "KiB"},
	{"a key twice", "pack: h\nabout: x\nabout: y\n", "3:1", "twice"},
	{"control characters", "pack: h\x00\n", "1:", ""},
	{"not UTF-8", "pack: h\nabout: \xff\xfe\n", "2:", ""},
}

// TestPackAttacks holds the same of whole packs.
func TestPackAttacks(t *testing.T) {
	base := mustCore(t)
	for _, a := range packAttacks {
		t.Run(a.name, func(t *testing.T) { refused(t, base, a.text, "pack.yaml:"+a.at, a.says) })
	}
}

// refused holds that a pack is refused at a place, with certain words, within bounds
// that leave room for slow machines and the race detector.
func refused(t *testing.T, base *Rulebook, text, at, says string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "pack.yaml")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	begun := time.Now()
	book, problems := Load(base, file)
	took := time.Since(begun)
	runtime.ReadMemStats(&after)
	if took > 2*time.Second {
		t.Errorf("refusing it took %v", took)
	}
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 64<<20 {
		t.Errorf("refusing it took %d MiB", grown>>20)
	}
	if n, want := len(book.Rules), len(base.Rules); n != want {
		t.Errorf("%d rules are judged by, not the %d of the core packs", n, want)
	}
	var told []string
	for _, p := range problems {
		line := fmt.Sprintf("%s:%d:%d: %s", filepath.Base(p.At.File), p.At.Line, p.At.Column, p.Message)
		told = append(told, line)
		if strings.HasPrefix(line, at) && strings.Contains(line, says) {
			return
		}
	}
	t.Errorf("not refused at %s with %q, but\n%s", at, says, strings.Join(told, "\n"))
}
