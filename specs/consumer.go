package specs

var _ = register("consumer", "a function known only by the flow it draws, given per case under `demands`", func() Part { return new(Consumer) })

// A Consumer is a function known only by the flow it draws, given per case.
type Consumer struct {
	Common
	From        Port     `key:"from" doc:"supply"`
	To          Port     `key:"to" doc:"return"`
	MinPressure Quantity `key:"min_pressure" dim:"pressure-difference" range:">= 0 bar" doc:"difference across it that it needs"`
}
