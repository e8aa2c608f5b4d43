package specs

// A Circuit is one spec file, resolved: defaults and catalogue values are in,
// names are checked. Values that could not be read are absent, and Problems
// says why; a Circuit with problems may still be judged as far as it goes.
type Circuit struct {
	File        string      // as it is told: relative to the project, with slashes
	Name        Text        `key:"circuit" form:"identifier" doc:"identifier of the circuit"`
	Title       Text        `key:"title" doc:"what it is, in a line"`
	Revision    Text        `key:"revision" opt:"yes" doc:"revision of the design"`
	Fluid       Fluid       `key:"fluid" doc:"the circuit's fluid"`
	Environment Environment `key:"environment" opt:"yes" doc:"where it works"`
	Parts       []Part      // in the spec's order
	Nodes       []Node      // in the order of first mention
	Cases       []Case      // in the spec's order
	Limits      *Setting    // the project's own acceptance limits, as written; nil when none
	Concessions []Concession

	Problems []Problem // what is wrong with the file, sorted by place
	Source   []byte    // the file's bytes, for excerpts and the digest
}

// Part returns the part of that name, or nil.
func (c *Circuit) Part(name string) Part {
	for _, p := range c.Parts {
		if p.Base().Name == name {
			return p
		}
	}
	return nil
}

// Environment is where the circuit works.
type Environment struct {
	At              Span
	Ambient         Quantity            `key:"ambient" dim:"temperature" default:"40 degC" doc:"hottest surroundings"`
	ColdStart       Quantity            `key:"cold_start" dim:"temperature" opt:"yes" doc:"coldest start"`
	AirPressure     Quantity            `key:"air_pressure" dim:"absolute-pressure" default:"1.01325 bar abs" doc:"pressure of the surrounding air"`
	Altitude        Quantity            `key:"altitude" dim:"length" opt:"yes" range:">= -500 m, <= 11000 m" doc:"instead of air_pressure (ISO 2533)"`
	ServiceInterval Quantity            `key:"service_interval" dim:"time" opt:"yes" range:"> 0 h" doc:"running time between services"`
	HotSurfaces     []Named[HotSurface] `key:"hot_surfaces" opt:"yes" doc:"surfaces that leaking fluid could reach"`
}

// A HotSurface is one that leaking fluid could reach.
type HotSurface struct {
	Temperature Quantity `key:"temperature" dim:"temperature" doc:"hottest"`
	Shielded    Flag     `key:"shielded" opt:"yes" doc:"fluid cannot reach it"`
}

// A Node is where part ports meet.
type Node struct {
	Name   string
	At     Span     // where it is declared, else where it is first mentioned
	Volume Quantity `key:"volume" dim:"volume" opt:"yes" range:">= 0 cm3" doc:"fluid in it, beyond that of lines and chambers"`
	Role   Text     `key:"role" oneof:"pressure|return|suction|drain|control" opt:"yes" doc:"what it is for, where that cannot be inferred"`
}

// A Setting is a tree of limits as written: either Children by name, or one
// scalar Value.
type Setting struct {
	Name     string
	At       Span // of the name
	Value    Text // a scalar, as written
	Children []Setting
}

// A Concession is a recorded acceptance of a finding.
type Concession struct {
	At      Span
	Rule    Text `key:"rule" doc:"the rule's id"`
	Subject Text `key:"subject" opt:"yes" doc:"name of the subject"`
	Case    Text `key:"case" opt:"yes" doc:"name of the case"`
	Until   Text `key:"until" form:"date" doc:"last day on which it holds, YYYY-MM-DD"`
	By      Text `key:"by" doc:"who accepts"`
	Because Text `key:"because" doc:"why it is acceptable"`
	DownTo  Text `key:"down_to" opt:"yes" doc:"the worst measure it covers"`
}

// A Problem is something wrong with a file, found in reading it.
type Problem struct {
	Rule    string // "spec.syntax", "spec.unknown-key", "spec.unit", "spec.range", "spec.reference", "spec.duplicate", "spec.empty"
	At      Span
	Path    string // key path, "parts.clutch-hose.bore"; "" for the whole file
	Message string // what is wrong and what would be right, one or two sentences
}
