package rules

import (
	"fmt"
	"strings"

	"headroom/rules/expression"
)

// Reference documents, in Markdown, every fact that expressions may read, by the
// first word of its name, and every function that they may call.
func Reference() string {
	var out strings.Builder
	out.WriteString("| function | what it gives |\n|---|---|\n")
	for _, f := range expression.Functions() {
		fmt.Fprintf(&out, "| `%s` | %s |\n", f.Call, f.About)
	}
	for v := range variables {
		fmt.Fprintf(&out, "\n**%s**: %s\n\n| fact | is | what it is | supplied by |\n|---|---|---|---|\n", v, v.about())
		for _, f := range vocabulary {
			if f.variable == v {
				fmt.Fprintf(&out, "| `%s` | %s | %s | %s |\n", f.name, f.formWords(), f.doc, f.needsWords())
			}
		}
	}
	return out.String()
}

// about says which rules may read a variable.
func (v variable) about() string {
	if v <= environmentVariable {
		return "every rule reads it"
	}
	var kinds []string
	for _, k := range subjectKinds {
		for _, r := range k.reads {
			if r == v {
				kinds = append(kinds, "`"+k.name+"`")
			}
		}
	}
	return "rules for " + list(kinds) + " read it"
}

func (f *fact) formWords() string {
	switch f.form.Form {
	case expression.Number:
		return f.form.Dimension.String()
	case expression.Text:
		return "text"
	}
	return "yes or no"
}

func (f *fact) needsWords() string {
	switch {
	case f.needs == "":
		return ""
	case f.needs == "simulation":
		return "simulation"
	case strings.Contains(f.needs, " "):
		return f.needs
	}
	return "`" + f.needs + "`"
}

// kindReference documents, in Markdown, the kinds of subject.
func kindReference() string {
	var out strings.Builder
	out.WriteString("| `for` | its subjects | also reads |\n|---|---|---|\n")
	for _, k := range subjectKinds {
		var words []string
		for _, v := range k.reads {
			words = append(words, "`"+v.String()+"`")
		}
		fmt.Fprintf(&out, "| %s | %s | %s |\n", k.name, k.about, strings.Join(words, ", "))
	}
	return out.String()
}
