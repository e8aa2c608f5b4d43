package specs

var _ = register("directional-valve", "joins p and t to a and b by its spool s: s > 0 opens p to a and b to t, s < 0 opens a to t and p to b (three ports: a to t alone), s = 0 is closed", func() Part { return new(DirectionalValve) })

// A DirectionalValve joins p and t to a and b by its spool: above zero p→a and
// b→t, below zero a→t and p→b, at zero closed. Without b it has three ports.
type DirectionalValve struct {
	Common
	P     Port     `key:"p" doc:"supply"`
	T     Port     `key:"t" doc:"return"`
	A     Port     `key:"a" doc:"service port"`
	B     Port     `key:"b" opt:"yes" doc:"second service port"`
	Flow  Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow of its rated drop"`
	Drop  Quantity `key:"drop" dim:"pressure-difference" range:"> 0 bar" doc:"drop of one metering edge, fully open, at that flow"`
	Lag   Quantity `key:"lag" dim:"time" range:"> 0 s" doc:"first-order lag of the spool"`
	Rest  Quantity `key:"rest" dim:"number" range:">= -1, <= 1" doc:"spool position without command, and when power is lost"`
	Leak  *Leak    `key:"leak" opt:"yes" doc:"leakage from p to t"`
	Stuck Quantity `key:"stuck" dim:"number" range:">= -1, <= 1" only:"with" doc:"holds the spool there, whatever the command"`
}

// A Leak is a leakage flow at a pressure.
type Leak struct {
	At       Span
	Flow     Quantity `key:"flow" dim:"flow" range:">= 0 L/min" doc:"leakage"`
	Pressure Quantity `key:"pressure" dim:"pressure-difference" range:"> 0 bar" doc:"at that difference"`
}
