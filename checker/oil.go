package checker

import (
	"headroom/checker/fluid"
	"headroom/specs"
)

// oilOf is the circuit's fluid for the laws, or nil and the key path of the
// first value that it lacks.
func oilOf(f *specs.Fluid) (oil *fluid.Oil, key string) {
	at := under("fluid")
	if key := lacking(
		at(f.Density, "density"), at(f.Expansion, "expansion"),
		at(f.BulkModulus.Value, "bulk_modulus.value"),
		at(f.BulkModulus.Ref.Temperature, "bulk_modulus.at.temperature"),
		at(f.BulkModulus.Ref.Pressure, "bulk_modulus.at.pressure"),
		at(f.SpecificHeat, "specific_heat"), at(f.FreeAir, "free_air"),
	); key != "" {
		return nil, key
	}
	curve := viscosityOf(f)
	if curve == nil {
		return nil, "fluid.viscosity"
	}
	return &fluid.Oil{
		Density15:   f.Density.SI,
		Expansion15: f.Expansion.SI,
		Kinematic:   *curve,
		Modulus: fluid.Modulus{
			Value:         f.BulkModulus.Value.SI,
			AtTemperature: f.BulkModulus.Ref.Temperature.SI,
			AtPressure:    f.BulkModulus.Ref.Pressure.SI,
			PerPressure:   f.BulkModulus.PerPressure.SI,
			PerKelvin:     f.BulkModulus.PerKelvin.SI,
		},
		SpecificHeat:      f.SpecificHeat.SI,
		FreeAir:           f.FreeAir.SI,
		PressureViscosity: f.PressureViscosity.SI,
	}, ""
}

// viscosityOf is the fluid's viscosity curve, nil where it has none.
func viscosityOf(f *specs.Fluid) *fluid.ViscosityCurve {
	points := make([]fluid.ViscosityPoint, len(f.Viscosity.Points))
	for i, p := range f.Viscosity.Points {
		points[i] = fluid.ViscosityPoint{T: p.X, Nu: p.Y}
	}
	curve, err := fluid.NewViscosityCurve(points)
	if err != nil {
		return nil
	}
	return &curve
}

// vapourOf is the fluid's vapour pressure curve, nil where it has none.
func vapourOf(f *specs.Fluid) *fluid.VapourCurve {
	points := make([]fluid.VapourPoint, len(f.VapourPressure.Points))
	for i, p := range f.VapourPressure.Points {
		points[i] = fluid.VapourPoint{T: p.X, P: p.Y}
	}
	curve, err := fluid.NewVapourCurve(points)
	if err != nil {
		return nil
	}
	return &curve
}
