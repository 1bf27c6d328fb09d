package quote

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// manyNumbers is from how many numbers on a list is kept squeezed: maps have thousands.
const manyNumbers = 64

// The marks of a squeezed list, deflated (RFC 1951), in base 64: numbers of 64 bits, the low byte first, by the eight
// planes of their bytes; or numbers written out, which is shorter for rounded ones.
const (
	squeezedMark = "deflated float64: "
	writtenMark  = "deflated numbers: "
)

// mostNumbers is the longest list that is read back.
const mostNumbers = 1 << 24

// squeeze writes a long list of numbers as text, the shorter of two ways. Not a bit is lost.
func squeeze(numbers []float64) string {
	var written []byte
	for i, x := range numbers {
		if i > 0 {
			written = append(written, ' ')
		}
		written = strconv.AppendFloat(written, x, 'g', -1, 64)
	}
	b := writtenMark + deflate(written)
	if len(written) < fewLetters*len(numbers) {
		return b
	}
	plain := make([]byte, 8*len(numbers))
	_, _ = binary.Encode(plain, binary.LittleEndian, numbers) // the room is right
	a := squeezedMark + deflate(planes(plain, len(numbers), 8))
	if len(b) < len(a) {
		return b
	}
	return a
}

// fewLetters is how many letters a number may take on the average for the written list to be the shorter one for sure:
// rounded numbers, as those of the pictures of a pass.
const fewLetters = 12

// effort is a level of deflation: the best takes a second on a quotation of three formats and saves a hundredth of its
// size.
const effort = 5

func deflate(plain []byte) string {
	var out bytes.Buffer
	z, err := flate.NewWriter(&out, effort)
	if err != nil {
		panic(err) // the level is a constant
	}
	_, _ = z.Write(plain) // a bytes.Buffer does not fail
	_ = z.Close()
	return base64.StdEncoding.EncodeToString(out.Bytes())
}

var errDamaged = errors.New("the list of numbers is damaged")

// swell reads what squeeze wrote.
func swell(text string) ([]float64, error) {
	coded, planar := strings.CutPrefix(text, squeezedMark)
	if !planar {
		var written bool
		if coded, written = strings.CutPrefix(text, writtenMark); !written {
			return nil, fmt.Errorf("%q is no list of numbers", text[:min(len(text), 30)])
		}
	}
	deflated, err := base64.StdEncoding.DecodeString(coded)
	if err != nil {
		return nil, errDamaged
	}
	plain, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(deflated)), 8*mostNumbers+1))
	if err != nil || len(plain) > 8*mostNumbers {
		return nil, errDamaged
	}
	if !planar {
		return parsed(string(plain))
	}
	numbers := make([]float64, len(plain)/8)
	if len(plain)%8 != 0 {
		return nil, errDamaged
	}
	if _, err := binary.Decode(planes(plain, 8, len(numbers)), binary.LittleEndian, numbers); err != nil {
		return nil, errDamaged
	}
	return numbers, nil
}

// parsed reads numbers that are written out.
func parsed(text string) ([]float64, error) {
	words := strings.Fields(text)
	numbers := make([]float64, len(words))
	for i, word := range words {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return nil, errDamaged
		}
		numbers[i] = x
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
