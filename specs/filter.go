package specs

var _ = register("filter", "cleans what passes it", func() Part { return new(Filter) })

// A Filter cleans what passes it; its drop is linear in flow and viscosity.
type Filter struct {
	Common
	From     Port     `key:"from" doc:"dirty side"`
	To       Port     `key:"to" doc:"clean side"`
	Flow     Quantity `key:"flow" dim:"flow" range:"> 0 L/min" doc:"flow of its rated drop"`
	Drop     Quantity `key:"drop" dim:"pressure-difference" range:"> 0 bar" doc:"drop at that flow and viscosity"`
	RatedAt  Quantity `key:"viscosity" dim:"kinematic-viscosity" range:"> 0 mm2/s" doc:"viscosity of that rating"`
	Bypass   Quantity `key:"bypass" eg:"3 bar" dim:"pressure-difference" opt:"yes" range:"> 0 bar" doc:"drop at which its bypass opens"`
	Collapse Quantity `key:"collapse" eg:"20 bar" dim:"pressure-difference" opt:"yes" range:"> 0 bar" doc:"drop its element survives (ISO 2941)"`
	Beta     *Beta    `key:"beta" opt:"yes" doc:"filtration ratio (ISO 16889)"`
	Reaches  Text     `key:"reaches" eg:"18/16/13" opt:"yes" form:"iso4406" doc:"ISO 4406 code that it keeps"`
}

// A Beta is a filtration ratio at a particle size.
type Beta struct {
	At    Span
	Size  Quantity `key:"size" eg:"10 µm" dim:"length" range:"> 0 mm" doc:"particle size"`
	Ratio Quantity `key:"ratio" eg:"200" dim:"number" range:"> 1" doc:"particles before to particles behind"`
}

func (f *Filter) check(r *reader, _ place) { r.below(f.Bypass, f.Collapse) }
