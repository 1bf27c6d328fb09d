package catalogue

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"leste/job"
	q "leste/quantity"
)

// A PartError is what is wrong with one cell of a parts file.
type PartError struct {
	File   string
	Line   int
	Column string // name of the column, "" for the whole line
	Text   string
}

func (e *PartError) Error() string {
	if e.Column == "" {
		return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Text)
	}
	return fmt.Sprintf("%s:%d: %s: %s", e.File, e.Line, e.Column, e.Text)
}

// ReadParts adds a parts file to a catalogue. The name decides what it holds by its end: blowers.csv (one line
// for each point of a curve, the part's own cells on its first line), filters.csv, hoses.csv, or .yaml with
// lists of the same names and keys (the points of a curve under points). Cells are numbers with their units.
// Every wrong cell gives one *PartError; parts without errors are added.
func ReadParts(name string, text []byte, into *Parts) []error {
	if strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml") {
		return readYAML(name, text, into)
	}
	for _, l := range lists() {
		if strings.HasSuffix(name, l.name+".csv") {
			return l.read(csvSheet(name, text, l), into)
		}
	}
	return []error{&PartError{File: name, Line: 1, Text: "the file's name must end in blowers.csv, filters.csv, hoses.csv or .yaml"}}
}

// list is one kind of part: its columns, those it cannot do without, and its reader.
type list struct {
	name    string
	columns []string
	needed  []string
	read    func(s *sheet, into *Parts) []error
}

func lists() []list {
	return []list{
		{"blowers", blowerColumns, []string{"part", "kind", "flow", "pressure"}, readBlowers},
		{"filters", []string{"part", "class", "flow", "clean", "change_out", "linear_share", "price", "note"}, []string{"part", "flow", "clean"}, readFilters},
		{"hoses", []string{"part", "bore", "roughness", "rated_to", "rated_for", "least_radius", "price", "note"}, []string{"part", "bore"}, readHoses},
	}
}

// sheet is the lines of a list and what is wrong with them.
type sheet struct {
	file string
	rows []sheetRow
	at   int // of the present row, from 1
	errs []error
}

// sheetRow is one line: its cells by column.
type sheetRow struct {
	line  int
	cells map[string]string
}

func (s *sheet) fail(column, format string, args ...any) {
	line := 1
	if n := min(s.at, len(s.rows)); n > 0 { // past the end: the last row
		line = s.rows[n-1].line
	}
	s.failAt(line, column, format, args...)
}

func (s *sheet) failAt(line int, column, format string, args ...any) {
	s.errs = append(s.errs, &PartError{s.file, line, column, fmt.Sprintf(format, args...)})
}

// next moves to the next row.
func (s *sheet) next() bool {
	s.at++
	return s.at <= len(s.rows)
}

// csvSheet reads a whole file; wrong headings leave no rows.
func csvSheet(file string, text []byte, l list) *sheet {
	s := &sheet{file: file}
	reader := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	reader.TrimLeadingSpace = true
	head, err := reader.Read()
	if err != nil {
		s.failAt(1, "", "the file has no heading line")
		return s
	}
	if !slices.ContainsFunc(head, func(c string) bool { return slices.Contains(l.columns, c) }) {
		s.failAt(1, "", "this is no list of %s: none of its columns is one of %s", l.name, strings.Join(l.columns, ", "))
		return s
	}
	for _, c := range head {
		if !slices.Contains(l.columns, c) {
			s.failAt(1, c, "unknown column; known ones are %s", strings.Join(l.columns, ", "))
		}
	}
	for _, c := range l.needed {
		if !slices.Contains(head, c) {
			s.failAt(1, c, "this column is missing")
		}
	}
	if len(s.errs) > 0 {
		return s
	}
	for {
		cells, err := reader.Read()
		if errors.Is(err, io.EOF) {
			return s
		}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			s.failAt(wrong.Line, "", "%v", wrong.Err)
			if !errors.Is(err, csv.ErrFieldCount) {
				return s
			}
			continue
		}
		line, _ := reader.FieldPos(0)
		row := sheetRow{line, map[string]string{}}
		for i, c := range head {
			row.cells[c] = cells[i]
		}
		s.rows = append(s.rows, row)
	}
}

func (s *sheet) text(column string) string { return strings.TrimSpace(s.rows[s.at-1].cells[column]) }

// value reads a quantity; an empty cell is not known.
func value[T q.Quantity](s *sheet, column string) q.Maybe[T] {
	text := s.text(column)
	if text == "" {
		return q.Maybe[T]{}
	}
	v, err := q.Parse[T](text)
	if err != nil {
		s.fail(column, "%v", err)
		return q.Maybe[T]{}
	}
	return q.Known(v)
}

func (s *sheet) number(column string) q.Maybe[float64] {
	text := s.text(column)
	if text == "" {
		return q.Maybe[float64]{}
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || v != v || v < 0 || v > 1e12 {
		s.fail(column, "%q is not an amount of at least zero", text)
		return q.Maybe[float64]{}
	}
	return q.Known(v)
}

var blowerColumns = []string{
	"part", "kind", "drive", "outlet", "rated_speed", "max_speed", "sound", "price", "motor", "class", "poles",
	"pressure_is", "efficiency_is", "power_is", "min_flow", "inlet_temperature", "inlet_pressure", "inlet_humidity",
	"flow", "pressure", "power", "efficiency", "note",
}

func readBlowers(s *sheet, into *Parts) []error {
	var part *BlowerPart
	before := len(s.errs)
	finish := func() {
		if part != nil && len(s.errs) == before {
			if n := len(part.Blower.Curve.Points); n < 3 {
				s.fail("flow", "part %q has %d points; a curve needs at least three", part.Part, n)
			} else {
				into.Blowers = append(into.Blowers, *part)
			}
		}
		part, before = nil, len(s.errs)
	}
	for s.next() {
		name := s.text("part")
		if name == "" {
			s.fail("part", "every line names its part")
			continue
		}
		if part == nil || part.Part != name {
			finish()
			if slices.ContainsFunc(into.Blowers, func(b BlowerPart) bool { return b.Part == name }) {
				s.fail("part", "part %q occurs twice", name)
			}
			part = newBlowerPart(s, name)
		}
		flow, pressure := value[q.VolumeFlow](s, "flow"), value[q.PressureDrop](s, "pressure")
		point := job.CurvePoint{
			Flow: flow.V, Pressure: pressure.V, Power: value[q.Power](s, "power"), Efficiency: value[q.Ratio](s, "efficiency"),
		}
		switch points := part.Blower.Curve.Points; {
		case !flow.Known:
			s.fail("flow", "give the flow of the point")
		case !pressure.Known:
			s.fail("pressure", "give the pressure of the point")
		case !point.Power.Known && !point.Efficiency.Known:
			s.fail("power", "give the power or the efficiency of the point")
		case len(points) > 0 && point.Flow <= points[len(points)-1].Flow:
			s.fail("flow", "the flows of a part must increase from line to line")
		}
		part.Blower.Curve.Points = append(part.Blower.Curve.Points, point)
	}
	finish()
	return s.errs
}

func newBlowerPart(s *sheet, name string) *BlowerPart {
	kind := s.text("kind")
	choose(s, "kind", kind, "high-speed centrifugal", "multistage", "side-channel", "fan")
	drive := s.text("drive")
	if drive == "" {
		drive = "belt"
	}
	choose(s, "drive", drive, "belt", "direct")
	poles := 0
	if p := s.text("poles"); p != "" {
		choose(s, "poles", p, "2", "4")
		poles, _ = strconv.Atoi(p)
	}
	b := job.Blower{
		Part: name, Kind: kind, Drive: drive, Outlet: value[q.Length](s, "outlet"),
		RatedSpeed: value[q.Rate](s, "rated_speed"), MaxSpeed: value[q.Ratio](s, "max_speed"),
		Sound: value[q.SoundLevel](s, "sound"),
		Curve: &job.Curve{
			PressureIs: s.text("pressure_is"), EfficiencyIs: s.text("efficiency_is"), PowerIs: s.text("power_is"),
			Temperature: value[q.Temperature](s, "inlet_temperature"), Pressure: value[q.Absolute](s, "inlet_pressure"),
			Humidity: value[q.Ratio](s, "inlet_humidity"), MinFlow: value[q.VolumeFlow](s, "min_flow"),
		},
		Motor: &job.Motor{Power: value[q.Power](s, "motor"), Class: s.text("class"), Poles: poles},
	}
	return &BlowerPart{Part: name, Blower: b, Price: s.number("price"), Note: s.text("note")}
}

func choose(s *sheet, column, got string, from ...string) {
	if !slices.Contains(from, got) {
		s.fail(column, "%q is not one of %s", got, strings.Join(from, ", "))
	}
}

func readFilters(s *sheet, into *Parts) []error {
	for s.next() {
		before := len(s.errs)
		f := FilterPart{Part: s.text("part"), Price: s.number("price"), Note: s.text("note"), Filter: job.Filter{
			Class: s.text("class"), Flow: value[q.VolumeFlow](s, "flow"), Clean: value[q.PressureDrop](s, "clean"),
			ChangeOut: value[q.PressureDrop](s, "change_out"), LinearShare: value[q.Ratio](s, "linear_share"),
		}}
		switch {
		case f.Part == "":
			s.fail("part", "every line names its part")
		case !(f.Filter.Flow.V > 0):
			s.fail("flow", "give the flow at which the drops are stated")
		case !(f.Filter.Clean.V > 0):
			s.fail("clean", "give the pressure drop of the clean filter")
		}
		if len(s.errs) == before {
			into.Filters = append(into.Filters, f)
		}
	}
	return s.errs
}

func readHoses(s *sheet, into *Parts) []error {
	for s.next() {
		before := len(s.errs)
		bore := value[q.Length](s, "bore")
		rough := value[q.Length](s, "roughness")
		rough.Assume(q.Millimetres(0.9))
		h := HosePart{
			Part: s.text("part"), Bore: bore.V, Roughness: rough.V, RatedTo: value[q.Temperature](s, "rated_to").V,
			RatedFor: value[q.Gauge](s, "rated_for").V, LeastRadius: value[q.Length](s, "least_radius").V,
			Price: s.number("price"), Note: s.text("note"),
		}
		switch {
		case h.Part == "":
			s.fail("part", "every line names its part")
		case !(h.Bore > 0):
			s.fail("bore", "give the bore of the hose")
		}
		if len(s.errs) == before {
			into.Hoses = append(into.Hoses, h)
		}
	}
	return s.errs
}
