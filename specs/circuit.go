package specs

// A Circuit is one spec file, resolved: defaults and catalogue values are in,
// names are checked. Values that could not be read are absent, and Problems
// says why; a Circuit with problems may still be judged as far as it goes.
type Circuit struct {
	File        string       // as it is told: relative to the project, with slashes
	Format      Count        `key:"headroom" range:">= 1, <= 1" eg:"1" doc:"version of this format: 1"`
	Name        Text         `key:"circuit" form:"identifier" eg:"central-hydraulics" doc:"identifier of the circuit"`
	Title       Text         `key:"title" eg:"Buggy, central hydraulics" doc:"what it is, in a line"`
	Revision    Text         `key:"revision" opt:"yes" eg:"C" doc:"revision of the design"`
	Environment Environment  `key:"environment" opt:"yes" doc:"where it works"`
	Fluid       Fluid        `key:"fluid" eg:"{like: hm-32}" doc:"the circuit's fluid"`
	Parts       []Part       `key:"parts" eg:"{tank: {kind: reservoir}}" doc:"its parts by name"`
	Nodes       []Node       `key:"nodes" opt:"yes" doc:"extra facts about nodes by name; a node needs no declaration"` // in the order of first mention
	Cases       []Case       `key:"cases" opt:"yes" doc:"operating cases by name"`
	Limits      *Setting     `key:"limits" opt:"yes" eg:"{mass: 9.5 kg}" doc:"acceptance limits of this circuit, by the names that rules give"` // nil when none
	Concessions []Concession `key:"concessions" opt:"yes" doc:"accepted findings"`

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
	Ambient         Quantity            `key:"ambient" eg:"40 degC" dim:"temperature" default:"40 degC" doc:"hottest surroundings"`
	ColdStart       Quantity            `key:"cold_start" eg:"-10 degC" dim:"temperature" opt:"yes" doc:"coldest start"`
	AirPressure     Quantity            `key:"air_pressure" eg:"0.9 bar abs" dim:"absolute-pressure" default:"1.01325 bar abs" range:">= 0.2 bar abs, <= 1.2 bar abs" doc:"pressure of the surrounding air"`
	Altitude        Quantity            `key:"altitude" dim:"length" opt:"yes" range:">= -500 m, <= 11000 m" eg:"1200 m" doc:"instead of air_pressure (ISO 2533)"`
	ServiceInterval Quantity            `key:"service_interval" eg:"60 h" dim:"time" opt:"yes" range:"> 0 h" doc:"running time between services"`
	Slope           Quantity            `key:"slope" eg:"40 %" dim:"number" opt:"yes" range:">= 0 %" doc:"steepest slope it stands or drives on, rise over run, in any direction"`
	HotSurfaces     []Named[HotSurface] `key:"hot_surfaces" opt:"yes" doc:"surfaces that leaking fluid could reach"`
}

// A HotSurface is one that leaking fluid could reach.
type HotSurface struct {
	At          Span
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

// Case returns the case of that name, or nil.
func (c *Circuit) Case(name string) *Case {
	for i := range c.Cases {
		if c.Cases[i].Name == name {
			return &c.Cases[i]
		}
	}
	return nil
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
	Rule    Text `key:"rule" form:"rule" eg:"lines.velocity" doc:"the rule's id"`
	Subject Text `key:"subject" opt:"yes" doc:"name of the subject; left out only where the rule is for the circuit or its fluid"`
	Case    Text `key:"case" ref:"case" opt:"yes" doc:"name of the case"`
	Until   Text `key:"until" form:"date" eg:"2027-03-01" doc:"last day on which it holds, YYYY-MM-DD"`
	By      Text `key:"by" eg:"hydraulics lead" doc:"who accepts"`
	Because Text `key:"because" eg:"measured on the rig, hot and cold" doc:"why it is acceptable"`
	DownTo  Text `key:"down_to" opt:"yes" eg:"3.4" doc:"the worst measure it covers"`
}
