package specs

// A Part is one component of a circuit: *Reservoir, *Pump, *Tube and so on,
// one kind a file. Base gives what all kinds share; the kind's own values are
// reached by a type switch.
type Part interface {
	Base() *Common
}

// Common is what every part kind may say.
type Common struct {
	Name string // the key under `parts`
	Kind string // "reservoir", "pump", ...
	At   Span   // of the name

	Like          Text            `key:"like" eg:"hose-2sn-10" opt:"yes" doc:"catalogue entry whose values hold where the part says nothing"`
	Mass          Quantity        `key:"mass" dim:"mass" opt:"yes" range:">= 0 kg" doc:"mass of the part, dry"`
	Rated         Rated           `key:"rated" opt:"yes" doc:"what its maker rates it for"`
	ProofPressure Quantity        `key:"proof_pressure" eg:"420 bar" dim:"pressure" opt:"yes" range:"> 0 bar" doc:"pressure it was proved at"`
	BurstPressure Quantity        `key:"burst_pressure" eg:"840 bar" dim:"pressure" opt:"yes" range:"> 0 bar" doc:"least pressure at which it bursts"`
	Cleanliness   Text            `key:"cleanliness" opt:"yes" eg:"18/16/13" form:"iso4406" doc:"ISO 4406 code of the oil it needs, such as 18/16/13"`
	AntiWear      Flag            `key:"anti_wear" opt:"yes" doc:"needs an anti-wear oil"`
	Viscosity     ViscosityWindow `key:"viscosity" opt:"yes" doc:"kinematic viscosity it works with"`
	Seals         []Seal          `key:"seals" opt:"yes" doc:"its seals"`
	HeatCapacity  Quantity        `key:"heat_capacity" dim:"heat-capacity" opt:"yes" range:">= 0 J/K" doc:"heat it stores, sharing the temperature of its node at, to, head or a; of a friction pack that of its cylinder"`
	ToAmbient     Quantity        `key:"to_ambient" dim:"conductance" opt:"yes" range:">= 0 W/K" doc:"heat it gives to the surroundings per kelvin"`
	Note          Text            `key:"note" opt:"yes" doc:"a remark, not computed with"`
}

// Base returns the part's common values.
func (c *Common) Base() *Common { return c }

// Rated is what a part's maker rates it for.
type Rated struct {
	At           Span
	Pressure     Quantity    `key:"pressure" dim:"pressure" opt:"yes" range:"> 0 bar" doc:"highest working pressure"`
	Temperature  Window      `key:"temperature" opt:"yes" doc:"fluid temperature it may see"`
	Flow         Quantity    `key:"flow" dim:"flow" opt:"yes" range:"> 0 L/min" doc:"highest flow through it"`
	BackPressure Quantity    `key:"back_pressure" dim:"pressure" opt:"yes" range:">= 0 bar" doc:"highest pressure on its return or drain side"`
	Life         *FluidLife  `key:"life" opt:"yes" doc:"service life at a fluid temperature; of hoses and other parts with rubber in them"`
	Cycles       RatedCycles `key:"cycles" opt:"yes" doc:"pressure cycles it survives"`
}

// A Window is a temperature range.
type Window struct {
	At  Span
	Min Quantity `key:"min" eg:"-20 degC" dim:"temperature" opt:"yes" doc:"lowest"`
	Max Quantity `key:"max" dim:"temperature" opt:"yes" doc:"highest"`
}

// RatedCycles is one point of a part's fatigue line and its slope.
type RatedCycles struct {
	At       Span
	Count    Quantity `key:"count" eg:"1e6" dim:"number" range:"> 0" doc:"cycles it survives"`
	Pressure Quantity `key:"at" eg:"210 bar" dim:"pressure-difference" range:"> 0 bar" doc:"pressure range of those cycles"`
	Exponent Quantity `key:"exponent" eg:"9" dim:"number" range:">= 1" doc:"slope: cycles fall with (range)^exponent"`
}

// A ViscosityWindow is the kinematic viscosity a part works with.
type ViscosityWindow struct {
	At       Span
	Min      Quantity `key:"min" eg:"10 mm2/s" dim:"kinematic-viscosity" opt:"yes" range:"> 0 mm2/s" doc:"least, in running"`
	Max      Quantity `key:"max" eg:"300 mm2/s" dim:"kinematic-viscosity" opt:"yes" range:"> 0 mm2/s" doc:"most, in running"`
	StartMax Quantity `key:"start_max" eg:"1000 mm2/s" dim:"kinematic-viscosity" opt:"yes" range:"> 0 mm2/s" doc:"most, for starting"`
}

// A Seal is one elastomer or plastic seal of a part.
type Seal struct {
	Index       int      // its place in the part's list, from 0
	At          Span     // of the entry
	Port        Text     `key:"at" opt:"yes" doc:"the port or node it seals; by default the part's first port"`
	Material    Text     `key:"material" eg:"NBR" form:"seal-material" doc:"by ISO 1629 or ISO 1043-1, such as NBR, FKM, PTFE"`
	Hardness    Quantity `key:"hardness" eg:"90" dim:"number" opt:"yes" range:">= 20, <= 100" doc:"Shore A"`
	Gap         Quantity `key:"gap" eg:"0.1 mm" dim:"length" opt:"yes" range:">= 0 mm" doc:"diametral clearance it must bridge"`
	Backup      Flag     `key:"backup" opt:"yes" doc:"has a backup ring"`
	Moving      Flag     `key:"moving" opt:"yes" doc:"seals a moving surface"`
	AboveFluid  Quantity `key:"above_fluid" dim:"temperature-difference" default:"0 K" doc:"by how much it runs hotter than its node"`
	Temperature Window   `key:"temperature" opt:"yes" doc:"its own temperature range, where it differs from the material's usual one"`
}

func (w *Window) check(r *reader, _ place) { r.below(w.Min, w.Max) }
func (w *ViscosityWindow) check(r *reader, _ place) {
	r.below(w.Min, w.Max)
	r.atMost(w.Max, w.StartMax)
}
