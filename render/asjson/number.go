package asjson

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"

	q "leste/quantity"
)

// number is written with seven significant digits, and as null when it is not known or has no end.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 7, 64), 64)
	if err != nil {
		return nil, err
	}
	return json.Marshal(q.Unsigned(short))
}

// times converts an SI value to a unit with so many of it in one SI unit.
func times[T ~float64](x T, perSI float64) number { return number(float64(x) * perSI) }

// band is a likely value with its ends.
type band struct {
	Likely number `json:"likely"`
	Low    number `json:"low"`
	High   number `json:"high"`
}

func bandOf(b q.Band, perSI float64) band {
	return band{times(b.Likely, perSI), times(b.Low, perSI), times(b.High, perSI)}
}

// text is a string that is null when it is empty.
func text(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// list is never null: a list without entries is [].
func list[T, S any](in []S, f func(S) T) []T {
	out := make([]T, len(in))
	for i, s := range in {
		out[i] = f(s)
	}
	return out
}

// document writes one document, letters as they are.
func document(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Per SI unit.
const (
	mm      = 1e3
	mg      = 1e6 // from kg
	gramM2  = 1e3 // from kg/m2
	percent = 1e2 // from a share
	kWh     = 1 / 3.6e6
)
