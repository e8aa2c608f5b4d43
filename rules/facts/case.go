package facts

import "headroom/specs"

// A Case is one operating case (`case`).
type Case struct {
	Spec *specs.Case
	At   specs.Span

	Name           Text `fact:"name" doc:"its name"`
	Repeated       Flag `fact:"repeated" doc:"it repeats or settles"`
	Settles        Flag `fact:"settles" doc:"it repeats until its temperatures settle"`
	Finished       Flag `fact:"finished" needs:"simulation" doc:"it could be integrated to its end"`
	Settled        Flag `fact:"settled" needs:"simulation" doc:"its temperatures settled, of a case that repeats until they do"`
	BalanceNode    Fact `fact:"bookkeeping_error" label:"bookkeeping error" dim:"number" needs:"simulation" doc:"largest error of a node's bookkeeping"`
	BalanceMass    Fact `fact:"mass_error" dim:"number" needs:"simulation" doc:"drift of the mass, as a share of the charge"`
	BalanceEnergy  Fact `fact:"energy_error" dim:"number" needs:"simulation" doc:"gap of the energy balance, the work of compression among its terms, as a share of its larger side, or of what warms the charge by 0.1 K"`
	Expectations   Fact `fact:"expectations" dim:"number" doc:"what it expects: lines of its expects"`
	TurnsPumps     Flag `fact:"turns_pumps" doc:"it turns a pump for more than the passing"`
	LowestDelivery Fact `fact:"lowest_delivery" label:"delivery at the lowest speed" dim:"flow" needs:"displacement of the pumps that turn" doc:"what its pumps displace at their lowest speeds above rest, run-up and run-down left out"`
	LostFlow       Fact `fact:"lost_flow" label:"slip and leakage" dim:"flow" needs:"simulation" doc:"most that its pumps slip and its directional valves leak, each at its worst instant"`
	BlownShare     Fact `fact:"blown_share" label:"share blown off" dim:"number" needs:"simulation" doc:"share of what its pumps give on the average that relief valves blow off, those left out that hold a load back"`
	MeanSupply     Fact `fact:"mean_supply" label:"mean delivery" dim:"flow" needs:"simulation" doc:"mean delivery that the pumps could give: full displacement, less slip"`
	MeanDemand     Fact `fact:"mean_demand" label:"mean demand" dim:"flow" needs:"simulation" doc:"mean of what pumps and accumulators gave, without what relief valves blew off (not those that hold a load back), and of what consumers asked for in vain"`
}

// A PartInCase is one part in one case (`part`, `case` and, for what happened
// there, `here`).
type PartInCase struct {
	Part *Part
	Case *Case
	At   specs.Span
	Here Here
}

// A NodeInCase is one node in one case (`node`, `case` and `here`).
type NodeInCase struct {
	Node *Node
	Case *Case
	At   specs.Span
	Here Here
}

// Here is what happened to a part or node in a case (`here`).
type Here struct {
	HighestPressure  Fact `fact:"highest_pressure" dim:"pressure" needs:"simulation" doc:"highest pressure"`
	LowestPressure   Fact `fact:"lowest_pressure" dim:"pressure" needs:"simulation" doc:"lowest pressure"`
	LowestAbsolute   Fact `fact:"lowest_pressure_absolute" dim:"absolute-pressure" needs:"simulation" doc:"lowest absolute pressure"`
	LastingAbsolute  Fact `fact:"lasting_lowest_absolute" label:"lowest pressure that lasts" dim:"absolute-pressure" needs:"simulation" doc:"lowest absolute pressure that lasts 10 ms"`
	VapourPressure   Fact `fact:"vapour_pressure_absolute" dim:"absolute-pressure" needs:"fluid.vapour_pressure" doc:"vapour pressure at its hottest there"`
	Hottest          Fact `fact:"hottest" label:"highest temperature" dim:"temperature" needs:"simulation" doc:"hottest"`
	MadeUp           Flag `fact:"made_up" doc:"of a node: the load of a cylinder that the case leaves untouched, with its valves shut at rest, drops on it as the case begins: what it comes to says nothing of the machine"`
	Draws            Flag `fact:"draws" doc:"a consumer is asked for flow"`
	LowestDifference Fact `fact:"lowest_difference" label:"lowest pressure difference" dim:"pressure-difference" needs:"simulation" doc:"lowest pressure across a consumer while it draws"`
	NeededDifference Fact `fact:"needed_difference" label:"least pressure difference" dim:"pressure-difference" needs:"min_pressure" doc:"pressure across it that a consumer needs"`
	UsefulLeast      Fact `fact:"useful_least" label:"least useful fluid" dim:"volume" needs:"simulation" doc:"least useful fluid of an accumulator"`
	UsefulBegin      Fact `fact:"useful_begin" label:"useful fluid at the start" dim:"volume" needs:"simulation" doc:"useful fluid of an accumulator at the start"`
	UsefulEnd        Fact `fact:"useful_end" label:"useful fluid at the end" dim:"volume" needs:"simulation" doc:"useful fluid of an accumulator at the end"`
	InletAbsolute    Fact `fact:"inlet_pressure_absolute" label:"lowest inlet pressure" dim:"absolute-pressure" needs:"simulation" doc:"lowest inlet pressure of a pump"`
}

// An Expectation is one line of a case's `expects` (`expectation`, `case`).
type Expectation struct {
	Case *Case
	At   specs.Span
	Spec *specs.Expectation

	Name      Text `fact:"name" doc:"its name, or what it expects"`
	Kind      Text `fact:"kind" doc:"stroke, at-least, at-most or lock"`
	Time      Fact `fact:"time" label:"time taken" dim:"time" needs:"simulation" doc:"time that the stroke or the lock-up took"`
	Within    Fact `fact:"within" label:"time limit" dim:"time" doc:"time allowed"`
	Lowest    Fact `fact:"lowest_pressure" dim:"pressure" needs:"simulation" doc:"lowest pressure in its span of time"`
	Highest   Fact `fact:"highest_pressure" dim:"pressure" needs:"simulation" doc:"highest pressure in its span of time"`
	AtLeast   Fact `fact:"at_least" label:"pressure to hold" dim:"pressure" doc:"pressure to hold"`
	AtMost    Fact `fact:"at_most" label:"pressure not to pass" dim:"pressure" doc:"pressure not to pass"`
	CameAbout Flag `fact:"came_about" needs:"simulation" doc:"the stroke arrived, or the pack locked, within the case"`
}
