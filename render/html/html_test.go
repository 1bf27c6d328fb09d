package html

import (
	"bytes"
	"encoding/base64"
	"regexp"
	"strings"
	"testing"

	"leste/render/document"
	"leste/render/drawing"
	"leste/render/typeface"
)

func sample() *document.Document {
	d := &document.Document{
		Kind: "Quotation", Title: `Line <3> & "co"`, Language: "en", Number: "Q-1",
		Labels: document.Labels{Figure: "Figure", Table: "Table", Contents: "Contents"},
		Cover:  &document.Cover{Verdict: "Met", Tone: document.Good, Points: []document.Point{{Value: "86", Unit: "mg"}}},
	}
	d.Add(
		document.Contents{},
		document.Heading{Level: 1, Text: "First"},
		document.Table{Caption: "Water", Columns: []document.Column{{Head: "Zone"}, {Head: "mg", Right: true}}, Rows: [][]document.Cell{
			{{Text: "<script>alert(1)</script>"}, {Text: "86"}}, {{Text: "met", Tone: document.Good, Span: 2}},
		}},
		document.Figure{Drawing: &drawing.Drawing{Width: 10, Height: 10, Paper: []drawing.Shape{drawing.Text{Layer: drawing.Notes, String: "<b>"}}}, Caption: "Plan"},
		document.Heading{Level: 1, Text: "Second"},
		document.Break{},
	)
	return d
}

func render(t *testing.T, d *document.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestLawTextIsEscapedAndNumbersAreGiven(t *testing.T) {
	out := render(t, sample())
	for _, bad := range []string{"<script>", "<b></text>", "http://", "https://"} {
		if strings.Contains(strings.ReplaceAll(out, "http://www.w3.org/2000/svg", ""), bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	for _, want := range []string{"&lt;script&gt;", "Line &lt;3&gt; &amp;", "<b>Table 1</b> Water", "<b>Figure 1</b> Plan", `<a href="#chapter-2">Second</a>`, `<figure style="--share: 6.1%">`, "●\u00a0met", `colspan="2"`, `<html lang="en">`} {
		if !strings.Contains(out, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if out != render(t, sample()) {
		t.Error("two writes of one document differ")
	}
}

func TestLawALogoThatIsNoPictureIsLeftOut(t *testing.T) {
	d := sample()
	d.Head.Logo = []byte("<svg onload=alert(1)>")
	d.Head.Name = "Ponta Clara"
	if out := render(t, d); strings.Contains(out, "<img") || !strings.Contains(out, "Ponta Clara") {
		t.Error("the name must stand in for a logo that cannot be shown")
	}
	d.Head.Logo = []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")
	if out := render(t, d); !strings.Contains(out, "data:image/png;base64,") {
		t.Error("a PNG logo is missing")
	}
}

// Source: golang.org/x/image counts the glyphs; the letters of a page are those that a reader sees.
func TestReferenceThePageCarriesItsLetters(t *testing.T) {
	out := render(t, sample())
	carried := regexp.MustCompile(`@font-face [^}]*font-weight: (\d+)[^}]*base64,([A-Za-z0-9+/=]+)`).FindAllStringSubmatch(out, -1)
	if len(carried) != 2 || carried[0][1] != "400" || carried[1][1] != "700" {
		t.Fatalf("%d faces are carried", len(carried))
	}
	for i, face := range []typeface.Face{typeface.Regular, typeface.Bold} {
		// "Line <3> & ..." is seen as such, and "&lt;b&gt;" as "<b>"; ● is the sign of "met".
		want := base64.StdEncoding.EncodeToString(face.Web(`Quotation Q-1 Line <3> & "co" Met 86 mg Contents First Second 1 2 Table Water Zone alert(1) /script ● Figure Plan b •0123456789.` + "\u00a0"))
		if carried[i][2] != want {
			t.Errorf("face %d does not carry the letters that are seen, and no others", face)
		}
	}
	if strings.Contains(out, "font-family='") {
		t.Error("a figure has a font of its own")
	}
}
