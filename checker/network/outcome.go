package network

import (
	"fmt"

	"headroom/checker/integrate"
)

// An Outcome is what happened in one case. Everything is SI, pressures are
// absolute; nodes, parts and expectations stand in the spec's order.
type Outcome struct {
	Case         string
	Nodes        []NodeOutcome
	Parts        []PartOutcome
	Expectations []ExpectationOutcome
	Balance      Balance

	Lasts   float64 // simulated time, of the last repeat
	Repeats Repeats
	Failure *Failure // nil: it came to its end

	Steps, Rejections, Evaluations int // of all repeats

	// Of the last repeat, for what is reckoned on from it.
	fullest, emptiest stocked
	end               []float64
}

// A Failure says where and why a case could not be integrated to its end; what
// was found until then stands in the Outcome.
type Failure struct {
	Time   float64 // reached
	Where  string  // the node or part that held it up, "" if unknown
	State  string  // which of its quantities
	Why    string
	Reason integrate.Reason
}

// String is a failure in words, for an error.
func (f *Failure) String() string {
	s := fmt.Sprintf("%s, at %.4g s", f.Why, f.Time)
	if f.Where != "" {
		s += fmt.Sprintf("; it was held up by the %s of %s", f.State, f.Where)
	}
	return s
}

// An Extreme is a value and when it occurred. In a repeated case the time is
// that within its repeat.
type Extreme struct{ Value, Time float64 }

// A Range is what a quantity went through.
type Range struct {
	Lowest, Highest  Extreme
	Begin, End, Mean float64
}

// A NodeOutcome is what happened at a node.
type NodeOutcome struct {
	Node                  string
	Pressure, Temperature Range
	Settled               Range     // pressure without the first 20 ms
	Lasting               Extreme   // lowest pressure that lasted 10 ms
	Viscosity             Range     // kinematic
	Turns                 []float64 // turning points of the pressure, in order, of all of a count of repeats
	Means                 []float64 // mean temperature of each of a count of repeats; of others the last alone
}

// A PartOutcome is what happened at a part.
type PartOutcome struct {
	Part     string
	Readings []Reading

	Engagements []Engagement // of a friction pack
	Lasting     *Extreme     // of a line: highest velocity that lasted 1 s
	Surges      []Surge      // of a line
}

// Reading is the reading of that name, or nil.
func (p *PartOutcome) Reading(name string) *Reading {
	for i := range p.Readings {
		if p.Readings[i].Name == name {
			return &p.Readings[i]
		}
	}
	return nil
}

// A Reading is one quantity of a part. Known is false where it never counted.
type Reading struct {
	Name      string
	Dimension string
	Known     bool
	Range
}

// An Engagement is one engagement of a friction pack.
type Engagement struct {
	Starts float64
	Locks  float64 // 0 where it did not
	Locked bool
	Energy float64
	Power  Extreme // highest
}

// A Surge is the pressure that a closure at one end of a line made.
type Surge struct {
	By       string // the part that closed
	Time     float64
	Pressure float64 // at the instant of closure
	Rise     float64
}

// An ExpectationOutcome is the measure of one expectation. Came is false where
// what was expected never came about.
type ExpectationOutcome struct {
	Measure, Time float64
	Came          bool
}

// Balance is how well a run kept its books.
type Balance struct {
	Node     float64 // worst error of a node's bookkeeping, as a share of its turnover
	NodeName string
	Mass     float64 // change of the mass, as a share of the charge
	Charge   float64 // kg
	Energy   float64 // gap, as a share of the larger side
	Terms    Energy
}

// Energy are the terms of the energy balance (J): what came in counts positive
// in the first four, what was stored or given off in the rest.
type Energy struct {
	Shaft, Pack, Ambient, Coolant                                         float64
	Oil, Metal, Plates, Gas, ToAir, Work, Lifting, Compression, Reservoir float64
}

// Repeats tells how a repeated case went on.
type Repeats struct {
	Done      int        // passes integrated
	Settled   bool       // of a case that repeats until it settles
	Unsettled *Unsettled // why it did not
}

// Unsettled is how temperatures ran away.
type Unsettled struct {
	Where, State string // node or part, and which of its temperatures
	After        int    // passes
	Temperature  float64
	PerRepeat    float64 // K
	Why          string
}
