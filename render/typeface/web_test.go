package typeface

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// plain unpacks a WOFF file to the TrueType file it was made from.
func plain(t *testing.T, file []byte) []byte {
	t.Helper()
	word := func(at int) int { return int(binary.BigEndian.Uint32(file[at:])) }
	if string(file[:4]) != "wOFF" || word(8) != len(file) {
		t.Fatalf("the file begins with %q and says it has %d of %d bytes", file[:4], word(8), len(file))
	}
	n := int(binary.BigEndian.Uint16(file[12:]))
	head := binary.BigEndian.AppendUint16([]byte{0, 1, 0, 0}, uint16(n))
	head = append(head, make([]byte, 6)...)
	var body []byte
	for i := range n {
		e := 44 + 20*i
		data := file[word(e+4) : word(e+4)+word(e+8)]
		if len(data) < word(e+12) {
			z, err := zlib.NewReader(bytes.NewReader(data))
			if err != nil {
				t.Fatal(err)
			}
			if data, err = io.ReadAll(z); err != nil {
				t.Fatal(err)
			}
		}
		if len(data) != word(e+12) {
			t.Fatalf("table %q has %d bytes, told %d", file[e:e+4], len(data), word(e+12))
		}
		head = append(head, file[e:e+4]...)
		head = binary.BigEndian.AppendUint32(head, uint32(word(e+16)))
		head = binary.BigEndian.AppendUint32(head, uint32(12+16*n+len(body)))
		head = binary.BigEndian.AppendUint32(head, uint32(len(data)))
		body = append(body, data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	if whole := len(head) + len(body); whole != word(16) {
		t.Errorf("the font takes %d bytes, told %d", whole, word(16))
	}
	return append(head, body...)
}

// Source: golang.org/x/image reads the font back; widths are those of the whole face.
func TestReferenceTheFontOfAPageHasItsLettersAndNoOthers(t *testing.T) {
	const text = "Übersicht: 0,5 mm Ø ≤ 3 µm ● – ½ 山"
	for f := range faces {
		file := f.Web(text)
		if again := f.Web("山½" + text); !bytes.Equal(file, again) {
			t.Errorf("face %d: the same letters give two fonts", f)
		}
		if len(file) > 30e3 {
			t.Errorf("face %d takes %d bytes", f, len(file))
		}
		got, err := sfnt.Parse(plain(t, file))
		if err != nil {
			t.Fatal(err)
		}
		var b sfnt.Buffer
		for _, r := range text {
			i, err := got.GlyphIndex(&b, r)
			if err != nil || (i == 0) != (r == '山') {
				t.Errorf("face %d: letter %q is glyph %d, %v", f, r, i, err)
				continue
			}
			if i == 0 {
				continue
			}
			wide, err := got.GlyphAdvance(&b, i, fixed.I(2048), font.HintingNone)
			if w := f.Width(string(r), 2048); err != nil || float64(wide)/64 != w {
				t.Errorf("face %d: letter %q is %v wide, want %g, %v", f, r, wide, w, err)
			}
			if _, err := got.LoadGlyph(&b, i, fixed.I(20), nil); err != nil {
				t.Errorf("face %d: letter %q cannot be drawn: %v", f, r, err)
			}
		}
		for _, r := range "xQ8" {
			if i, err := got.GlyphIndex(&b, r); err != nil || i != 0 {
				t.Errorf("face %d: letter %q is there, %v", f, r, err)
			}
		}
		for id, want := range map[sfnt.NameID]string{sfnt.NameIDFamily: WebFamily, sfnt.NameIDLicense: "SIL Open Font License, Version 1.1"} {
			if name, err := got.Name(&b, id); err != nil || name != want {
				t.Errorf("face %d: name %d is %q, want %q, %v", f, id, name, want, err)
			}
		}
	}
	if Regular.Web("山") != nil {
		t.Error("a font without letters was made")
	}
}
