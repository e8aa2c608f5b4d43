package specs

import "headroom/specs/quantity"

// A Span is where something stands in a file: lines and columns count from 1,
// columns in characters; the end is just past the last character. A Span with
// line 0 is nowhere (a value nobody wrote).
type Span struct {
	File               string
	Line, Column       int
	EndLine, EndColumn int
}

// A Source tells who set a value.
type Source uint8

// The sources of a value, weakest first.
const (
	Absent        Source = iota // nobody: the key is missing and has no default
	FromDefault                 // the format's default
	FromCatalogue               // the catalogue entry named by `like`
	FromSpec                    // the spec, at the value's Span
	FromCase                    // a case's `with`, at the value's Span
)

// A Quantity is one physical value of a spec, in SI: kelvin, absolute pascal
// for pressure levels (gauge ones are resolved against the circuit's air
// pressure), radian. The zero Quantity is absent.
type Quantity struct {
	SI        float64
	Dimension quantity.Dimension
	Source    Source
	Key       string // dotted key within its part, case or section: "delivers.flow"
	At        Span   // of the value; of the catalogue entry's value for FromCatalogue
}

// Given tells whether anyone set the value, a default included.
func (q Quantity) Given() bool { return q.Source != Absent }

// A Text is a string of a spec. The zero Text is absent.
type Text struct {
	Value  string
	Source Source
	Key    string
	At     Span
}

// Given tells whether anyone set the text.
func (t Text) Given() bool { return t.Source != Absent }

// A Flag is a yes or no of a spec. The zero Flag is absent, and reads as no.
type Flag struct {
	Value  bool
	Source Source
	Key    string
	At     Span
}

// Given tells whether anyone set the flag.
func (f Flag) Given() bool { return f.Source != Absent }

// A Count is a whole number of a spec. The zero Count is absent.
type Count struct {
	Value  int
	Source Source
	Key    string
	At     Span
}

// Given tells whether anyone set the count.
func (c Count) Given() bool { return c.Source != Absent }

// A Point is one row of a Table or Profile, in SI.
type Point struct{ X, Y float64 }

// A Table is a value over another one: rows in rising X, two or more, or a
// single row for a constant. The zero Table is absent.
type Table struct {
	Points []Point
	Source Source
	Key    string
	At     Span
	RowsAt []Span // where each row stands
}

// Given tells whether anyone set the table.
func (t Table) Given() bool { return t.Source != Absent }

// A Profile is a value over time, linear between its points, the first and
// last value held. A single quantity is a Profile of one point at 0 s.
type Profile = Table

// A Named is one entry of a mapping whose keys are names, in the spec's order.
type Named[T any] struct {
	Name  string
	At    Span // of the key
	Value T
}

// A Port is a part's connection to a node.
type Port struct {
	Key    string // "from", "to", "p", ...
	Node   string // "" when left out
	Source Source
	At     Span
}

// Given tells whether the port is connected.
func (p Port) Given() bool { return p.Source != Absent }
