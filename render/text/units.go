package text

import (
	"math"
	"slices"
	"strings"

	leste "leste"
	q "leste/quantity"
	"leste/render/amount"
	"leste/render/words"
)

// show writes a quantity in the units of the style.
func show[T q.Quantity](s Style, v T) string { return q.Typeset(q.Format(v, s.system())) }

// Column returns how the values of one column are written: all in one unit.
func (s Style) Column(kind q.Kind, values ...float64) func(float64) string {
	column := s.english().Column(kind, values...)
	return func(v float64) string { return plainSpaces(column.Value(v, 3)) }
}

// Places returns how the places of one column are written: all in one unit, to the tenth of a millimetre or the hundredth
// of an inch that can be set.
func (s Style) Places(values ...float64) func(float64) string {
	column := s.english().Column(q.KindLength, values...)
	full := 0.1 // m, from where three digits do not tell it
	if s.system() == q.US {
		full = 0.254
	}
	return func(v float64) string {
		digits := 3
		if math.Abs(v) >= full {
			digits = 4
		}
		return plainSpaces(column.Value(v, digits))
	}
}

// english are the words of a report in its units.
func (s Style) english() words.Words {
	w, err := words.New("en", words.Units(s.system()))
	if err != nil {
		panic(err) // the table is part of the program
	}
	return w.Naming(s.names...)
}

// plainSpaces are those of a terminal.
func plainSpaces(text string) string { return strings.ReplaceAll(text, "\u00a0", " ") }

// Mains writes electric power and heat: in kW everywhere, as they are metered.
func Mains(p q.Power) string { return q.Typeset(q.Format(p, q.SI)) }

// Say writes the quantities of a sentence of a result in the units of the style, and those as tables do: "44°", never
// "44 deg". Names stay.
func (s Style) Say(text string) string {
	return plainSpaces(s.english().Say(text))
}

// All says sentences as parts of one.
func (s Style) All(texts []string) string { return strings.Join(s.says(texts), "; ") }

func (s Style) says(texts []string) []string {
	out := make([]string, len(texts))
	for i, text := range texts {
		out[i] = s.Say(text)
	}
	return out
}

// Naming keeps names that a user gave as they are in sentences.
func (s Style) Naming(names ...string) Style {
	s.names = slices.DeleteFunc(slices.Concat(s.names, names), func(name string) bool { return name == "" })
	return s
}

// Of keeps the names of a result as they are in its sentences.
func (s Style) Of(r *leste.Result) Style {
	names := []string{r.Job}
	for i := range r.Formats {
		names = append(names, r.Formats[i].Name)
		for _, z := range r.Formats[i].Zones {
			for _, x := range z.Requirements {
				names = append(names, x.Machine)
			}
		}
	}
	for _, o := range r.Air.Outlets {
		names = append(names, o.Name, o.Station)
	}
	for _, b := range r.Air.Blowers {
		names = append(names, b.Name)
	}
	for _, l := range r.Air.Parts {
		names = append(names, l.Name)
	}
	return s.Naming(names...)
}

func (s Style) system() q.System {
	if s.Units == "" {
		return q.SI
	}
	return s.Units
}

// band writes a likely value with its ends, all in one unit chosen for the likely one.
func (s Style) band(k q.Kind, b q.Band, unit string) string { return s.bandTo(2, k, b, unit) }

// bandTo is band to so many significant figures.
func (s Style) bandTo(digits int, k q.Kind, b q.Band, unit string) string {
	likely, err := k.In(b.Likely, unit)
	if err != nil || math.IsNaN(likely) {
		return amount.Unknown
	}
	low, _ := k.In(b.Low, unit)
	high, _ := k.In(b.High, unit)
	return amount.BandTo(digits, q.Band{Likely: likely, Low: low, High: high}, 1)
}

// mass writes a band of water masses: milligrams up to a gram, grams beyond. Water is told in grams in
// either system of units; a thousandth of an ounce helps nobody. What rounds to a gram is one: no column
// holds 1.0 g above 1000 mg.
func (s Style) mass(b q.Band) string {
	const gram = 0.995e-3 // in two figures
	unit := "mg"
	if b.Likely >= gram {
		unit = "g"
	}
	return q.Typeset(s.band(q.KindMass, b, unit) + " " + unit)
}

// dropUnit is what drops are measured in: millimetres, or inches.
func (s Style) dropUnit() string {
	if s.system() == q.US {
		return "in"
	}
	return "mm"
}

// judged says how a requirement is written: kind, unit of its SI value, unit shown.
var judged = map[string]struct {
	kind q.Kind
	unit string
}{
	"water":   {q.KindAreaMass, "g/m2"},
	"mass":    {q.KindMass, "mg"},
	"drop":    {q.KindLength, "mm"},
	"rejects": {q.KindRatio, "%"},
}
