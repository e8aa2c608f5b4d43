package expression

import (
	"runtime"
	"strings"
	"testing"
	"time"
)

// TestHostile holds that no text costs more than it should: each of these is
// refused, or comes to something, within 10 ms and 8 MiB where it was measured. The
// bounds leave room for slow machines; what they catch is growth without end.
func TestHostile(t *testing.T) {
	again := strings.Repeat
	texts := map[string]string{
		"brackets":             again("(", 900) + "1" + again(")", 900),
		"open brackets":        again("(", 1999),
		"lists":                again("[", 999) + again("]", 999),
		"open lists":           again("[", 1999),
		"braces":               again("{", 1999),
		"sum":                  again("1+", 999) + "1",
		"comparisons":          again("1<", 999) + "1",
		"nots":                 again("!", 1994) + "true",
		"minus signs":          again("-", 1998) + "1",
		"choices":              again("true?1:", 280) + "1",
		"nested choices":       again("true?", 399) + "1",
		"conditions":           again("true&&", 330) + "true",
		"both conditions":      again("true&&true||", 160) + "true",
		"steps":                again("a.", 999) + "b",
		"indices":              "limits.burst" + again("['hose']", 240),
		"nested indices":       again("limits.at_rest[", 130) + "part.name" + again("]", 24),
		"calls":                again("abs(", 490) + "1",
		"many arguments":       "max(" + again("1,", 990) + "1)",
		"long list":            "part.kind in [" + again("'a',", 490) + "'a']",
		"long text":            "part.kind == '" + again("a", 1980) + "'",
		"long number":          again("9", 1999),
		"small number":         "1e-" + again("9", 1990),
		"long quantity":        "q('" + again("9", 1900) + " bar') > part.burst_pressure",
		"escapes":              "part.kind == '" + again(`\u00e9`, 320) + "'",
		"open escapes":         again(`'\`, 999),
		"too long":             again("x", 1<<20),
		"no text":              again("\x00", 1999),
		"not UTF-8":            again("\xff", 1999),
		"quotes":               again("'", 1999),
		"line breaks":          again("\n", 1998) + "1",
		"comments":             again("//\n", 660) + "1",
		"loop":                 "[1,2,3].all(a, [1,2,3].all(b, [1,2,3].all(c, a+b+c > 0)))",
		"growing list":         "[[1,2,3]].map(x, x + x).map(x, x + x)",
		"regular expression":   "part.kind.matches('(a+)+$')",
		"optional":             again("part.?kind.", 150) + "x",
		"message":              "google.protobuf.Struct{fields: {'a': 1}}",
		"reserved words":       again("for ", 499),
		"operators":            again("+*/<>=!&|?:", 180),
		"other functions":      again("size(", 390),
		"type names":           "type(part.kind) == string",
		"dynamic":              "dyn(part.kind) + dyn(1)",
		"macro within a macro": again("has(", 490) + "part.kind",
	}
	v := sampleVocabulary(t)
	reader := &Reader{sampleScene()}
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			begun := time.Now()
			program, problems := v.Compile(text, partScope)
			if program != nil {
				program.Eval(reader)
				program.Trace(reader)
			}
			took := time.Since(begun)
			runtime.ReadMemStats(&after)
			if (program == nil) == (len(problems) == 0) {
				t.Error("it is neither refused nor compiled")
			}
			if took > 5*time.Second {
				t.Errorf("it took %v", took)
			}
			if grown := after.TotalAlloc - before.TotalAlloc; grown > 64<<20 {
				t.Errorf("it took %d MiB", grown>>20)
			}
		})
	}
}

// FuzzCompile holds, for any text, that it is refused with a place within it, or
// comes to a value of the type that was inferred.
func FuzzCompile(f *testing.F) {
	for _, seed := range []string{
		"part.burst_pressure / part.highest_pressure >= 4", "limits.burst[part.kind]", "has(part.drop) ? 'a' : part.kind",
		"part.kind in ['a', \"b\"] && !(1.5e3 < -2)", "max(q('1 bar'), part.burst_pressure)", "part.share / part.drop", "x.all(y, y)", "4u + b'x'",
	} {
		f.Add(seed)
	}
	v := sampleVocabulary(f)
	full, empty := &Reader{sampleScene()}, &Reader{scene{}}
	f.Fuzz(func(t *testing.T, text string) {
		program, problems := v.compile(text, partScope)
		for _, p := range problems {
			if p.Offset < 0 || p.Length < 0 || p.Offset+p.Length > len(text) || p.Message == "" {
				t.Errorf("%q: a problem %+v that is nowhere", text, p)
			}
		}
		if program == nil {
			if len(problems) == 0 {
				t.Errorf("%q is refused without a word", text)
			}
			return
		}
		for _, reader := range []*Reader{full, empty} {
			o := program.Eval(reader)
			if o.Failure != "" && !strings.Contains(o.Failure, "division by zero") {
				t.Errorf("%q fails: %s", text, o.Failure)
			}
			traced := program.Trace(reader)
			if !program.Type.Map && traced.Value.Decided() != o.Decided() {
				t.Errorf("%q: %+v, traced as %+v", text, o, traced.Value)
			}
		}
	})
}
