package job

import (
	"fmt"

	"go.yaml.in/yaml/v4"

	q "leste/quantity"
)

func (c *checker) formats() {
	formats := c.job.Formats
	c.names("/formats", len(formats), "format", func(i int) string { return formats[i].Name })
	total := 0.0
	for i := range formats {
		f, path := &formats[i], fmt.Sprintf("/formats/%d", i)
		total += float64(f.Share.V)
		c.moves(path, f.Speed, f.Rate, f.Pitch, f.Gap, f.Container.Extent())
		if n := c.file.node(path + "/container"); n != nil && n.Kind == yaml.MappingNode {
			c.container(&f.Container, path+"/container")
		}
	}
	const rounding = 0.005
	if total > 1+rounding {
		c.say("/formats", CodeConflict, fmt.Sprintf("the shares of the formats add up to %s %%", q.Significant(total*100, 3)), "make them 100 % or less")
	}
}

func (c *checker) container(b *Container, path string) {
	family, profile := c.given(path, "family"), c.given(path, "profile")
	switch {
	case family && profile:
		c.say(path+"/family", CodeConflict, "the container has a family and a profile", "keep one of them")
	case !family && !profile:
		c.say(path, CodeMissing, "nothing says what container this is", "add \"family\", e.g. can, or \"profile\"")
	}
	c.section(b, path)
	body := c.outline(b, path)
	c.names(path+"/crevices", len(b.Crevices), "crevice", func(i int) string { return b.Crevices[i].Name })
	c.names(path+"/pools", len(b.Pools), "pool", func(i int) string { return b.Pools[i].Name })
	for i := range b.Crevices {
		c.crevice(&b.Crevices[i], fmt.Sprintf("%s/crevices/%d", path, i), body)
	}
	for i := range b.Pools {
		c.pool(&b.Pools[i], fmt.Sprintf("%s/pools/%d", path, i), body)
	}
	for i := range b.Walls {
		w, at := &b.Walls[i], fmt.Sprintf("%s/zone_materials/%d", path, i)
		if profile {
			c.refer(at+"/zone", "zone of this container", w.Zone, b.zones())
		}
		switch {
		case w.Advancing.Known && w.Receding.Known && w.Receding.V > w.Advancing.V:
			c.say(at+"/receding", CodeConflict, "the receding contact angle is larger than the advancing one", "exchange the two")
		case !c.given(at, "material") && !c.given(at, "advancing") && !c.given(at, "receding"):
			c.say(at, CodeMissing, "this entry says nothing about the zone", "add material, or advancing and receding")
		}
	}
}

func (c *checker) section(b *Container, path string) {
	s := b.Section
	if s == nil {
		return
	}
	path += "/section"
	switch s.Shape {
	case "round":
		if s.Width.Known && s.Depth.Known && s.Width.V != s.Depth.V {
			c.say(path+"/depth", CodeConflict, "a round section is as wide as it is deep", "write \"shape: oval\", or leave width and depth out")
		}
		if s.Corner.Known {
			c.say(path+"/corner", CodeConflict, "a round section has no corners", "leave corner out, or write \"shape: rounded rectangle\"")
		}
	case "oval", "rounded rectangle":
		for _, key := range []string{"width", "depth"} {
			if !c.given(path, key) {
				c.say(path+"/"+key, CodeMissing, fmt.Sprintf("the section has no %s", key), fmt.Sprintf("add \"%s: 80 mm\", with your value", key))
			}
		}
		if s.Corner.Known && s.Width.Known && s.Depth.Known && s.Corner.V > min(s.Width.V, s.Depth.V)/2 {
			c.say(path+"/corner", CodeConflict, "the corner radius is more than half the section", "give a smaller one")
		}
	}
}

// body is what the file says about the size of a container; zero values are not known.
type body struct {
	points         []outlinePoint
	radius, height float64
}

// outline checks the profile and returns what is known of the body's size.
func (c *checker) outline(b *Container, path string) body {
	var known body
	if b.Diameter.Known {
		known.radius = float64(b.Diameter.V) / 2
	}
	if b.Height.Known {
		known.height = float64(b.Height.V)
	}
	if !c.given(path, "profile") {
		return known
	}
	faults := checkOutline(b.Profile)
	for _, f := range faults {
		at := path + "/profile"
		if f.step >= 0 {
			at = fmt.Sprintf("%s/%d", at, f.step)
		}
		if f.key != "" {
			at += "/" + f.key
		}
		c.add(at, &f.fault)
	}
	if len(faults) > 0 || len(b.Profile) < fewestSteps {
		return known
	}
	known.points = flatten(b.Profile)
	for _, p := range known.points {
		known.radius, known.height = max(known.radius, p.r), max(known.height, p.z)
	}
	return known
}

// nearWall is how far from the drawn outline a crevice's mouth may lie; fillets and rounding explain it.
const nearWall = 5e-3 // m

func (c *checker) crevice(v *Crevice, path string, b body) {
	height, radius := float64(v.Height), float64(v.Radius)
	switch {
	case b.height > 0 && height > b.height:
		c.say(path+"/height", CodeConflict, fmt.Sprintf("the crevice lies above the container, which is %s high", mm(b.height)), "give the height of its mouth above the belt")
	case b.radius > 0 && radius > b.radius+nearWall:
		c.say(path+"/radius", CodeConflict, fmt.Sprintf("the crevice lies outside the container, whose radius is %s", mm(b.radius)), "give the radius of its mouth")
	case b.points != nil && c.holds(path, "height") && c.holds(path, "radius"):
		if off := offOutline(b.points, radius, height); off > nearWall {
			c.say(path, CodeConflict, fmt.Sprintf("the crevice's mouth lies %s off the outline", mm(off)), "give radius and height of its mouth on the wall")
		}
	}
	switch {
	case v.Exit == "vents" && v.Vents < 1 && !c.given(path, "vents"):
		c.say(path+"/exit", CodeMissing, "the air leaves by vents, and nothing says how many", "add \"vents: 8\", with your value")
	case v.Exit != "vents" && v.Vents > 0:
		c.say(path+"/vents", CodeConflict, "there are vents, and yet the air does not leave by them", "write \"exit: vents\", or leave vents out")
	}
}

func (c *checker) pool(p *Pool, path string, b body) {
	switch {
	case b.height > 0 && float64(p.Height) > b.height:
		c.say(path+"/height", CodeConflict, fmt.Sprintf("the pool lies above the container, which is %s high", mm(b.height)), "give the height of its floor above the belt")
	case b.radius > 0 && float64(p.Outer) > b.radius+micrometre:
		c.say(path+"/outer_radius", CodeConflict, fmt.Sprintf("the pool reaches outside the container, whose radius is %s", mm(b.radius)), "give a smaller radius")
	}
	if c.holds(path, "outer_radius") && p.Inner >= p.Outer && p.Outer > 0 {
		c.say(path+"/inner_radius", CodeConflict, "the pool's inner radius is not below its outer one", "exchange the two, or leave the inner one out for a dish")
	}
}
