package specs

var _ = register("tube", "a rigid line", func() Part { return new(Tube) })
var _ = register("hose", "a flexible line", func() Part { return new(Hose) })

// A Line is what tubes and hoses share.
type Line struct {
	From      Port     `key:"from" doc:"one end"`
	To        Port     `key:"to" doc:"the other end"`
	Bore      Quantity `key:"bore" dim:"length" range:"> 0 mm" doc:"inner diameter"`
	Length    Quantity `key:"length" eg:"0.8 m" dim:"length" range:"> 0 mm" doc:"length along its run"`
	Roughness Quantity `key:"roughness" eg:"0.0015 mm" dim:"length" default:"0.0015 mm" range:">= 0 mm" doc:"of the bore's wall"`
	Losses    Quantity `key:"losses" eg:"2" dim:"number" default:"0" range:">= 0" doc:"sum of the loss coefficients of bends and fittings"`
	Elevation Quantity `key:"elevation" eg:"0.3 m" dim:"length" default:"0 m" doc:"by which the end at to is higher"`
}

func (l *Line) line() *Line { return l }

// A Tube is a rigid line.
type Tube struct {
	Common
	Line
	Wall     Quantity `key:"wall" eg:"1.5 mm" dim:"length" range:"> 0 mm" doc:"wall thickness"`
	Material Text     `key:"material" eg:"E235" opt:"yes" form:"tube-material" doc:"catalogue name of the tube material"`
}

// A Hose is a flexible line.
type Hose struct {
	Common
	Line
	Stretch Quantity `key:"stretch" dim:"stretch" default:"0 cm3/m/bar" range:">= 0 cm3/m/bar" doc:"volume gained per length and pressure"`
	Bend    *Bend    `key:"bend" opt:"yes" doc:"how it is bent"`
}

// A Bend is a hose's installed and least bend radius.
type Bend struct {
	At        Span
	Radius    Quantity `key:"radius" dim:"length" range:"> 0 mm" doc:"as installed"`
	MinRadius Quantity `key:"min_radius" dim:"length" range:"> 0 mm" doc:"least allowed"`
}
