package facts

import (
	"strings"

	"headroom/specs"
)

// Whole is the circuit as one subject (`circuit`).
type Whole struct {
	At               specs.Span
	Name             Text `fact:"name" doc:"identifier of the circuit"`
	Parts            Fact `fact:"parts" dim:"number" doc:"number of parts"`
	Cases            Fact `fact:"cases" dim:"number" doc:"number of cases"`
	ColdStartCases   Fact `fact:"cold_start_cases" dim:"number" needs:"environment.cold_start" doc:"cases that begin at cold start"`
	FaultCases       Fact `fact:"fault_cases" dim:"number" doc:"cases with a pump at rest or a valve stuck"`
	Mass             Fact `fact:"mass" dim:"mass" needs:"parts.*.mass" doc:"mass of all parts, and of the fluid"`
	StatedMass       Fact `fact:"stated_mass" dim:"mass" doc:"mass of the parts that state one"`
	FluidMass        Fact `fact:"fluid_mass" dim:"mass" needs:"fluid.density" doc:"mass of the fluid"`
	PartsWithoutMass Fact `fact:"parts_without_mass" label:"parts without a mass" dim:"number" doc:"parts that state no mass"`
	Filters          Fact `fact:"filters" dim:"number" doc:"filters that stand in the circulation"`
	VesselCategory   Text `fact:"vessel_category" needs:"accumulator size and rated.pressure" doc:"highest pressure-equipment category of its accumulators"`
}

// Environment is where the circuit works (`environment`).
type Environment struct {
	Ambient         Fact `fact:"ambient" dim:"temperature" needs:"environment.ambient" doc:"hottest surroundings"`
	ColdStart       Fact `fact:"cold_start" dim:"temperature" needs:"environment.cold_start" doc:"coldest start"`
	AirPressure     Fact `fact:"air_pressure" dim:"absolute-pressure" needs:"environment.air_pressure" doc:"pressure of the surrounding air"`
	Slope           Fact `fact:"slope" dim:"number" needs:"environment.slope" doc:"steepest slope it stands on, rise over run"`
	ServiceInterval Fact `fact:"service_interval" dim:"time" needs:"environment.service_interval" doc:"running time between services"`
}

// Fluid is the circuit's fluid (`fluid`).
type Fluid struct {
	At               specs.Span
	Name             Text `fact:"name" doc:"catalogue name, or the circuit's own"`
	Family           Text `fact:"family" needs:"fluid.family" doc:"symbol by ISO 6743-4"`
	AntiWear         Flag `fact:"anti_wear" needs:"fluid.family" doc:"its family is formulated against wear"`
	Watery           Flag `fact:"watery" needs:"fluid.family" doc:"its family contains water"`
	MaxTemperature   Fact `fact:"max_temperature" label:"continuous limit" dim:"temperature" needs:"fluid.max_temperature" doc:"continuous limit of the bulk"`
	PeakTemperature  Fact `fact:"peak_temperature" label:"peak limit" dim:"temperature" needs:"fluid.peak_temperature" doc:"limit for short excursions"`
	PourPoint        Fact `fact:"pour_point" dim:"temperature" needs:"fluid.pour_point" doc:"ISO 3016"`
	FlashPoint       Fact `fact:"flash_point" dim:"temperature" needs:"fluid.flash_point" doc:"ISO 2592"`
	Autoignition     Fact `fact:"autoignition" dim:"temperature" needs:"fluid.autoignition" doc:"autoignition temperature"`
	AirRelease       Fact `fact:"air_release" label:"air release time" dim:"time" needs:"fluid.air_release" doc:"ISO 9120"`
	ViscosityColdest Fact `fact:"viscosity_coldest" dim:"kinematic-viscosity" needs:"environment.cold_start" doc:"at cold start"`
	LowestPoint      Fact `fact:"lowest_point" label:"coldest viscosity point" dim:"temperature" needs:"fluid.viscosity" doc:"coldest viscosity point given"`
	HighestPoint     Fact `fact:"highest_point" label:"hottest viscosity point" dim:"temperature" needs:"fluid.viscosity" doc:"hottest viscosity point given"`
	HighestVapour    Fact `fact:"highest_vapour_point" label:"hottest vapour pressure point" dim:"temperature" needs:"fluid.vapour_pressure" doc:"hottest vapour pressure point given"`
	ColdestUsed      Fact `fact:"coldest_used" label:"coldest use" dim:"temperature" needs:"environment.cold_start" doc:"coldest temperature in any case or at cold start"`
	HottestUsed      Fact `fact:"hottest_used" label:"highest temperature" dim:"temperature" needs:"simulation" doc:"hottest temperature of any node in any case"`
	ReservoirHottest Fact `fact:"reservoir_hottest" label:"hottest reservoir" dim:"temperature" needs:"simulation" doc:"hottest reservoir, settled where a case settles"`
	HottestSurface   Fact `fact:"hottest_surface" label:"hottest surface" dim:"temperature" needs:"environment.hot_surfaces" doc:"hottest unshielded surface of the surroundings"`
	Dwell            Fact `fact:"dwell" label:"stay in the reservoir" dim:"time" needs:"simulation" doc:"shortest mean stay in a reservoir: its content over what pumps draw"`
	LifeUsed         Fact `fact:"life" label:"service life" dim:"time" needs:"fluid.life" doc:"service life over the weighted cases, at the mean temperature of the reservoir, halved per 10 K"`

	Curve []ViscosityPoint // at cold start, 40 °C, 100 °C and the hottest of any case, as far as they are known
}

// A ViscosityPoint is the fluid's kinematic viscosity at a temperature.
type ViscosityPoint struct {
	At, Viscosity float64
	What          string // "at cold start"
	Given         bool   // within the points that were given
}

// A Problem is something wrong with the file (`problem`).
type Problem struct {
	At      specs.Span
	Path    string
	Kind    Text `fact:"kind" doc:"what is wrong: syntax, shape, unknown-key, missing, unit, range, reference, duplicate, empty"`
	Message Text `fact:"message" doc:"what is wrong and what would be right"`
}

// A Concession is a recorded acceptance (`concession`).
type Concession struct {
	At      specs.Span
	Index   int
	Path    string // key path where it is not that of the index under concessions
	State   Text   `fact:"state" doc:"covers, expired, exceeded, unused"`
	Rule    Text   `fact:"rule" doc:"the rule it is for"`
	Subject Text   `fact:"subject" doc:"the subject it is for"`
	Until   Text   `fact:"until" doc:"its last day"`
	By      Text   `fact:"by" doc:"who gave it"`
	DownTo  Text   `fact:"down_to" doc:"the worst measure that it covers, as written"`
	Detail  Text   `fact:"detail" doc:"in words, why its state is what it is"`
}

// ProblemOf makes a fact of something that is wrong with a file.
func ProblemOf(p specs.Problem) *Problem {
	from := &Origin{At: p.At, Key: p.Path}
	return &Problem{
		At: p.At, Path: p.Path,
		Kind:    Text{Value: strings.TrimPrefix(p.Rule, "spec."), Known: true, From: from},
		Message: Text{Value: p.Message, Known: true, From: from},
	}
}
