package catalogue

import (
	"fmt"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"headroom/specs/quantity"
)

// leaves lists the scalars below a node by dotted key; rows of a list of points
// have the list's key.
func leaves(node *yaml.Node, key string, visit func(key string, scalar *yaml.Node)) {
	switch node.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(node.Content); i += 2 {
			leaves(node.Content[i+1], strings.TrimPrefix(key+"."+node.Content[i].Value, "."), visit)
		}
	case yaml.SequenceNode:
		for i, child := range node.Content {
			leaves(child, fmt.Sprintf("%s/%d", key, i), visit)
		}
	default:
		visit(key, node)
	}
}

// readFluid is a fluid's values in SI by dotted key: points by key/row/column.
func readFluid(t *testing.T, e Entry) map[string]float64 {
	t.Helper()
	dimensions := map[string]quantity.Dimension{
		"density": quantity.Density, "expansion": quantity.Expansion,
		"viscosity/0": quantity.Temperature, "viscosity/1": quantity.KinematicViscosity,
		"bulk_modulus.value":          quantity.PressureDifference,
		"bulk_modulus.at.temperature": quantity.Temperature, "bulk_modulus.at.pressure": quantity.Pressure,
		"bulk_modulus.per_pressure": quantity.Number, "bulk_modulus.per_kelvin": quantity.ModulusPerKelvin,
		"specific_heat":     quantity.SpecificHeat,
		"vapour_pressure/0": quantity.Temperature, "vapour_pressure/1": quantity.AbsolutePressure,
		"free_air": quantity.Number, "pressure_viscosity": quantity.PressureViscosity,
		"max_temperature": quantity.Temperature, "peak_temperature": quantity.Temperature,
		"pour_point": quantity.Temperature, "flash_point": quantity.Temperature, "autoignition": quantity.Temperature,
		"air_release": quantity.Time, "life.hours": quantity.Time, "life.at": quantity.Temperature,
		"shear_loss": quantity.Number,
	}
	values := map[string]float64{}
	leaves(e.Values, "", func(key string, scalar *yaml.Node) {
		if key == "family" {
			return
		}
		parts := strings.Split(key, "/")
		name := parts[0]
		if len(parts) == 3 {
			name += "/" + parts[2]
		}
		d, ok := dimensions[name]
		if !ok {
			t.Errorf("%s: %s is no key of a spec's fluid", e.Name, key)
			return
		}
		v, err := quantity.Parse(scalar.Value, d)
		if err != nil {
			t.Errorf("%s: %s: %v", e.Name, key, err)
		}
		values[key] = v.SI
	})
	for name := range dimensions {
		key := strings.Replace(name, "/", "/0/", 1)
		if _, ok := values[key]; !ok && !(name == "flash_point" && family(e) == "HFC") {
			t.Errorf("%s: %s is missing", e.Name, name)
		}
	}
	return values
}

// family is the symbol a fluid gives.
func family(e Entry) string {
	for i := 0; i+1 < len(e.Values.Content); i += 2 {
		if e.Values.Content[i].Value == "family" {
			return e.Values.Content[i+1].Value
		}
	}
	return ""
}

// points are the rows of a list of points.
func points(values map[string]float64, key string) (rows [][2]float64) {
	for i := 0; ; i++ {
		x, ok := values[fmt.Sprintf("%s/%d/0", key, i)]
		if !ok {
			return rows
		}
		rows = append(rows, [2]float64{x, values[fmt.Sprintf("%s/%d/1", key, i)]})
	}
}

// eachFluid runs a test for every fluid.
func eachFluid(t *testing.T, check func(t *testing.T, e Entry, values map[string]float64)) {
	t.Helper()
	all := Fluids()
	if len(all) < 14 {
		t.Fatalf("%d fluids, at least 14 wanted", len(all))
	}
	for _, e := range all {
		t.Run(e.Name, func(t *testing.T) { check(t, e, readFluid(t, e)) })
	}
}

const celsius = 273.15
