package quote

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strings"
)

// manyNumbers is from how many numbers on a list is kept squeezed: maps have thousands.
const manyNumbers = 64

// squeezedMark begins a squeezed list: numbers of 64 bits, the low byte first, by the eight planes of their bytes,
// deflated (RFC 1951), in base 64.
const squeezedMark = "deflated float64: "

// mostNumbers is the longest list that is read back.
const mostNumbers = 1 << 24

// squeeze writes a long list of numbers as text. Not a bit is lost.
func squeeze(numbers []float64) string {
	var out bytes.Buffer
	z, err := flate.NewWriter(&out, flate.BestCompression)
	if err != nil {
		panic(err) // the level is a constant
	}
	plain := make([]byte, 8*len(numbers))
	_, _ = binary.Encode(plain, binary.LittleEndian, numbers) // the room is right
	_, _ = z.Write(planes(plain, len(numbers), 8))            // a bytes.Buffer does not fail
	_ = z.Close()
	return squeezedMark + base64.StdEncoding.EncodeToString(out.Bytes())
}

// swell reads what squeeze wrote.
func swell(text string) ([]float64, error) {
	wrong := errors.New("the list of numbers is damaged")
	coded, ok := strings.CutPrefix(text, squeezedMark)
	if !ok {
		return nil, fmt.Errorf("%q is no list of numbers", text[:min(len(text), 30)])
	}
	deflated, err := base64.StdEncoding.DecodeString(coded)
	if err != nil {
		return nil, wrong
	}
	plain, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(deflated)), 8*mostNumbers+1))
	if err != nil || len(plain)%8 != 0 || len(plain) > 8*mostNumbers {
		return nil, wrong
	}
	numbers := make([]float64, len(plain)/8)
	if _, err := binary.Decode(planes(plain, 8, len(numbers)), binary.LittleEndian, numbers); err != nil {
		return nil, wrong
	}
	return numbers, nil
}

// planes turns a table of rows by columns on its side: bytes that mean the same then stand together.
func planes(in []byte, rows, columns int) []byte {
	out := make([]byte, len(in))
	for r := range rows {
		for c := range columns {
			out[c*rows+r] = in[r*columns+c]
		}
	}
	return out
}
