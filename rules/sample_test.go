package rules

import (
	"reflect"
	"strings"

	"headroom/rules/facts"
	"headroom/specs"
)

// known fills a struct of facts, each with an origin below a key path: every text
// is "word", every flag yes, every number 2 in SI, but 4 where its name is that of
// an upper limit and 1 where it is that of a lower one, so that most rules hold.
func known(of any, path string) {
	v := reflect.ValueOf(of).Elem()
	for i := range v.NumField() {
		word := v.Type().Field(i).Tag.Get("fact")
		if word == "" {
			continue
		}
		from := &facts.Origin{Key: path + "." + word, At: specs.Span{File: "sample.yaml", Line: 100 + i, Column: 5, EndLine: 100 + i, EndColumn: 5 + len(word)}}
		if strings.HasPrefix(word, "highest_") {
			from.Case, from.Time, from.Timed = "run", 2.31, true
		}
		switch f := v.Field(i).Addr().Interface().(type) {
		case *facts.Fact:
			*f = facts.Fact{Value: sampleValue(word), Known: true, From: from}
		case *facts.Text:
			*f = facts.Text{Value: "word", Known: true, From: from}
		case *facts.Flag:
			*f = facts.Flag{Value: true, Known: true, From: from}
		}
	}
}

func sampleValue(word string) float64 {
	for _, part := range []string{"rated", "max", "limit", "within", "allowed", "autoignition", "peak", "collapse", "bypass", "at_most", "drive_power"} {
		if strings.Contains(word, part) {
			return 4
		}
	}
	for _, part := range []string{"min", "needed", "at_least", "must", "lowest_working", "section"} {
		if strings.Contains(word, part) {
			return 1
		}
	}
	return 2
}
