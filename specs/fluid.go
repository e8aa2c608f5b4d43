package specs

// A Fluid is the circuit's one fluid: a catalogue entry, inline values, or both.
type Fluid struct {
	At                Span
	Like              Text        `key:"like" eg:"hm-32" opt:"yes" doc:"catalogue entry whose values hold where nothing is said"`
	Family            Text        `key:"family" eg:"HM" form:"fluid-family" doc:"symbol by ISO 6743-4, such as HM, HV, HFC, HETG"`
	Density           Quantity    `key:"density" dim:"density" range:"> 0 kg/m3" doc:"at 15 °C"`
	Expansion         Quantity    `key:"expansion" dim:"expansion" range:"> 0 1/K" doc:"volume expansion at 15 °C"`
	Viscosity         Table       `key:"viscosity" eg:"[[40 degC, 32 mm2/s], [100 degC, 5.4 mm2/s]]" dim:"temperature,kinematic-viscosity" range:"> 0 mm2/s" doc:"two or more points"`
	BulkModulus       BulkModulus `key:"bulk_modulus" doc:"isentropic tangent modulus of the liquid"`
	SpecificHeat      Quantity    `key:"specific_heat" dim:"specific-heat" range:"> 0 J/kg/K" doc:"heat per mass and kelvin"`
	VapourPressure    Table       `key:"vapour_pressure" eg:"[[50 degC, 0.0003 mbar abs], [100 degC, 0.03 mbar abs]]" dim:"temperature,absolute-pressure" opt:"yes" doc:"points over temperature"`
	FreeAir           Quantity    `key:"free_air" eg:"0.5 %" dim:"number" default:"0.5 %" range:">= 0 %, < 50 %" doc:"volume fraction of undissolved air at 101 325 Pa"`
	PressureViscosity Quantity    `key:"pressure_viscosity" dim:"pressure-viscosity" default:"0 1/Pa" range:">= 0 1/Pa" doc:"Barus coefficient"`
	MaxTemperature    Quantity    `key:"max_temperature" dim:"temperature" doc:"in the bulk, continuously"`
	PeakTemperature   Quantity    `key:"peak_temperature" eg:"95 degC" dim:"temperature" opt:"yes" doc:"for short excursions"`
	PourPoint         Quantity    `key:"pour_point" eg:"-30 degC" dim:"temperature" opt:"yes" doc:"ISO 3016"`
	FlashPoint        Quantity    `key:"flash_point" eg:"210 degC" dim:"temperature" opt:"yes" doc:"open cup, ISO 2592"`
	Autoignition      Quantity    `key:"autoignition" eg:"330 degC" dim:"temperature" opt:"yes" doc:"autoignition temperature"`
	AirRelease        Quantity    `key:"air_release" eg:"7 min" dim:"time" opt:"yes" range:"> 0 s" doc:"ISO 9120, at 50 °C"`
	Life              *FluidLife  `key:"life" opt:"yes" doc:"service life at a temperature"`
	ShearLoss         Quantity    `key:"shear_loss" eg:"5 %" dim:"number" opt:"yes" range:">= 0 %, < 100 %" doc:"permanent loss of viscosity of a thickened oil in service"`
}

// A BulkModulus is a modulus at a reference point and its slopes.
type BulkModulus struct {
	At          Span
	Value       Quantity       `key:"value" eg:"1.55 GPa" dim:"pressure-difference" range:"> 0 GPa" doc:"at the reference point"`
	Ref         BulkModulusRef `key:"at" doc:"the reference point"`
	PerPressure Quantity       `key:"per_pressure" eg:"9.5" dim:"number" default:"0" doc:"slope over pressure"`
	PerKelvin   Quantity       `key:"per_kelvin" dim:"modulus-per-kelvin" default:"0 MPa/K" doc:"slope over temperature"`
}

// BulkModulusRef is the reference point of a BulkModulus.
type BulkModulusRef struct {
	At          Span
	Temperature Quantity `key:"temperature" eg:"40 degC" dim:"temperature" doc:"of the value"`
	Pressure    Quantity `key:"pressure" eg:"0 bar" dim:"pressure" doc:"of the value"`
}

// FluidLife is a service life at a temperature.
type FluidLife struct {
	At          Span
	Hours       Quantity `key:"hours" eg:"4000 h" dim:"time" range:"> 0 h" doc:"service life"`
	Temperature Quantity `key:"at" dim:"temperature" doc:"at that temperature"`
}

func (f *Fluid) check(r *reader, _ place) {
	r.atMost(f.MaxTemperature, f.PeakTemperature)
	r.below(f.PourPoint, f.MaxTemperature)
	r.below(f.FlashPoint, f.Autoignition)
	for i := 1; i < len(f.Viscosity.Points); i++ {
		if f.Viscosity.Points[i].Y >= f.Viscosity.Points[i-1].Y {
			r.wrong(ruleRange, f.Viscosity.RowsAt[i], f.Viscosity.Key, "a fluid gets thinner as it gets hotter: this viscosity must be below that of the point before")
		}
	}
}
