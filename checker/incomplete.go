package checker

import (
	"slices"
	"strings"
)

// This file tells what in a spec keeps a case from being simulated: whatever
// is wrong with a value that the equations need.

// harmless are problems that leave no value out.
var harmless = []string{"spec.unknown-key", "spec.duplicate", "spec.empty"}

// aside are keys that no equation reads, by section.
var aside = map[string][]string{
	"parts": {
		"mass", "rated", "proof_pressure", "burst_pressure", "cleanliness", "anti_wear", "viscosity", "seals", "note",
		"bend", "max_speed", "inlet_min", "drive_power", "collapse", "beta", "reaches", "min_fill", "service_loss", "uncovers",
		"isolation", "discharge", "type", "wear", "torque_needed", "energy_limit", "power_limit", "min_pressure",
		"min_speed", "buckling_length", "bleeds", "hangs",
	},
	"fluid":       {"family", "vapour_pressure", "pour_point", "flash_point", "autoignition", "air_release", "life", "shear_loss"},
	"environment": {"cold_start", "service_interval", "slope", "hot_surfaces"},
	"cases":       {"about", "weight", "acceleration"},
}

// incomplete is the key path of what keeps a case from being simulated; "" for
// nothing.
func (s *survey) incomplete(v *caseView) string {
	for i := range s.spec.Problems {
		p := &s.spec.Problems[i]
		if slices.Contains(harmless, p.Rule) {
			continue
		}
		if p.Path == "" {
			return "a spec that can be read"
		}
		if concerns(p.Path, v.spec.Name) {
			return p.Path
		}
	}
	return ""
}

// concerns tells whether a value at a key path is read when a case is simulated.
func concerns(path, name string) bool {
	section, rest, _ := strings.Cut(path, ".")
	switch section {
	case "parts":
		_, rest, _ = strings.Cut(rest, ".")
	case "cases":
		of, inner, _ := strings.Cut(rest, ".")
		if rest = inner; of != name {
			return false
		}
	case "fluid", "environment":
	default:
		return section == "nodes"
	}
	key, _, _ := strings.Cut(rest, ".")
	key, _, _ = strings.Cut(key, "[")
	return !slices.Contains(aside[section], key)
}
