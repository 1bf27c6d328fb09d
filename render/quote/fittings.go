package quote

import (
	"slices"
	"strings"

	"leste/job"
)

// A fitting is a piece of the way of the air as it is ordered: ducts and hoses, bends, reducers, and what divides it.
type fitting struct {
	kind, where  string
	count        float64
	length, bore float64 // m; 0 has none
	note         string
}

// blower names a blower: one that has no name of its own is called what it is, once.
func (in *Input) blower(name string) string {
	w := in.Words
	if kind := w.T("air.blower"); !strings.EqualFold(kind, w.Name(name)) {
		return kind + " " + name
	}
	return w.T("air.blower")
}

// fittings lists the pieces of all branches in the order of the flow, and then the places where branches meet. A piece
// without a bore of its own has that of the one before it.
func (in *Input) fittings() []fitting {
	w := in.Words
	branches, assumed := in.branches()
	noted := func(parts ...string) string {
		if assumed {
			parts = append(parts, w.T("list.assumed"))
		}
		return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ")
	}
	var out []fitting
	start, end := map[string][]float64{}, map[string][]float64{} // bores at places
	var places []string
	for i := range branches {
		b := &branches[i]
		bore, first := 0.0, 0.0
		for k := range b.Elements {
			e := &b.Elements[k]
			own := float64(e.Bore.V)
			if own > 0 && bore > 0 && own != bore { // nobody drew what joins them
				out = append(out, fitting{kind: w.Term("reducer"), where: w.Name(b.Name), count: 1, bore: bore, note: noted(w.T("list.reduced", in.bored(own)))})
			}
			if own > 0 {
				bore = own
			}
			if first == 0 {
				first = bore
			}
			f := fitting{kind: w.Term(e.Kind), where: w.Name(b.Name), count: float64(max(e.Count, 1)), length: float64(e.Length.V), bore: bore}
			to := ""
			if after := float64(e.BoreAfter.V); after > 0 {
				to, bore = w.T("list.reduced", in.bored(after)), after
			}
			f.note = noted(w.Term(e.Material), to)
			out = append(out, f)
		}
		start[b.From], end[b.To] = append(start[b.From], first), append(end[b.To], bore)
		for _, p := range []string{b.From, b.To} {
			if !slices.Contains(places, p) {
				places = append(places, p)
			}
		}
	}
	for _, p := range places {
		legs := append(slices.Clone(end[p]), start[p]...)
		if len(legs) < 3 || in.isOutlet(p) || len(end[p]) == 0 {
			continue
		}
		kind := "wye"
		for _, j := range in.Job.AirSupply.Junctions {
			if j.At == p && j.Kind != "" {
				kind = j.Kind
			}
		}
		var bores []string
		for _, bore := range start[p] {
			bores = append(bores, in.bored(bore))
		}
		out = append(out, fitting{kind: w.Term("junction " + kind), where: w.Name(p), count: 1, bore: end[p][0], note: noted(w.T("list.legs", strings.Join(bores, " / ")))})
	}
	return out
}

// bored writes a bore with its unit, to the digits of the list.
func (in *Input) bored(v float64) string {
	return in.Words.Number(in.cut(v), 6) + unit + in.lengthUnit()
}

func (in *Input) isOutlet(place string) bool {
	return slices.ContainsFunc(in.Job.Stations, func(s job.Station) bool {
		return slices.ContainsFunc(s.Outlets, func(o job.Outlet) bool { return o.Name == place })
	})
}
