package specs

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"headroom/specs/catalogue"
)

// A form is what a text must look like; judge says what is wrong, or nothing.
type form struct {
	rule  string
	judge func(text string) string
}

// forms are the forms that the tag `form` names.
var forms = map[string]form{
	"identifier": {ruleRange, identifier},
	"rule":       {ruleRange, ruleID},
	"date":       {ruleRange, date},
	"glob":       {ruleRange, globForm},
	"iso4406":    {ruleRange, cleanlinessForm},
	"seal-material": {ruleReference, func(text string) string {
		_, known := catalogue.Seal(text)
		return inCatalogue(known, text, "seal material", catalogue.KindSealMaterial)
	}},
	"tube-material": {ruleReference, func(text string) string {
		_, known := catalogue.Tube(text)
		return inCatalogue(known, text, "tube material", catalogue.KindTubeMaterial)
	}},
	"fluid-family": {ruleReference, func(text string) string {
		_, known := catalogue.Family(text)
		return inCatalogue(known, text, "fluid family", catalogue.KindFluidFamily)
	}},
}

// maxName is the longest name, in characters.
const maxName = 64

// identifier is the form of names: ASCII letters, digits, - and _, beginning
// with a letter or digit. Upper and lower case differ.
func identifier(text string) string {
	switch {
	case text == "":
		return "a name is empty"
	case len(text) > maxName:
		return fmt.Sprintf("a name has at most %d characters", maxName)
	}
	for i, c := range text {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if !letter && (i == 0 || c != '-' && c != '_') {
			return fmt.Sprintf("%s cannot be a name: it takes letters a-z, digits, - and _, the first a letter or digit", text)
		}
	}
	return ""
}

// ruleID is the form of a rule's id: identifiers joined by a dot.
func ruleID(text string) string {
	pack, name, dotted := strings.Cut(text, ".")
	if !dotted || identifier(pack) != "" || identifier(name) != "" {
		return fmt.Sprintf("%s is no rule: a rule's id is a pack and a name, such as lines.velocity", text)
	}
	return ""
}

// date is the form of a day: YYYY-MM-DD of ISO 8601.
func date(text string) string {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return fmt.Sprintf("%s is no day of the calendar written YYYY-MM-DD, such as 2027-03-01", text)
	}
	return ""
}

// Cleanliness is an ISO 4406 code: the scale numbers of particles larger than
// 4, 6 and 14 µm(c). The first is -1 in a code of two numbers.
type Cleanliness [3]int

// ParseCleanliness reads an ISO 4406 code of three numbers, 18/16/13, or of the
// last two, 16/13 or -/16/13. The counts are cumulative, so the numbers never rise.
func ParseCleanliness(text string) (Cleanliness, bool) {
	c := Cleanliness{-1, -1, -1}
	numbers := strings.Split(text, "/")
	if len(numbers) == 2 {
		numbers = append([]string{"-"}, numbers...)
	}
	if len(numbers) != 3 {
		return c, false
	}
	for i, number := range numbers {
		if i == 0 && number == "-" {
			continue
		}
		n, err := strconv.ParseUint(number, 10, 8)
		if err != nil || n > maxScaleNumber || i > 0 && c[i-1] >= 0 && int(n) > c[i-1] {
			return c, false
		}
		c[i] = int(n)
	}
	return c, true
}

// maxScaleNumber is the highest scale number of ISO 4406:2021, table 1.
const maxScaleNumber = 28

func cleanlinessForm(text string) string {
	if _, fine := ParseCleanliness(text); !fine {
		return fmt.Sprintf("%s is no ISO 4406 code: three numbers from 0 to 28 that never rise, such as 18/16/13, or the last two of them", text)
	}
	return ""
}

// inCatalogue says that a name is not in the catalogue, if so.
func inCatalogue(known bool, name, what, kind string) string {
	if known {
		return ""
	}
	all := catalogue.Names(kind)
	if near := nearest(name, all); near != "" {
		return fmt.Sprintf("the catalogue has no %s %s; did you mean %s?", what, name, near)
	}
	return fmt.Sprintf("the catalogue has no %s %s; it has %s", what, name, sentence(all, "and"))
}
