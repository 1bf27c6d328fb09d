package leste

import (
	"context"
	"math"
	"testing"

	"leste/drying"
)

// Following only the cases that may decide on the fine grid finds what following all of them does: the verdict, the
// case that decides, and what is told of every requirement. Where two cases lie within the scatter between the grids
// the other one may be taken.
func TestLawScreenFindsWhatFollowingEveryCaseFinds(t *testing.T) {
	for _, name := range []string{"can-330-sidewall", "cold-product-humid-room"} {
		t.Run(name, func(t *testing.T) {
			screenedAsFollowed(t, name, 3e-3)
		})
	}
}

// screenedAsFollowed holds the usual way of choosing cases against following every case.
func screenedAsFollowed(t *testing.T, name string, cell float64) {
	t.Helper()
	o := Options{Method: "transport", Cell: cell, NoRanking: true, Workers: 2}
	got, err := Assess(context.Background(), exampleJob(t, name), o)
	if err != nil {
		t.Fatal(err)
	}
	o.everyCase = true
	want, err := Assess(context.Background(), exampleJob(t, name), o)
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, a, b, by float64) {
		if math.Abs(a-b) > by*math.Abs(b) {
			t.Errorf("%s: %g screened, %g with every case followed", what, a, b)
		}
	}
	if got.Verdict != want.Verdict {
		t.Errorf("verdict %q screened, %q with every case followed", got.Verdict, want.Verdict)
	}
	for i := range want.Formats {
		for z := range want.Formats[i].Zones {
			for k, r := range want.Formats[i].Zones[z].Requirements {
				g := got.Formats[i].Zones[z].Requirements[k]
				if g.Verdict != r.Verdict {
					t.Errorf("%s: %q in %s screened, %q in %s with every case followed", r.Machine, g.Verdict, g.Case, r.Verdict, r.Case)
				}
				by := scatter
				switch {
				case r.Reserve < 0.1 || r.Reserve > farFromLimit:
					by = 4 * scatter // ten times too much or a tenth of it either way: how much worse the worst is changes nothing
				case r.Quantity == "drop":
					by = 2 * scatter // the largest drop follows from few: it scatters more than their water
				}
				near(r.Machine+": reserve", g.Reserve, r.Reserve, by)
			}
		}
	}
	for i, c := range want.Cases {
		near(c.Name+": water left", got.Cases[i].Left.Likely, c.Left.Likely, untold-1)
	}
}

// A case that the coarse grid finds harmless by a little is followed on the fine one; one far off is not; one whose
// verdict would be worse is, however much it has in reserve.
func TestLawScreenFollowsWhatMayDecide(t *testing.T) {
	at := func(reserve float64, v Verdict) judged {
		return judged{verdict: v, reserve: reserve, machines: [][]drying.Judged{{{Reserve: reserve, Verdict: string(v)}}}}
	}
	all := []judged{at(1.5, Met), at(1.51, Met), at(1.7, Met), at(1.9, Undecided), at(20, Met)}
	for i, want := range []bool{true, true, false, true, false} {
		s := screen{known: make([]bool, len(all))}
		s.known[0] = i > 0
		if got := s.mayDecide(all, i); got != want {
			t.Errorf("case %d with reserve %g, %s: may decide %t, want %t", i, all[i].reserve, all[i].verdict, got, want)
		}
	}
	dry := []judged{at(20, Met), at(30, Met)}
	for i := range dry {
		if (&screen{known: make([]bool, 2)}).mayDecide(dry, i) {
			t.Errorf("case %d is far from any limit and may decide", i)
		}
	}
}
