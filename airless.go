package leste

import (
	"context"
	"fmt"
	"strings"

	"leste/airsupply"
	"leste/drying"
	q "leste/quantity"
	"leste/station"
)

// A case in which no air comes leaves the water that arrives: a blower that surges or stalls gives no steady air, so that
// nothing is counted on. Where it is not known whether air comes, the water lies between what it leaves at best and what
// arrives, and no requirement is met that what arrives does not meet.

// still is a station without air.
type still struct{}

func (still) At(_ float64, f *station.Field) { f.First, f.Last = 0, 0 }

// seasonOf is the season of a case of the air side.
func seasonOf(name string) season {
	if strings.HasPrefix(name, caseWinter) || name == airsupply.ColdestDay {
		return winter
	}
	return summer
}

// lacking lists the cases in which no air comes or nobody knows: those that a format is judged in anyway, and of the
// others of the air side the first of each kind that none of these has.
func (a *assessment) lacking() []situation {
	var out []situation
	if a.options.Nominal || a.options.Case != "" {
		return nil
	}
	gravest := airsupply.Comes
	for _, judged := range []bool{true, false} {
		for i := range a.supply.Study.Cases {
			c := &a.supply.Study.Cases[i]
			lack := c.Lacks()
			usual := c.Name == caseWinter || c.Name == caseLoaded
			if lack == airsupply.Comes || usual != judged || !judged && lack <= gravest {
				continue
			}
			s := situation{name: c.Name, speed: 1, season: seasonOf(c.Name), lacks: lack, refused: c.Refused}
			if lack == airsupply.Dry {
				s.note = "no air comes: " + c.Refused + "; what is told is the water that arrives"
			}
			out = append(out, s)
			gravest = max(gravest, lack)
		}
	}
	return out
}

// answerLacking judges a format in the cases in which air is lacking, once all others are.
func (a *assessment) answerLacking(ctx context.Context, run *formatRun) error {
	all := a.lacking()
	if len(all) == 0 || len(run.plan.Stations) == 0 {
		return nil
	}
	base := run.decides
	notes := run.all[base].outcome.Notes // on what the air does where it comes
	for _, s := range all {
		bare := s
		bare.lacks = airsupply.Dry
		p, none, err := a.withoutAir(ctx, run, bare)
		if err != nil {
			return err
		}
		if s.lacks == airsupply.Unsure {
			was := &run.all[base]
			s.note = fmt.Sprintf("whether air comes is not known: %s; the water lies between that of the case %s and what arrives", s.refused, was.situation.name)
			s.speed, s.touch, s.stand, s.stop, s.season, s.loaded = was.situation.speed, was.situation.touch, was.situation.stand, was.situation.stop, was.situation.season, was.situation.loaded
			o := copied(was.outcome)
			reachUpTo(&o, &none)
			p, none = a.problem(run.stages[s.touch], s), o
		}
		none.Notes = notes
		found, _ := judge(p, s, none)
		run.all = append(run.all, found)
	}
	run.decides = worst(run.all)
	return nil
}

// withoutAir is the problem of a case without air and its outcome, by closed forms: nothing drives the water.
func (a *assessment) withoutAir(ctx context.Context, run *formatRun, s situation) (*drying.Problem, drying.Outcome, error) {
	p := a.problem(run.stages[s.touch], s)
	if a.options.LikelyWater {
		p.Spreads = drying.NoSpreads(p)
	}
	o, err := a.answeredWithoutAir(ctx, p)
	return p, o, err
}

func (a *assessment) answeredWithoutAir(ctx context.Context, p *drying.Problem) (drying.Outcome, error) {
	m, err := drying.MethodNamed(quickOr(a.options.Method))
	if err != nil {
		return drying.Outcome{}, err
	}
	return m(ctx, p, drying.Options{Workers: a.options.Workers})
}

// reachUpTo widens the bands of an outcome up to those of another.
func reachUpTo(o, other *drying.Outcome) {
	up := func(a, b *drying.MachineWater) {
		raise(&a.Total, b.Total)
		for i := range a.Zones {
			z := &a.Zones[i]
			for k := range b.Zones {
				if b.Zones[k].Zone != z.Zone {
					continue
				}
				raise(&z.Left, b.Zones[k].Left)
				raise(&z.Largest, b.Zones[k].Largest)
				for n := range min(len(z.Count), len(b.Zones[k].Count)) {
					z.Count[n].High = max(z.Count[n].High, b.Zones[k].Count[n].High)
				}
			}
		}
	}
	up(&o.After, &other.After)
	for i := range o.At {
		up(&o.At[i], &other.At[i])
	}
}

func raise(b *q.Band, to q.Band) { b.High = max(b.High, to.High) }

// airVerdict is what lacking air alone comes to: where nothing is asked of the water, air that does not come is not met;
// else the water tells.
func (a *assessment) airVerdict() Verdict {
	asked := false
	for i := range a.result.Formats {
		for k := range a.result.Formats[i].Zones {
			asked = asked || len(a.result.Formats[i].Zones[k].Requirements) > 0
		}
	}
	verdict := Met
	for i := range a.supply.Study.Cases {
		switch lack := a.supply.Study.Cases[i].Lacks(); {
		case lack == airsupply.Dry && !asked:
			return NotMet
		case lack != airsupply.Comes:
			verdict = Undecided
		}
	}
	return verdict
}

// sayLacking says in which cases air is lacking, and why.
func (a *assessment) sayLacking() {
	for _, lack := range []airsupply.Lack{airsupply.Dry, airsupply.Unsure} {
		var names []string
		why := ""
		for i := range a.supply.Study.Cases {
			if c := &a.supply.Study.Cases[i]; c.Lacks() == lack {
				if len(names) == 0 {
					why = strings.TrimSuffix(c.Refused, ".")
				}
				names = append(names, c.Name)
			}
		}
		list := strings.Join(names, "; ")
		switch dry := lack == airsupply.Dry; {
		case len(names) == 0:
		case dry && len(names) == 1:
			a.caution(fmt.Sprintf("no air comes in the case %s: %s", list, why))
		case dry:
			a.caution(fmt.Sprintf("no air comes in the cases %s: in the first, %s", list, why))
		case len(names) == 1:
			a.caution(fmt.Sprintf("whether air comes in the case %s is not known: %s", list, why))
		default:
			a.caution(fmt.Sprintf("whether air comes in the cases %s is not known: in the first, %s", list, why))
		}
	}
}
