package job

import (
	"fmt"
	"slices"
)

// air checks the names and lists of an air supply; its physics is judged where it is solved.
func (c *checker) air(path string, a *AirSupply, stations []Station) {
	c.names(path+"/blowers", len(a.Blowers), "blower", func(i int) string { return a.Blowers[i].Name })
	var ends []string // places that need no second branch
	for i := range a.Blowers {
		b, at := &a.Blowers[i], fmt.Sprintf("%s/blowers/%d", path, i)
		ends = append(ends, b.Name)
		if !c.given(at, "part") && !c.given(at, "curve") {
			c.say(at, CodeMissing, "nothing says what this blower delivers", "add \"part\" of the catalogue, or \"curve\"")
		}
		if b.Curve != nil {
			c.curve(b.Curve, at+"/curve")
		}
	}
	for i := range stations {
		for k := range stations[i].Outlets {
			ends = append(ends, stations[i].Outlets[k].Name)
		}
	}
	c.branches(path, a, ends)
	if f := a.Filter; f != nil && len(f.Points) == 1 {
		c.say(path+"/filter/points", CodeMissing, "one point makes no filter curve", "give two or more points, or clean with flow")
	}
}

func (c *checker) curve(v *Curve, path string) {
	const fewest = 3
	if n := len(v.Points); n < fewest && c.given(path, "points") {
		c.say(path+"/points", CodeMissing, fmt.Sprintf("the curve has %d points", n), fmt.Sprintf("give at least %d", fewest))
	}
	for i := 1; i < len(v.Points); i++ {
		if at := fmt.Sprintf("%s/points/%d", path, i); v.Points[i].Flow <= v.Points[i-1].Flow && c.holds(at, "flow") {
			c.say(at+"/flow", CodeConflict, "the flow does not rise from point to point", "give the points in the order of rising flow")
		}
	}
}

// branches checks that every branch leads from somewhere to somewhere.
func (c *checker) branches(path string, a *AirSupply, ends []string) {
	times := map[string]int{}
	var places, names []string
	for i := range a.Branches {
		b := &a.Branches[i]
		times[b.From]++
		times[b.To]++
		places = append(places, b.From, b.To)
		if b.Name != "" {
			names = append(names, b.Name)
		}
	}
	c.names(path+"/branches", len(a.Branches), "branch", func(i int) string { return a.Branches[i].Name })
	known := slices.Concat(ends, places)
	for i := range a.Branches {
		b, at := &a.Branches[i], fmt.Sprintf("%s/branches/%d", path, i)
		if b.From == b.To && b.From != "" {
			c.say(at+"/to", CodeConflict, fmt.Sprintf("the branch leads from %q to itself", b.From), "name the place it ends at")
			continue
		}
		for _, end := range []struct{ key, name string }{{"from", b.From}, {"to", b.To}} {
			if end.name != "" && !c.file.gaps && times[end.name] < 2 && !slices.Contains(ends, end.name) {
				want := "name a blower, an outlet, or a place where another branch goes on"
				if near := nearest(end.name, ends); near != "" {
					want = fmt.Sprintf("write %q", near)
				}
				c.say(at+"/"+end.key, CodeReference, fmt.Sprintf("nothing goes on at %q", end.name), want)
			}
		}
	}
	for i := range a.Junctions {
		j, at := &a.Junctions[i], fmt.Sprintf("%s/junctions/%d", path, i)
		c.refer(at+"/at", "place of the branches", j.At, unique(places))
		c.refer(at+"/side", "branch", j.Side, names)
	}
	for i := range a.Leakage {
		c.refer(fmt.Sprintf("%s/leakage/%d/at", path, i), "place of the air supply", a.Leakage[i].At, unique(known))
	}
}

func unique(names []string) []string {
	names = slices.Clone(names)
	slices.Sort(names)
	return slices.Compact(names)
}
