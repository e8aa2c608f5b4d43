package specs

var _ = register("relief-valve", "limits the pressure from `from` to `to`", func() Part { return new(ReliefValve) })

// A ReliefValve limits the pressure from `from` to `to`.
type ReliefValve struct {
	Common
	From     Port     `key:"from" doc:"protected side"`
	To       Port     `key:"to" doc:"outlet"`
	Cracking Quantity `key:"cracking" dim:"pressure-difference" range:"> 0 bar" doc:"difference at which it opens"`
	Flow     Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow at full override"`
	Override Quantity `key:"override" dim:"pressure-difference" range:"> 0 bar" doc:"rise above cracking at that flow"`
}
