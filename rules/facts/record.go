package facts

import (
	"strings"

	"headroom/specs/quantity"
)

// A CaseRecord is what one simulated case came to, as reports tell it. Values
// are SI; pressures are gauge unless their dimension is absolute.
type CaseRecord struct {
	Case         string
	Nodes        []NodeRecord // in the spec's order
	Parts        []PartRecord // in the spec's order
	Expectations []ExpectationRecord
	NodeError    float64 // worst error of a node's bookkeeping, as a share of its inflow
	MassError    float64 // drift of the mass, as a share of the charge
	EnergyError  float64 // gap of the energy balance, as a share of its larger side
	Steps        int
	Unfinished   string   // why it did not come to its end; "" where it did
	History      *History // what it went through; nil where nobody asked for it
}

// A NodeRecord is what a node went through.
type NodeRecord struct {
	Name                  string
	Pressure, Temperature Reading
}

// A PartRecord is what a part went through.
type PartRecord struct {
	Name     string
	Readings []Reading
}

// A Reading is one quantity of a part or node: its telling value, the worst for
// its kind, and what it ranged over.
type Reading struct {
	Name            string
	Dimension       quantity.Dimension
	Value           Extreme
	Ranged          bool // Lowest and Highest say something
	Lowest, Highest Extreme
}

// An Extreme is a value and when it occurred.
type Extreme struct{ Value, Time float64 }

// An ExpectationRecord is what came of an expectation.
type ExpectationRecord struct {
	Name           string
	Dimension      quantity.Dimension
	Came           bool
	Measure, Limit float64
	AtMost         bool // the limit is one not to be passed
	Time           float64
}

// A History is quantities over time: a time (s) and a value of each column a
// row, NaN where it has none.
type History struct {
	Columns []Column
	Rows    [][]float64
}

// A Column is one quantity of a history.
type Column struct {
	Of        string // node or part
	What      string // "pressure", "gas_pressure", "position"
	Dimension quantity.Dimension
}

// Name is the column in words: "store gas pressure".
func (c Column) Name() string { return c.Of + " " + strings.ReplaceAll(c.What, "_", " ") }

// Column is the place of a quantity in each row; 0 where there is none.
func (h *History) Column(of, what string) int {
	for i, c := range h.Columns {
		if c.Of == of && c.What == what {
			return i + 1
		}
	}
	return 0
}
