package specs

var _ = register("check-valve", "lets flow pass from `from` to `to` alone", func() Part { return new(CheckValve) })

// A CheckValve lets flow pass from `from` to `to` alone.
type CheckValve struct {
	Common
	From     Port     `key:"from" doc:"inlet"`
	To       Port     `key:"to" doc:"outlet"`
	Cracking Quantity `key:"cracking" dim:"pressure-difference" range:">= 0 bar" doc:"difference at which it opens"`
	Flow     Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow of its rated drop"`
	Drop     Quantity `key:"drop" dim:"pressure-difference" range:"> 0 bar" doc:"rise above cracking at that flow"`
}
