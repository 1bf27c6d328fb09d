package job

import q "leste/quantity"

// AirSupply is everything between the room air and the outlets: where the air comes from, what it is
// filtered by, the blowers, the ducts. Every part may be missing; a simple supply is then assumed and listed.
type AirSupply struct {
	Inlet        Inlet                   `key:"inlet" doc:"The opening the air enters by, and how far its state departs from the site's."`
	Filter       *Filter                 `key:"filter" doc:"Inlet filter."`
	Silencer     *Silencer               `key:"silencer" doc:"Inlet silencer."`
	Blowers      []Blower                `key:"blowers" doc:"The blowers; when none is named one is selected from the catalogue."`
	Branches     []Branch                `key:"branches" doc:"Ducts and hoses, each from one named place to another."`
	Junctions    []Junction              `key:"junctions" doc:"Tees and wyes, at places where branches meet."`
	Leakage      []Leak                  `key:"leakage" doc:"Leaks of joints and hoses, on top of the general share."`
	LeakShare    LeakShare               `key:"leak_share" doc:"General leakage of joints as a share of the flow."`
	HeatTransfer q.Maybe[q.HeatTransfer] `key:"heat_transfer" doc:"Heat transfer through the duct walls; 0 neglects it, about 7 W/(m2 K) is a bare duct in still air." default:"0 W/(m2 K)" low:"0 W/(m2 K)" high:"10 W/(m2 K)" source:"common practice, no source"`
	Compressed   *CompressedAir          `key:"compressed" doc:"The compressed-air main that feeds outlets marked so."`
}

// Inlet is the opening a blower draws through. The site says which air it draws.
type Inlet struct {
	Coldest       q.Maybe[q.Temperature] `key:"coldest" doc:"Coldest inlet air in the year; the motor is sized on it. The site's winter inlet air when left out."`
	Hottest       q.Maybe[q.Temperature] `key:"hottest" doc:"Hottest inlet air in the year; thrust and discharge temperature are checked on it. The site's summer inlet air when left out."`
	Recirculation q.Maybe[q.Ratio]       `key:"recirculation" doc:"Share of the inlet air that is warm air of the station itself drawn back." default:"0 %" low:"0 %" high:"20 %" source:"common practice, no source"`
	Bore          q.Maybe[q.Length]      `key:"bore" doc:"Bore of the inlet opening of each blower; chosen for the flow when left out."`
	Loss          q.Maybe[q.Ratio]       `key:"loss" doc:"Loss coefficient of the inlet opening on its own velocity head." default:"0.5" low:"0.1" high:"0.8" source:"published: Idelchik, Handbook of Hydraulic Resistance, sharp entry 0.5"`
}

// Filter is an inlet filter as its maker states it: pressure drops at a flow and an air state.
type Filter struct {
	Class       string                  `key:"class" doc:"Filter class by ISO 16890 or ISO 29463, for the parts list."`
	Flow        q.Maybe[q.VolumeFlow]   `key:"flow" doc:"Flow at which the drops are stated, at the stated air state."`
	Clean       q.Maybe[q.PressureDrop] `key:"clean" doc:"Pressure drop when clean, at the stated flow." default:"250 Pa" low:"100 Pa" high:"500 Pa" source:"common practice, no source"`
	ChangeOut   q.Maybe[q.PressureDrop] `key:"change_out" doc:"Pressure drop at which the filter is changed, at the stated flow." default:"1000 Pa" low:"500 Pa" high:"1500 Pa" source:"common practice, no source"`
	LinearShare q.Maybe[q.Ratio]        `key:"linear_share" doc:"Share of the clean drop that grows with the flow; the rest grows with its square." default:"0.5" low:"0.2" high:"0.9" source:"common practice, no source"`
	Points      []DropPoint             `key:"points" doc:"Two or more measured points of the clean filter instead of one drop."`
	Temperature q.Maybe[q.Temperature]  `key:"temperature" doc:"Air temperature of the statement; with it and the pressure the drop is scaled to the air at hand."`
	Pressure    q.Maybe[q.Absolute]     `key:"pressure" doc:"Air pressure of the statement." default:"101325 Pa" source:"published: ISO 2533, standard atmosphere"`
	Loaded      q.Maybe[q.Ratio]        `key:"loaded" doc:"How loaded the filter is in the nominal case: 0 clean, 1 at change-out." default:"0" low:"0" high:"1" source:"common practice, no source"`
	Count       int                     `key:"count" doc:"Filters side by side on one inlet; the flow divides." default:"1"`
}

// DropPoint is one point of a pressure drop against flow.
type DropPoint struct {
	Flow q.VolumeFlow   `key:"flow" doc:"Flow." need:"yes"`
	Drop q.PressureDrop `key:"drop" doc:"Pressure drop at that flow." need:"yes"`
}

// Silencer is an inlet silencer: a loss and what it takes off the sound.
type Silencer struct {
	Bore        q.Maybe[q.Length]     `key:"bore" doc:"Bore of the silencer; that of the inlet opening when left out."`
	Loss        q.Maybe[q.Ratio]      `key:"loss" doc:"Loss coefficient on the velocity head of its bore." default:"2" low:"0.5" high:"4" source:"common practice, no source"`
	Attenuation q.Maybe[q.SoundLevel] `key:"attenuation" doc:"What it takes off the inlet sound power."`
}

// Blower is one machine with its curve, drive and motor. Part names an entry of the catalogue whose data
// fill everything not given here.
type Blower struct {
	Name       string                `key:"name" doc:"Name of the blower; branches start from it." need:"yes"`
	Part       string                `key:"part" doc:"Catalogue part; data given here override it."`
	Kind       string                `key:"kind" doc:"Kind of machine; it decides how speed changes the curve and where the power is greatest." one:"high-speed centrifugal|multistage|side-channel|fan|displacement"`
	Speed      q.Maybe[q.Ratio]      `key:"speed" doc:"Speed over rated speed in the nominal case; set for the wanted plenum pressures when left out, or rated speed without them."`
	Curve      *Curve                `key:"curve" doc:"Performance curve."`
	RatedSpeed q.Maybe[q.Rate]       `key:"rated_speed" doc:"Shaft speed of the curve, in revolutions per time."`
	MaxSpeed   q.Maybe[q.Ratio]      `key:"max_speed" doc:"Greatest allowed speed over rated speed." default:"1" low:"1" high:"1.1" source:"common practice, no source"`
	Outlet     q.Maybe[q.Length]     `key:"outlet" doc:"Bore of the outlet flange."`
	Drive      string                `key:"drive" doc:"How the motor turns the blower." one:"belt|direct" default:"belt"`
	Inverter   string                `key:"inverter" doc:"Whether the motor runs on a variable-frequency drive." one:"yes|no" default:"yes"`
	Motor      *Motor                `key:"motor" doc:"Motor; sized when not given."`
	NonReturn  q.Maybe[q.Ratio]      `key:"non_return" doc:"Loss coefficient of a non-return flap on the outlet flange; blowers in parallel need one." default:"1.5" low:"0.8" high:"3" source:"common practice, no source"`
	Summer     RoomAir               `key:"inlet_summer" doc:"Inlet air of this blower in summer, where it draws from elsewhere than the site's inlet; without a humidity the water of the site's inlet air."`
	Winter     RoomAir               `key:"inlet_winter" doc:"Inlet air of this blower in winter, where it draws from elsewhere than the site's inlet; without a humidity the water of the site's inlet air."`
	Suction    []Element             `key:"suction" doc:"Ducts and fittings between the filter and this blower."`
	Sound      q.Maybe[q.SoundLevel] `key:"sound" doc:"Declared A-weighted sound power level at rated speed, casing and ducted openings, re 1 pW."`
}

// Curve is a performance curve as its maker states it: which pressure, which efficiency or power, at
// which inlet state.
type Curve struct {
	PressureIs   string                 `key:"pressure_is" doc:"Which pressure the points state: total rise; fan static (outlet static less inlet total); or outlet gauge (outlet static over ambient)." one:"total rise|fan static|outlet gauge" default:"total rise"`
	EfficiencyIs string                 `key:"efficiency_is" doc:"Which efficiency the points state: isentropic, polytropic, or flow times pressure over power." one:"isentropic|polytropic|flow times pressure over power" default:"isentropic"`
	PowerIs      string                 `key:"power_is" doc:"Which power the points state." one:"shaft|motor input" default:"shaft"`
	Points       []CurvePoint           `key:"points" doc:"Points of the curve, at least three." need:"yes"`
	Temperature  q.Maybe[q.Temperature] `key:"temperature" doc:"Inlet temperature of the curve." default:"20 degC" low:"15 degC" high:"25 degC" source:"published: ISO 5801, reference air"`
	Pressure     q.Maybe[q.Absolute]    `key:"pressure" doc:"Inlet pressure of the curve." default:"101325 Pa" source:"published: ISO 2533, standard atmosphere"`
	Humidity     q.Maybe[q.Ratio]       `key:"humidity" doc:"Inlet relative humidity of the curve." default:"0" low:"0" high:"60 %" source:"common practice, no source"`
	MinFlow      q.Maybe[q.VolumeFlow]  `key:"min_flow" doc:"Least allowed inlet flow at rated speed; the first point when not given, which for a fan is only where its data end."`
}

// CurvePoint is one point of a blower curve: inlet flow, pressure, and shaft power or efficiency.
type CurvePoint struct {
	Flow       q.VolumeFlow     `key:"flow" doc:"Inlet flow at the inlet state of the curve." need:"yes"`
	Pressure   q.PressureDrop   `key:"pressure" doc:"Pressure at that flow." need:"yes"`
	Power      q.Maybe[q.Power] `key:"power" doc:"Power at that flow."`
	Efficiency q.Maybe[q.Ratio] `key:"efficiency" doc:"Efficiency at that flow, when power is not given."`
}

// Motor is the electric motor of one blower.
type Motor struct {
	Power       q.Maybe[q.Power]     `key:"power" doc:"Rated shaft power."`
	Class       string               `key:"class" doc:"Efficiency class." one:"IE2|IE3|IE4|US premium" default:"IE3"`
	Poles       int                  `key:"poles" doc:"Number of poles, 2 or 4." default:"4"`
	Efficiency  q.Maybe[q.Ratio]     `key:"efficiency" doc:"Rated efficiency from the nameplate, instead of the class table."`
	Voltage     q.Maybe[q.Voltage]   `key:"voltage" doc:"Rated voltage; the mains voltage when not given."`
	Frequency   q.Maybe[q.Frequency] `key:"frequency" doc:"Frequency of the nameplate; the mains frequency when not given."`
	Current     q.Maybe[q.Current]   `key:"current" doc:"Full-load current from the nameplate."`
	PowerFactor q.Maybe[q.Ratio]     `key:"power_factor" doc:"Power factor at full load." default:"0.85" low:"0.78" high:"0.90" source:"common practice, no source"`
}

// Branch joins two places. A place is the name of a blower (its outlet flange), of an outlet (its feed) or
// any other name, where branches meet.
type Branch struct {
	Name     string    `key:"name" doc:"Name of the branch; results are listed by it."`
	From     string    `key:"from" doc:"Place where it starts: a blower, or a junction." need:"yes"`
	To       string    `key:"to" doc:"Place where it ends: a junction, or an outlet." need:"yes"`
	Elements []Element `key:"elements" doc:"Ducts, hoses and fittings in the order of the flow."`
}

// Element is one duct, hose or fitting of a branch.
type Element struct {
	Kind        string                 `key:"kind" doc:"What it is." one:"duct|hose|bend|mitre|reducer|diffuser|damper|valve|entry|exit|fitting" need:"yes"`
	Bore        q.Maybe[q.Length]      `key:"bore" doc:"Inside diameter; the bore of the element before it when not given."`
	BoreAfter   q.Maybe[q.Length]      `key:"bore_after" doc:"Bore after a reducer or diffuser."`
	Width       q.Maybe[q.Length]      `key:"width" doc:"Width of a rectangular duct."`
	Height      q.Maybe[q.Length]      `key:"height" doc:"Height of a rectangular duct."`
	Length      q.Maybe[q.Length]      `key:"length" doc:"Length of a duct or hose."`
	Material    string                 `key:"material" doc:"Wall, for its roughness." one:"smooth plastic|pvc|steel|galvanised|spiral seam|spiral corrugated|lined hose|ring hose"`
	Roughness   q.Maybe[q.Length]      `key:"roughness" doc:"Wall roughness, instead of the material's."`
	Friction    q.Maybe[q.Ratio]       `key:"friction" doc:"Measured friction factor (Darcy), instead of the roughness."`
	Radius      q.Maybe[q.Ratio]       `key:"radius" doc:"Bend radius over bore." default:"1.5" low:"1" high:"3" source:"common practice, no source"`
	Angle       q.Maybe[q.Angle]       `key:"angle" doc:"Angle of a bend or mitre, or the full angle of a reducer or diffuser; a reducer without it is sudden."`
	Opening     q.Maybe[q.Ratio]       `key:"opening" doc:"Opening of a damper, 1 is open."`
	Loss        q.Maybe[q.Ratio]       `key:"loss" doc:"Loss coefficient on the velocity head of its bore."`
	Count       int                    `key:"count" doc:"How many of them in a row." default:"1"`
	RatedTo     q.Maybe[q.Temperature] `key:"rated_to" doc:"Greatest temperature the maker allows; for hoses."`
	RatedFor    q.Maybe[q.Gauge]       `key:"rated_for" doc:"Greatest pressure the maker allows; for hoses."`
	LeastRadius q.Maybe[q.Length]      `key:"least_radius" doc:"Least bend radius the maker allows; for hoses."`
	BentTo      q.Maybe[q.Length]      `key:"bent_to" doc:"Tightest radius the hose is laid to."`
	Around      q.Maybe[q.Temperature] `key:"around" doc:"Temperature of the air around it, when it differs from the room."`
}

// Junction says how the branches of one place meet.
type Junction struct {
	At    string           `key:"at" doc:"Name of the place." need:"yes"`
	Kind  string           `key:"kind" doc:"A tee has a straight run and a branch at an angle; a wye divides evenly to both sides; a box is a large chamber." one:"tee|wye|box|plain" default:"wye"`
	Angle q.Maybe[q.Angle] `key:"angle" doc:"Angle of a tee's branch to the run, or half the angle between the legs of a wye." default:"30 deg" low:"15 deg" high:"90 deg" source:"common practice, no source"`
	Side  string           `key:"side" doc:"Name of the branch that leaves a tee at the angle."`
	Law   string           `key:"law" doc:"Loss law of a wye." one:"hager|idelchik" default:"hager"`
}

// Leak is an opening to the room at a place of the network.
type Leak struct {
	At   string          `key:"at" doc:"Place of the leak: a junction, an outlet or a blower." need:"yes"`
	Area q.Maybe[q.Area] `key:"area" doc:"Leak area (with its discharge coefficient)." need:"yes"`
}

// LeakShare is the general leakage of the joints.
type LeakShare struct {
	Share q.Maybe[q.Ratio] `key:"share" doc:"Flow lost at joints and hoses over the flow of the outlets." default:"0 %" low:"0 %" high:"5 %" source:"common practice, no source"`
}

// CompressedAir is the plant's compressed air: what the station runs on, or what it is compared with.
type CompressedAir struct {
	Header        q.Maybe[q.Gauge]         `key:"header" doc:"Header pressure." default:"6 bar" low:"5 bar" high:"7 bar" source:"common practice, no source"`
	Nozzle        q.Maybe[q.Gauge]         `key:"nozzle_pressure" doc:"Pressure at the nozzles, after the regulator." default:"4 bar" low:"1 bar" high:"6 bar" source:"common practice, no source"`
	SpecificPower q.Maybe[q.SpecificPower] `key:"specific_power" doc:"Compressor power per free-air flow at the header pressure." default:"6.6 kW/(m3/min)" low:"6.0 kW/(m3/min)" high:"7.5 kW/(m3/min)" source:"from memory of compressor data sheets"`
	Leaks         q.Maybe[q.Ratio]         `key:"leaks" doc:"Share of the compressed air lost by leaks of the distribution." default:"10 %" low:"5 %" high:"30 %" source:"published: US DOE compressed-air sourcebook, leaks 20-30 % common, 5-10 % target"`
	Discharge     q.Maybe[q.Ratio]         `key:"discharge" doc:"Discharge coefficient of the nozzles." default:"0.97" low:"0.61" high:"0.98" source:"published: orifice discharge tables, rounded entry 0.97"`
	Velocity      q.Maybe[q.Ratio]         `key:"velocity" doc:"Velocity coefficient of the nozzles." default:"0.97" low:"0.95" high:"0.99" source:"common practice, no source"`
	MeasuredFlow  q.Maybe[q.VolumeFlow]    `key:"measured_flow" doc:"Free-air flow read on the station, instead of the calculated one."`
	PulsedOn      q.Maybe[q.Ratio]         `key:"pulsed_on" doc:"Share of the running time the valves are open when they follow the containers." default:"1" low:"0.3" high:"1" source:"common practice, no source"`
	Control       string                   `key:"control" doc:"How the compressor follows a smaller demand." one:"modulating|load/unload|load/unload poor storage|variable speed|start/stop" default:"load/unload"`
	Load          q.Maybe[q.Ratio]         `key:"load" doc:"Share of its full flow the compressor delivers with the station running." default:"0.8" low:"0.5" high:"1" source:"common practice, no source"`
	Capacity      q.Maybe[q.VolumeFlow]    `key:"capacity" doc:"Full free-air flow of the compressor."`
	Price         q.Maybe[float64]         `key:"price" doc:"Price of the compressed-air station, in the currency of the job."`
	Maintenance   q.Maybe[float64]         `key:"maintenance" doc:"Yearly maintenance of the compressed-air station, in the currency of the job."`
}

// Costs is what the plant pays by: tariffs, hours, prices, the surroundings that sound and heat go to.
type Costs struct {
	Currency      string                        `key:"currency" doc:"Currency of all prices, as three letters." default:"EUR"`
	Electricity   q.Maybe[q.PricePerEnergy]     `key:"electricity" doc:"Price of electricity." default:"0.15 /kWh" low:"0.08 /kWh" high:"0.30 /kWh" source:"common practice, no source"`
	Demand        q.Maybe[q.PricePerPower]      `key:"demand" doc:"Demand charge for each unit of peak power and year."`
	Emissions     q.Maybe[q.EmissionsPerEnergy] `key:"emissions" doc:"Carbon dioxide for each unit of electricity; no default, the supplier states it."`
	Hours         q.Maybe[q.Duration]           `key:"hours" doc:"Hours in a year the line is staffed, production and idle." default:"6000 h" low:"2000 h" high:"8000 h" source:"common practice, no source" min:"0 h" max:"8784 h"`
	IdleShare     q.Maybe[q.Ratio]              `key:"idle_share" doc:"Share of those hours without containers." default:"20 %" low:"5 %" high:"50 %" source:"common practice, no source"`
	Idle          string                        `key:"idle" doc:"What the blower does while no containers come." one:"run on|turn down|switch off" default:"run on"`
	IdleSpeed     q.Maybe[q.Ratio]              `key:"idle_speed" doc:"Speed over rated speed while turned down." default:"0.6" low:"0.5" high:"0.8" source:"common practice, no source"`
	IdleGap       q.Maybe[q.Duration]           `key:"idle_gap" doc:"Usual length of one gap without containers; decides how often a switched-off blower starts." default:"5 min" low:"1 min" high:"30 min" source:"common practice, no source"`
	StartsPerHour q.Maybe[q.Rate]               `key:"starts" doc:"Starts the maker of the motor and drive allows." default:"6 /h" low:"4 /h" high:"15 /h" source:"common practice, no source"`
	FilterHours   q.Maybe[q.Duration]           `key:"filter_hours" doc:"Running time between two filter changes." default:"2000 h" low:"500 h" high:"4000 h" source:"common practice, no source"`
	FilterPrice   q.Maybe[float64]              `key:"filter_price" doc:"Price of one set of filters with the work, in the currency of the job."`
	BeltHours     q.Maybe[q.Duration]           `key:"belt_hours" doc:"Running time between two belt changes." default:"4000 h" low:"2000 h" high:"8000 h" source:"common practice, no source"`
	BeltPrice     q.Maybe[float64]              `key:"belt_price" doc:"Price of one belt set with the work, in the currency of the job."`
	Spares        q.Maybe[float64]              `key:"spares" doc:"Yearly spare parts, in the currency of the job."`
	Maintenance   q.Maybe[float64]              `key:"maintenance" doc:"Other yearly maintenance of the station, in the currency of the job."`
	Price         q.Maybe[float64]              `key:"price" doc:"Price of the station installed, in the currency of the job."`
	Discount      q.Maybe[q.Ratio]              `key:"discount" doc:"Yearly discount rate." default:"8 %" low:"3 %" high:"12 %" source:"common practice, no source"`
	Escalation    q.Maybe[q.Ratio]              `key:"escalation" doc:"Yearly rise of the price of electricity." default:"2 %" low:"0 %" high:"5 %" source:"common practice, no source"`
	Years         int                           `key:"years" doc:"Years the comparison covers." default:"10"`
	FalseReject   q.Maybe[float64]              `key:"false_reject" doc:"Cost of one good container rejected because it was wet, in the currency of the job."`
	CompressedAir *CompressedAir                `key:"compressed_air" doc:"The compressed air the station is compared with."`
	Sound         Surroundings                  `key:"sound" doc:"Where people stand and how the room reflects sound."`
	Enclosure     *Enclosure                    `key:"enclosure" doc:"Hood around the station."`
}

// Surroundings is where people stand by the station and what the room does with sound.
type Surroundings struct {
	Distance    q.Maybe[q.Length]     `key:"distance" doc:"Distance of the nearest person from the middle of the outlets." default:"1 m" low:"0.5 m" high:"4 m" source:"common practice, no source"`
	Directivity q.Maybe[q.Ratio]      `key:"directivity" doc:"Directivity of the place: 1 free, 2 on a floor, 4 by a wall." default:"2" low:"1" high:"4" source:"common practice, no source"`
	Surface     q.Maybe[q.Area]       `key:"room_surface" doc:"Total surface of the room's walls, floor and ceiling."`
	Absorption  q.Maybe[q.Ratio]      `key:"absorption" doc:"Mean sound absorption of those surfaces." default:"0.1" low:"0.05" high:"0.3" source:"common practice, no source"`
	Background  q.Maybe[q.SoundLevel] `key:"background" doc:"A-weighted level at that place without the station."`
	Exposure    q.Maybe[q.Duration]   `key:"exposure" doc:"Time a person spends there in a shift." default:"8 h" low:"1 h" high:"8 h" source:"common practice, no source"`
	Hood        q.Maybe[q.SoundLevel] `key:"hood_attenuation" doc:"What the walls of a sound hood take off, by its maker."`
}

// Enclosure is a hood around the station with its openings and its exhaust.
type Enclosure struct {
	OpenArea    q.Maybe[q.Area]        `key:"open_area" doc:"Area of its openings together."`
	WallArea    q.Maybe[q.Area]        `key:"wall_area" doc:"Area of its walls."`
	InwardSpeed q.Maybe[q.Speed]       `key:"inward_speed" doc:"Air speed wanted inward through the openings." default:"0.8 m/s" low:"0.5 m/s" high:"1 m/s" source:"published: ACGIH Industrial Ventilation, capture velocities"`
	Reserve     q.Maybe[q.Ratio]       `key:"reserve" doc:"Exhaust over the balance." default:"1.2" low:"1.1" high:"1.3" source:"common practice, no source"`
	DrawsInside string                 `key:"blower_draws_inside" doc:"Whether the blower draws its air from inside the hood." one:"yes|no" default:"no"`
	Water       q.Maybe[q.MassFlow]    `key:"water" doc:"Water that enters the station with the containers."`
	Evaporates  q.Maybe[q.Ratio]       `key:"evaporates" doc:"Share of that water the air takes up." default:"10 %" low:"3 %" high:"20 %" source:"common practice, no source"`
	MakeUpFrom  q.Maybe[q.Temperature] `key:"make_up_from" doc:"Outdoor temperature the make-up air is heated from."`
}
