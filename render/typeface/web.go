package typeface

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"slices"
	"strings"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"
)

// WebFamily is what the letters that a page carries are called there: a changed font may not bear the name of the
// original (Open Font License, 3).
const WebFamily = "Leste Sans"

// Web returns the letters of a text in the face as a font that a page can carry (WOFF 1.0). Letters that the face lacks
// are left to the reader's own fonts; without any letter there is no font. The same letters give the same bytes.
func (f Face) Web(text string) []byte {
	letters := []rune{}
	for r := range runes(text) {
		if f.Has(r) {
			letters = append(letters, r)
		}
	}
	if len(letters) == 0 {
		return nil
	}
	slices.Sort(letters)
	font := fontTables(fpdf.UTF8CutFont(slices.Clone(f.TTF()), string(letters)))
	for i := range font {
		if font[i].tag == "name" {
			font[i].data = f.naming()
		}
	}
	return woff(font)
}

func runes(text string) map[rune]bool {
	seen := map[rune]bool{}
	for _, r := range text {
		seen[r] = true
	}
	return seen
}

// A fontTable is one table of a font file.
type fontTable struct {
	tag  string
	data []byte
}

// fontTables takes a TrueType file apart. Only files of our own fonts come here.
func fontTables(ttf []byte) []fontTable {
	const head, entry = 12, 16
	out := make([]fontTable, binary.BigEndian.Uint16(ttf[4:]))
	for i := range out {
		e := ttf[head+entry*i:]
		from, long := binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
		out[i] = fontTable{string(e[:4]), ttf[from : from+long]}
	}
	return out
}

// naming is the table of names: whose font it is, under which licence, and what the changed one is called.
func (f Face) naming() []byte {
	style := [...]string{Regular: "Regular", Bold: "Bold", Italic: "Italic", BoldItalic: "Bold Italic"}[f]
	owner, _, _ := strings.Cut(Licence, "\n\n")
	names := []struct {
		id   uint16
		text string
	}{
		{0, strings.Join(strings.Fields(owner), " ")},
		{1, WebFamily},
		{2, style},
		{4, WebFamily + " " + style},
		{6, strings.ReplaceAll(WebFamily+"-"+style, " ", "")},
		{13, "SIL Open Font License, Version 1.1"},
		{14, "http://scripts.sil.org/OFL"},
	}
	const windows, unicode, english, size = 3, 1, 0x409, 12
	var head, texts []byte
	put := func(v ...int) {
		for _, x := range v {
			head = binary.BigEndian.AppendUint16(head, uint16(x))
		}
	}
	put(0, len(names), 6+size*len(names))
	for _, n := range names {
		from := len(texts)
		for _, c := range utf16.Encode([]rune(n.text)) {
			texts = binary.BigEndian.AppendUint16(texts, c)
		}
		put(windows, unicode, english, int(n.id), len(texts)-from, from)
	}
	return append(head, texts...)
}

// woff packs the tables of a font. Source: WOFF File Format 1.0, W3C Recommendation 13 December 2012, sections 3 to 5.
func woff(font []fontTable) []byte {
	const head, entry, plainHead, plainEntry = 44, 20, 12, 16
	slices.SortFunc(font, func(a, b fontTable) int { return strings.Compare(a.tag, b.tag) })
	var directory, body []byte
	start := head + entry*len(font)
	plain := plainHead + plainEntry*len(font)
	for _, t := range font {
		packed := shrunk(t.data)
		directory = append(directory, t.tag...)
		for _, v := range []int{start + len(body), len(packed), len(t.data), int(checksum(t))} {
			directory = binary.BigEndian.AppendUint32(directory, uint32(v))
		}
		body = append(body, packed...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
		plain += (len(t.data) + 3) &^ 3
	}
	out := []byte("wOFF")
	words := func(v ...uint32) {
		for _, x := range v {
			out = binary.BigEndian.AppendUint32(out, x)
		}
	}
	words(0x00010000, uint32(start+len(body)), uint32(len(font))<<16, uint32(plain), 1<<16, 0, 0, 0, 0, 0)
	return slices.Concat(out, directory, body)
}

// shrunk deflates a table where that makes it shorter.
func shrunk(data []byte) []byte {
	var b bytes.Buffer
	z, err := zlib.NewWriterLevel(&b, zlib.BestCompression)
	if err != nil {
		panic(err) // the level is a constant
	}
	_, _ = z.Write(data) // a bytes.Buffer does not fail
	_ = z.Close()
	if b.Len() < len(data) {
		return b.Bytes()
	}
	return data
}

// checksum sums the words of a table; that of the head leaves out what it says of the whole file.
func checksum(t fontTable) uint32 {
	var sum uint32
	for i := 0; i < len(t.data); i += 4 {
		var word [4]byte
		copy(word[:], t.data[i:])
		if t.tag == "head" && i == 8 {
			continue
		}
		sum += binary.BigEndian.Uint32(word[:])
	}
	return sum
}
