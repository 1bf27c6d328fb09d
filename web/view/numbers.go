package view

import (
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"math"
	"strconv"

	"github.com/danielgtaylor/huma/v2"

	"leste/station"
)

// Numbers is a list of numbers written short: five significant digits, null for what is not known.
type Numbers []float64

// MarshalJSON implements json.Marshaler.
func (n Numbers) MarshalJSON() ([]byte, error) {
	const each = 8
	b := make([]byte, 0, 2+each*len(n))
	b = append(b, '[')
	for i, x := range n {
		if i > 0 {
			b = append(b, ',')
		}
		b = short(b, x)
	}
	return append(b, ']'), nil
}

// short appends a number with five significant digits.
func short(b []byte, x float64) []byte {
	const digits = 5
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return append(b, "null"...)
	case math.Abs(x) < 1e-9:
		return append(b, '0')
	}
	return strconv.AppendFloat(b, x, 'g', digits, 64)
}

// Schema implements huma.SchemaProvider.
func (Numbers) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{Type: huma.TypeArray, Items: &huma.Schema{Type: huma.TypeNumber, Nullable: true}}
}

// Number is one number written short, null for what is not known.
type Number float64

// MarshalJSON implements json.Marshaler.
func (n Number) MarshalJSON() ([]byte, error) { return short(nil, float64(n)), nil }

// Schema implements huma.SchemaProvider.
func (Number) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{Type: huma.TypeNumber, Nullable: true}
}

// Packed is a long list of numbers as one text: 32-bit floats, least byte first, in base 64. NaN is not known.
type Packed []float64

// MarshalJSON implements json.Marshaler.
func (p Packed) MarshalJSON() ([]byte, error) {
	const size = 4
	b := make([]byte, 0, size*len(p))
	for _, x := range p {
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
	}
	return json.Marshal(base64.StdEncoding.EncodeToString(b))
}

// UnmarshalJSON implements json.Unmarshaler.
func (p *Packed) UnmarshalJSON(text []byte) error {
	var s string
	if err := json.Unmarshal(text, &s); err != nil {
		return err
	}
	b, err := base64.StdEncoding.DecodeString(s)
	if err != nil {
		return err
	}
	*p = (*p)[:0]
	const size = 4
	for ; len(b) >= size; b = b[size:] {
		*p = append(*p, float64(math.Float32frombits(binary.LittleEndian.Uint32(b))))
	}
	return nil
}

// Schema implements huma.SchemaProvider.
func (Packed) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{
		Type: huma.TypeString, ContentEncoding: "base64",
		Description: "32-bit floats, least byte first, in base 64; NaN is not known.",
	}
}

const mm = 1e3

// point is a place in mm; small remains of arithmetic become zero.
func point(v station.Vec) Numbers {
	return Numbers{tidy(v.X * mm), tidy(v.Y * mm), tidy(v.Z * mm)}
}

func direction(v station.Vec) Numbers { return Numbers{tidy(v.X), tidy(v.Y), tidy(v.Z)} }

// tidy rounds to a thousandth of a unit.
func tidy(x float64) float64 { return math.Round(x*1e3) / 1e3 }
