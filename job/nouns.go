package job

import q "leste/quantity"

// SchemaVersion is the version of the job file this program reads and writes. Newer ones are refused.
const SchemaVersion = 1

// A Job is one job file: a line, what it carries, what blows on it and what stands next.
type Job struct {
	Schema    int           `key:"leste" need:"yes" doc:"Version of the job file: 1." min:"1" max:"1"`
	Name      string        `key:"job" need:"yes" doc:"What this job is called on screens and documents."`
	Notes     string        `key:"notes" doc:"Free text: who said what, and when."`
	Site      Site          `key:"site" doc:"The place: air, power, prices, space."`
	Line      Line          `key:"line" doc:"The conveyor and how containers ride on it."`
	Arrives   Arrives       `key:"arrives" doc:"The water that containers bring."`
	Formats   []Format      `key:"formats" doc:"Container sizes or variants that the line runs."`
	Stations  []Station     `key:"stations" doc:"Everything that blows, in the order of travel."`
	AirSupply AirSupply     `key:"air_supply" doc:"Filter, blowers, ducts and drives."`
	Next      []NextMachine `key:"next" doc:"Machines downstream and what they tolerate."`
	Limits    []AirLimit    `key:"limits" doc:"What the air may do to a zone at most."`
	Cost      Costs         `key:"cost" doc:"Tariffs, prices and the compressed-air rival."`
	Model     Model         `key:"model" doc:"Settings of the water model that trials will narrow."`
	Options   []Option      `key:"options" doc:"Named alternatives to the stations above, compared side by side."`
}

// An Option is a named alternative: other stations, another air supply, the rest of the job unchanged.
type Option struct {
	Name      string     `key:"name" need:"yes" doc:"Name of the option."`
	Stations  []Station  `key:"stations" doc:"Stations of this option."`
	AirSupply *AirSupply `key:"air_supply" doc:"Air supply of this option; the job's own when left out."`
}

// Site is the place.
type Site struct {
	Altitude    q.Maybe[q.Length]     `key:"altitude" doc:"Height above sea level." default:"100 m" low:"0 m" high:"600 m" source:"common practice, no source" min:"-430 m" max:"5000 m"`
	Barometer   q.Maybe[q.Absolute]   `key:"barometer" doc:"Absolute air pressure on site; wins over altitude." min:"50 kPa" max:"110 kPa"`
	Summer      RoomAir               `key:"summer" doc:"Room air on a warm, humid day."`
	Winter      RoomAir               `key:"winter" doc:"Room air on a cold, dry day."`
	InletFrom   string                `key:"inlet_from" one:"room|ceiling|outdoors" default:"room" doc:"Where the blower draws its air." source:"common practice, no source"`
	InletSummer RoomAir               `key:"inlet_summer" doc:"Inlet air in summer when it is not room air."`
	InletWinter RoomAir               `key:"inlet_winter" doc:"Inlet air in winter when it is not room air."`
	Noise       q.Maybe[q.SoundLevel] `key:"noise_limit" doc:"Highest sound pressure level allowed at 1 m, A-weighted." default:"85 dB" low:"80 dB" high:"87 dB" source:"Directive 2003/10/EC, upper action value" min:"50 dB" max:"120 dB"`
	Voltage     q.Maybe[q.Voltage]    `key:"voltage" doc:"Supply voltage, line to line." default:"400 V" low:"380 V" high:"480 V" source:"common practice, no source" min:"100 V" max:"1000 V"`
	Frequency   q.Maybe[q.Frequency]  `key:"frequency" doc:"Supply frequency." default:"50 Hz" low:"50 Hz" high:"60 Hz" source:"common practice, no source" min:"40 Hz" max:"70 Hz"`
	Space       *Box                  `key:"space" doc:"Envelope that outlets and frames must stay in, about the station's datum."`
	Flammable   bool                  `key:"flammable_vapour" doc:"Solvent or alcohol vapour may be present."`
}

// RoomAir is the state of air.
type RoomAir struct {
	Temperature q.Maybe[q.Temperature] `key:"temperature" doc:"Dry-bulb temperature." min:"-40 degC" max:"60 degC"`
	Humidity    q.Maybe[q.Ratio]       `key:"humidity" doc:"Relative humidity." min:"0 %" max:"100 %"`
}

// Box is an axis-parallel box.
type Box struct {
	Name  string   `key:"name" doc:"Name of the thing."`
	XFrom q.Length `key:"x_from" need:"yes" doc:"Upstream face." min:"-100 m" max:"100 m"`
	XTo   q.Length `key:"x_to" need:"yes" doc:"Downstream face." min:"-100 m" max:"100 m"`
	YFrom q.Length `key:"y_from" need:"yes" doc:"Right face." min:"-100 m" max:"100 m"`
	YTo   q.Length `key:"y_to" need:"yes" doc:"Left face." min:"-100 m" max:"100 m"`
	ZFrom q.Length `key:"z_from" need:"yes" doc:"Lower face, above the belt." min:"-100 m" max:"100 m"`
	ZTo   q.Length `key:"z_to" need:"yes" doc:"Upper face, above the belt." min:"-100 m" max:"100 m"`
}

// Line is the conveyor. Two of speed, rate and pitch make the third; a format may override each.
type Line struct {
	Travel    string            `key:"travel" one:"left to right|right to left" default:"left to right" doc:"Direction of travel seen by the operator, for drawings." source:"drawing convention"`
	Speed     q.Maybe[q.Speed]  `key:"speed" doc:"Belt speed." min:"0.01 m/s" max:"5 m/s"`
	Rate      q.Maybe[q.Rate]   `key:"rate" doc:"Containers per minute or hour." min:"1 /min" max:"200000 /h"`
	Pitch     q.Maybe[q.Length] `key:"pitch" doc:"Distance between container axes along travel." min:"5 mm" max:"5 m"`
	Gap       q.Maybe[q.Length] `key:"container_gap" doc:"Clear space between containers." min:"0 mm" max:"5 m"`
	Touching  q.Maybe[bool]     `key:"touching" doc:"Containers touch on the belt."`
	Surge     q.Maybe[q.Ratio]  `key:"surge" doc:"Highest short-time speed over the nominal one." default:"1.15" low:"1" high:"1.3" source:"common practice, no source" min:"1" max:"3"`
	Stops     q.Maybe[bool]     `key:"stops" doc:"Containers may stand still under the air." default:"yes" source:"common practice, no source"`
	Belt      Belt              `key:"belt" doc:"The belt under the containers."`
	Rails     []Rail            `key:"rails" doc:"Guide rails beside the containers."`
	NeckGuide *Rail             `key:"neck_guide" doc:"A guide at the neck."`
	Grips     *Grip             `key:"side_grips" doc:"Side-gripping belts that carry containers."`
	Obstacles []Box             `key:"obstacles" doc:"Solid things near the line."`
	Attitude  string            `key:"attitude" one:"upright|inverted|side-gripped" default:"upright" doc:"How containers ride." source:"common practice, no source"`
}

// Belt is the surface that carries containers.
type Belt struct {
	State    string            `key:"state" one:"dry|wet|lubricated" default:"wet" doc:"Wetness of the belt." source:"common practice, no source"`
	Friction q.Maybe[q.Ratio]  `key:"friction" doc:"Coefficient of friction between container and belt." min:"0.01" max:"1.5"`
	Width    q.Maybe[q.Length] `key:"width" doc:"Width of the belt or chain across travel; what carries it stands 30 mm farther out on each side." min:"10 mm" max:"5 m"`
	Lift     bool              `key:"open" doc:"Air can reach the base through the belt."`
}

// Rail is a guide rail pair, one on each side, round in cross-section.
type Rail struct {
	Height   q.Length          `key:"height" need:"yes" doc:"Centre height above the belt." min:"1 mm" max:"2 m"`
	Play     q.Maybe[q.Length] `key:"play" doc:"Clearance to the container on each side." default:"3 mm" low:"1 mm" high:"6 mm" source:"common practice, no source" min:"0 mm" max:"100 mm"`
	Diameter q.Maybe[q.Length] `key:"diameter" doc:"Diameter of the rail." default:"12 mm" low:"8 mm" high:"20 mm" source:"common practice, no source" min:"1 mm" max:"200 mm"`
	Side     string            `key:"side" one:"both|left|right" default:"both" doc:"Which side has the rail." source:"common practice, no source"`
}

// Grip is a pair of side-gripping belts.
type Grip struct {
	ZFrom q.Length `key:"z_from" need:"yes" doc:"Lower edge of the gripping belts above the datum." min:"-1 m" max:"2 m"`
	ZTo   q.Length `key:"z_to" need:"yes" doc:"Upper edge of the gripping belts above the datum." min:"-1 m" max:"2 m"`
}

// Arrives is the water that containers bring. A format may carry its own.
type Arrives struct {
	From        string                    `key:"from" one:"rinser|pasteuriser|cooler|washer|cold fill|not known" default:"rinser" doc:"What wets the containers." source:"common practice, no source"`
	Looks       string                    `key:"looks" one:"streaming|wet|beaded|damp|not known" default:"not known" doc:"What a person sees on the wall." source:"not known"`
	Since       q.Maybe[q.Duration]       `key:"time_since" doc:"Time from the last wetting to the first station." default:"5 s" low:"2 s" high:"15 s" source:"common practice, no source" min:"0 s" max:"8 h"`
	Water       q.Maybe[q.AreaMass]       `key:"water" doc:"Water on the wall per area." min:"0 g/m2" max:"1000 g/m2"`
	Drop        q.Maybe[q.Length]         `key:"drop" doc:"Drop diameter that halves the water's volume." default:"3.2 mm" low:"2 mm" high:"4.5 mm" source:"judgement, to be fitted" min:"0.05 mm" max:"10 mm"`
	Temperature q.Maybe[q.Temperature]    `key:"temperature" doc:"Temperature of the water." default:"20 degC" low:"10 degC" high:"40 degC" source:"common practice, no source" min:"-5 degC" max:"99 degC"`
	Quality     string                    `key:"quality" one:"clean|syrup|surfactant|not known" default:"not known" doc:"What is in the water." source:"not known"`
	Tension     q.Maybe[q.SurfaceTension] `key:"surface_tension" doc:"Surface tension of the water; from quality and temperature when left out." min:"15 mN/m" max:"80 mN/m"`
	Trapped     q.Maybe[q.Ratio]          `key:"trapped_full" doc:"How full crevices arrive." default:"100 %" low:"50 %" high:"100 %" source:"common practice, no source" min:"0 %" max:"100 %"`
	Pools       q.Maybe[q.Ratio]          `key:"pools_full" doc:"How full upward recesses arrive." default:"70 %" low:"30 %" high:"100 %" source:"common practice, no source" min:"0 %" max:"100 %"`
}

// NextMachine is a machine downstream.
type NextMachine struct {
	Machine   string            `key:"machine" need:"yes" one:"camera|labeller|coder|wrapper|packer|other" doc:"Kind of machine."`
	Name      string            `key:"name" doc:"Name on site."`
	Distance  q.Maybe[q.Length] `key:"distance" doc:"Distance from the last station before it, along the line." default:"3 m" low:"1 m" high:"8 m" source:"common practice, no source" min:"0 m" max:"500 m"`
	After     string            `key:"after" doc:"Station that it follows; the last one when left out."`
	Complaint string            `key:"complaint" doc:"What the plant says, e.g. \"0.1 % rejects at the closure\"."`
	Requires  []Requirement     `key:"requires" doc:"What it tolerates; from machine and complaint when left out."`
	Formats   []string          `key:"formats" doc:"Formats that pass it; all when left out."`
}

// A Requirement is one thing a machine tolerates, in one zone. Exactly one of Water, Mass, Drop is given,
// or Rejects with the Drop that causes them.
type Requirement struct {
	Zone    string              `key:"zone" need:"yes" doc:"Zone it looks at, or \"all\"."`
	Water   q.Maybe[q.AreaMass] `key:"water" doc:"Water left per area, at most." min:"0.001 g/m2" max:"1000 g/m2"`
	Mass    q.Maybe[q.Mass]     `key:"mass" doc:"Water left in the zone, at most." min:"0.1 mg" max:"100 g"`
	Drop    q.Maybe[q.Length]   `key:"drop" doc:"Largest drop tolerated (diameter on the wall)." min:"0.01 mm" max:"10 mm"`
	Rejects q.Maybe[q.Ratio]    `key:"rejects" doc:"Share of containers that may be rejected." min:"0.0001 %" max:"50 %"`
	Search  bool                `key:"by_search" doc:"The mass is one that a search allowed, as nobody gave one and no air reaches all of what is usual; the machine's own is to be asked for. A search raises no other limit."`
}

// AirLimit is what the air may do to a zone.
type AirLimit struct {
	Zone        string                 `key:"zone" need:"yes" doc:"Zone protected, or \"all\"."`
	Reason      string                 `key:"reason" one:"label edge|sleeve|open mouth|wall temperature|other" default:"other" doc:"Why." source:"not known"`
	Pressure    q.Maybe[q.Gauge]       `key:"pressure" doc:"Highest impact pressure (gauge)." min:"1 Pa" max:"700 kPa"`
	Speed       q.Maybe[q.Speed]       `key:"speed" doc:"Highest air speed along the wall." min:"0.1 m/s" max:"500 m/s"`
	Temperature q.Maybe[q.Temperature] `key:"temperature" doc:"Highest air temperature at the wall." min:"-40 degC" max:"200 degC"`
}

// Model holds the settings of the water model that trials narrow. Names are those of the relations.
type Model struct {
	Drag           q.Maybe[q.Ratio]  `key:"drag" doc:"Drag coefficient of a drop on the wall." default:"0.2" low:"0.15" high:"0.4" source:"anchored on White & Schmucker 2021, judgement" min:"0.01" max:"2"`
	SlideShare     q.Maybe[q.Ratio]  `key:"slide_share" doc:"Speed a drop must reach, as share of the front speed (quick method)." default:"0.5" low:"0.15" high:"1" source:"judgement, to be fitted" min:"0.01" max:"2"`
	HoleSpacing    q.Maybe[q.Length] `key:"hole_spacing" doc:"Distance between the holes at which a thin film breaks." default:"4 mm" low:"1.5 mm" high:"10 mm" source:"judgement, to be fitted" min:"0.1 mm" max:"100 mm"`
	SmallDrops     q.Maybe[q.Ratio]  `key:"small_drops" doc:"Share of moved water left behind as small drops." default:"0.1" low:"0.03" high:"0.3" source:"judgement, to be fitted" min:"0" max:"1"`
	DropSpread     q.Maybe[q.Ratio]  `key:"drop_spread" doc:"Spread of drop diameters (standard deviation of the logarithm)." default:"0.4" low:"0.25" high:"0.6" source:"judgement, to be fitted" min:"0.01" max:"2"`
	RecedingSpread q.Maybe[q.Angle]  `key:"receding_spread" doc:"Scatter of the receding contact angle over a surface." default:"8 deg" low:"4 deg" high:"12 deg" source:"judgement, to be fitted" min:"0 deg" max:"45 deg"`
	Shear          q.Maybe[q.Ratio]  `key:"shear" doc:"Factor on the wall shear of the jets." default:"1" low:"0.67" high:"1.5" source:"uncertainty of the wall shear relation" min:"0.1" max:"5"`
	Pressure       q.Maybe[q.Ratio]  `key:"pressure" doc:"Factor on the impact pressure of the jets." default:"1" low:"0.85" high:"1.15" source:"uncertainty of the impact pressure relation" min:"0.1" max:"5"`
	RunDown        q.Maybe[q.Ratio]  `key:"run_down" doc:"Share of an overfull crevice's water that runs onto the wall below." default:"0.3" low:"0.1" high:"0.6" source:"judgement, to be fitted" min:"0" max:"1"`
	Rewetting      q.Maybe[q.Ratio]  `key:"rewetting" doc:"Share of blown-off water that lands on the neighbouring container." default:"0.02" low:"0" high:"0.1" source:"judgement, to be fitted" min:"0" max:"1"`
	MistBack       q.Maybe[q.Ratio]  `key:"mist_back" doc:"Share of mist that falls back on the container." default:"0" low:"0" high:"0.3" source:"judgement, to be fitted" min:"0" max:"1"`
}
