package facts

import "headroom/specs"

// A Node is one node over all cases (`node`).
type Node struct {
	Spec *specs.Node
	At   specs.Span

	Name            Text `fact:"name" doc:"its name"`
	Role            Text `fact:"role" doc:"pressure, return, suction, drain or control"`
	Ports           Fact `fact:"ports" dim:"number" doc:"part ports at it"`
	HighestPressure Fact `fact:"highest_pressure" dim:"pressure" needs:"simulation" doc:"highest pressure"`
	LowestAbsolute  Fact `fact:"lowest_pressure_absolute" dim:"absolute-pressure" needs:"simulation" doc:"lowest absolute pressure"`
	VapourPressure  Fact `fact:"vapour_pressure_absolute" dim:"absolute-pressure" needs:"fluid.vapour_pressure" doc:"vapour pressure at its hottest"`
	Hottest         Fact `fact:"hottest" label:"highest temperature" dim:"temperature" needs:"simulation" doc:"hottest"`
}

// A Line is one tube or hose (`line`); its part is `part`.
type Line struct {
	Part *Part
	At   specs.Span

	Name            Text `fact:"name" doc:"its name"`
	Role            Text `fact:"role" doc:"pressure, return, suction, drain or control"`
	Flow            Fact `fact:"flow" dim:"flow" doc:"highest flow in it"`
	Velocity        Fact `fact:"velocity" dim:"velocity" doc:"mean velocity at that flow"`
	LastingVelocity Fact `fact:"lasting_velocity" label:"velocity that lasts" dim:"velocity" needs:"simulation" doc:"highest velocity that lasts 1 s"`
	Pressure        Fact `fact:"pressure" dim:"pressure" doc:"highest pressure in it"`
	DropWarm        Fact `fact:"drop" dim:"pressure-difference" doc:"pressure lost along it, warm"`
	DropCold        Fact `fact:"drop_cold" dim:"pressure-difference" needs:"environment.cold_start" doc:"pressure lost along it at cold start"`
	DropShare       Fact `fact:"drop_share" label:"share of the pressure lost" dim:"number" needs:"simulation" doc:"share of the supply pressure lost from the pump or accumulator to the end of the line, for 0.1 s, at half of the highest supply pressure or more"`
	Surge           Fact `fact:"surge" dim:"pressure-difference" doc:"pressure rise when its flow is stopped by the fastest valve or stop"`
	StaticSurge     Fact `fact:"pressure_with_surge" dim:"pressure" doc:"highest pressure and surge together"`
	RatedPressure   Fact `fact:"rated_pressure" dim:"pressure" needs:"rated.pressure" doc:"highest working pressure by its maker"`
}

// A Section is a set of nodes that nothing closable divides (`section`).
type Section struct {
	At    specs.Span
	Nodes []string
	Parts []string

	Name            Text `fact:"name" doc:"its first node"`
	Pumps           Fact `fact:"pumps" dim:"number" doc:"pumps that feed it"`
	Accumulators    Fact `fact:"accumulators" dim:"number" doc:"accumulators in it"`
	Reliefs         Fact `fact:"reliefs" dim:"number" doc:"relief valves that nothing can shut off"`
	HighestPressure Fact `fact:"highest_pressure" dim:"pressure" needs:"simulation" doc:"highest pressure"`
	WeakestRated    Fact `fact:"weakest_rated" label:"weakest rated pressure" dim:"pressure" needs:"rated.pressure" doc:"lowest rated pressure of its parts"`
}

// Trapped is a volume closed on all sides (`trapped`).
type Trapped struct {
	At    specs.Span
	Nodes []string

	Name         Text `fact:"name" doc:"its nodes"`
	Volume       Fact `fact:"volume" dim:"volume" doc:"fluid in it"`
	Rise         Fact `fact:"rise" label:"pressure rise" dim:"pressure-difference" needs:"environment.cold_start" doc:"pressure rise from the coldest to the hottest"`
	Pressure     Fact `fact:"pressure" label:"pressure reached" dim:"pressure" needs:"environment.cold_start" doc:"pressure it reaches"`
	WeakestRated Fact `fact:"weakest_rated" label:"weakest rated pressure" dim:"pressure" needs:"rated.pressure" doc:"lowest rated pressure of its parts, tubes that state none left out"`

	BareTube         Flag `fact:"bare_tube" doc:"one of its tubes states no rated pressure"`
	WeakestTubeBurst Fact `fact:"weakest_tube_burst" label:"weakest burst pressure of a tube" dim:"pressure" needs:"wall and material of its tubes" doc:"lowest burst pressure of its tubes that state no rated pressure"`
}
