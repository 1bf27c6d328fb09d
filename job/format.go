package job

import q "leste/quantity"

// A Format is one container size or variant that the line runs.
type Format struct {
	Name      string                 `key:"name" need:"yes" doc:"Name of the format."`
	Container Container              `key:"container" need:"yes" doc:"The body: a family of the catalogue or a profile."`
	Content   string                 `key:"content" one:"empty|open|filled" default:"filled" doc:"Empty, filled and still open, or filled and closed." source:"common practice, no source"`
	FillMass  q.Maybe[q.Mass]        `key:"fill_mass" doc:"Mass of the product." min:"0 g" max:"50 kg"`
	Product   q.Maybe[q.Temperature] `key:"product_temperature" doc:"Temperature of the product." default:"20 degC" low:"4 degC" high:"35 degC" source:"common practice, no source" min:"-30 degC" max:"120 degC"`
	Speed     q.Maybe[q.Speed]       `key:"speed" doc:"Belt speed for this format." min:"0.01 m/s" max:"5 m/s"`
	Rate      q.Maybe[q.Rate]        `key:"rate" doc:"Containers per minute or hour for this format." min:"1 /min" max:"200000 /h"`
	Pitch     q.Maybe[q.Length]      `key:"pitch" doc:"Distance between axes for this format." min:"5 mm" max:"5 m"`
	Gap       q.Maybe[q.Length]      `key:"container_gap" doc:"Clear space between containers for this format." min:"0 mm" max:"5 m"`
	Arrives   *Arrives               `key:"arrives" doc:"Water that this format brings, when it differs."`
	Share     q.Maybe[q.Ratio]       `key:"share" doc:"Share of the yearly hours that this format runs." min:"0 %" max:"100 %"`
}

// A Container is a body: a family of the catalogue with its size and changes, or a profile of its own.
type Container struct {
	Family    string            `key:"family" doc:"Family of the catalogue, e.g. \"can\"."`
	Size      string            `key:"size" doc:"Size within the family, e.g. \"330 standard\"."`
	Closure   string            `key:"closure" doc:"Closure of the catalogue, e.g. \"PCO 1881 cap\"; the family's own when left out."`
	Diameter  q.Maybe[q.Length] `key:"diameter" doc:"Largest diameter, or width across travel of an oval body." min:"5 mm" max:"1 m"`
	Width     q.Maybe[q.Length] `key:"width" doc:"Extent along travel of a body that is not round." min:"5 mm" max:"1 m"`
	Height    q.Maybe[q.Length] `key:"height" doc:"Overall height with closure." min:"5 mm" max:"2 m"`
	Material  string            `key:"material" doc:"Wall material of the catalogue, e.g. \"PET\"."`
	EmptyMass q.Maybe[q.Mass]   `key:"empty_mass" doc:"Mass of the empty container with closure." min:"0.1 g" max:"10 kg"`
	Section   *Section          `key:"section" doc:"Cross-section; round when left out."`
	Profile   []ProfileStep     `key:"profile" doc:"Outline from the centre of the base to the centre of the top."`
	Crevices  []Crevice         `key:"crevices" doc:"Gaps that trap water; the family's own when left out."`
	Pools     []Pool            `key:"pools" doc:"Recesses in which water lies; the family's own when left out."`
	Walls     []ZoneMaterial    `key:"zone_materials" doc:"Materials of zones that differ from the wall."`
}

// A Section is the cross-section of a body. Width is along travel, Depth across it. The profile's radius is
// scaled by it: at the largest radius the body has these two extents.
type Section struct {
	Shape  string            `key:"shape" need:"yes" one:"round|oval|rounded rectangle" doc:"Shape of the cross-section."`
	Width  q.Maybe[q.Length] `key:"width" doc:"Extent along travel." min:"5 mm" max:"1 m"`
	Depth  q.Maybe[q.Length] `key:"depth" doc:"Extent across travel." min:"5 mm" max:"1 m"`
	Corner q.Maybe[q.Length] `key:"corner" doc:"Corner radius of a rounded rectangle." min:"0 mm" max:"500 mm"`
}

// A ProfileStep goes on from the last point of the outline. The first step's To is the start and has
// radius 0. A positive Bulge is an arc of that radius curving outward (to the right of the direction of
// drawing, from base to top), a negative one inward; zero is a straight line.
type ProfileStep struct {
	Radius q.Length          `key:"radius" need:"yes" doc:"Radius of the point that this step goes to." min:"0 mm" max:"500 mm"`
	Height q.Length          `key:"height" need:"yes" doc:"Height of the point above the belt." min:"0 mm" max:"2 m"`
	Bulge  q.Maybe[q.Length] `key:"arc" doc:"Radius of an arc to the point: positive bulges outward, negative inward." min:"-10 m" max:"10 m"`
	Fillet q.Maybe[q.Length] `key:"fillet" doc:"Radius that rounds the corner at the point." min:"0 mm" max:"500 mm"`
	Zone   string            `key:"zone" doc:"Zone that this step belongs to."`
}

// Kinds of zones: the words used on screens. A profile may use any of them or its own.
const (
	ZoneEnd         = "end"
	ZoneSeam        = "seam"
	ZoneCountersink = "countersink"
	ZoneClosure     = "closure"
	ZoneTamperBand  = "tamper band"
	ZoneFinish      = "finish"
	ZoneNeckRing    = "neck ring"
	ZoneShoulder    = "shoulder"
	ZoneSidewall    = "sidewall"
	ZoneLabelPanel  = "label panel"
	ZoneHeel        = "heel"
	ZoneBase        = "base"
	ZoneDome        = "dome"
	ZoneAll         = "all"
)

// A Crevice is a gap that traps water around the body. Its mouth is a ring on the outline.
type Crevice struct {
	Name     string            `key:"name" need:"yes" doc:"Name, e.g. \"closure skirt\"."`
	Zone     string            `key:"zone" need:"yes" doc:"Zone that its water belongs to."`
	Height   q.Length          `key:"height" need:"yes" doc:"Height of its mouth above the belt." min:"0 mm" max:"2 m"`
	Radius   q.Length          `key:"radius" need:"yes" doc:"Radius of its mouth." min:"0.5 mm" max:"500 mm"`
	Gap      q.Maybe[q.Length] `key:"gap" doc:"Width of the gap." default:"0.3 mm" low:"0.15 mm" high:"0.5 mm" source:"common practice, no source" min:"0.01 mm" max:"10 mm"`
	Depth    q.Maybe[q.Length] `key:"depth" doc:"Depth of the gap." default:"3 mm" low:"1 mm" high:"6 mm" source:"common practice, no source" min:"0.1 mm" max:"100 mm"`
	Exit     string            `key:"exit" one:"around|vents|blind" default:"around" doc:"Where the air leaves that drives the water out." source:"common practice, no source"`
	Vents    int               `key:"vents" doc:"Number of vents when the exit is vents." min:"0" max:"200"`
	Material string            `key:"material" doc:"Material of the outer wall of the gap; the zone's when left out."`
	Inner    string            `key:"inner_material" doc:"Material of the inner wall of the gap; the outer one when left out."`
	Faces    string            `key:"faces" one:"down|up|out" default:"down" doc:"Where the mouth faces." source:"common practice, no source"`
}

// A Pool is a recess in which water lies while its open side faces up.
type Pool struct {
	Name   string   `key:"name" need:"yes" doc:"Name, e.g. \"countersink\"."`
	Zone   string   `key:"zone" need:"yes" doc:"Zone that its water belongs to."`
	Height q.Length `key:"height" need:"yes" doc:"Height of the recess's floor above the belt." min:"0 mm" max:"2 m"`
	Inner  q.Length `key:"inner_radius" doc:"Inner radius of a ring-shaped recess; 0 for a dish." min:"0 mm" max:"500 mm"`
	Outer  q.Length `key:"outer_radius" need:"yes" doc:"Outer radius of the recess." min:"0.5 mm" max:"500 mm"`
	Depth  q.Length `key:"depth" need:"yes" doc:"Depth of the recess." min:"0.1 mm" max:"200 mm"`
	Faces  string   `key:"faces" one:"up|down" default:"up" doc:"Where it opens with the container upright." source:"common practice, no source"`
}

// ZoneMaterial gives a zone a material or its own contact angles.
type ZoneMaterial struct {
	Zone      string           `key:"zone" need:"yes" doc:"Zone."`
	Material  string           `key:"material" doc:"Material of the catalogue."`
	Advancing q.Maybe[q.Angle] `key:"advancing" doc:"Advancing contact angle of water." min:"0 deg" max:"180 deg"`
	Receding  q.Maybe[q.Angle] `key:"receding" doc:"Receding contact angle of water." min:"0 deg" max:"180 deg"`
}
