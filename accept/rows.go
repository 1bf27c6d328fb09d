package accept

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	q "leste/quantity"
)

// A Kind is something that is measured.
type Kind struct {
	Name    string // in the column "what"
	Doc     string // one sentence for the form
	At      string // what the column "at" holds: "zone", "outlet", "blower", "machine", or "" for nothing
	Unit    q.Kind // of the column "value"; q.None for counts and words
	Counts  bool   // the columns "containers" and "failed" are filled
	States  []string
	Example string // of the column "value"
}

// Names of what is measured.
const (
	Water       = "water"
	Drop        = "drop"
	Rejects     = "rejects"
	Plenum      = "plenum"
	Current     = "current"
	Temperature = "temperature"
	Filter      = "filter"
	Sound       = "sound"
	Speed       = "speed"
	SlotGap     = "slot gap"
	StandOff    = "stand-off"
	Clearance   = "clearance"
	Height      = "height"
	Tilt        = "tilt"
)

// States of the air while rejects are counted.
const (
	AirOn     = "air on"
	AirOff    = "air off"
	HandDried = "hand-dried"
)

// Kinds lists what may be measured, in the order of the forms.
func Kinds() []Kind {
	return []Kind{
		{Water, "Water of one container in a zone, by blotting and weighing; containers is how many shared a sheet.", "zone", q.KindMass, false, nil, "52 mg"},
		{Drop, "Largest drop in a zone of one container, from a photograph at a known scale.", "zone", q.KindLength, false, nil, "0.4 mm"},
		{Rejects, "Containers rejected by a machine, with the air on, off, or after drying by hand.", "machine", q.None, true, []string{AirOn, AirOff, HandDried}, ""},
		{Plenum, "Static pressure at the far end of an outlet's plenum.", "outlet", q.KindGauge, false, nil, "20 kPa"},
		{Current, "Motor current of a blower.", "blower", q.KindCurrent, false, nil, "9.8 A"},
		{Temperature, "Air temperature at a blower's discharge.", "blower", q.KindTemperature, false, nil, "52 degC"},
		{Filter, "Pressure drop of a blower's inlet filter.", "blower", q.KindPressureDrop, false, nil, "310 Pa"},
		{Sound, "A-weighted sound pressure level at 1 m.", "", q.KindSoundLevel, false, nil, "83 dB"},
		{Speed, "Belt speed.", "", q.KindSpeed, false, nil, "0.7 m/s"},
		{SlotGap, "Slot gap of an air knife, by feeler, as left.", "outlet", q.KindLength, false, nil, "1.5 mm"},
		{StandOff, "Outlet to wall along the air, as left.", "outlet", q.KindLength, false, nil, "40 mm"},
		{Clearance, "Outlet to wall at the nearest point, as left.", "outlet", q.KindLength, false, nil, "38.5 mm"},
		{Height, "Height of an outlet's middle above the belt, as left.", "outlet", q.KindLength, false, nil, "68 mm"},
		{Tilt, "Slope of the outlet line, as left.", "outlet", q.KindAngle, false, nil, "22 deg"},
	}
}

func kindNamed(name string) (Kind, bool) {
	for _, k := range Kinds() {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// Columns are the columns of the file, in order.
var columns = []string{"what", "format", "at", "state", "value", "containers", "failed", "note"}

// Columns lists the columns of the file of measurements.
func Columns() []string { return slices.Clone(columns) }

// A Row is one measurement.
type Row struct {
	Line       int
	What       string
	Format, At string
	State      string
	Value      float64 // SI; NaN for counts
	Containers int     // 1 when the column is empty
	Failed     int
	Note       string
}

// A RowError is a row that cannot be read, with its place and what would be right.
type RowError struct {
	File         string
	Line, Column int
	Text         string
}

func (e *RowError) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Column, e.Text)
}

// most is the number of rows that one file may hold.
const most = 200_000

// Read reads a file of measurements: a line of column names, then one row each. Every row that can be read
// is returned beside the errors of those that cannot.
func Read(name string, in io.Reader) ([]Row, error) {
	r := csv.NewReader(in)
	r.FieldsPerRecord = -1
	r.Comment = '#'
	r.TrimLeadingSpace = true
	var rows []Row
	var wrong []error
	var order []int // column of the file for each of columns; -1 when left out
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var p *csv.ParseError
			if errors.As(err, &p) {
				err = &RowError{name, p.Line, p.Column, "the line is no row of a table: " + p.Err.Error()}
			}
			wrong = append(wrong, err)
			break
		}
		if order == nil {
			if order, err = head(name, r, record); err != nil {
				return nil, err
			}
			continue
		}
		row, err := parse(name, r, record, order)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		if rows = append(rows, row); len(rows) > most {
			return rows, errors.Join(append(wrong, fmt.Errorf("%s: more than %d rows; split the file", name, most))...)
		}
	}
	if order == nil && len(wrong) == 0 {
		wrong = append(wrong, fmt.Errorf("%s: the file is empty; its first line names the columns %s", name, strings.Join(columns, ", ")))
	}
	return rows, errors.Join(wrong...)
}

// head finds the columns by their names.
func head(name string, r *csv.Reader, record []string) ([]int, error) {
	order := make([]int, len(columns))
	for i := range order {
		order[i] = -1
	}
	for i, cell := range record {
		cell = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(cell, "\ufeff")))
		k := slices.Index(columns, cell)
		if k < 0 {
			line, column := r.FieldPos(i)
			return nil, &RowError{name, line, column, fmt.Sprintf("there is no column %q; the columns are %s", cell, strings.Join(columns, ", "))}
		}
		order[k] = i
	}
	if order[0] < 0 {
		return nil, &RowError{name, 1, 1, `the column "what" is missing`}
	}
	return order, nil
}

// parse reads one row.
func parse(name string, r *csv.Reader, record []string, order []int) (Row, error) {
	cell := func(i int) string {
		if order[i] < 0 || order[i] >= len(record) {
			return ""
		}
		return strings.TrimSpace(record[order[i]])
	}
	bad := func(i int, format string, args ...any) error {
		line, column := r.FieldPos(0)
		if order[i] >= 0 && order[i] < len(record) {
			line, column = r.FieldPos(order[i])
		}
		return &RowError{name, line, column, fmt.Sprintf(format, args...)}
	}
	line, _ := r.FieldPos(0)
	row := Row{Line: line, What: strings.ToLower(cell(0)), Format: cell(1), At: cell(2), State: strings.ToLower(cell(3)), Containers: 1, Note: cell(7), Value: nan}
	k, ok := kindNamed(row.What)
	if !ok {
		var names []string
		for _, k := range Kinds() {
			names = append(names, k.Name)
		}
		return row, bad(0, "%q is nothing that is measured; known are %s", cell(0), strings.Join(names, ", "))
	}
	if k.At != "" && row.At == "" {
		return row, bad(2, "%s needs the name of its %s", k.Name, k.At)
	}
	if len(k.States) > 0 && !slices.Contains(k.States, row.State) {
		return row, bad(3, "%q is no state of %s; say %s", cell(3), k.Name, strings.Join(k.States, ", "))
	}
	if text := cell(5); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			return row, bad(5, "%q is no number of containers; give a whole number from 1", text)
		}
		row.Containers = n
	} else if k.Counts {
		return row, bad(5, "%s needs the number of containers", k.Name)
	}
	if k.Counts {
		n, err := strconv.Atoi(cell(6))
		if err != nil || n < 0 || n > row.Containers {
			return row, bad(6, "%q is no number of failures among %d containers", cell(6), row.Containers)
		}
		row.Failed = n
		return row, nil
	}
	v, err := k.Unit.Parse(cell(4))
	if err != nil {
		return row, bad(4, "%v", err)
	}
	if v < 0 && k.Unit != q.KindAngle && k.Unit != q.KindLength {
		return row, bad(4, "%s is below nothing; check the sign", cell(4))
	}
	row.Value = v
	return row, nil
}
