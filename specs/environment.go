package specs

import "math"

// stage acts between the keys of a spec: pressures need the air, parts' nodes
// are known once all parts are read, and cases refer to both.
func (c *Circuit) stage(r *reader, key string) {
	switch key {
	case "environment":
		r.air = c.Environment.resolveAir(r)
	case "parts":
		r.found = r.nodesOf(c.Parts)
	case "nodes":
		c.Nodes = r.declare(r.found, c.Nodes)
	case "cases":
		for _, one := range c.Cases {
			r.cases.add(one.Name, "case")
		}
	}
}

// resolveAir settles the pressure of the surrounding air and returns it.
func (e *Environment) resolveAir(r *reader) float64 {
	written := e.AirPressure.Source == FromSpec
	if written && e.Altitude.Given() {
		r.wrong(ruleShape, e.Altitude.At, e.Altitude.Key, "air_pressure and altitude both say how dense the air is; leave one out")
	}
	if !written && e.Altitude.Given() {
		e.AirPressure.SI, e.AirPressure.Source, e.AirPressure.At = airAt(e.Altitude.SI), FromSpec, e.Altitude.At
	}
	if !e.AirPressure.Given() {
		return standardAir
	}
	return e.AirPressure.SI
}

// standardAir is the pressure p_n of the standard atmosphere at mean sea level,
// Pa: ISO 2533:1975, table 1.
const standardAir = 101325

// airAt is the pressure of the standard atmosphere in its lowest layer, Pa, at
// a geometric altitude h, m above mean sea level, -2 km to 11 km:
//
//	p = p_b (1 + β (H − H_b)/T_b)^(−g_n/(β R)),  H = r h/(r + h)
//
// ISO 2533:1975, equations 12 and 8, with the layer of table 4 that begins at
// H_b = 0. Outside the layer it goes on by the same law.
func airAt(h float64) float64 {
	const (
		gn     = 9.80665   // m/s2, table 1
		gas    = 287.05287 // J/(kg K), specific gas constant R of air, table 1
		tn     = 288.15    // K, temperature at sea level, table 1
		beta   = -0.0065   // K/m, temperature gradient, table 4
		radius = 6356766.0 // m, nominal radius of the earth, table 1
	)
	geopotential := radius * h / (radius + h)
	return standardAir * math.Pow(1+beta*geopotential/tn, -gn/(beta*gas))
}
