package specs

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"headroom/specs/quantity"
)

// read reads a spec that must have no problems.
func read(t *testing.T, text string) *Circuit {
	t.Helper()
	c := Read("spec.yaml", []byte(text))
	for _, p := range c.Problems {
		t.Errorf("%v", p)
	}
	return c
}

// with is the base spec with one piece of it, which must be there once, replaced.
func with(t *testing.T, was, now string) string {
	t.Helper()
	if n := strings.Count(base, was); n != 1 {
		t.Fatalf("%q stands %d times in the base spec, not once", was, n)
	}
	return strings.Replace(base, was, now, 1)
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-12*math.Abs(want) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// A gauge pressure is resolved against the air, wherever the environment stands
// in the file; a difference is not.
func TestGaugePressures(t *testing.T) {
	for environment, air := range map[string]float64{
		"ambient: 40 degC":                           101325,
		"air_pressure: 0.79 bar abs":                 79000,
		"altitude: 1200 m":                           airAt(1200),
		"altitude: 0 m":                              101325,
		"ambient: 40 degC, air_pressure: 10 psi abs": 68947.57293168361, // NIST SP 811: 6894.757 Pa
	} {
		text := with(t, "environment: {ambient: 40 degC}\n", "") + "environment: {" + environment + "}\n"
		c := read(t, text)
		near(t, environment+": air", c.Environment.AirPressure.SI, air)
		near(t, "precharge", c.Part("store").(*Accumulator).Precharge.Pressure.SI, 90e5+air)
		near(t, "default of the reservoir's pressure", c.Part("tank").(*Reservoir).Pressure.SI, air)
		near(t, "rest of the reducer", c.Part("reducer").(*ReducingValve).Rest.SI, air)
		near(t, "reference of the catalogue's fluid", c.Fluid.BulkModulus.Ref.Pressure.SI, air)
		near(t, "drop", c.Part("filter").(*Filter).Drop.SI, 0.5e5)
		near(t, "delivery's pressure", c.Part("main-pump").(*Pump).Delivers.Cond.Pressure.SI, 100e5)
	}
	c := read(t, with(t, "volume: 10 L", "volume: 10 L, pressure: 2 bar abs"))
	near(t, "pressure written abs", c.Part("tank").(*Reservoir).Pressure.SI, 2e5)
	c = read(t, with(t, "volume: 10 L", "volume: 10 L, pressure: -0.3 bar"))
	near(t, "pressure below the air's", c.Part("tank").(*Reservoir).Pressure.SI, 71325)
}

// The air at an altitude, against ISO 2533:1975, table 5 (by geometric
// altitude), as transcribed in the tests of a public implementation of that
// standard: six digits, to one in the last.
func TestAirAtAltitude(t *testing.T) {
	for altitude, mbar := range map[float64]float64{
		-500: 1074.78, -50: 1019.27, 0: 1013.25, 200: 989.453, 500: 954.612, 1000: 898.763, 1200: 877.180, 1300: 866.548,
		5000: 540.483, 6000: 472.176, 7000: 411.053, 8000: 356.516, 8200: 346.349,
	} {
		digit := 0.001
		if mbar > 1000 {
			digit = 0.01
		}
		if got := airAt(altitude) / 100; math.Abs(got-mbar) > digit {
			t.Errorf("at %g m %.4f mbar, the table has %g", altitude, got, mbar)
		}
	}
}

func TestDefaults(t *testing.T) {
	c := read(t, with(t, "environment: {ambient: 40 degC}\n", ""))
	for _, d := range []struct {
		what string
		got  Quantity
		want float64
	}{
		{"ambient", c.Environment.Ambient, 313.15},
		{"air_pressure", c.Environment.AirPressure, 101325},
		{"roughness", c.Part("pipe").(*Tube).Roughness, 1.5e-6},
		{"losses", c.Part("pipe").(*Tube).Losses, 0},
		{"precharge.temperature", c.Part("store").(*Accumulator).Precharge.Temperature, 293.15},
		{"friction.coulomb", c.Part("ram").(*Cylinder).Friction.Coulomb, 0},
		{"dead_volume.rod", c.Part("ram").(*Cylinder).DeadVolume.Rod, 0},
		{"take_up", c.Part("clutch").(*FrictionPack).TakeUp, 2e-5},
		{"begins.output", c.Cases[0].Begins.Output, 0},
		{"expects.from", read(t, with(t, "from: 1 s, ", "")).Cases[0].Expects[0].From, 0},
	} {
		if d.got.Source != FromDefault || d.got.At.Line != 0 || !strings.HasSuffix(d.got.Key, strings.TrimPrefix(d.what, "expects.")) {
			t.Errorf("%s: %+v", d.what, d.got)
		}
		near(t, d.what, d.got.SI, d.want)
	}
	if contact := c.Part("clutch").(*FrictionPack).Contact; contact.Value != "uniform-wear" || contact.Source != FromDefault {
		t.Errorf("contact: %+v", contact)
	}
	if drain := c.Part("main-pump").(*Pump).Drain; drain.Node != "sump" || drain.Source != FromDefault {
		t.Errorf("drain: %+v", drain)
	}
	if mass := c.Part("ram").Base().Mass; mass.Given() || mass.SI != 0 {
		t.Errorf("a mass that nobody set: %+v", mass)
	}
	if spring := c.Part("ram").(*Cylinder).Spring; spring != nil {
		t.Errorf("a spring that nobody set: %+v", spring)
	}
}

// What a case begins with follows from the environment and from itself.
func TestBegins(t *testing.T) {
	for text, want := range map[string][3]float64{
		"":                 {313.15, 313.15, 313.15}, // ambient
		"fluid: 90 degC":   {363.15, 313.15, 313.15}, // the lower of the two
		"fluid: -10 degC":  {263.15, 263.15, 263.15},
		"ambient: 20 degC": {313.15, 293.15, 293.15},
		"plates: 120 degC": {313.15, 313.15, 393.15},
		"fluid: 5 degC, ambient: 30 degC, plates: 7 degC": {278.15, 303.15, 280.15},
	} {
		b := read(t, with(t, "begins: {fluid: 50 degC}", "begins: {"+text+"}")).Cases[0].Begins
		got := [3]float64{b.Fluid.SI, b.Ambient.SI, b.Plates.SI}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%q: %s", text, diff)
		}
		if b.Charge.Given() || len(b.Positions) != 0 {
			t.Errorf("%q: charge %+v, positions %+v", text, b.Charge, b.Positions)
		}
	}
}

func TestTablesAndProfiles(t *testing.T) {
	c := read(t, with(t, "drives: {main-pump: 1500 rpm,", "drives: {main-pump: [[0 s, 0 rpm], [1500 ms, 60 rpm]],"))
	speed := c.Cases[0].Drives[0].Value.Speed
	if len(speed.Points) != 2 || speed.Points[0] != (Point{}) || speed.Points[1].X != 1.5 {
		t.Errorf("profile: %+v", speed.Points)
	}
	near(t, "60 rpm", speed.Points[1].Y, 2*math.Pi)
	if want := (Span{"spec.yaml", 23, 40, 23, 57}); speed.RowsAt[1] != want {
		t.Errorf("second row at %+v, want %+v", speed.RowsAt[1], want)
	}
	if constant := c.Cases[0].Drives[1].Value.Speed; len(constant.Points) != 1 || constant.Points[0].X != 0 {
		t.Errorf("a single value: %+v", constant)
	}
	viscosity := c.Fluid.Viscosity
	if len(viscosity.Points) < 2 || viscosity.Points[0].X != 313.15 || viscosity.Points[0].Y != 32e-6 {
		t.Errorf("the catalogue's viscosity: %+v", viscosity)
	}
	friction := read(t, with(t, "friction: 0.1,", "friction: [[20 degC, 12 %], [300 degC, 0.08]],")).Part("clutch").(*FrictionPack).Friction
	if diff := cmp.Diff([]Point{{293.15, 0.12}, {573.15, 0.08}}, friction.Points); diff != "" {
		t.Error(diff)
	}
}

// Values of the catalogue hold where the spec says nothing, key by key.
func TestLike(t *testing.T) {
	text := with(t, "fluid: {like: hm-32}", "fluid: {like: hm-46, density: 880 kg/m3, bulk_modulus: {per_pressure: 9}}")
	text = strings.Replace(text, "  pipe: {kind: tube,", "  hose: {kind: hose, like: hose-2sn-10, from: feed, to: sump, length: 2 m, burst_pressure: 1000 bar}\n  pipe: {kind: tube,", 1)
	c := read(t, text)
	f := c.Fluid
	if f.Density.Source != FromSpec || f.Density.SI != 880 || f.BulkModulus.PerPressure.SI != 9 || f.BulkModulus.PerPressure.Source != FromSpec {
		t.Errorf("what the spec says: %+v %+v", f.Density, f.BulkModulus)
	}
	if f.Family.Value != "HM" || f.Family.Source != FromCatalogue || f.Family.At.File != "catalogue/fluids/hm-46.yaml" || f.Family.At.Line == 0 || f.Family.At.EndColumn != f.Family.At.Column+len("HM") {
		t.Errorf("family: %+v", f.Family)
	}
	if value := f.BulkModulus.Value; value.Source != FromCatalogue || !(value.SI > 1e9) {
		t.Errorf("bulk modulus: %+v", value)
	}
	hose := c.Part("hose").(*Hose)
	if hose.Bore.Source != FromCatalogue || hose.Bore.At.File != "catalogue/parts/hose-2sn.yaml" || !(hose.Bore.SI > 9e-3 && hose.Bore.SI < 10e-3) {
		t.Errorf("bore: %+v", hose.Bore)
	}
	if hose.BurstPressure.Source != FromSpec || hose.Rated.Pressure.Source != FromCatalogue {
		t.Errorf("burst %+v, rated %+v", hose.BurstPressure, hose.Rated.Pressure)
	}
	if bend := hose.Bend; bend == nil || !bend.MinRadius.Given() || bend.Radius.Given() {
		t.Errorf("bend, of which the catalogue knows the least radius alone: %+v", bend)
	}
	if hose.Mass.Source != FromCatalogue || !(hose.Mass.SI > 0.5 && hose.Mass.SI < 3) {
		t.Errorf("the mass of 2 m of hose: %+v", hose.Mass)
	}
	lighter := read(t, strings.Replace(text, "burst_pressure: 1000 bar", "burst_pressure: 1000 bar, mass: 1 kg", 1)).Part("hose").Base().Mass
	if lighter.Source != FromSpec || lighter.SI != 1 {
		t.Errorf("a mass that the spec gives: %+v", lighter)
	}
}

// A case has whole parts of its own, which share nothing with the circuit's.
func TestOverrides(t *testing.T) {
	text := with(t, "with: {filter: {drop: 2 bar}}", "with: {store: {precharge: {pressure: 75 bar}}, valve: {stuck: -1}, release: {spring: {preload: 1 kN}}}")
	text = strings.Replace(text, "spring: {preload: 2 kN, rate: 60 N/mm}}", "spring: {preload: 2 kN, rate: 60 N/mm}, seals: [{material: NBR}]}", 1)
	c := read(t, text)
	store := c.Part("store").(*Accumulator)
	worn := c.Cases[0].With[0].As.(*Accumulator)
	near(t, "the case's precharge", worn.Precharge.Pressure.SI, 75e5+101325)
	near(t, "the part's precharge", store.Precharge.Pressure.SI, 90e5+101325)
	if p := worn.Precharge.Pressure; p.Source != FromCase || p.At.Line != 26 || p.Key != "precharge.pressure" {
		t.Errorf("the case's precharge: %+v", p)
	}
	if worn.Size != store.Size || worn.Size.Source != FromSpec || worn.AtPort != store.AtPort || worn.Name != "store" || worn.At != store.At {
		t.Errorf("what the case does not change: %+v", worn)
	}
	if temperature := worn.Precharge.Temperature; temperature.Source != FromDefault || temperature.SI != 293.15 {
		t.Errorf("default beside a change: %+v", temperature)
	}
	if stuck := c.Cases[0].With[1].As.(*DirectionalValve).Stuck; stuck.SI != -1 || stuck.Source != FromCase {
		t.Errorf("stuck: %+v", stuck)
	}
	if stuck := c.Part("valve").(*DirectionalValve).Stuck; stuck.Given() {
		t.Errorf("stuck outside the case: %+v", stuck)
	}
	release, weak := c.Part("release").(*Cylinder), c.Cases[0].With[2].As.(*Cylinder)
	if weak.Spring == release.Spring || weak.Spring.Preload.SI != 1000 || weak.Spring.Rate != release.Spring.Rate || release.Spring.Preload.SI != 2000 {
		t.Errorf("springs: %+v, %+v", release.Spring, weak.Spring)
	}
	if &weak.Seals[0] == &release.Seals[0] {
		t.Error("the case shares the seals")
	}
}

// A case may take another catalogue entry for a part; what the part itself says
// stays, and the case's own keys win.
func TestOverrideLike(t *testing.T) {
	text := with(t, "  pipe: {kind: tube,", "  hose: {kind: hose, like: hose-2sn-10, from: feed, to: sump, length: 2 m}\n  pipe: {kind: tube,")
	text = strings.Replace(text, "with: {filter: {drop: 2 bar}}", "with: {hose: {like: hose-2sn-12, stretch: 0.02 cm3/m/bar}}", 1)
	c := read(t, text)
	own, other := c.Part("hose").(*Hose), c.Cases[0].With[0].As.(*Hose)
	if !(other.Bore.SI > own.Bore.SI) || other.Bore.Source != FromCatalogue || other.Length != own.Length || other.Stretch.Source != FromCase {
		t.Errorf("bores %+v and %+v, stretch %+v", own.Bore, other.Bore, other.Stretch)
	}
	if other.Like.Value != "hose-2sn-12" || other.Like.Source != FromCase {
		t.Errorf("like: %+v", other.Like)
	}
}

// The command of a valve is what its kind is commanded by.
func TestCommands(t *testing.T) {
	c := read(t, with(t, "commands: [{at: 1 s, valve: valve, to: 1}]", "commands: [{at: 1 s, valve: valve, to: -50 %}, {at: 1 s, valve: reducer, to: 20 bar}]"))
	spool, pressure := c.Cases[0].Commands[0].To, c.Cases[0].Commands[1].To
	if spool.Dimension != quantity.Number || spool.SI != -0.5 || pressure.Dimension != quantity.Pressure || pressure.SI != 20e5+101325 {
		t.Errorf("spool %+v, pressure %+v", spool, pressure)
	}
	if spool.Key != "commands[0].to" {
		t.Errorf("key: %q", spool.Key)
	}
}

func TestNodes(t *testing.T) {
	c := read(t, with(t, "nodes: {rail: {role: pressure}}", "nodes: {low: {volume: 30 cm3}, rail: {role: pressure}}"))
	var names []string
	for _, n := range c.Nodes {
		names = append(names, n.Name)
	}
	if diff := cmp.Diff([]string{"sump", "rail", "feed", "clean", "head", "rod", "low"}, names); diff != "" {
		t.Error(diff)
	}
	if rail, sump := c.Nodes[1], c.Nodes[0]; rail.At.Line != 18 || rail.Role.Value != "pressure" || sump.At != (Span{"spec.yaml", 7, 31, 7, 35}) {
		t.Errorf("rail %+v, sump %+v", rail, sump)
	}
	if low := c.Nodes[6]; low.Volume.SI != 30e-6 || low.Volume.Key != "volume" {
		t.Errorf("low: %+v", low)
	}
}

func TestKindsAndPorts(t *testing.T) {
	want := []string{"accumulator", "check-valve", "consumer", "cooler", "cylinder", "directional-valve", "filter", "flow-regulator", "friction-pack",
		"hose", "motor", "orifice", "pilot-check-valve", "pump", "reducing-valve", "relief-valve", "reservoir", "shuttle-valve", "tube"}
	if diff := cmp.Diff(want, Kinds()); diff != "" {
		t.Error(diff)
	}
	for kind, want := range map[string][]string{
		"pump": {"from", "to", "drain"}, "cylinder": {"head", "rod"}, "directional-valve": {"p", "t", "a", "b"}, "shuttle-valve": {"a", "b", "to"},
		"friction-pack": nil, "accumulator": {"at"}, "no such kind": nil,
	} {
		if diff := cmp.Diff(want, PortKeys(kind)); diff != "" {
			t.Errorf("%s: %s", kind, diff)
		}
	}
	ports := Ports(read(t, base).Part("release"))
	if len(ports) != 1 || ports[0].Key != "head" || ports[0].Node != "low" || ports[0].Source != FromSpec {
		t.Errorf("ports of a single-acting cylinder: %+v", ports)
	}
}

func TestParseCleanliness(t *testing.T) {
	for text, want := range map[string]Cleanliness{
		"18/16/13": {18, 16, 13}, "0/0/0": {0, 0, 0}, "28/28/28": {28, 28, 28}, "16/13": {-1, 16, 13}, "-/16/13": {-1, 16, 13},
	} {
		if got, fine := ParseCleanliness(text); !fine || got != want {
			t.Errorf("%s: %v, %v", text, got, fine)
		}
	}
	for _, text := range []string{"", "18", "18/16/13/10", "16/18/13", "18/16/17", "29/16/13", "-1/16/13", "18/-/13", "18/16/", "a/b/c", "18 /16/13", "+18/16/13"} {
		if got, fine := ParseCleanliness(text); fine {
			t.Errorf("%s is read as %v", text, got)
		}
	}
}

// Entries of lists know their place in the list, also behind one that cannot be read.
func TestIndex(t *testing.T) {
	text := with(t, "expects: [{part: ram", "expects: [3, {node: rail, at_least: 5 bar}, {part: ram")
	text = strings.Replace(text, "min_pressure: 20 bar}", "min_pressure: 20 bar, seals: [{material: NBR}, {material: FKM}]}", 1)
	c := Read("spec.yaml", []byte(text))
	if e := c.Cases[0].Expects; len(e) != 2 || e[0].Index != 1 || e[1].Index != 2 || e[1].At.Column != e[0].At.EndColumn+2 {
		t.Errorf("expectations: %+v", e)
	}
	if s := c.Part("steering").Base().Seals; len(s) != 2 || s[0].Index != 0 || s[1].Index != 1 || s[1].Material.Key != "seals[1].material" {
		t.Errorf("seals: %+v", s)
	}
}

func TestPositionsAtTheStops(t *testing.T) {
	for _, position := range []string{"0 mm", "200 mm", "20 cm"} {
		read(t, with(t, "begins: {fluid: 50 degC}", "begins: {positions: {ram: "+position+"}}"))
	}
}
