package specs

var _ = register("orifice", "a fixed sharp-edged restriction", func() Part { return new(Orifice) })

// An Orifice is a fixed sharp-edged restriction.
type Orifice struct {
	Common
	From      Port     `key:"from" doc:"one side"`
	To        Port     `key:"to" doc:"the other side"`
	Diameter  Quantity `key:"diameter" dim:"length" range:"> 0 mm" doc:"of the hole"`
	Discharge Quantity `key:"discharge" dim:"number" default:"0.61" range:"> 0, <= 1" doc:"discharge coefficient"`
}
