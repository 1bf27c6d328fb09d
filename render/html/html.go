// Package html writes documents as one self-contained page that reads well on a telephone, on a desk and
// in print. The page carries the letters that it is set in.
package html

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	entities "html"
	"html/template"
	"io"
	"net/http"
	"strings"

	"leste/render/document"
	"leste/render/svg"
	"leste/render/typeface"
)

//go:embed page.css
var css string

//go:embed page.gohtml
var page string

var pages = template.Must(template.New("page").Funcs(template.FuncMap{
	"svg":    figure,
	"share":  share,
	"tone":   tone,
	"sign":   sign,
	"lines":  func(s string) []string { return strings.Split(s, "\n") },
	"rows":   func(n int) []struct{} { return make([]struct{}, max(n, 1)) },
	"inc":    func(n int) int { return n + 1 },
	"spread": func(c document.Cell) int { return max(c.Span, 1) },
}).Parse(page))

// Write writes the document.
func Write(w io.Writer, d *document.Document) error {
	v := view{Document: d, CSS: template.CSS(css), Logo: logo(d.Head.Logo)}
	v.number()
	var b bytes.Buffer
	if err := pages.Execute(&b, v); err != nil {
		return fmt.Errorf("html: %w", err)
	}
	_, err := w.Write(withFonts(b.Bytes()))
	return err
}

// withFonts puts the fonts of a page before its styles.
func withFonts(page []byte) []byte {
	const mark = "<style>"
	var fonts strings.Builder
	fmt.Fprintf(&fonts, "%s\n/* %s: letters of %s under the SIL Open Font License 1.1 */\n", mark, typeface.WebFamily, typeface.Family)
	text := letters(string(page))
	for _, face := range []struct {
		face   typeface.Face
		weight int
	}{{typeface.Regular, 400}, {typeface.Bold, 700}} {
		if font := face.face.Web(text); font != nil {
			fmt.Fprintf(&fonts, "@font-face { font-family: %q; font-weight: %d; src: url(data:font/woff;base64,%s) format(\"woff\"); }\n",
				typeface.WebFamily, face.weight, base64.StdEncoding.EncodeToString(font))
		}
	}
	return bytes.Replace(page, []byte(mark), []byte(fonts.String()), 1)
}

// listed is what browsers put before the items of lists.
const listed = "•0123456789."

// letters is what stands between the tags of a page after its styles, and before the items of its lists.
func letters(page string) string {
	var text strings.Builder
	text.WriteString(listed)
	_, body, _ := strings.Cut(page, "</style>")
	for part := range strings.SplitSeq(body, "<") {
		_, outside, _ := strings.Cut(part, ">")
		text.WriteString(outside)
	}
	return entities.UnescapeString(text.String())
}

// view is what the page template reads: the document with its numbers.
type view struct {
	*document.Document
	CSS      template.CSS
	Logo     template.URL
	Parts    []part
	Chapters []chapter
}

// part is a block with the number that a reader cites it by; exactly one of the pointers is set.
type part struct {
	Number int
	ID     string

	Heading   *document.Heading
	Paragraph *document.Paragraph
	List      *document.List
	Table     *document.Table
	Figure    *document.Figure
	Panel     *document.Panel
	Facts     *document.Facts
	Form      *document.Form
	Contents  bool
}

type chapter struct {
	Number   int
	ID, Text string
}

// number gives chapters, figures and tables the same numbers as the printed pages.
func (v *view) number() {
	chapters, figures, tables := 0, 0, 0
	for _, b := range v.Blocks {
		p := part{}
		switch b := b.(type) {
		case document.Heading:
			if b.Level <= 1 {
				chapters++
				p.Number = chapters
				p.ID = fmt.Sprintf("chapter-%d", chapters)
				v.Chapters = append(v.Chapters, chapter{chapters, p.ID, b.Text})
			}
			p.Heading = &b
		case document.Paragraph:
			p.Paragraph = &b
		case document.List:
			p.List = &b
		case document.Table:
			if b.Caption != "" {
				tables++
				p.Number = tables
			}
			p.Table = &b
		case document.Figure:
			figures++
			p.Number = figures
			p.Figure = &b
		case document.Panel:
			p.Panel = &b
		case document.Facts:
			p.Facts = &b
		case document.Form:
			p.Form = &b
		case document.Contents:
			p.Contents = true
		default:
			continue
		}
		v.Parts = append(v.Parts, p)
	}
}

func figure(f *document.Figure) template.HTML {
	if f == nil || f.Drawing == nil {
		return ""
	}
	title := f.Alt
	if title == "" {
		title = f.Caption
	}
	return template.HTML(svg.Bytes(f.Drawing, svg.Options{Inline: true, Title: title})) // our own writer escapes
}

// column is how wide the printed column is for which drawings are made [mm].
const column = 164.0

// share is how much of the column's width a drawing takes: drawings to scale stay so in print.
func share(f *document.Figure) template.CSS {
	if f == nil || f.Drawing == nil {
		return ""
	}
	return template.CSS(fmt.Sprintf("--share: %.1f%%", min(100, 100*f.Drawing.Width/column)))
}

func tone(t document.Tone) string {
	return [...]string{"plain", "strong", "muted", "good", "bad", "undecided", "info"}[t]
}

func sign(t document.Tone) string {
	if s := t.Sign(); s != "" {
		return s + "\u00a0"
	}
	return ""
}

// logo returns the picture as a data address; anything but PNG and JPEG is left out.
func logo(data []byte) template.URL {
	kind := http.DetectContentType(data)
	if len(data) == 0 || (kind != "image/png" && kind != "image/jpeg") {
		return ""
	}
	return template.URL("data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(data)) // of a checked kind
}
