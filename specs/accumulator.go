package specs

var _ = register("accumulator", "stores fluid against nitrogen", func() Part { return new(Accumulator) })

// An Accumulator stores fluid against nitrogen.
type Accumulator struct {
	Common
	AtPort        Port      `key:"at" doc:"its node"`
	Size          Quantity  `key:"size" dim:"volume" range:"> 0 L" doc:"gas volume at precharge"`
	Precharge     Precharge `key:"precharge" doc:"charge pressure of the gas"`
	Gas           Text      `key:"gas" oneof:"nitrogen" doc:"the gas"`
	Type          Text      `key:"type" oneof:"bladder|diaphragm|piston" opt:"yes" doc:"what parts gas and fluid"`
	TimeConstant  Quantity  `key:"time_constant" dim:"time" range:"> 0 s" doc:"thermal time constant of the gas"`
	Inlet         Quantity  `key:"inlet" dim:"length" range:"> 0 mm" doc:"diameter of its port"`
	LowestWorking Quantity  `key:"lowest_working" dim:"pressure" opt:"yes" range:"> 0 bar" doc:"pressure below which it is of no use"`
	Isolation     Flag      `key:"isolation" opt:"yes" doc:"can be isolated from the circuit"`
	Discharge     Flag      `key:"discharge" opt:"yes" doc:"can be discharged to the reservoir"`
}

// A Precharge is the gas pressure of an empty accumulator and its temperature.
type Precharge struct {
	At          Span
	Pressure    Quantity `key:"pressure" dim:"pressure" range:"> 0 bar" doc:"gas pressure with no fluid in"`
	Temperature Quantity `key:"temperature" dim:"temperature" default:"20 degC" doc:"at which it was set"`
}
