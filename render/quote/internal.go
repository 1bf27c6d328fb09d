package quote

import (
	"leste/render/document"
)

// Internal returns the sheet with costs and margins. It never leaves the house.
func Internal(in *Input, t Terms) *document.Document {
	w := in.Words
	d := in.base(w.T("internal.kind"))
	d.Title = w.T("internal.title") + ": " + w.Found(in.Job.Name)
	d.Foot = w.T("internal.foot")
	d.Add(document.Heading{Level: 1, Text: w.T("internal.title")}, document.Panel{Tone: document.Bad, Title: w.T("internal.foot"), Text: w.T("internal.text")})
	table := document.Table{Caption: w.T("internal.table"), Columns: []document.Column{
		{Head: w.T("offer.item"), Weight: 3}, {Head: w.T("offer.quantity"), Right: true}, {Head: w.T("internal.cost"), Right: true}, {Head: w.T("offer.price"), Right: true}, {Head: w.T("internal.costsum"), Right: true}, {Head: w.T("offer.sum"), Right: true}, {Head: w.T("internal.margin"), Right: true},
	}}
	cost, price := 0.0, 0.0
	for _, i := range t.Items {
		c, p := i.Cost*i.Quantity, i.Price*i.Quantity
		cost, price = cost+c, price+p
		table.Rows = append(table.Rows, document.Row(i.Name, w.Number(i.Quantity, 4), w.Fixed(i.Cost, 2), w.Fixed(i.Price, 2), w.Fixed(c, 2), w.Fixed(p, 2), margin(in, c, p)))
	}
	net := price * (1 - t.Discount/100)
	total := func(key string, c, p float64) {
		table.Rows = append(table.Rows, []document.Cell{{Text: w.T(key), Tone: document.Strong}, {}, {}, {Text: t.Currency}, {Text: w.Fixed(c, 2), Tone: document.Strong}, {Text: w.Fixed(p, 2), Tone: document.Strong}, {Text: margin(in, c, p), Tone: document.Strong}})
	}
	if t.Discount > 0 {
		total("offer.total", cost, price)
	}
	total("offer.net", cost, net)
	d.Add(table)
	return d
}

// margin is the share of the price that is not cost.
func margin(in *Input, cost, price float64) string {
	if !(price > 0) {
		return "–"
	}
	return in.Words.Fixed(100*(price-cost)/price, 1) + unit + "%"
}
