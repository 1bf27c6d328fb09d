package drying

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// What moves nothing on the wall need not send the wall through the air again: the results are the same, bit for bit,
// with a machine between two passes too, and whatever the trial before left behind.
func TestLawAWallPutBackIsAsGoodAsOneBlownAgain(t *testing.T) {
	p := canCase{speed: 1, pressure: 20e3, cell: 4e-3}.problem(t)
	p.Passes = append(p.Passes, p.Passes[0])
	p.Machines = []Machine{{Kind: "coder", After: 0, Travel: 1}, {Kind: "packer", After: 1, Travel: 3}}
	seen, err := look(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	r := newRun(p, seen)
	if err := r.all(t.Context()); err != nil {
		t.Fatal(err)
	}
	trials := newTrials(p)
	r.vary(nil, 0, trials)
	if len(trials.walls) != 1 {
		t.Fatalf("%d walls were kept, want that of the pass before the first results", len(trials.walls))
	}
	beside := 0
	for _, d := range deviations() {
		if !d.beside {
			r.vary(&d, 1, trials)
			continue
		}
		beside++
		for _, end := range []int{-1, 1} {
			back := r.vary(&d, end, trials)
			blown := d
			blown.beside = false
			if diff := cmp.Diff(r.vary(&blown, end, newTrials(p)), back, cmp.AllowUnexported(figures{})); diff != "" {
				t.Errorf("%s, %d: %s", d.name, end, diff)
			}
		}
	}
	if beside != 3 {
		t.Errorf("%d deviations leave the wall alone, want 3", beside)
	}
}
