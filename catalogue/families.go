package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// A Family is a kind of container that is described by its size: the rest follows from rules.
//
// When a job changes the diameter, the body follows while finish, closure and can end keep theirs; when it
// changes the height, the straight wall grows or shrinks; the empty mass follows the wall's area.
type Family struct {
	Name     string
	Also     []string // other names it goes by
	Doc      string   // one sentence
	Material string   // of the wall
	Section  string   // shape of the cross-section
	Closures []string // that fit it, the usual one first; none for a family that needs none
	Sizes    []Size
	Zones    []string
	Source   string
	build    func(Size, closure) body
}

// A Size is one member of a family, as it stands on the line with its closure.
type Size struct {
	Name      string
	Diameter  q.Length // largest; of an oval body the extent across travel
	Width     q.Length // extent along travel of a body that is not round
	Height    q.Length
	Neck      q.Length // radius of the finish below the closure, or of the can's seam
	EmptyMass q.Mass
	FillMass  q.Mass // of a water-like product at its nominal fill
}

// A body is what a family builds from a size.
type body struct {
	profile  []job.ProfileStep
	crevices []job.Crevice
	pools    []job.Pool
	walls    []job.ZoneMaterial
	least    float64 // smallest height that its fixed parts allow [mm]
}

// Families returns the families of the catalogue.
func Families() []Family {
	return []Family{cans(), petBottles(), glassBottles(), jars(), ovalBottles()}
}

// FamilyNamed finds a family by its name or one of its other names, whatever the case. The error lists what
// there is and names the nearest.
func FamilyNamed(name string) (Family, error) {
	var names []string
	for _, f := range Families() {
		if is(name, f.Name, f.Also) {
			return f, nil
		}
		names = append(names, f.Name)
	}
	return Family{}, unknown("family", name, names)
}

// SizeNamed finds a size: by its name, by a name that begins like it when only one does, or the first when the
// name is empty.
func (f Family) SizeNamed(name string) (Size, error) {
	if name == "" {
		return f.Sizes[0], nil
	}
	var names []string
	var like []Size
	for _, s := range f.Sizes {
		if is(name, s.Name, nil) {
			return s, nil
		}
		if strings.HasPrefix(plain(s.Name), plain(name)+" ") {
			like = append(like, s)
		}
		names = append(names, s.Name)
	}
	if len(like) == 1 {
		return like[0], nil
	}
	return Size{}, unknown("size of the family "+f.Name, name, names)
}

func plain(s string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	return strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(s, "ml"), " "))
}

func is(name, want string, also []string) bool {
	return plain(name) == plain(want) || slices.ContainsFunc(also, func(a string) bool { return plain(name) == plain(a) })
}

// Expand turns a container that names a family and a size into a full description: profile, section,
// crevices, pools, materials and empty mass. What the job says itself stays. Source says what the sizes
// rest on. A container with a profile of its own and no family comes back as it is, once its materials are
// known.
func Expand(c job.Container) (full job.Container, source string, notes []relation.Note, err error) {
	if c.Family == "" {
		if len(c.Profile) == 0 {
			_, err := FamilyNamed("")
			return c, "", nil, fmt.Errorf("the container has neither a family nor a profile: %w", err)
		}
		if c.Material == "" {
			c.Material = "PET"
			notes = append(notes, note("the wall's material is not known; PET is assumed"))
		}
		return c, "the job's own profile", notes, knownMaterials(&c)
	}
	f, err := FamilyNamed(c.Family)
	if err != nil {
		return c, "", nil, err
	}
	if len(c.Profile) > 0 {
		bare := c
		bare.Profile = nil
		if again, source, notes, err := Expand(bare); err == nil && slices.Equal(again.Profile, c.Profile) {
			return c, source, notes, nil // expanded before
		}
		return c, "", nil, fmt.Errorf("the container has both a family and a profile; give one of them")
	}
	size, err := f.SizeNamed(c.Size)
	if err != nil {
		return c, "", nil, err
	}
	lid, err := f.closure(c.Closure)
	if err != nil {
		return c, "", nil, err
	}
	source = f.Source
	if lid.source != "" {
		source += "; closure: " + lid.source
	}
	if c.Size == "" {
		notes = append(notes, note(fmt.Sprintf("no size is named; %s is assumed", size.Name)))
	}
	listed := size
	if err := size.change(c); err != nil {
		return c, "", nil, err
	}
	b := f.build(size, lid)
	if h := size.Height.MM(); h < b.least {
		return c, "", nil, fmt.Errorf("a %s of %.4g mm is too low: its base, shoulder and closure alone take %.4g mm", f.Name, h, b.least)
	}
	full = c
	full.Family, full.Size, full.Closure = f.Name, size.Name, lid.name
	full.Profile = b.profile
	full.Material = orElse(c.Material, f.Material)
	if c.Crevices == nil {
		full.Crevices = b.crevices
	}
	if c.Pools == nil {
		full.Pools = b.pools
	}
	full.Walls = slices.Concat(b.walls, c.Walls)
	if f.Section != "round" && c.Section == nil {
		full.Section = &job.Section{Shape: f.Section, Width: q.Known(size.Width), Depth: q.Known(size.Diameter)}
		notes = append(notes, note("neck and closure are drawn with the cross-section of the body; they are rounder in truth"))
	}
	full.Diameter.Assume(size.Diameter)
	full.Height.Assume(size.Height)
	if !c.EmptyMass.Known {
		full.EmptyMass.V = size.EmptyMass * q.Mass(size.wall()/listed.wall())
	}
	return full, source, notes, knownMaterials(&full)
}

// DefaultFill is the product's mass at nominal fill for a container that names a family; 0 for any other.
func DefaultFill(c job.Container) q.Mass {
	f, err := FamilyNamed(c.Family)
	if err != nil {
		return 0
	}
	s, err := f.SizeNamed(c.Size)
	if err != nil {
		return 0
	}
	fill := s.FillMass
	listed := s
	if s.change(c) == nil {
		fill *= q.Mass(s.room() / listed.room())
	}
	return fill
}

// change applies the changes that a job makes to a listed size.
func (s *Size) change(c job.Container) error {
	for _, k := range []struct {
		what string
		own  q.Maybe[q.Length]
		to   *q.Length
	}{{"diameter", c.Diameter, &s.Diameter}, {"width", c.Width, &s.Width}, {"height", c.Height, &s.Height}} {
		if !k.own.Known {
			continue
		}
		if !(k.own.V >= 0.01 && k.own.V <= 1) {
			return fmt.Errorf("a %s of %.4g mm is not possible here; 10 to 1000 mm is", k.what, k.own.V.MM())
		}
		*k.to = k.own.V
	}
	if k := s.Neck * 2; s.Diameter < k {
		return fmt.Errorf("a diameter of %.4g mm is less than that of the neck or end, %.4g mm", s.Diameter.MM(), k.MM())
	}
	return nil
}

// wall and room are in proportion to the wall's area and the volume.
func (s *Size) wall() float64 {
	return float64((s.across() + s.Diameter) * (s.Height + s.Diameter/2))
}
func (s *Size) room() float64 { return float64(s.across() * s.Diameter * s.Height) }

func (s *Size) across() q.Length {
	if s.Width > 0 {
		return s.Width
	}
	return s.Diameter
}

// knownMaterials refuses a container that names a material which the catalogue does not have.
func knownMaterials(c *job.Container) error {
	names := []string{c.Material}
	for _, w := range c.Walls {
		names = append(names, w.Material)
	}
	for _, k := range c.Crevices {
		names = append(names, k.Material, k.Inner)
	}
	for _, n := range names {
		if n == "" {
			continue
		}
		if _, err := MaterialNamed(n); err != nil {
			return err
		}
	}
	return nil
}

func note(text string) relation.Note {
	return relation.Note{Severity: relation.Info, Text: text, Value: nan, Limit: nan}
}

func orElse(a, b string) string {
	if a == "" {
		return b
	}
	return a
}
