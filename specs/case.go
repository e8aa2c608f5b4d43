package specs

// A Case is one operating case: how it begins, what is commanded, what is expected.
type Case struct {
	Name         string
	At           Span
	About        Text             `key:"about" opt:"yes" doc:"what happens, in a line"`
	Lasts        Quantity         `key:"lasts" eg:"8 s" dim:"time" range:"> 0 s" doc:"simulated time"`
	Begins       Begins           `key:"begins" opt:"yes" doc:"the state it begins in"`
	Drives       []Named[Drive]   `key:"drives" dim:"rotational-speed" range:">= 0 rpm" ref:"pump|friction-pack" opt:"yes" doc:"speeds of pumps and of friction packs' input sides"`
	Commands     []Command        `key:"commands" opt:"yes" doc:"what is commanded, when"`
	Demands      []Named[Profile] `key:"demands" dim:"flow" range:">= 0 L/min" ref:"consumer" opt:"yes" doc:"flow that each consumer draws"`
	Loads        []Named[Profile] `key:"loads" as:"load|driven.load" ref:"cylinder|motor|friction-pack" opt:"yes" doc:"load of a cylinder (force), motor or friction pack (torque), instead of the part's own"`
	With         []Override       `key:"with" opt:"yes" doc:"parts as they are in this case: worn, faulty, misset"`
	Expects      []Expectation    `key:"expects" opt:"yes" doc:"what must come about"`
	Acceleration *Vector          `key:"acceleration" opt:"yes" doc:"of the vehicle"`
	Repeats      Repeats          `key:"repeats" opt:"yes" doc:"how often in a row: a count, or settle; temperatures of fluid, plates and gas carry over, all else begins anew each time"`
	Weight       Quantity         `key:"weight" dim:"frequency" opt:"yes" range:">= 0 /h" doc:"how often it happens with all its repeats, per time in service"`
}

// Begins is the state a case begins in.
type Begins struct {
	At        Span
	Fluid     Quantity          `key:"fluid" dim:"temperature" opt:"yes" doc:"of the fluid; by default environment.ambient"`
	Ambient   Quantity          `key:"ambient" dim:"temperature" opt:"yes" doc:"of the surroundings; by default the lower of environment.ambient and fluid"`
	Charge    Quantity          `key:"charge" dim:"pressure" opt:"yes" doc:"of accumulators and pressure nodes"`
	Plates    Quantity          `key:"plates" dim:"temperature" opt:"yes" doc:"of friction plates; by default the ambient"`
	Output    Quantity          `key:"output" dim:"rotational-speed" default:"0 rpm" doc:"speed of a friction pack's output side"`
	Positions []Named[Quantity] `key:"positions" dim:"length" ref:"cylinder" opt:"yes" doc:"of cylinders; by default retracted"`
	Spools    []Named[Quantity] `key:"spools" as:"rest" ref:"directional-valve|reducing-valve" opt:"yes" doc:"of valves; by default rest"`
}

// A Drive is the speed of a pump or of a pack's input side: a Profile, or for
// a motor-driven pump a pressure switch.
type Drive struct {
	At     Span
	Speed  Profile // absent when Switch is set
	Switch *PressureSwitch
}

// A PressureSwitch starts a pump below one pressure and stops it above another.
type PressureSwitch struct {
	At       Span
	OnBelow  Quantity `key:"on_below" dim:"pressure" doc:"starts the pump"`
	OffAbove Quantity `key:"off_above" dim:"pressure" doc:"stops the pump"`
	Node     Text     `key:"at" ref:"node" eg:"rail" doc:"the node that is watched"`
	Speed    Quantity `key:"speed" dim:"rotational-speed" range:"> 0 rpm" doc:"while it runs"`
}

// A Command moves a valve at a time, or when something happens.
type Command struct {
	At    Span
	Time  Quantity `key:"at" dim:"time" opt:"yes" range:">= 0 s" doc:"when; or use when"`
	When  *Trigger `key:"when" opt:"yes" doc:"the event, which acts once, the first time it happens; or use at"`
	Valve Text     `key:"valve" eg:"shift-valve" ref:"directional-valve|reducing-valve" doc:"the valve"`
	To    Quantity `key:"to" as:"rest" by:"valve" eg:"1" doc:"spool position of a directional valve; pressure of a reducing valve"`
	Over  Quantity `key:"over" dim:"time" opt:"yes" range:">= 0 s" doc:"time of the ramp; by default a step"`
}

// A Trigger is an event: a part reaches a position, or a node's pressure
// passes a threshold.
type Trigger struct {
	At      Span
	Part    Text     `key:"part" ref:"cylinder" opt:"yes" doc:"a cylinder"`
	Reaches Quantity `key:"reaches" dim:"length" opt:"yes" doc:"its position"`
	Node    Text     `key:"node" ref:"node" opt:"yes" doc:"a node"`
	Below   Quantity `key:"below" dim:"pressure" opt:"yes" doc:"its pressure falls below"`
	Above   Quantity `key:"above" dim:"pressure" opt:"yes" doc:"its pressure rises above"`
}

// An Expectation is what must come about in a case: a stroke in time, a
// pressure held, a pack locked.
type Expectation struct {
	Index       int // its place in the case's list, from 0
	At          Span
	Name        Text     `key:"name" opt:"yes" doc:"what it is called in findings"`
	Part        Text     `key:"part" ref:"cylinder" opt:"yes" doc:"a cylinder, with reaches and within"`
	Reaches     Quantity `key:"reaches" dim:"length" opt:"yes" doc:"the position it must reach"`
	Within      Quantity `key:"within" dim:"time" opt:"yes" range:"> 0 s" doc:"time allowed, counted from from"`
	Node        Text     `key:"node" ref:"node" opt:"yes" doc:"a node, with at_least or at_most"`
	AtLeast     Quantity `key:"at_least" dim:"pressure" opt:"yes" doc:"its pressure stays at or above"`
	AtMost      Quantity `key:"at_most" dim:"pressure" opt:"yes" doc:"its pressure stays at or below"`
	Pack        Text     `key:"pack" ref:"friction-pack" opt:"yes" doc:"a friction pack, with locks_within"`
	LocksWithin Quantity `key:"locks_within" dim:"time" opt:"yes" range:"> 0 s" doc:"time allowed to lock, counted from from"`
	From        Quantity `key:"from" dim:"time" default:"0 s" range:">= 0 s" doc:"when it begins to count"`
	Until       Quantity `key:"until" dim:"time" opt:"yes" doc:"when it ceases to count; by default the case's end"`
}

// An Override is a part as it is in one case: the part with the case's keys put over its own.
type Override struct {
	Part string
	At   Span
	As   Part // a whole part; keys that the case sets have Source FromCase
}

// Repeats tells how often a case runs in a row. The zero Repeats is once.
type Repeats struct {
	At     Span
	Count  int  // 0 when not given
	Settle bool // until temperatures settle
}
