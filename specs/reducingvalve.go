package specs

var _ = register("reducing-valve", "holds the commanded pressure at `a`", func() Part { return new(ReducingValve) })

// A ReducingValve holds the commanded pressure at `a`, from p or to t.
type ReducingValve struct {
	Common
	P     Port     `key:"p" doc:"supply"`
	A     Port     `key:"a" doc:"held port"`
	T     Port     `key:"t" doc:"return"`
	Flow  Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow of its rated drop"`
	Drop  Quantity `key:"drop" dim:"pressure-difference" range:"> 0 bar" doc:"drop fully open at that flow"`
	Band  Quantity `key:"band" dim:"pressure-difference" range:"> 0 bar" doc:"deviation that opens it fully"`
	Lag   Quantity `key:"lag" dim:"time" range:"> 0 s" doc:"first-order lag of the wanted pressure"`
	Rest  Quantity `key:"rest" dim:"pressure" doc:"wanted pressure without command, and when power is lost"`
	Stuck Quantity `key:"stuck" dim:"pressure" only:"with" doc:"holds the wanted pressure there, whatever the command"`
}
