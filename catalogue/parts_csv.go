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
// for each point of a curve, the part's own cells on its first line), filters.csv or hoses.csv. Cells are
// numbers with their units. Every wrong cell gives one *PartError; parts without errors are added.
func ReadParts(name string, text []byte, into *Parts) []error {
	switch {
	case strings.HasSuffix(name, "blowers.csv"):
		return readBlowers(name, text, into)
	case strings.HasSuffix(name, "filters.csv"):
		return readFilters(name, text, into)
	case strings.HasSuffix(name, "hoses.csv"):
		return readHoses(name, text, into)
	}
	return []error{&PartError{File: name, Line: 1, Text: "the file's name must end in blowers.csv, filters.csv or hoses.csv"}}
}

// sheet walks over the lines of a parts file and collects what is wrong.
type sheet struct {
	file    string
	columns []string
	reader  *csv.Reader
	cells   []string
	line    int
	errs    []error
}

func newSheet(file string, text []byte, known []string, needed ...string) *sheet {
	s := &sheet{file: file, reader: csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))}
	s.reader.TrimLeadingSpace = true
	head, err := s.reader.Read()
	if err != nil {
		s.fail("", "the file has no heading line")
		return s
	}
	s.columns, s.line = head, 1
	for _, c := range head {
		if !slices.Contains(known, c) {
			s.fail(c, "unknown column; known ones are %s", strings.Join(known, ", "))
		}
	}
	for _, c := range needed {
		if !slices.Contains(head, c) {
			s.fail(c, "this column is missing")
		}
	}
	return s
}

func (s *sheet) fail(column, format string, args ...any) {
	s.errs = append(s.errs, &PartError{s.file, max(s.line, 1), column, fmt.Sprintf(format, args...)})
}

// next moves to the next line; it reports false at the end or when the headings are wrong.
func (s *sheet) next() bool {
	if len(s.errs) > 0 && s.cells == nil {
		return false
	}
	for {
		cells, err := s.reader.Read()
		if errors.Is(err, io.EOF) {
			return false
		}
		if s.line, _ = s.reader.FieldPos(0); err == nil {
			s.cells = cells
			return true
		}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			s.line = wrong.Line
		}
		s.cells = []string{}
		s.fail("", "%v", errors.Unwrap(err))
		if !errors.Is(err, csv.ErrFieldCount) {
			return false
		}
	}
}

func (s *sheet) text(column string) string {
	i := slices.Index(s.columns, column)
	if i < 0 || i >= len(s.cells) {
		return ""
	}
	return strings.TrimSpace(s.cells[i])
}

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

func readBlowers(file string, text []byte, into *Parts) []error {
	s := newSheet(file, text, blowerColumns, "part", "kind", "flow", "pressure")
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

func readFilters(file string, text []byte, into *Parts) []error {
	s := newSheet(file, text, []string{"part", "class", "flow", "clean", "change_out", "linear_share", "price", "note"}, "part", "flow", "clean")
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

func readHoses(file string, text []byte, into *Parts) []error {
	s := newSheet(file, text, []string{"part", "bore", "roughness", "rated_to", "rated_for", "least_radius", "price", "note"}, "part", "bore")
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
