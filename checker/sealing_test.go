package checker

import (
	"testing"

	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// sealed gathers the facts of the first seal on a rail at 1500 psi: the relief
// valve cracks at 103.42 bar and takes next to nothing.
func sealed(t *testing.T, seal, family string) *facts.Seal {
	t.Helper()
	f := gatherOf(t, replaced(plain, "family: HM", "family: "+family)+`
environment: {cold_start: -20 degC}
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 0.000001 cm3/rev}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 1500 psi, flow: 60 L/min, override: 1 bar}
  ram: {kind: cylinder, head: aside}
  block: {kind: consumer, from: out, to: sump, seals: [`+seal+`]}
`+running)
	if len(f.Seals) != 1 {
		t.Fatalf("%d seals", len(f.Seals))
	}
	return f.Seals[0]
}

// Ratings of the seal trade: EPDM is unfit in oil (seen, rating E), NBR in
// phosphate ester (from memory, undisputed), both firm.
func TestSealRating(t *testing.T) {
	tests := []struct {
		material, family, rating string
		firm                     bool
	}{
		{"NBR", "HM", "suitable", false},
		{"EPDM", "HM", "unsuitable", true},
		{"NBR", "HFDR", "unsuitable", true},
		{"FKM", "HFC", "limited", false},
	}
	for _, tt := range tests {
		f := sealed(t, "{at: from, material: "+tt.material+"}", tt.family)
		if f.Rating.Value != tt.rating || f.Firm.Value != tt.firm {
			t.Errorf("%s in %s: %s, firm %v; want %s, %v", tt.material, tt.family, f.Rating.Value, f.Firm.Value, tt.rating, tt.firm)
		}
	}
}

// Standard NBR stands -30 to 100 °C (seal trade table), unless the seal says otherwise.
func TestSealTemperatures(t *testing.T) {
	usual := sealed(t, "{at: from, material: NBR}", "HM")
	is(t, "usual lowest", usual.Min, "-30 degC", quantity.Temperature, 1e-9)
	is(t, "usual highest", usual.Max, "100 degC", quantity.Temperature, 1e-9)
	is(t, "coldest", usual.Coldest, "-20 degC", quantity.Temperature, 1e-9)
	lacks(t, "hottest", usual.Hottest, "simulation")
	own := sealed(t, "{at: from, material: NBR, temperature: {min: -45 degC}}", "HM")
	is(t, "its own lowest", own.Min, "-45 degC", quantity.Temperature, 1e-9)
	is(t, "the usual highest beside it", own.Max, "100 degC", quantity.Temperature, 1e-9)
}

// A seal that runs 20 K hotter than its node tells both.
func TestSealHotterThanItsNode(t *testing.T) {
	f := simulateText(t, replaced(press, "bore: 10 mm, length: 1 m}", "bore: 10 mm, length: 1 m, seals: [{at: to, material: NBR, above_fluid: 20 K}, {at: to, material: FKM}]}"), Asked{})
	node := nodeOf(t, f, "jet").Hottest
	near(t, "hottest", f.Seals[0].Hottest, node.Value+20, 1e-9)
	notes(t, "hottest", f.Seals[0].Hottest, quantity.Temperature.Format(node.Value)+" there, above_fluid 20.0 K")
	near(t, "hottest without", f.Seals[1].Hottest, node.Value, 1e-9)
}

// Clearance table of O-ring catalogues: 0.006 in at 1500 psi and 70 Shore A,
// 0.020 in at 90.
func TestSealGap(t *testing.T) {
	soft := sealed(t, "{at: from, material: NBR, hardness: 70, gap: 0.1 mm}", "HM")
	is(t, "pressure", soft.Pressure, "1500 psi", quantity.Pressure, 1e-4)
	is(t, "at 70 Shore A", soft.GapAllowed, "0.006 in", quantity.Length, 1e-3)
	hard := sealed(t, "{at: from, material: NBR, hardness: 90}", "HM")
	is(t, "at 90 Shore A", hard.GapAllowed, "0.020 in", quantity.Length, 1e-3)
	is(t, "softer than the table", sealed(t, "{at: from, material: NBR, hardness: 60}", "HM").GapAllowed, "0 mm", quantity.Length, 0)
	lacks(t, "without a hardness", sealed(t, "{at: from, material: NBR}", "HM").GapAllowed, "parts.block.seals[0].hardness")
	lacks(t, "gap not stated", hard.Gap, "parts.block.seals[0].gap")
	backed := sealed(t, "{at: from, material: NBR, hardness: 70, backup: true}", "HM")
	is(t, "with a backup ring, as 90 Shore A", backed.GapAllowed, "0.020 in", quantity.Length, 1e-3)
	is(t, "with a backup ring, of no stated hardness", sealed(t, "{at: from, material: NBR, backup: true}", "HM").GapAllowed, "0.020 in", quantity.Length, 1e-3)
	for _, tt := range []struct {
		of   *facts.Seal
		note string
	}{
		{soft, "103 bar at it, 70 Shore A, no backup ring"},
		{backed, "103 bar at it, with a backup ring"},
	} {
		notes(t, "gap allowed", tt.of.GapAllowed, tt.note)
	}
}

// A material that the catalogue knows no sliding speed of leaves the limit unknown.
func TestSealSpeedAllowed(t *testing.T) {
	is(t, "NBR lips, from memory", sealed(t, "{at: from, material: NBR, moving: true}", "HM").SpeedAllowed, "0.5 m/s", quantity.Velocity, 1e-9)
	lacks(t, "of an unheard-of material", sealed(t, "{at: from, material: ACM, moving: true}", "HM").SpeedAllowed, "a sliding speed of ACM in the catalogue")
}

// A seal sits at the port or node it names, else at the part's first port.
func TestSealPlace(t *testing.T) {
	for _, tt := range []struct{ seal, pressure string }{
		{"{material: NBR}", "1500 psi"},
		{"{at: from, material: NBR}", "1500 psi"},
		{"{at: out, material: NBR}", "1500 psi"},
		{"{at: to, material: NBR}", "0 bar"},
		{"{at: sump, material: NBR}", "0 bar"},
	} {
		is(t, tt.seal, sealed(t, tt.seal, "HM").Pressure, tt.pressure, quantity.Pressure, 1e-4)
	}
	if f := sealed(t, "{at: to, material: NBR}", "HM"); f.Name.Value != "block at to, NBR" {
		t.Errorf("is called %q", f.Name.Value)
	}
}
