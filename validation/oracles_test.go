package validation

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// oracle is a table of reference values, by column; see oracles/README.md for what wrote it.
type oracle struct {
	name  string
	index map[string]int
	rows  [][]float64
}

func load(t *testing.T, name string) oracle {
	t.Helper()
	f, err := os.Open(filepath.Join("oracles", "data", name+".csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	o := oracle{name: name, index: map[string]int{}}
	for i, column := range lines[0] {
		o.index[column] = i
	}
	for _, line := range lines[1:] {
		row := make([]float64, len(line))
		for i, cell := range line {
			if row[i], err = strconv.ParseFloat(cell, 64); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		o.rows = append(o.rows, row)
	}
	if len(o.rows) < 10 {
		t.Fatalf("%s: %d rows; it was cut short", name, len(o.rows))
	}
	return o
}

// each runs a check on every row; the argument reads a column.
func (o oracle) each(t *testing.T, check func(row string, at func(column string) float64)) {
	t.Helper()
	for i, row := range o.rows {
		check(fmt.Sprintf("%s row %d", o.name, i+2), func(column string) float64 {
			k, ok := o.index[column]
			if !ok {
				t.Fatalf("%s has no column %s", o.name, column)
			}
			return row[k]
		})
	}
}

// errors keeps the greatest deviation of one quantity and fails where it is more than its tolerance.
type errors struct {
	t     *testing.T
	worst map[string]float64
}

func newErrors(t *testing.T) *errors {
	t.Helper()
	e := &errors{t: t, worst: map[string]float64{}}
	t.Cleanup(func() {
		for what, x := range e.worst {
			t.Logf("%s: at most %.2g off", what, x)
		}
	})
	return e
}

// share compares by the share of the reference, absolute by its unit.
func (e *errors) share(row, what string, got, want, tolerance float64) {
	e.t.Helper()
	e.note(row, what, got, want, math.Abs(got-want)/math.Abs(want), tolerance)
}

func (e *errors) absolute(row, what string, got, want, tolerance float64) {
	e.t.Helper()
	e.note(row, what, got, want, math.Abs(got-want), tolerance)
}

func (e *errors) note(row, what string, got, want, off, tolerance float64) {
	e.t.Helper()
	if !(off <= tolerance) { // NaN too
		e.t.Errorf("%s: %s is %.8g, the reference %.8g; %.2g off where %.2g are allowed", row, what, got, want, off, tolerance)
	}
	e.worst[what] = max(e.worst[what], off)
}
