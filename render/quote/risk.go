package quote

import (
	"strings"

	"leste/render/document"
)

// hazards are the headings of ISO 12100, annex B, that a blow-off station gives reason to look at. Each has
// three rows in the table of words: its name, what it is here, and what usually helps.
var hazards = []string{"mechanical", "electrical", "thermal", "noise", "ejection", "pressure", "substances", "ergonomic", "slip", "environment", "restart"}

// Risk returns notes for the machinery risk assessment. They are no certificate.
func Risk(in *Input) *document.Document {
	w := in.Words
	d := in.base(w.T("risk.kind"))
	d.Add(document.Panel{Tone: document.Undecided, Title: w.T("risk.notitle"), Text: w.T("risk.no")})
	d.Add(document.Heading{Level: 1, Text: w.T("risk.limits")}, document.Paragraph{Text: w.T("risk.limitstext", strings.Join(in.stations(), ", "))})
	d.Add(document.Heading{Level: 1, Text: w.T("risk.hazards")})
	t := document.Table{Caption: w.T("risk.table"), Columns: []document.Column{{Head: w.T("risk.hazard"), Weight: 1.3}, {Head: w.T("risk.here"), Weight: 2.5}, {Head: w.T("risk.measures"), Weight: 2.5}, {Head: w.T("risk.judged")}}}
	for _, h := range hazards {
		t.Rows = append(t.Rows, document.Row(w.T("hazard."+h), w.T("hazard."+h+".here"), w.T("hazard."+h+".do"), ""))
	}
	d.Add(t)
	if len(in.Result.Cautions) > 0 {
		d.Add(document.Heading{Level: 1, Text: w.T("cautions.title")}, document.List{Items: in.sentences(in.Result.Cautions)})
	}
	d.Add(document.Heading{Level: 1, Text: w.T("risk.left")}, document.Form{Fields: []document.Field{{Name: w.T("form.remarks"), Rows: 6}, {Name: w.T("form.date")}, {Name: w.T("form.by")}}})
	return d
}

func (in *Input) stations() []string {
	var out []string
	for _, s := range in.Job.Stations {
		out = append(out, in.Words.Found(s.Name))
	}
	return out
}
