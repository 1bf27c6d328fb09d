package design

import "testing"

// The search starts from stations that fit: what the rules of thumb give may stand in the belt, and is moved to where it
// does not. On the three sizes of can what they give fits for one concept of nine.
func TestLawTheSearchStartsFromWhatFits(t *testing.T) {
	for _, name := range []string{"cans-three-sizes", "can-330-sidewall", "glass-330-shoulder"} {
		s, err := newSearch(example(t, name), Options{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		for _, j := range s.judges {
			c := j.concept
			for n, x := range c.stances() {
				before := c.arrange(x)
				moved := c.fitted(x, -1)
				after := c.arrange(moved)
				if was, is := c.ground.misfit(&before), c.ground.misfit(&after); is > was || is > 0 {
					t.Errorf("%s, %s, stance %d: misfit %.3f, was %.3f", name, c.name, n, is, was)
				}
			}
		}
	}
}

// A coordinate that is to stay does stay, and what fits is left as it is.
func TestLawFittingLeavesWhatItIsToldTo(t *testing.T) {
	s, err := newSearch(example(t, "cans-three-sizes"), Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, j := range s.judges {
		c := j.concept
		for _, k := range c.active(false) {
			x := c.rule()
			x[k] = 1
			moved := c.fitted(x, k)
			if moved[k] != x[k] {
				t.Errorf("%s: %s was moved", c.name, c.variables[k].Name)
			}
			if again := c.fitted(moved, k); c.differ(again, moved) {
				if a := c.arrange(moved); c.ground.misfit(&a) == 0 {
					t.Errorf("%s: what fits was moved", c.name)
				}
			}
		}
	}
}
