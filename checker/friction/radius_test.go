package friction

import (
	"math"
	"testing"
)

// Bhandari, Design of Machine Elements, examples 11.1 (wear) and 11.2
// (pressure): d 100, D 200 mm, f 0.2, p_a 1 MPa, 750 rpm, one face; forces,
// torques and powers as in a companion file, recomputed.
func TestBhandariPlateClutch(t *testing.T) {
	const inner, outer, f, omega = 0.05, 0.1, 0.2, 750 * math.Pi / 30
	for _, row := range []struct {
		contact              Contact
		force, torque, power float64
	}{
		{UniformWear, 15707.963, 235.619, 18.5055e3},
		{UniformPressure, 23561.945, 366.519, 28.7863e3},
	} {
		near(t, "p_a", FacePressure(row.contact, row.force, inner, outer), 1e6, 1e-6)
		torque, _, _ := Torque(f, 1, Radius(row.contact, inner, outer), row.force, 0, omega)
		near(t, "T", torque, row.torque, 3e-6)
		near(t, "P", torque*omega, row.power, 3e-6)
	}
}

// Shigley, Mechanical Engineering Design, 8th ed., problem 16-19, a cone: f
// 0.26, d 306, D 330, width 60 mm, 200 N m, so α = 11.31°. Pressing the cone
// with F is pressing a flat face with F/sin α. Wear: 82.2 kPa, 0.949 kN
// (solutions manual); pressure 79.1 kPa, 0.948 kN (computed independently).
func TestShigleyCone(t *testing.T) {
	const inner, outer, f, torque = 0.153, 0.165, 0.26, 200
	alpha := math.Atan(12. / 60)
	near(t, "α", alpha*180/math.Pi, 11.31, 1e-4)
	for contact, want := range map[Contact][2]float64{UniformWear: {0.949e3, 82.2e3}, UniformPressure: {0.948e3, 79.1e3}} {
		force := torque * math.Sin(alpha) / (f * Radius(contact, inner, outer))
		near(t, "F", force, want[0], 6e-4)
		near(t, "p_a", FacePressure(contact, force, inner, outer), want[1], 7e-4)
	}
}

// Under one force T_wear/T_pressure = ¾ (1 + k)(1 − k²)/(1 − k³), k = d/D;
// computed independently.
func TestRatioOfRadii(t *testing.T) {
	for k, want := range map[float64]float64{0.5: 0.96429, 0.577: 0.97658, 0.8: 0.99590} {
		near(t, "ratio", Radius(UniformWear, k, 1)/Radius(UniformPressure, k, 1), want, 6e-6)
		near(t, "formula", 0.75*(1+k)*(1-k*k)/(1-k*k*k), want, 6e-6)
	}
	near(t, "no width", Radius(UniformPressure, 0.1, 0.1), 0.1, 1e-12)
	near(t, "full disc", Radius(UniformPressure, 0, 0.3), 0.2, 1e-12)
}

// With wear, the torque a given p_a allows is largest at d/D = 1/√3.
func TestLargestTorque(t *testing.T) {
	torque := func(k float64) float64 { return Radius(UniformWear, k, 1) / FacePressure(UniformWear, 1, k, 1) }
	best := 1 / math.Sqrt(3)
	near(t, "flat there", slope(torque, best, 1e-3), 0, 1e-9)
	if torque(best) <= torque(best-0.01) || torque(best) <= torque(best+0.01) {
		t.Error("not a maximum")
	}
}

func TestFaceArea(t *testing.T) {
	near(t, "area", FaceArea(0.05, 0.1), math.Pi*0.0075, 1e-12)
	near(t, "uniform pressure", FacePressure(UniformPressure, 2e6*math.Pi*0.0075, 0.05, 0.1), 2e6, 1e-12)
}
