package facts

import "headroom/specs"

// A Part is one part over all cases (`part`). Facts that its kind does not
// have stay unknown with Missing empty: a rule's `where` picks the kinds.
type Part struct {
	Spec specs.Part
	At   specs.Span

	Name Text `fact:"name" doc:"its name"`
	Kind Text `fact:"kind" doc:"its kind"`

	// strength
	RatedPressure      Fact `fact:"rated_pressure" dim:"pressure" needs:"rated.pressure" doc:"highest working pressure by its maker"`
	BareTube           Flag `fact:"bare_tube" doc:"a tube that states no rated pressure: its strength follows from its wall"`
	ProofPressure      Fact `fact:"proof_pressure" dim:"pressure" needs:"proof_pressure" doc:"proof pressure, stated; of a tube computed as the pressure at which its bore begins to yield at its hottest"`
	BurstPressure      Fact `fact:"burst_pressure" dim:"pressure" needs:"burst_pressure" doc:"burst pressure, stated; of a tube computed from wall and material at its hottest"`
	HighestPressure    Fact `fact:"highest_pressure" dim:"pressure" needs:"simulation" doc:"highest pressure it sees, without surge"`
	HighestSurge       Fact `fact:"highest_pressure_with_surge" dim:"pressure" needs:"simulation" doc:"highest pressure with surge"`
	RodCanBeShut       Flag `fact:"rod_can_be_shut" label:"rod side can be shut" doc:"a double-acting cylinder whose rod side something can shut while its head side is pressed"`
	Intensified        Fact `fact:"intensified_pressure" dim:"pressure" needs:"simulation" doc:"rod-side pressure if the rod side is blocked while the head side is pressed"`
	RatedMin           Fact `fact:"rated_temperature_min" label:"lowest rated temperature" dim:"temperature" needs:"rated.temperature.min" doc:"lowest rated fluid temperature"`
	RatedMax           Fact `fact:"rated_temperature_max" label:"highest rated temperature" dim:"temperature" needs:"rated.temperature.max" doc:"highest rated fluid temperature, stated; of a tube that up to which the strength of its material is known"`
	HottestTemperature Fact `fact:"hottest" label:"highest temperature" dim:"temperature" needs:"simulation" doc:"hottest fluid at it"`
	ColdestTemperature Fact `fact:"coldest" label:"lowest temperature" dim:"temperature" needs:"environment.cold_start" doc:"coldest fluid at it, cold start included"`
	CyclesRated        Flag `fact:"cycles_rated" label:"rated for cycles" doc:"states rated.cycles"`
	MinerSum           Fact `fact:"miner_sum" label:"Miner sum" dim:"number" needs:"rated.cycles" doc:"share of its fatigue life used between services"`
	Ages               Flag `fact:"ages" doc:"states rated.life: it ages by heat"`
	RatedLife          Fact `fact:"rated_life" label:"life by its maker" dim:"time" needs:"rated.life" doc:"service life at the temperature its maker names"`
	HeatLife           Fact `fact:"heat_life" label:"service life" dim:"time" needs:"rated.life" doc:"service life over the weighted cases, at the mean temperature of the fluid at it, halved per 10 K"`
	BendRadius         Fact `fact:"bend_radius" dim:"length" needs:"bend" doc:"installed bend radius"`
	MinBendRadius      Fact `fact:"min_bend_radius" label:"least bend radius" dim:"length" needs:"bend" doc:"least bend radius"`
	RatedFlow          Fact `fact:"rated_flow" dim:"flow" needs:"rated.flow" doc:"highest flow by its maker"`
	HighestFlow        Fact `fact:"highest_flow" dim:"flow" needs:"simulation" doc:"highest flow through it"`
	RatedBackPressure  Fact `fact:"rated_back_pressure" label:"rated back pressure" dim:"pressure" needs:"rated.back_pressure" doc:"highest return or drain pressure by its maker"`
	ReturnPressure     Fact `fact:"return_pressure" label:"back pressure" dim:"pressure" needs:"simulation" doc:"highest pressure on its return or drain side"`
	Reached            Flag `fact:"reached" needs:"simulation" doc:"flow or pressure reaches it in some case"`
	Exercised          Flag `fact:"exercised" doc:"some case commands or draws from it, or draws through a reducing valve that holds a pressure at rest"`

	// fluid in it
	NeedsAntiWear     Flag `fact:"needs_anti_wear" needs:"anti_wear" doc:"needs an anti-wear oil"`
	ViscosityMin      Fact `fact:"viscosity_min" label:"lower limit of viscosity" dim:"kinematic-viscosity" needs:"viscosity.min" doc:"least viscosity in running"`
	ViscosityMax      Fact `fact:"viscosity_max" label:"upper limit of viscosity" dim:"kinematic-viscosity" needs:"viscosity.max" doc:"most viscosity in running"`
	ViscosityStartMax Fact `fact:"viscosity_start_max" label:"limit for starting" dim:"kinematic-viscosity" needs:"viscosity.start_max" doc:"most viscosity for starting"`
	StartViscosity    Fact `fact:"start_viscosity" dim:"kinematic-viscosity" needs:"environment.cold_start" doc:"viscosity at cold start"`
	ThinnestViscosity Fact `fact:"thinnest_viscosity" dim:"kinematic-viscosity" needs:"simulation" doc:"viscosity where it is hottest, after shear loss"`
	ThickestViscosity Fact `fact:"thickest_viscosity" dim:"kinematic-viscosity" needs:"simulation" doc:"highest viscosity once warm"`
	Cleanliness       Text `fact:"cleanliness" label:"cleanliness needed" needs:"cleanliness" doc:"ISO 4406 code it needs"`
	CleanlinessKept   Text `fact:"cleanliness_kept" needs:"a filter on the way" doc:"ISO 4406 code that the filters on its way keep"`
	CleanEnough       Flag `fact:"clean_enough" label:"clean enough" needs:"a filter on the way" doc:"the filters on its way keep the code it needs"`
	Filtered          Flag `fact:"filtered" doc:"a filter stands in its circulation"`

	// filters
	FilterDrop     Fact `fact:"filter_drop" label:"drop across the filter, warm" dim:"pressure-difference" needs:"simulation" doc:"highest drop of the filter once warm"`
	FilterDropCold Fact `fact:"filter_drop_cold" label:"drop across the filter, cold" dim:"pressure-difference" needs:"simulation" doc:"highest drop of the filter at cold start"`
	OnSuction      Flag `fact:"on_suction" doc:"it stands before a pump"`
	Bypass         Fact `fact:"bypass" label:"bypass setting" dim:"pressure-difference" needs:"bypass" doc:"drop at which its bypass opens"`
	Collapse       Fact `fact:"collapse" label:"collapse pressure" dim:"pressure-difference" needs:"collapse" doc:"drop that its element survives"`
	CollapseDrop   Fact `fact:"collapse_drop" label:"highest drop across the element" dim:"pressure-difference" doc:"highest drop its element can see: with a bypass, fully open at its highest flow; without, all of the pressure that can come to it"`

	// pumps
	MaxSpeed       Fact `fact:"max_speed" label:"speed limit" dim:"rotational-speed" needs:"max_speed" doc:"highest speed by its maker"`
	HighestSpeed   Fact `fact:"highest_speed" dim:"rotational-speed" needs:"cases.*.drives" doc:"highest speed in any case; of a motor as simulated, either way round"`
	MinSpeed       Fact `fact:"min_speed" label:"lower speed limit" dim:"rotational-speed" needs:"min_speed" doc:"lowest speed in running by its maker"`
	LowestSpeed    Fact `fact:"lowest_speed" dim:"rotational-speed" needs:"cases.*.drives" doc:"lowest speed above rest, run-up and run-down left out"`
	InletMin       Fact `fact:"inlet_min_absolute" label:"inlet limit" dim:"absolute-pressure" needs:"inlet_min" doc:"least inlet pressure by its maker"`
	InletLowest    Fact `fact:"inlet_pressure_absolute" label:"lowest inlet pressure" dim:"absolute-pressure" needs:"simulation" doc:"lowest inlet pressure"`
	DrivePower     Fact `fact:"drive_power" label:"power of its drive" dim:"power" needs:"drive_power" doc:"power its drive can give"`
	HighestPower   Fact `fact:"highest_power" label:"highest shaft power" dim:"power" needs:"simulation" doc:"highest shaft power"`
	PowerAtRating  Fact `fact:"power_at_rating" dim:"power" needs:"delivers" doc:"shaft power at the point of delivers"`
	DeliveryTop    Fact `fact:"highest_delivery" dim:"flow" needs:"cases.*.drives" doc:"full displacement at its highest speed, without slip"`
	CutOff         Fact `fact:"cut_off" dim:"pressure" needs:"compensator" doc:"pressure at which its compensator leaves no displacement"`
	DrivenBackward Flag `fact:"backflow_stopped" label:"backflow stopped" doc:"nothing that stores pressure can drive it backwards"`

	// accumulators
	Type              Text `fact:"type" needs:"type" doc:"bladder, diaphragm or piston"`
	PrechargeAbsolute Fact `fact:"precharge_absolute" dim:"absolute-pressure" needs:"precharge" doc:"precharge at its setting temperature"`
	PrechargeWorking  Fact `fact:"precharge_working_absolute" label:"precharge at work" dim:"absolute-pressure" needs:"precharge" doc:"precharge at the coldest surroundings of a case that begins warmer than cold start"`
	PrechargeHot      Fact `fact:"precharge_hot_absolute" label:"hot precharge" dim:"absolute-pressure" needs:"precharge" doc:"precharge at the hottest ambient"`
	PrechargeCold     Fact `fact:"precharge_cold_absolute" label:"cold precharge" dim:"absolute-pressure" needs:"environment.cold_start" doc:"precharge at cold start"`
	HighestAbsolute   Fact `fact:"highest_pressure_absolute" dim:"absolute-pressure" needs:"simulation" doc:"highest pressure it sees, absolute"`
	LowestWorking     Fact `fact:"lowest_working_absolute" label:"lowest working pressure" dim:"absolute-pressure" needs:"lowest_working" doc:"pressure below which it is of no use, absolute"`
	SwitchedOn        Fact `fact:"switched_on_absolute" label:"pressure that starts the pump" dim:"absolute-pressure" needs:"cases.*.drives.*.on_below" doc:"lowest pressure that starts a switched pump which feeds it, absolute"`
	Isolation         Flag `fact:"isolation" needs:"isolation" doc:"can be isolated"`
	Discharge         Flag `fact:"discharge" needs:"discharge" doc:"can be discharged"`
	VesselProduct     Fact `fact:"vessel_product" dim:"energy" needs:"rated.pressure" doc:"rated pressure times total volume"`
	VesselCategory    Text `fact:"vessel_category" needs:"rated.pressure" doc:"pressure-equipment category by pressure and volume"`

	// protection
	ReliefPresent    Flag `fact:"relief_present" label:"relief valve present" doc:"its section has a relief valve that nothing can shut off"`
	ReliefReturn     Flag `fact:"relief_returns" label:"relief valve returns to a reservoir" doc:"the relief valve's outlet reaches a reservoir past nothing that can shut"`
	FullFlow         Fact `fact:"relief_full_pressure" label:"pressure at full flow" dim:"pressure" doc:"a relief valve's pressure at the highest pump flow it must take"`
	ReliefSection    Fact `fact:"relief_section_pressure" label:"highest pressure at full flow" dim:"pressure" doc:"highest pressure in the section that a relief valve protects while it takes that flow: its own, and what is lost on the way to it from the pumps"`
	WeakestRated     Fact `fact:"weakest_rated" label:"weakest rated pressure" dim:"pressure" needs:"rated.pressure of the section's parts" doc:"lowest rated pressure of the section it protects, hoses and tubes that state none left out"`
	ProtectsHose     Flag `fact:"protects_hose" needs:"from" doc:"a hose stands in the section it protects"`
	WeakestHose      Fact `fact:"weakest_hose_rated" label:"weakest rated pressure of a hose" dim:"pressure" needs:"rated.pressure of the section's hoses" doc:"lowest rated pressure of the hoses in the section it protects"`
	ProtectsBareTube Flag `fact:"protects_bare_tube" needs:"from" doc:"a tube that states no rated pressure stands in the section it protects"`
	WeakestTubeBurst Fact `fact:"weakest_tube_burst" label:"weakest burst pressure of a tube" dim:"pressure" needs:"wall and material of the section's tubes" doc:"lowest burst pressure of the tubes that state no rated pressure in the section it protects"`
	ReliefFlow       Fact `fact:"relief_flow" label:"rated flow" dim:"flow" doc:"flow that a relief valve is rated for"`
	ReliefMustTake   Fact `fact:"relief_must_take" label:"flow it must take" dim:"flow" needs:"cases.*.drives" doc:"highest flow of the pumps that feed its section"`
	Cracking         Fact `fact:"cracking" label:"cracking pressure" dim:"pressure" doc:"a relief valve's cracking pressure"`
	OverCompensated  Flag `fact:"over_compensated" needs:"from" doc:"a pump with a compensator feeds its section"`
	SectionCutOff    Fact `fact:"section_cut_off" label:"cut-off of the compensator" dim:"pressure" needs:"compensator of the pumps that feed it" doc:"highest compensator cut-off of the pumps that feed its section"`
	Switched         Flag `fact:"switched" needs:"from" doc:"a pump that a pressure switches feeds it"`
	SectionSwitchOff Fact `fact:"section_switch_off" label:"pressure that stops the pump" dim:"pressure" needs:"cases.*.drives.*.off_above" doc:"highest pressure that stops a switched pump which feeds its section"`
	Moves            Text `fact:"moves" doc:"the friction pack that it alone commands, else the cylinder"`
	StuckTried       Flag `fact:"stuck_tried" label:"stuck tried" needs:"cases" doc:"some case has it stuck where it does not rest"`
	RestState        Text `fact:"rest_state" doc:"what it does when every valve is at rest: clamped, released or slipping of a pack; extends, retracts or floating of a cylinder; held of both"`

	// cylinders
	Slender          Flag `fact:"slender" doc:"its rod may buckle: a buckling_length is stated, or the stroke is more than 10 diameters of the rod"`
	BucklingForce    Fact `fact:"buckling_force" dim:"force" needs:"buckling_length" doc:"force under which its rod buckles, by Euler and Tetmajer"`
	RodForce         Fact `fact:"rod_force" label:"force on the rod" dim:"force" needs:"simulation" doc:"highest head-side pressure on the full piston"`
	SpringReturned   Flag `fact:"spring_returned" doc:"single-acting, brought home by its spring"`
	ReturnForce      Fact `fact:"return_force" label:"force that brings it home" dim:"force" needs:"spring.preload" doc:"preload of its spring, with the least load that helps"`
	ReturnResistance Fact `fact:"return_resistance" label:"force against its return" dim:"force" needs:"bore" doc:"dry friction, the reservoir's pressure on its piston, and a load that draws it out"`
	DeadEnd          Flag `fact:"dead_end" doc:"the oil on one of its sides goes out only by the way it came, through one valve"`
	LineExchange     Fact `fact:"line_exchange" label:"share of the line's oil that a stroke changes" dim:"number" needs:"bore and length of its lines" doc:"what a full stroke displaces over what the way to the valve holds"`
	Bleeds           Flag `fact:"bleeds" needs:"bleeds" doc:"a bleed point lets air out"`
	Hangs            Flag `fact:"hangs" needs:"hangs" doc:"its load hangs on it"`
	HangingHose      Flag `fact:"hanging_hose" label:"hose under a hanging load" needs:"load" doc:"a hose lies between its loaded side and the valve that holds it"`
	LoadHeld         Flag `fact:"load_held" needs:"load" doc:"its loaded side is shut with every valve at rest, and nothing at it leaks"`

	// reservoirs
	Volume        Fact `fact:"volume" dim:"volume" needs:"volume" doc:"inner volume"`
	MinFill       Fact `fact:"min_fill" label:"least fill" dim:"volume" needs:"min_fill" doc:"least fluid that keeps the pickup covered"`
	LowestFill    Fact `fact:"lowest_fill" dim:"volume" needs:"environment.cold_start" doc:"fluid left cold, service loss taken, cylinders out, accumulators full"`
	HighestFill   Fact `fact:"highest_fill" dim:"volume" doc:"fluid hot, with all of it returned"`
	SlopeShare    Fact `fact:"slope_share" label:"share of the slope that uncovers the pickup" dim:"number" needs:"uncovers" doc:"steepest slope over that at which the pickup uncovers"`
	FeedsHoses    Flag `fact:"feeds_hoses" doc:"pumps draw from it, and a hose stands past them"`
	BurstTime     Fact `fact:"burst_time" label:"time until the pickup uncovers" dim:"time" needs:"min_fill" doc:"time from the burst of a hose until the pickup uncovers, all that its pumps give lost"`
	UncoversShare Fact `fact:"uncovers_share" label:"share of the acceleration that uncovers the pickup" dim:"number" needs:"uncovers" doc:"highest acceleration over that at which the pickup uncovers"`

	// suction
	SuctionVelocity Fact `fact:"suction_velocity" dim:"velocity" needs:"cases.*.drives" doc:"highest velocity in the line to its inlet"`

	// friction packs
	TorqueCapacity    Fact `fact:"torque_capacity" dim:"torque" doc:"least torque it holds: lowest friction, and the highest pressure that lasts 0.1 s while it is to clamp"`
	TorqueWorn        Fact `fact:"torque_capacity_worn" label:"torque capacity, worn" dim:"torque" needs:"wear" doc:"the same with plates worn to the service limit, to which the spring has followed them"`
	TorqueNeeded      Fact `fact:"torque_needed" dim:"torque" needs:"torque_needed" doc:"torque it must hold"`
	PlatesHottest     Fact `fact:"plates_hottest" label:"hottest plates" dim:"temperature" needs:"simulation" doc:"hottest plate temperature"`
	PlatesMax         Fact `fact:"plates_max_temperature" label:"plate limit" dim:"temperature" needs:"plates.max_temperature" doc:"highest plate temperature allowed"`
	PlatesMaxSpeed    Fact `fact:"plates_max_speed" label:"plate speed limit" dim:"rotational-speed" needs:"plates.max_speed" doc:"highest plate speed allowed"`
	InputSpeed        Fact `fact:"input_speed" dim:"rotational-speed" needs:"cases.*.drives" doc:"highest input speed in any case"`
	OutputSpeed       Fact `fact:"output_speed" dim:"rotational-speed" needs:"simulation" doc:"highest output speed in any case, either way round"`
	ReleaseNew        Fact `fact:"full_release_pressure" label:"pressure for full release" dim:"pressure" needs:"clearance" doc:"pressure for full release, plates new"`
	ReleaseWorn       Fact `fact:"full_release_pressure_worn" label:"pressure for full release, worn" dim:"pressure" needs:"wear" doc:"pressure for full release, plates worn to the service limit"`
	ReleaseAvailable  Fact `fact:"release_pressure" label:"release pressure available" dim:"pressure" needs:"simulation" doc:"pressure, lasting 50 ms, that a call for release comes to, in the case where it is least of what full release needs"`
	ReleaseKept       Fact `fact:"release_kept" label:"release kept" dim:"number" needs:"clearance" doc:"lowest pressure, lasting 50 ms, that a full release falls back to while it is still called for, over that for full release; not of cases with a fault"`
	FullLift          Fact `fact:"full_release_lift" label:"lift for full release" dim:"length" needs:"clearance" doc:"lift for full release; where a wear is stated, from where the plates are worn to it"`
	ReleaseStroke     Fact `fact:"release_stroke" label:"stroke of the release cylinder" dim:"length" needs:"stroke of its cylinder" doc:"stroke of the cylinder that releases it, in the case where the lift for full release leaves least of it"`
	EnergyPerArea     Fact `fact:"energy_per_area" label:"energy per face area" dim:"energy-per-area" needs:"simulation" doc:"highest energy of one engagement over face area"`
	EnergyLimit       Fact `fact:"energy_limit" dim:"energy-per-area" needs:"energy_limit" doc:"limit of that"`
	PowerPerArea      Fact `fact:"power_per_area" label:"power per face area" dim:"power-per-area" needs:"simulation" doc:"highest friction power over face area"`
	PowerLimit        Fact `fact:"power_limit" dim:"power-per-area" needs:"power_limit" doc:"limit of that"`
	EngagementsInARow Fact `fact:"engagements_in_a_row" dim:"number" needs:"simulation" doc:"engagements without pause before a limit breaks"`
	ByReducingValve   Flag `fact:"set_by_reducing_valve" doc:"a reducing valve sets the pressure in its cylinder"`
	TorquePerBand     Fact `fact:"torque_per_band" label:"torque within the valve's band" dim:"torque" needs:"band of the valve that commands it" doc:"torque that the band of the valve commanding it leaves open"`
	StrokesAfterLoss  Fact `fact:"strokes_after_pump_loss" label:"strokes after pump loss" dim:"number" needs:"simulation" doc:"full strokes left once the pump has failed, from the emptiest instant"`
}

// A Seal is one seal (`seal`); its part is `part`.
type Seal struct {
	Part  *Part
	At    specs.Span
	Index int

	Name         Text `fact:"name" doc:"part, place and material"`
	Material     Text `fact:"material" doc:"symbol by ISO 1629 or ISO 1043-1"`
	Rating       Text `fact:"rating" needs:"fluid.family" doc:"suitable, limited or unsuitable with the fluid's family"`
	Firm         Flag `fact:"firm" needs:"fluid.family" doc:"the rating's source is firm"`
	Hottest      Fact `fact:"hottest" label:"highest temperature" dim:"temperature" needs:"simulation" doc:"hottest it gets"`
	Coldest      Fact `fact:"coldest" label:"lowest temperature" dim:"temperature" needs:"environment.cold_start" doc:"coldest it gets"`
	Max          Fact `fact:"max_temperature" label:"upper limit of the material" dim:"temperature" needs:"seals.temperature.max" doc:"highest temperature of the material"`
	Min          Fact `fact:"min_temperature" label:"lower limit of the material" dim:"temperature" needs:"seals.temperature.min" doc:"lowest temperature of the material"`
	Gap          Fact `fact:"gap" dim:"length" needs:"seals.gap" doc:"diametral clearance"`
	GapAllowed   Fact `fact:"gap_allowed" label:"gap limit" dim:"length" needs:"seals.hardness" doc:"largest diametral clearance at its pressure and hardness, or with its backup ring"`
	Pressure     Fact `fact:"highest_pressure" dim:"pressure" needs:"simulation" doc:"highest pressure at it"`
	Backup       Flag `fact:"backup" doc:"has a backup ring"`
	Moving       Flag `fact:"moving" doc:"seals a moving surface"`
	Speed        Fact `fact:"speed" label:"sliding speed" dim:"velocity" needs:"simulation" doc:"highest sliding speed"`
	SpeedAllowed Fact `fact:"speed_allowed" label:"speed limit of the material" dim:"velocity" needs:"catalogue" doc:"highest sliding speed of the material"`
}
