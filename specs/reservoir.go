package specs

var _ = register("reservoir", "holds the fluid at a fixed pressure", func() Part { return new(Reservoir) })

// A Reservoir holds the circuit's fluid at a fixed pressure.
type Reservoir struct {
	Common
	AtPort      Port     `key:"at" doc:"its node"`
	Volume      Quantity `key:"volume" eg:"10 L" dim:"volume" range:"> 0 L" doc:"inner volume"`
	Fill        Quantity `key:"fill" eg:"8 L" dim:"volume" range:"> 0 L" doc:"its fluid at 15 °C when the circuit is charged"`
	Pressure    Quantity `key:"pressure" eg:"0.2 bar" dim:"pressure" default:"0 bar" doc:"gas side"`
	MinFill     Quantity `key:"min_fill" eg:"5 L" dim:"volume" opt:"yes" range:">= 0 L" doc:"least fluid that keeps the pickup covered"`
	ServiceLoss Quantity `key:"service_loss" eg:"60 mL" dim:"volume" opt:"yes" range:">= 0 L" doc:"fluid lost between services"`
	Uncovers    Vector   `key:"uncovers" opt:"yes" doc:"acceleration at which the pickup uncovers at min_fill"`
}

// A Vector is an acceleration by the vehicle's axes.
type Vector struct {
	At Span
	X  Quantity `key:"x" dim:"acceleration" opt:"yes" doc:"forwards"`
	Y  Quantity `key:"y" dim:"acceleration" opt:"yes" doc:"sideways"`
	Z  Quantity `key:"z" dim:"acceleration" opt:"yes" doc:"upwards"`
}

func (p *Reservoir) check(r *reader, _ place) {
	r.atMost(p.Fill, p.Volume)
	r.atMost(p.MinFill, p.Fill)
	if u := &p.Uncovers; u.At.Line > 0 && u.X.SI == 0 && u.Y.SI == 0 && u.Z.SI == 0 && (u.X.Given() || u.Y.Given() || u.Z.Given()) {
		r.wrong(ruleRange, u.At, "uncovers", "no acceleration at all would uncover the pickup; leave uncovers out, or give one above 0, such as x: 12 m/s2")
	}
}

func (v *Vector) check(r *reader, where place) {
	if v.X.At.Line == 0 && v.Y.At.Line == 0 && v.Z.At.Line == 0 {
		r.wrong(ruleEmpty, v.At, where.own, "an acceleration needs x, y or z, such as x: 12 m/s2")
	}
}
