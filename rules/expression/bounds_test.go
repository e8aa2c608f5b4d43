package expression

import (
	"strings"
	"testing"

	"headroom/specs/quantity"
)

// TestBounds holds each bound of an expression from both sides: what is just within it
// is read, what is just beyond is refused, and why.
func TestBounds(t *testing.T) {
	again := strings.Repeat
	v := sampleVocabulary(t)
	for _, test := range []struct{ name, within, beyond, why string }{
		{"characters", "1 +" + again(" ", maxSize-4) + "1", "1 +" + again(" ", maxSize-3) + "1", "is too long"},
		{"words and signs", "part.kind in ['a'" + again(", 'a'", 90) + "]", "part.kind in ['a'" + again(", 'a'", 110) + "]", "words and signs is too large"},
		{"names and operators", "part.share in [1" + again(", 1+1+1", 58) + "]", "part.share in [1" + again(", 1+1+1", 65) + "]", "operators is too large"},
		{"levels", again("(", 10) + "1" + again(")", 10), again("(", maxRecursion+1) + "1" + again(")", maxRecursion+1), "levels deep"},
	} {
		if _, problems := v.Compile(test.within, partScope); len(problems) > 0 && strings.Contains(problems[0].Message, test.why) {
			t.Errorf("%s, within: %v", test.name, problems)
		}
		_, problems := v.Compile(test.beyond, partScope)
		if len(problems) != 1 || !strings.Contains(problems[0].Message, test.why) {
			t.Errorf("%s, beyond: %v", test.name, problems)
		}
	}
}

// A name with a hyphen is a difference to who reads it, also where a limit is called so.
func TestHyphenIsMinus(t *testing.T) {
	v, err := NewVocabulary(append(sample(), numberSymbol("limits.back-up", quantity.Number)))
	if err != nil {
		t.Fatal(err)
	}
	if p, problems := v.Compile("limits.back-up", partScope); len(problems) == 0 {
		t.Errorf("it reads %q", p.Reads)
	}
}
