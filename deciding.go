package leste

// A Decider is the requirement that decides, with its format and its zone.
type Decider struct {
	Format *FormatResult
	Zone   *ZoneResult
	*RequirementResult
}

// Deciding is the requirement with the worst verdict and, among such, the least reserve: of all formats, or of those
// given. Whoever shows a result names this one, so that a headline and a table never tell two stories. Ok is false
// where nothing is required.
func Deciding(formats ...FormatResult) (d Decider, ok bool) {
	for i := range formats {
		f := &formats[i]
		for k := range f.Zones {
			for n := range f.Zones[k].Requirements {
				x := &f.Zones[k].Requirements[n]
				if !ok || badness(x.Verdict) > badness(d.Verdict) || badness(x.Verdict) == badness(d.Verdict) && x.Reserve < d.Reserve {
					d, ok = Decider{f, &f.Zones[k], x}, true
				}
			}
		}
	}
	return d, ok
}

// Falls lists the ways in which a container of the format tips or lifts off: those that keep its verdict from being
// met, however dry it leaves. A factor below 1 is not met; what is close above it, undecided.
func (f *FormatResult) Falls() []Push {
	var out []Push
	for _, p := range f.Standing {
		if p.falls() && p.Factor < pushMargin {
			out = append(out, p)
		}
	}
	return out
}
