package specs

var _ = register("pilot-check-valve", "a check valve that pressure at `pilot` opens backwards", func() Part { return new(PilotCheckValve) })

// A PilotCheckValve is a check valve that pressure at `pilot` opens backwards.
type PilotCheckValve struct {
	Common
	From     Port     `key:"from" doc:"inlet"`
	To       Port     `key:"to" doc:"outlet"`
	Pilot    Port     `key:"pilot" doc:"pilot port"`
	Cracking Quantity `key:"cracking" dim:"pressure-difference" range:">= 0 bar" doc:"difference at which it opens"`
	Flow     Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow of its rated drop"`
	Drop     Quantity `key:"drop" dim:"pressure-difference" range:"> 0 bar" doc:"rise above cracking at that flow"`
	Ratio    Quantity `key:"ratio" eg:"4" dim:"number" range:"> 0" doc:"pilot area to seat area"`
}
