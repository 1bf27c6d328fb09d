// Package offer writes all papers of one quotation: PDF and HTML, drawings in every format, lists, forms.
package offer

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"strings"
	"sync"

	leste "leste"
	"leste/accept"
	"leste/render/document"
	"leste/render/drawing"
	"leste/render/dxf"
	"leste/render/gltf"
	"leste/render/html"
	"leste/render/pdf"
	"leste/render/quote"
	"leste/render/scene"
	"leste/render/sheets"
	"leste/render/svg"
	"leste/render/typeface"
	"leste/render/words"
)

// A File is one paper with its name.
type File struct {
	Name string
	Data []byte
}

// papers collects the files of one step, and the letters that the fonts lack, by file.
type papers struct {
	in      *quote.Input
	files   []File
	missing map[string][]rune
}

// Files writes every paper. Terms carry the costs: without any, there is no internal sheet. Warnings say what
// could not be shown as it was given. The papers are written beside each other; they do not depend on how many cores
// write them.
func Files(in *quote.Input, t quote.Terms) ([]File, []string, error) {
	customer := quote.Quotation(in)
	steps := []func(*papers) error{
		func(p *papers) error { return p.pdf("quotation.pdf", customer) },
		func(p *papers) error { return p.html("quotation.html", customer) },
		func(p *papers) error { return p.pdf("set-up.pdf", quote.SetUp(in)) },
		func(p *papers) error { return p.pdf("acceptance.pdf", quote.Acceptance(in)) },
		func(p *papers) error { return p.blank() },
		func(p *papers) error { return p.pdf("risk-notes.pdf", quote.Risk(in)) },
		func(p *papers) error { return p.pdf("survey.pdf", quote.Survey(in.Words, in.Head, in.Offer.Date)) },
		func(p *papers) error { return p.lists() },
		func(p *papers) error { return p.drawings() },
		func(p *papers) error { return p.models() },
	}
	if hasCosts(t) {
		steps = append(steps, func(p *papers) error { return p.pdf("internal-costs.pdf", quote.Internal(in, t)) })
	}
	done := make([]papers, len(steps))
	errs := make([]error, len(steps))
	var wg sync.WaitGroup
	for i, step := range steps {
		wg.Go(func() {
			done[i] = papers{in: in, missing: map[string][]rune{}}
			errs[i] = step(&done[i])
		})
	}
	wg.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, nil, err
	}
	var files []File
	for _, p := range done {
		files = append(files, p.files...)
	}
	files = append(files, File{"fonts-licence.txt", []byte(typeface.Licence)})
	return files, lacking(files, done), nil
}

// lacking says which letters the fonts lack, each where it is met first.
func lacking(files []File, done []papers) []string {
	var warnings []string
	told := map[rune]bool{}
	for _, f := range files {
		var fresh []rune
		for _, p := range done {
			for _, r := range p.missing[f.Name] {
				if !told[r] {
					told[r] = true
					fresh = append(fresh, r)
				}
			}
		}
		if len(fresh) > 0 {
			warnings = append(warnings, fmt.Sprintf("%s: the fonts have no letter %s; a box stands in its place", f.Name, quoted(fresh)))
		}
	}
	return warnings
}

func hasCosts(t quote.Terms) bool {
	for _, i := range t.Items {
		if i.Cost > 0 {
			return true
		}
	}
	return false
}

func (p *papers) add(name string, data []byte) { p.files = append(p.files, File{name, data}) }

func (p *papers) pdf(name string, d *document.Document) error {
	var b bytes.Buffer
	missing, err := pdf.WriteDocument(&b, d)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	p.missing[name] = missing
	p.add(name, b.Bytes())
	return nil
}

func quoted(letters []rune) string {
	out := make([]string, len(letters))
	for i, r := range letters {
		out[i] = fmt.Sprintf("%q (U+%04X)", string(r), r)
	}
	return strings.Join(out, ", ")
}

func (p *papers) html(name string, d *document.Document) error {
	var b bytes.Buffer
	if err := html.Write(&b, d); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	p.add(name, b.Bytes())
	return nil
}

// blank writes the file of measurements with its columns and a row of each promise and instrument, to be filled in. Rows
// that stay empty are not read. Where the comma is the decimal mark, spreadsheets part cells by semicolons.
func (p *papers) blank() error {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if p.in.Words.Language == "de" {
		w.Comma = ';'
	}
	r := p.in.Result
	rows := [][]string{accept.Columns()}
	add := func(what, format, at, state string) {
		rows = append(rows, []string{what, format, at, state, "", "", "", ""})
	}
	for _, o := range r.Air.Outlets {
		add(accept.Plenum, "", o.Name, "")
	}
	for _, o := range r.Air.Blowers {
		add(accept.Current, "", o.Name, "")
		add(accept.Temperature, "", o.Name, "")
		add(accept.Filter, "", o.Name, "")
	}
	if r.Sound.Assessed {
		add(accept.Sound, "", "", accept.AirOn)
		add(accept.Sound, "", "", accept.AirOff)
	}
	for _, f := range r.Formats {
		add(accept.Speed, f.Name, "", "")
		for _, z := range f.Zones {
			for _, x := range z.Requirements {
				switch x.Quantity {
				case "rejects":
					for _, state := range []string{accept.HandDried, accept.AirOff, accept.AirOn} {
						add(accept.Rejects, f.Name, x.Machine, state)
					}
				case "drop":
					add(accept.Drop, f.Name, z.Name, "")
				default:
					add(accept.Water, f.Name, z.Name, "")
				}
			}
		}
	}
	if err := w.WriteAll(rows); err != nil {
		return fmt.Errorf("acceptance.csv: %w", err)
	}
	p.add("acceptance.csv", b.Bytes())
	return nil
}

func (p *papers) lists() error {
	all := quote.Lists(p.in)
	book, err := sheets.XLSX(p.in.Words.Found(p.in.Job.Name), p.in.Offer.Date, all...)
	if err != nil {
		return err
	}
	p.add("lists.xlsx", book)
	for _, l := range all {
		data, err := sheets.CSV(l)
		if err != nil {
			return err
		}
		p.add("list-"+safe(l.Name)+".csv", data)
	}
	return nil
}

func (p *papers) drawings() error {
	if p.in.Plan == nil {
		return nil
	}
	o := p.in.Offer
	options := scene.Options{Words: p.in.Words, Number: o.Number, Revision: o.Revision, By: p.in.Head.Name, Date: o.Date}
	all := scene.Sheets(p.in.Job, p.in.Plan, options)
	options.Words.Units, options.Model = words.SI, true // models are in true millimetres in any units, and so are their figures
	models := scene.Sheets(p.in.Job, p.in.Plan, options)
	if len(all) == 0 {
		return nil
	}
	var pages []*drawing.Drawing
	names := unique(len(all), func(i int) string { return all[i].Format + "-" + all[i].Station })
	for i, s := range all {
		pages = append(pages, s.Drawing)
		p.add("drawing-"+names[i]+".svg", svg.Bytes(s.Drawing, svg.Options{}))
		p.add("drawing-"+names[i]+".dxf", dxf.Bytes(models[i].Drawing))
	}
	var b bytes.Buffer
	if err := pdf.WriteSheets(&b, p.in.Words.Found(p.in.Job.Name), o.Date, pages...); err != nil {
		return err
	}
	p.add("drawings.pdf", b.Bytes())
	return nil
}

func (p *papers) models() error {
	if p.in.Plan == nil {
		return nil
	}
	type pair struct{ f, s int }
	var pairs []pair
	for f := range p.in.Plan.Formats {
		for s := range p.in.Plan.Formats[f].Stations {
			pairs = append(pairs, pair{f, s})
		}
	}
	names := unique(len(pairs), func(i int) string {
		f := p.in.Plan.Formats[pairs[i].f]
		return f.Format.Name + "-" + f.Stations[pairs[i].s].Name
	})
	for i, k := range pairs {
		f := p.in.Plan.Formats[k.f]
		data, err := gltf.Bytes(f, f.Stations[k.s], p.mapOf(f.Format.Name), gltf.Options{Coarse: p.in.Many()})
		if err != nil {
			return fmt.Errorf("station-%s.glb: %w", names[i], err)
		}
		p.add("station-"+names[i]+".glb", data)
	}
	return nil
}

func (p *papers) mapOf(format string) *leste.Map {
	for i := range p.in.Result.Formats {
		if p.in.Result.Formats[i].Name == format {
			return p.in.Result.Formats[i].Map
		}
	}
	return nil
}

// unique returns names for files, none the same.
func unique(n int, name func(int) string) []string {
	used := map[string]bool{}
	out := make([]string, n)
	for i := range out {
		base := safe(name(i))
		out[i] = base
		for k := 2; used[out[i]]; k++ {
			out[i] = fmt.Sprintf("%s-%d", base, k)
		}
		used[out[i]] = true
	}
	return out
}

// safe makes a name of lower-case letters, digits and hyphens, short enough for every file system.
func safe(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case !strings.HasSuffix(b.String(), "-") && b.Len() > 0:
			b.WriteByte('-')
		}
		if b.Len() >= 60 {
			break
		}
	}
	if out := strings.Trim(b.String(), "-"); out != "" {
		return out
	}
	return "unnamed"
}
