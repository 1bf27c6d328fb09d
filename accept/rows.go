package accept

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
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
	Free    bool   // the state may be left out
	Example string // of the column "value"
	// What is below or above these is a slip of the pen or of the unit [SI]. Common practice, no source.
	Least, Most float64
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

// States of the air while rejects are counted and sound is read, and what a weighing is of.
const (
	AirOn      = "air on"
	AirOff     = "air off"
	HandDried  = "hand-dried"
	WholeSheet = "whole sheet" // confirms a mass that looks like that of one container
)

// Kinds lists what may be measured, in the order of the forms.
func Kinds() []Kind {
	return []Kind{
		{Water, "Water that one sheet took up in a zone, by blotting and weighing: the gain of the whole sheet; containers is how many shared it.", "zone", q.KindMass, false, []string{WholeSheet}, true, "520 mg", 0, 1},
		{Drop, "Largest drop in a zone of one container, from a photograph at a known scale.", "zone", q.KindLength, false, nil, false, "0.4 mm", 0, 0.05},
		{Rejects, "Containers rejected by a machine, with the air on, off, or after drying by hand.", "machine", q.None, true, []string{AirOn, AirOff, HandDried}, false, "", 0, 0},
		{Plenum, "Static pressure at the far end of an outlet's plenum.", "outlet", q.KindGauge, false, nil, false, "20 kPa", 0, 700e3},
		{Current, "Motor current of a blower.", "blower", q.KindCurrent, false, nil, false, "9.8 A", 0, 5e3},
		{Temperature, "Air temperature at a blower's discharge.", "blower", q.KindTemperature, false, nil, false, "52 degC", 230, 570},
		{Filter, "Pressure drop of a blower's inlet filter.", "blower", q.KindPressureDrop, false, nil, false, "310 Pa", 0, 50e3},
		{Sound, "A-weighted sound pressure level at 1 m; with the air off, that of the room.", "", q.KindSoundLevel, false, []string{AirOn, AirOff}, true, "83 dB", 20, 150},
		{Speed, "Belt speed.", "", q.KindSpeed, false, nil, false, "0.7 m/s", 0, 10},
		{SlotGap, "Slot gap of an air knife, by feeler, as left.", "outlet", q.KindLength, false, nil, false, "1.5 mm", 0, 0.05},
		{StandOff, "Outlet to wall along the air, as left.", "outlet", q.KindLength, false, nil, false, "40 mm", -0.5, 3},
		{Clearance, "Outlet to wall at the nearest point, as left.", "outlet", q.KindLength, false, nil, false, "38.5 mm", -0.5, 3},
		{Height, "Height of an outlet's middle above the belt, as left.", "outlet", q.KindLength, false, nil, false, "68 mm", -1, 5},
		{Tilt, "Slope of the outlet line, as left.", "outlet", q.KindAngle, false, nil, false, "22 deg", -math.Pi / 2, math.Pi / 2},
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
	Value      float64 // SI; of water the gain of the whole sheet; NaN for counts
	Containers int     // of water those that shared the sheet; 1 when the column is empty
	Failed     int
	Note       string
}

// A RowError is a row that cannot be read, with its place and what would be right.
type RowError struct {
	File         string
	Line, Column int
	Text         string   // one sentence of the table of words
	Details      []string // more of the same, each a sentence by itself that the table need not have; may be empty
}

func (e *RowError) Error() string {
	if len(e.Details) > 0 {
		return e.Place() + ": " + strings.Join(e.Details, "; ")
	}
	return e.Place() + ": " + e.Text
}

// Place writes "file:line:column".
func (e *RowError) Place() string { return fmt.Sprintf("%s:%d:%d", e.File, e.Line, e.Column) }

// named lists words of the file or names of the job, each in quotation marks: they are written so in every language.
func named(names []string) string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = strconv.Quote(n)
	}
	return strings.Join(out, ", ")
}

// most is the number of rows that one file may hold.
const most = 200_000

// Read reads a file of measurements: a line of column names, then one row each, parted by commas, semicolons or tabs.
// Rows of the form in which nothing is filled in are left out. Every row that can be read is returned beside the errors
// of those that cannot.
func Read(name string, in io.Reader) ([]Row, error) {
	text, separator, err := tableText(name, in)
	if err != nil {
		return nil, err
	}
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = separator
	r.FieldsPerRecord = -1
	r.Comment = '#'
	r.TrimLeadingSpace = separator != '\t'
	var rows []Row
	var wrong []error
	var order []int // column of the file for each of columns; -1 when left out
	var otherwise []int
	commas := commasDecide(text, separator)
	var other rune
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var p *csv.ParseError
			if errors.As(err, &p) {
				err = unreadable(name, p)
			}
			if wrong = append(wrong, err); p == nil { // no later line can be read either
				break
			}
			continue
		}
		if blank(record) {
			continue
		}
		if order == nil {
			if order, err = head(name, r, record); err != nil {
				return nil, err
			}
			wrong = append(wrong, commentedOut(name, text, separator, order)...)
			continue
		}
		if o, ok := mixed(record, separator); ok {
			line, _ := r.FieldPos(0)
			other, otherwise = o, append(otherwise, line)
			continue
		}
		row, filled, err := parse(name, r, record, order, commas)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		if !filled {
			continue
		}
		if rows = append(rows, row); len(rows) > most {
			return rows, errors.Join(append(wrong, fmt.Errorf("%s: more than %d rows; split the file", name, most))...)
		}
	}
	if order == nil && len(wrong) == 0 {
		wrong = append(wrong, errEmpty(name))
	}
	return rows, errors.Join(append(wrong, oneSentence(name, otherwise, separator, other))...)
}

// unreadable tells of a line that is no row.
func unreadable(name string, p *csv.ParseError) *RowError {
	e := &RowError{name, p.Line, p.Column, "the line is no row of a table", []string{"the line is no row of a table: " + p.Err.Error()}}
	if errors.Is(p.Err, csv.ErrBareQuote) {
		e.Text, e.Details = `a quotation mark stands within a cell; write "in" for inches, and quotation marks around whole cells only`, nil
	}
	return e
}

// head finds the columns by their names.
func head(name string, r *csv.Reader, record []string) ([]int, error) {
	order := make([]int, len(columns))
	for i := range order {
		order[i] = -1
	}
	for i, cell := range record {
		cell = strings.ToLower(strings.TrimSpace(cell))
		if cell == "" { // spreadsheets save empty columns too
			continue
		}
		k := slices.Index(columns, cell)
		line, column := r.FieldPos(i)
		if k < 0 {
			return nil, &RowError{name, line, column, fmt.Sprintf("there is no column %q; the columns are %s", cell, named(columns)), nil}
		}
		if order[k] >= 0 {
			return nil, &RowError{name, line, column, fmt.Sprintf("the column %q stands there twice", cell), nil}
		}
		order[k] = i
	}
	if order[0] < 0 {
		return nil, &RowError{name, 1, 1, `the column "what" is missing`, nil}
	}
	return order, nil
}

// decimals is the second half of a number that a comma cut in two, with its unit.
var decimals = regexp.MustCompile(`^\d+ ?[^\d\s]`)

// whole is the first half.
var whole = regexp.MustCompile(`^[-+]?\d+$`)

// manyContainers is more than any trial counts; a larger number is a mistake.
const manyContainers = 10_000_000

// parse reads one row, and reports whether anything is filled in. With commas, the comma is the decimal mark.
func parse(name string, r *csv.Reader, record []string, order []int, commas bool) (row Row, filled bool, err error) {
	cell := func(i int) string {
		if order[i] < 0 || order[i] >= len(record) {
			return ""
		}
		return strings.TrimSpace(record[order[i]])
	}
	bad := func(i int, format string, args ...any) *RowError {
		line, column := r.FieldPos(0)
		if order[i] >= 0 && order[i] < len(record) {
			line, column = r.FieldPos(order[i])
		}
		return &RowError{name, line, column, fmt.Sprintf(format, args...), nil}
	}
	line, _ := r.FieldPos(0)
	row = Row{Line: line, What: strings.ToLower(cell(0)), Format: cell(1), At: cell(2), State: stateNamed(cell(3)), Containers: 1, Note: cell(7), Value: nan}
	k, ok := kindNamed(row.What)
	if !ok {
		var names []string
		for _, k := range Kinds() {
			names = append(names, k.Name)
		}
		return row, false, bad(0, "%q is nothing that is measured; known are %s", cell(0), named(names))
	}
	if cell(4) == "" && cell(6) == "" && (k.Counts && cell(5) == "" || !k.Counts && order[4] >= 0 && cell(5) == "") {
		return row, false, nil // a row of the form that nobody filled in
	}
	if i := order[4]; r.Comma == ',' && i >= 0 && i+1 < len(record) && whole.MatchString(cell(4)) && decimals.MatchString(strings.TrimSpace(record[i+1])) {
		return row, false, bad(4, "a comma cuts %s,%s in two, since commas part the cells; write a point, put the value in quotation marks, or part the cells by semicolons", cell(4), strings.TrimSpace(record[i+1]))
	}
	if k.At != "" && row.At == "" {
		return row, false, bad(2, "%s needs the name of its %s", k.Name, k.At)
	}
	if wrong := stateOf(k, row.State); wrong != "" {
		return row, false, bad(3, wrong, cell(3), k.Name)
	}
	if text := cell(5); text != "" {
		n, err := count(text)
		if err != nil || n < 1 || n > manyContainers {
			return row, false, bad(5, "%q is no number of containers; give a whole number from 1", text)
		}
		row.Containers = n
	} else if k.Counts {
		return row, false, bad(5, "%s needs the number of containers", k.Name)
	} else if k.Name == Water {
		return row, false, bad(5, "water needs the number of containers that shared the sheet; 1 where each had its own")
	}
	if k.Counts {
		n, err := count(cell(6))
		if err != nil || n < 0 || n > row.Containers {
			return row, false, bad(6, "%q is no number of failures among %d containers", cell(6), row.Containers)
		}
		row.Failed = n
		return row, true, nil
	}
	if k.Name == Drop && row.Containers > 1 {
		return row, false, bad(5, "a drop is the largest of one container; write a row for each of the %d", row.Containers)
	}
	if commas && thousands.MatchString(cell(4)) {
		return row, false, bad(4, "%q is one number where points group thousands and another where they are decimal marks; write it without a point", cell(4))
	}
	v, err := k.Unit.Parse(cell(4))
	if err != nil {
		unread := bad(4, "%q is no value of %s with its unit, such as %q", cell(4), k.Name, k.Example)
		var p *q.ParseError
		if errors.As(err, &p) {
			unread.Details = []string{p.Text, p.Want}
		}
		return row, false, unread
	}
	switch {
	case k.Name == Water && v < 0 && v >= -weighing:
		return row, false, bad(4, "%s is below nothing; check the sign, or write 0 mg where a dry sheet came out a little lighter", cell(4))
	case v < k.Least && k.Least == 0:
		return row, false, bad(4, "%s is below nothing; check the sign", cell(4))
	case v < k.Least:
		return row, false, bad(4, "%s is less than %s can be; check the sign and the unit", cell(4), k.Name)
	case v > k.Most:
		return row, false, bad(4, "%s is more than %s can be; check the unit", cell(4), k.Name)
	}
	row.Value = v
	return row, true, nil
}

// grouped is a whole number whose thousands are set off by blanks.
var grouped = regexp.MustCompile(`^\d{1,3}( \d{3})+$`)

// count reads a whole number.
func count(text string) (int, error) {
	if grouped.MatchString(text) {
		text = strings.ReplaceAll(text, " ", "")
	}
	return strconv.Atoi(text)
}

// stateNamed is the state that a text means, hyphen or not.
func stateNamed(text string) string {
	loose := func(s string) string { return strings.ReplaceAll(strings.ToLower(s), "-", " ") }
	for _, s := range []string{AirOn, AirOff, HandDried, WholeSheet} {
		if loose(s) == loose(text) {
			return s
		}
	}
	return strings.ToLower(text)
}

// stateOf says what is wrong with a state of a kind, with places for both; "" where nothing is. Kinds without states let
// remarks pass, but none that says that the air was off.
func stateOf(k Kind, state string) (wrong string) {
	states := strings.ReplaceAll(named(k.States), "%", "%%")
	switch {
	case slices.Contains(k.States, state), state == "" && (k.Free || len(k.States) == 0):
		return ""
	case len(k.States) > 0 && k.Free:
		return "%q is no state of %s; say " + states + ", or nothing"
	case len(k.States) > 0:
		return "%q is no state of %s; say " + states
	case state == AirOff || state == HandDried:
		return "%q is no state of %s: it is measured with the air on"
	}
	return ""
}
