package specs

var _ = register("flow-regulator", "holds a flow whatever the pressure", func() Part { return new(FlowRegulator) })

// A FlowRegulator holds a flow whatever the pressure, once it has its least drop.
type FlowRegulator struct {
	Common
	From  Port     `key:"from" doc:"inlet"`
	To    Port     `key:"to" doc:"outlet"`
	Flow  Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow it holds"`
	Needs Quantity `key:"needs" dim:"pressure-difference" range:"> 0 bar" doc:"least drop for that flow"`
}
