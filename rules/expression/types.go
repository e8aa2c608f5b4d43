package expression

import (
	"github.com/google/cel-go/cel"

	"headroom/specs/quantity"
)

// A Form is what a value is, dimensions aside.
type Form uint8

// The forms. The zero Form is that of a node in which a mistake was found.
const (
	wrong  Form = iota
	Number      // with a dimension
	Text        // a word
	Flag        // yes or no
)

// A Type is the form of a value and, of a number, its dimension; of a Map,
// those of its entries.
type Type struct {
	Form      Form
	Dimension quantity.Dimension
	Map       bool // entries by name
	words     bool // a list of them, as on the right of `in`
}

// Known tells whether there is a type: that of a limit that cannot be read is not.
func (t Type) Known() bool { return t.Form != wrong }

// String is the type in a sentence: "a pressure", "a text".
func (t Type) String() string {
	switch {
	case t.words:
		return "a list"
	case t.Map:
		return "a group"
	case t.Form == Number:
		return t.Dimension.WithArticle()
	case t.Form == Text:
		return "a text"
	case t.Form == Flag:
		return "a yes or no"
	}
	return "a mistake"
}

// cel is the type at run time.
func (t Type) cel() *cel.Type {
	plain := cel.DoubleType
	switch t.Form {
	case Text:
		plain = cel.StringType
	case Flag:
		plain = cel.BoolType
	}
	if t.Map {
		return cel.MapType(cel.StringType, plain)
	}
	return plain
}

// A Problem is a mistake in an expression.
type Problem struct {
	Offset, Length int // the offending piece, in bytes of the text
	Message        string
}
