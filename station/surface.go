package station

import q "leste/quantity"

// Vec is a point or vector [m or 1] in the container's or the line's frame.
type Vec struct{ X, Y, Z float64 }

// A Surface is the wall of one container as a logically rectangular grid: Rows along the profile times
// Cols around. Cell k = row*Cols + col. Lengths in m, areas in m2.
type Surface struct {
	Rows, Cols int
	Pos        []Vec     // cell centres
	Normal     []Vec     // outward unit normals
	Along      []Vec     // unit tangents along the profile, towards the top
	Around     []Vec     // unit tangents around, counter-clockwise seen from above
	Area       []float64 // cell areas
	Zone       []uint8   // index into Zones
	Zones      []string

	S     []float64 // Rows: arc length along the profile from the base's centre to the cell's centre
	StepS []float64 // Rows: length of a cell along the profile
	StepA []float64 // Rows*Cols: length of a cell around, at its centre
	FaceS []float64 // (Rows+1)*Cols: length of the face between row-1 and row (0 at the two centres)
	FaceA []float64 // Rows: length of the face between two columns (= StepS, kept apart for clarity)
	Edge  []Edge    // sharp rims where water may hold or be shed, by row face
}

// An Edge is a sharp rim of the body between Row-1 and Row.
type Edge struct {
	Row   int     // the rim lies on the face below this row
	Angle float64 // by how much the wall turns [rad], positive when convex
	Name  string  // "rim", "seam", "heel"
}

// A Field is what the air does to every cell at one position of the container. Slices have Rows*Cols
// values; the components are along Surface.Along and Surface.Around.
type Field struct {
	P            []float64 // impact pressure, gauge [Pa]
	TauS, TauA   []float64 // wall shear [Pa]
	GradS, GradA []float64 // pressure gradient along the wall [Pa/m]
	Ue           []float64 // air speed at the edge of the wall layer [m/s]
	Heat         []float64 // share of the jet's excess temperature that arrives at the wall [1], largest outlet
	First, Last  int       // only rows in [First, Last) can be non-zero
}

// A Body is a container as it rides on the line, with everything that hangs on its shape.
type Body struct {
	Format    string
	Surface   *Surface
	Material  []int // per zone: index into Materials
	Materials []Material
	Crevices  []Crevice
	Pools     []Pool

	Width, Depth, Height float64  // extents along x, y, z [m]
	BaseRadius           float64  // radius of the circle it stands on [m]
	Mass                 q.Mass   // as it rides: with product if any
	EmptyMass            q.Mass   // without product
	CentreOfMass         float64  // height above the belt [m]
	Volume               q.Volume // outer volume
	Open                 bool     // the mouth is open
	Product              q.Temperature

	shape  *shape   // the wall as rays meet it
	thrust *Surface // the patches that the momentum of the jets is added up over
}

// A Material is a wall and how water sits on it.
type Material struct {
	Name                string
	Advancing, Receding q.Angle
	Conductance         q.HeatTransfer // from the wetted face to the product
	Source              string
}

// A Crevice is a gap that traps water, placed on the surface.
type Crevice struct {
	Name         string
	Zone         uint8
	Row          int     // the mouth opens at the cells of this row
	Gap, Depth   float64 // m
	Radius       float64 // m, of the mouth's ring
	Exit         string  // around, vents, blind
	Vents        int
	Outer, Inner int // materials of its two walls
	FacesDown    bool
	Volume       q.Volume // when full
}

// A Pool is a recess in which water lies, placed on the surface.
type Pool struct {
	Name         string
	Zone         uint8
	Rows         [2]int // first row and one past the last that it covers
	Inner, Outer float64
	Depth        float64
	FacesUp      bool // as the container rides
	Volume       q.Volume
}
