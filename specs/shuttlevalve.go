package specs

var _ = register("shuttle-valve", "connects the higher of `a` and `b` to `to`", func() Part { return new(ShuttleValve) })

// A ShuttleValve connects the higher of `a` and `b` to `to`.
type ShuttleValve struct {
	Common
	A    Port     `key:"a" doc:"one inlet"`
	B    Port     `key:"b" doc:"the other inlet"`
	To   Port     `key:"to" doc:"outlet"`
	Flow Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow of its rated drop"`
	Drop Quantity `key:"drop" dim:"pressure-difference" range:"> 0 bar" doc:"drop at that flow"`
}
