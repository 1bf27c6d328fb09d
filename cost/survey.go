package cost

import (
	"bufio"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"

	"leste/physics/air"
	"leste/physics/jet"
	q "leste/quantity"
)

// A BlowOff is one place of a plant where compressed air blows.
type BlowOff struct {
	Tag      string
	Bore     q.Length   // round opening; 0 when Slot is given
	Slot     q.Length   // gap of a slot
	Length   q.Length   // of the slot
	Pressure q.Gauge    // at the opening
	Hours    q.Duration // a year, in operation
	Count    int
	Purpose  string
	Cd       q.Ratio // 0: 0.97 for a bore up to a sharp hole's 0.61 in the band, 0.9 for a slot
}

// A RowError is what is wrong with one line of a list.
type RowError struct {
	Line   int
	Column string
	Text   string
}

func (e *RowError) Error() string {
	if e.Column == "" {
		return fmt.Sprintf("line %d: %s", e.Line, e.Text)
	}
	return fmt.Sprintf("line %d, %s: %s", e.Line, e.Column, e.Text)
}

// SurveyTerms are what the survey counts with; zero values take the defaults named.
type SurveyTerms struct {
	Currency      string
	SpecificPower q.SpecificPower  // compressor; 6.6 kW/(m3/min)
	Leaks         q.Ratio          // of the distribution; 0.1, negative for none
	Electricity   q.PricePerEnergy // 0.15 a kWh
	Blower        q.Gauge          // plenum pressure of a blower station; 20 kPa
	Efficiency    q.Ratio          // of a blower station from mains to air; 0.55
	Room          air.Moist        // 20 degC at sea level
}

func (t SurveyTerms) filled() (SurveyTerms, error) {
	if t.SpecificPower == 0 {
		t.SpecificPower = 6.6 * 60e3
	}
	if t.Leaks == 0 {
		t.Leaks = 0.1
	}
	t.Leaks = max(t.Leaks, 0)
	if t.Electricity == 0 {
		t.Electricity = 0.15 / 3.6e6
	}
	if t.Blower == 0 {
		t.Blower = 20e3
	}
	if t.Efficiency == 0 {
		t.Efficiency = 0.55
	}
	if t.Room == (air.Moist{}) {
		t.Room = air.Dry(101325, q.Celsius(20))
	}
	switch {
	case !(t.SpecificPower > 0) || math.IsInf(float64(t.SpecificPower), 0):
		return t, fmt.Errorf("survey: the specific power must be positive")
	case !(t.Leaks < 0.9):
		return t, fmt.Errorf("survey: the share of leaks must be below 0.9")
	case !(t.Electricity > 0) || math.IsInf(float64(t.Electricity), 0):
		return t, fmt.Errorf("survey: the price of electricity must be positive")
	case !(t.Blower > 0 && t.Blower <= 50e3):
		return t, fmt.Errorf("survey: the plenum pressure of a blower station lies between 0 and 50 kPa")
	case !(t.Efficiency > 0 && t.Efficiency < 1):
		return t, fmt.Errorf("survey: the efficiency of a blower station lies between 0 and 1")
	case !(float64(t.Room.Density()) > 0):
		return t, fmt.Errorf("survey: the room's air does not exist")
	}
	return t, nil
}

// Assessed is one blow-off of a survey with what it costs and what a blower station of the same thrust would.
type Assessed struct {
	BlowOff
	Line       int
	FreeAir    q.VolumeFlow // all of Count, at the openings
	Thrust     q.Force
	Power      q.Power // of the compressor
	Energy     q.Energy
	Cost       q.Band // a year
	Blower     q.Power
	BlowerCost q.Band
	Saving     q.Band // a year; the low end may be negative
}

// A SurveyResult is a whole list: ranked by likely saving, greatest first.
type SurveyResult struct {
	Currency   string
	Rows       []Assessed
	Energy     q.Energy
	Cost       q.Band
	BlowerCost q.Band
	Saving     q.Band
	Wrong      []error // *RowError, in the order of the list
}

// Bands of the survey, as factors: how sure flow and specific power are known, and the blower's power per thrust.
const (
	surveyLow, surveyHigh = 0.7, 1.2
	blowerLow, blowerHigh = 0.8, 1.3
)

// Survey assesses a list of blow-offs. The sequence gives each with its line, or a *RowError; wrong rows are
// reported and the rest is done. The order of the rows does not change any sum beyond rounding.
func Survey(ctx context.Context, rows iter.Seq2[Assessed, error], terms SurveyTerms) (SurveyResult, error) {
	t, err := terms.filled()
	if err != nil {
		return SurveyResult{}, err
	}
	out := SurveyResult{Currency: t.Currency}
	// Power into a blower for each newton does not depend on the row.
	perNewton := jet.GasOf(t.Room).BlowerPowerPerThrust(t.Room.P, t.Room.T, t.Blower, t.Efficiency, 0.93, 0.97)
	n := 0
	for row, err := range rows {
		if n++; n%1024 == 0 && ctx.Err() != nil {
			return out, ctx.Err()
		}
		if err == nil {
			err = row.assess(t, perNewton)
		}
		if err != nil {
			out.Wrong = append(out.Wrong, err)
			continue
		}
		out.Rows = append(out.Rows, row)
		out.Energy += row.Energy
		out.Cost, out.BlowerCost, out.Saving = sum(out.Cost, row.Cost), sum(out.BlowerCost, row.BlowerCost), sum(out.Saving, row.Saving)
	}
	slices.SortStableFunc(out.Rows, func(a, b Assessed) int {
		switch {
		case a.Saving.Likely > b.Saving.Likely:
			return -1
		case a.Saving.Likely < b.Saving.Likely:
			return 1
		}
		return a.Line - b.Line
	})
	return out, nil
}

func sum(a, b q.Band) q.Band {
	return q.Band{Likely: a.Likely + b.Likely, Low: a.Low + b.Low, High: a.High + b.High}
}

// assess fills in a row.
func (a *Assessed) assess(t SurveyTerms, perNewton q.PowerPerForce) error {
	fail := func(column, text string) error { return &RowError{a.Line, column, text} }
	area := math.Pi / 4 * float64(a.Bore) * float64(a.Bore)
	cd := 0.97
	if a.Slot > 0 {
		area, cd = float64(a.Slot)*float64(a.Length), 0.9
	}
	if a.Cd != 0 {
		cd = float64(a.Cd)
	}
	count := max(a.Count, 1)
	switch {
	case !(area > 0) || area > 1:
		return fail("bore", "give a bore, or a slot with its length")
	case !(a.Pressure > 0) || a.Pressure > 20e5:
		return fail("pressure", "it must be positive and at most 20 bar")
	case !(a.Hours >= 0 && a.Hours <= 8784*hour):
		return fail("hours", "they must lie between 0 and 8784 a year")
	case !(cd > 0 && cd <= 1):
		return fail("discharge", "it must lie between 0 and 1")
	case a.Count < 0 || a.Count > 1e6:
		return fail("count", "it must be a number of pieces")
	}
	d := jet.DryAir().Isentropic(a.Pressure.Above(t.Room.P), t.Room.T, t.Room.P)
	opening := q.Area(area) * q.Area(count)
	mass := d.MassFlow(q.Ratio(cd), opening)
	a.FreeAir = q.VolumeFlow(float64(mass) / float64(freeDensity))
	a.Thrust = d.Thrust(q.Ratio(cd), 0.97, opening)
	a.Power = q.Power(float64(t.SpecificPower) * float64(a.FreeAir) / (1 - float64(t.Leaks)))
	a.Energy = q.Energy(float64(a.Power) * float64(a.Hours))
	price := float64(t.Electricity)
	cost := float64(a.Energy) * price
	a.Cost = q.Band{Likely: cost, Low: cost * surveyLow, High: cost * surveyHigh}
	a.Blower = q.Power(float64(perNewton) * float64(a.Thrust))
	blower := float64(a.Blower) * float64(a.Hours) * price
	a.BlowerCost = q.Band{Likely: blower, Low: blower * blowerLow, High: blower * blowerHigh}
	a.Saving = q.Band{Likely: cost - blower, Low: a.Cost.Low - a.BlowerCost.High, High: a.Cost.High - a.BlowerCost.Low}
	return nil
}

// surveyColumns are the headings of a list; tag, pressure, hours and one of bore and slot are needed.
var surveyColumns = []string{"tag", "bore", "slot", "length", "pressure", "hours", "shifts", "count", "purpose", "discharge"}

// ReadSurvey reads a list of blow-offs as CSV: a heading line with the columns tag, bore or slot and length,
// pressure, hours (for each shift when shifts is given), shifts, count, purpose, discharge; cells with units.
// Fields may be separated by commas or semicolons. Wrong lines come as *RowError and reading goes on.
func ReadSurvey(r io.Reader) iter.Seq2[Assessed, error] {
	return func(yield func(Assessed, error) bool) {
		buffered := bufio.NewReader(r)
		head, err := buffered.Peek(4096)
		if len(head) == 0 {
			yield(Assessed{}, &RowError{1, "", noHeading(err)})
			return
		}
		text := csv.NewReader(buffered)
		text.ReuseRecord, text.TrimLeadingSpace, text.FieldsPerRecord = true, true, -1
		if first, _, _ := strings.Cut(string(head), "\n"); strings.Count(first, ";") > strings.Count(first, ",") {
			text.Comma = ';'
		}
		columns, err := text.Read()
		if err != nil {
			yield(Assessed{}, &RowError{1, "", noHeading(err)})
			return
		}
		at, rowErr := headings(columns)
		if rowErr != nil {
			yield(Assessed{}, rowErr)
			return
		}
		for {
			cells, err := text.Read()
			if errors.Is(err, io.EOF) {
				return
			}
			line, row := 0, Assessed{}
			if err == nil {
				line, _ = text.FieldPos(0)
				row, err = rowOf(line, cells, at)
			} else {
				var wrong *csv.ParseError
				if !errors.As(err, &wrong) {
					yield(Assessed{}, fmt.Errorf("survey: reading the list: %w", err))
					return
				}
				err = &RowError{wrong.StartLine, "", wrong.Err.Error()}
			}
			if !yield(row, err) {
				return
			}
		}
	}
}

func noHeading(err error) string {
	if err != nil && !errors.Is(err, io.EOF) {
		return "the list cannot be read: " + err.Error()
	}
	return "the list is empty; its first line names the columns " + strings.Join(surveyColumns, ", ")
}

func headings(columns []string) (map[string]int, error) {
	at := map[string]int{}
	for i, c := range columns {
		name := strings.ToLower(strings.TrimSpace(strings.TrimPrefix(c, "\ufeff")))
		if !slices.Contains(surveyColumns, name) {
			return nil, &RowError{1, c, "unknown column; known ones are " + strings.Join(surveyColumns, ", ")}
		}
		if _, twice := at[name]; twice {
			return nil, &RowError{1, c, "the column occurs twice"}
		}
		at[name] = i
	}
	for _, needed := range []string{"tag", "pressure", "hours"} {
		if _, ok := at[needed]; !ok {
			return nil, &RowError{1, needed, "the column is missing"}
		}
	}
	return at, nil
}

func rowOf(line int, cells []string, at map[string]int) (Assessed, error) {
	row := Assessed{Line: line}
	cell := func(name string) string {
		i, ok := at[name]
		if !ok || i >= len(cells) {
			return ""
		}
		return strings.TrimSpace(cells[i])
	}
	var wrong error
	fail := func(column string, err error) {
		if wrong == nil {
			wrong = &RowError{line, column, err.Error()}
		}
	}
	row.Tag, row.Purpose = strings.Clone(cell("tag")), strings.Clone(cell("purpose"))
	if row.Tag == "" {
		fail("tag", errors.New("every line names its blow-off"))
	}
	row.Bore = read[q.Length](cell("bore"), "bore", fail)
	row.Slot = read[q.Length](cell("slot"), "slot", fail)
	row.Length = read[q.Length](cell("length"), "length", fail)
	row.Pressure = read[q.Gauge](cell("pressure"), "pressure", fail)
	row.Hours = read[q.Duration](cell("hours"), "hours", fail)
	row.Cd = read[q.Ratio](cell("discharge"), "discharge", fail)
	for _, c := range []struct {
		column string
		set    func(int)
	}{
		{"count", func(n int) { row.Count = n }},
		{"shifts", func(n int) { row.Hours *= q.Duration(n) }},
	} {
		text := cell(c.column)
		if text == "" {
			continue
		}
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			fail(c.column, fmt.Errorf("%q is not a whole number above zero", text))
			continue
		}
		c.set(n)
	}
	return row, wrong
}

func read[T q.Quantity](text, column string, fail func(string, error)) T {
	if text == "" {
		return 0
	}
	v, err := q.Parse[T](text)
	if err != nil {
		fail(column, err)
	}
	return v
}
