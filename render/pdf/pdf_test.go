package pdf

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"leste/render/document"
	"leste/render/drawing"
)

func write(t testing.TB, d *document.Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := WriteDocument(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// tool runs a program of poppler on a file, or skips the test where it is not installed.
func tool(t *testing.T, pdf []byte, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s (Debian package poppler-utils) is not installed", name)
	}
	path := filepath.Join(t.TempDir(), "file.pdf")
	if err := os.WriteFile(path, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	for i := range args {
		args[i] = strings.ReplaceAll(args[i], "FILE", path)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func TestLawTheSameDocumentGivesTheSameBytes(t *testing.T) {
	if !bytes.Equal(write(t, specimen()), write(t, specimen())) {
		t.Error("two writes of one document differ")
	}
}

// Source: poppler's pdftotext, an independent reader, finds every text of the document.
func TestReferenceEveryTextCanBeReadBack(t *testing.T) {
	d := specimen()
	text := squeeze(tool(t, write(t, d), "pdftotext", "-layout", "FILE", "-"))
	for _, want := range []string{
		"Drying before the packer on line 3", "Ribeira Spring, Porto Alto", "Q-1042 rev B", "86 (35 to 210)", "● met", "■ not met", "▲ undecided",
		"Figure 1", "Figure 3", "Table 1 (continued)", "What the promise rests on", "80 g/m²", "Ø66", "neighbour", "Page 2 of",
	} {
		if !strings.Contains(text, squeeze(want)) {
			t.Errorf("%q is not in the PDF", want)
		}
	}
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }

func TestReferenceFontsAreEmbedded(t *testing.T) {
	list := tool(t, write(t, specimen()), "pdffonts", "FILE")
	lines := strings.Split(strings.TrimSpace(list), "\n")[2:] // columns: emb sub uni
	if len(lines) < 2 {
		t.Fatalf("fonts: %s", list)
	}
	for _, line := range lines {
		if !regexp.MustCompile(`CID TrueType\s+\S+\s+yes no  yes`).MatchString(line) {
			t.Errorf("not embedded, or its letters cannot be read back: %s", line)
		}
	}
}

// Nothing may reach past the edges of the column. Source: poppler's bounding boxes of words.
func TestReferenceNoTextLeavesTheColumn(t *testing.T) {
	boxes := tool(t, write(t, specimen()), "pdftotext", "-bbox", "FILE", "-")
	words := regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*)</word>`).FindAllStringSubmatch(boxes, -1)
	if len(words) < 100 {
		t.Fatalf("only %d words found", len(words))
	}
	for _, w := range words {
		x0, y1, x1 := number(t, w[1])/perMM, number(t, w[4])/perMM, number(t, w[3])/perMM
		if x0 < left-9 || x1 > right+0.5 || y1 > 288 {
			t.Errorf("%q lies at %.1f to %.1f mm, down to %.1f mm: outside the column of %.0f to %.0f", w[5], x0, x1, y1, left, right)
		}
	}
}

func TestLawMissingLettersAreNamed(t *testing.T) {
	d := specimen()
	d.Add(document.Paragraph{Text: "水 and 山 and 水"})
	d.Blocks = append(d.Blocks, document.Figure{Drawing: &drawing.Drawing{Width: 50, Height: 10, Paper: []drawing.Shape{
		drawing.Text{Layer: drawing.Notes, String: "火"},
	}}})
	missing, err := WriteDocument(&bytes.Buffer{}, d)
	if err != nil {
		t.Fatal(err)
	}
	if string(missing) != "水山火" {
		t.Errorf("missing %q", string(missing))
	}
}

func TestLawAPictureThatIsNoneIsLeftOut(t *testing.T) {
	for name, logo := range map[string][]byte{"text": []byte("no picture"), "cut": []byte("\x89PNG\r\n\x1a\n\x00")} {
		d := specimen()
		d.Head.Logo = logo
		if _, err := WriteDocument(&bytes.Buffer{}, d); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestLawSheetsKeepTheirPaperSize(t *testing.T) {
	var b bytes.Buffer
	if err := WriteSheets(&b, "sheets", day, picture1(), &drawing.Drawing{Name: "A3", Width: 420, Height: 297}); err != nil {
		t.Fatal(err)
	}
	info := tool(t, b.Bytes(), "pdfinfo", "-f", "1", "-l", "2", "FILE")
	for _, want := range []string{"453.5", "1190.5"} { // 160 mm, 420 mm in points
		if !strings.Contains(info, want) {
			t.Errorf("no page %s pt wide in\n%s", want, info)
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	var f float64
	if _, err := fmt.Sscan(s, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

func BenchmarkDocument(b *testing.B) {
	for b.Loop() {
		write(b, specimen())
	}
}

func BenchmarkSheet(b *testing.B) {
	for b.Loop() {
		if err := WriteSheets(&bytes.Buffer{}, "sheet", day, picture1()); err != nil {
			b.Fatal(err)
		}
	}
}

func TestLawColumnsAlwaysFillThePage(t *testing.T) {
	word := strings.Repeat("Schifffahrt", 4)
	for columns := 1; columns <= 16; columns++ {
		for _, text := range []string{"a", "a few short words in a row", word, word + " " + word} {
			table := document.Table{}
			row := []document.Cell{}
			for i := range columns {
				table.Columns = append(table.Columns, document.Column{Head: text[:1+i%len(text)], Right: i%2 == 0})
				row = append(row, document.Cell{Text: text})
			}
			table.Rows = [][]document.Cell{row}
			g := newGrid(table)
			if total := sum(g.w); total < width-1e-6 || total > width+1e-6 {
				t.Errorf("%d columns of %q take %.3f mm of %.3f", columns, text, total, width)
			}
			for i, w := range g.w {
				for _, line := range g.cellLines(row[i], i) {
					if used := cellFace(row[i]).Width(line, g.size) + 2*cellPad; used > w+1e-3 && len([]rune(line)) > 1 {
						t.Errorf("%d columns: %q takes %.2f of %.2f mm", columns, line, used, w)
					}
				}
			}
		}
	}
}

func TestLawTheFileCarriesTheDateOfThePaper(t *testing.T) {
	if out := write(t, specimen()); !bytes.Contains(out, []byte("/CreationDate (D:20260302")) {
		t.Error("the file is dated otherwise than its paper")
	}
}

// Source: poppler draws the page; an area lies where its drawing puts it, and opposite rings cut a hole.
func TestReferenceAnAreaLiesWhereItIsDrawn(t *testing.T) {
	square := func(from, to float64) []drawing.Point {
		return []drawing.Point{{X: from, Y: from}, {X: to, Y: from}, {X: to, Y: to}, {X: from, Y: to}}
	}
	hole := square(20, 30)
	slices.Reverse(hole)
	d := &drawing.Drawing{Name: "map", Width: 100, Height: 60, Paper: []drawing.Shape{drawing.Region{Layer: drawing.Chart, Fill: drawing.Clay, Rings: [][]drawing.Point{square(10.02, 40), hole}}}}
	var b bytes.Buffer
	if err := WriteSheets(&b, "map", time.Time{}, d); err != nil {
		t.Fatal(err)
	}
	const perMM = 4 // pixels
	image := tool(t, b.Bytes(), "pdftoppm", "-r", "101.6", "FILE")
	head := regexp.MustCompile(`^P6\s(\d+)\s(\d+)\s255\s`).FindStringSubmatch(image)
	if head == nil || head[1] != "400" { // the height is rounded up
		t.Fatalf("the page is %q", image[:min(len(image), 20)])
	}
	pixels := image[len(head[0]):]
	for _, c := range []struct {
		x, y float64
		fill bool
	}{{9.7, 25, false}, {10.4, 25, true}, {39.6, 12, true}, {40.4, 12, false}, {25, 25, false}, {19.6, 25, true}, {30.4, 39.6, true}, {25, 40.4, false}, {25, 10.4, true}, {25, 9.6, false}} {
		at := 3 * (int((60-c.y)*perMM)*400 + int(c.x*perMM))
		want := drawing.White
		if c.fill {
			want = drawing.Clay
		}
		if got := (drawing.Colour{R: pixels[at], G: pixels[at+1], B: pixels[at+2]}); got != want {
			t.Errorf("at %g, %g mm the page is %s, want %s", c.x, c.y, got.Hex(), want.Hex())
		}
	}
}
