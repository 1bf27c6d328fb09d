package airsupply

import (
	"context"
	"fmt"
	"math"

	"leste/catalogue"
	"leste/job"
	"leste/physics/air"
	"leste/physics/jet"
	"leste/physics/relation"
	q "leste/quantity"
)

// A Plan is the air side of a job, laid out, with everything that nobody gave and was assumed.
type Plan struct {
	Network    *Network
	Site       Site
	Wanted     Wanted // plenum pressures wanted
	Measured   Wanted // plenum pressures measured on a station as found; they stand in for the blower
	Assumed    []job.Assumed
	Candidates []Candidate // when a blower was selected, best first
}

// Site is the air at the place.
type Site struct {
	Pressure q.Absolute
	Summer   Inlets
	Winter   Inlets
	Coldest  air.Moist // inlet air
	Hottest  air.Moist
	Loaded   q.Ratio             // of the filters in the nominal case: 0 clean, 1 at change-out
	Own      map[string]OwnInlet // of blowers that draw from elsewhere
}

// OwnInlet is the inlet air of one blower that draws from elsewhere than the others.
type OwnInlet struct{ Summer, Winter air.Moist }

// own is the inlet air of blowers that draw from elsewhere, in one season.
func (s Site) own(season func(OwnInlet) air.Moist) map[string]air.Moist {
	if len(s.Own) == 0 {
		return nil
	}
	out := map[string]air.Moist{}
	for name, in := range s.Own {
		out[name] = season(in)
	}
	return out
}

func (o OwnInlet) summer() air.Moist { return o.Summer }

func (o OwnInlet) winter() air.Moist { return o.Winter }

// coldest is the inlet air that the motor of a blower is sized on.
func (s Site) coldest(blower string) air.Moist {
	if own, ok := s.Own[blower]; ok {
		return own.Winter
	}
	return s.Coldest
}

// Inlets is the air of one season: what the blowers draw and what stands around the ducts.
type Inlets struct{ Inlet, Room air.Moist }

// Nominal is the case a job is planned on: summer air, filters as the job says, nominal speeds.
func (s Site) Nominal() Case {
	return Case{Name: "nominal", Inlet: s.Summer.Inlet, Own: s.own(OwnInlet.summer), Room: s.Summer.Room.T, Load: s.Loaded}
}

const practice = "common practice, no source"

// builder collects what is assumed on the way.
type builder struct {
	job     *job.Job
	supply  job.AirSupply
	parts   catalogue.Parts
	plan    *Plan
	outlets []Outlet
	sized   []string // blowers whose motor nobody gave
}

func (b *builder) assume(path, value, low, high, source string) {
	b.plan.Assumed = append(b.plan.Assumed, job.Assumed{Path: path, Value: value, Low: low, High: high, Source: source})
}

// Build lays out the air side of a job for its outlets (see Outlets). Whatever the job leaves out is assumed
// and listed: a blower selected from the catalogue, a duct of a bore for 20 to 25 m/s, a wye at each branching,
// hoses. Speeds are set for the wanted plenum pressures. Errors are *Refusal and name the element.
//
// A station as found with measured plenum pressures needs no blower: the plan has no network then, see
// FixedPressure.
func Build(ctx context.Context, j *job.Job, outlets []Outlet, parts catalogue.Parts) (*Plan, error) {
	// Defaults stand in one place, the job file's.
	j = job.Clone(j)
	job.Fill(j)
	b := &builder{job: j, supply: j.AirSupply, parts: parts, plan: &Plan{}, outlets: outlets}
	var err error
	if b.plan.Site, err = siteOf(j); err != nil {
		return nil, err
	}
	if len(outlets) == 0 {
		return nil, refuse("", "The job has no outlet that a blower feeds.")
	}
	if b.pressures() {
		return b.plan, nil
	}
	b.plan.Network = &Network{Outlets: outlets, HeatTransfer: b.supply.HeatTransfer.V}
	if err := b.blowers(ctx); err != nil {
		return nil, err
	}
	b.swirl()
	if err := b.leaks(); err != nil {
		return nil, err
	}
	if err := b.speeds(ctx); err != nil {
		return nil, err
	}
	return b.plan, b.motors()
}

// pressures finds the pressures wanted or measured, and reports whether measured ones stand in for a blower.
func (b *builder) pressures() bool {
	wanted, measured := Wanted{}, Wanted{}
	all := true
	for _, s := range b.job.Stations {
		for _, o := range s.Outlets {
			p := o.Pressure
			if !p.Known && s.Plenum.Known {
				p = s.Plenum
			}
			switch {
			case o.Compressed:
			case p.Known && s.State == job.AsFound:
				measured[o.Name] = p.V
			case p.V > 0:
				wanted[o.Name] = p.V
				all = false
			default:
				all = false
			}
		}
	}
	if all && len(measured) > 0 && len(b.supply.Blowers) == 0 {
		b.plan.Measured = measured
		return true
	}
	for name, p := range measured {
		wanted[name] = p
	}
	b.plan.Wanted = wanted
	return false
}

func (b *builder) speedGiven(name string) bool {
	for i, bl := range b.supply.Blowers {
		if nameOf(bl, i) == name && bl.Speed.Known {
			return true
		}
	}
	return false
}

// siteOf returns the air at the site of a filled job.
func siteOf(j *job.Job) (Site, error) {
	s := Site{Pressure: j.Site.Barometer.V}
	if !j.Site.Barometer.Known {
		s.Pressure, _ = air.StandardAtmosphere(j.Site.Altitude.V)
	}
	if !(s.Pressure >= 60e3 && s.Pressure <= 110e3) {
		return s, refuse("site", "an air pressure of %.4g kPa lies outside 60 to 110 kPa; give the barometer or the altitude", float64(s.Pressure)/1e3)
	}
	state := func(r job.RoomAir) air.Moist { return air.Humid(s.Pressure, r.Temperature.V, r.Humidity.V) }
	s.Summer = Inlets{Inlet: state(j.Site.InletSummer), Room: state(j.Site.Summer)}
	s.Winter = Inlets{Inlet: state(j.Site.InletWinter), Room: state(j.Site.Winter)}
	s.Coldest, s.Hottest = s.Winter.Inlet, s.Summer.Inlet
	if f := j.AirSupply.Filter; f != nil {
		s.Loaded = f.Loaded.V
	}
	in := j.AirSupply.Inlet
	if in.Coldest.Known {
		s.Coldest = air.Humid(s.Pressure, in.Coldest.V, j.Site.InletWinter.Humidity.V)
	}
	if in.Hottest.Known {
		s.Hottest = s.Summer.Inlet.At(s.Pressure, in.Hottest.V)
	}
	s.Own = s.ownInlets(j.AirSupply.Blowers)
	for _, c := range []struct {
		name string
		air  air.Moist
		own  map[string]air.Moist
	}{
		{"summer", s.Summer.Inlet, s.own(OwnInlet.summer)},
		{"winter", s.Winter.Inlet, s.own(OwnInlet.winter)},
		{"coldest day", s.Coldest, nil},
		{"hottest day", s.Hottest, nil},
	} {
		if err := (Case{Inlet: c.air, Own: c.own}).check(); err != nil {
			return s, refuse("site, "+c.name, "%v", err)
		}
	}
	return s, nil
}

// ownInlets are the inlet airs that blowers of the job state for themselves; nil without any.
func (s Site) ownInlets(blowers []job.Blower) map[string]OwnInlet {
	var out map[string]OwnInlet
	state := func(r job.RoomAir, site air.Moist) air.Moist {
		t := site.T
		if r.Temperature.Known {
			t = r.Temperature.V
		}
		if r.Humidity.Known {
			return air.Humid(s.Pressure, t, r.Humidity.V)
		}
		return site.At(s.Pressure, t)
	}
	for i, b := range blowers {
		if !(b.Summer.Temperature.Known || b.Summer.Humidity.Known || b.Winter.Temperature.Known || b.Winter.Humidity.Known) {
			continue
		}
		if out == nil {
			out = map[string]OwnInlet{}
		}
		out[nameOf(b, i)] = OwnInlet{Summer: state(b.Summer, s.Summer.Inlet), Winter: state(b.Winter, s.Winter.Inlet)}
	}
	return out
}

// Outlets returns the outlets of a job that a blower feeds, as the air side sees them, with what was assumed.
func Outlets(j *job.Job) ([]Outlet, []job.Assumed, error) {
	j = job.Clone(j)
	job.Fill(j)
	var out []Outlet
	var assumed []job.Assumed
	for _, s := range j.Stations {
		for _, o := range s.Outlets {
			if o.Compressed {
				continue
			}
			one, more, err := OutletOf(o)
			if err != nil {
				return nil, nil, refuse("outlet "+o.Name, "%v", err)
			}
			out = append(out, one)
			assumed = append(assumed, more...)
		}
	}
	return out, assumed, nil
}

// OutletOf returns an outlet of a filled job as the air side sees it. A discharge coefficient that nobody gave is
// that of a smooth slot or a rounded nozzle; a plenum bore that nobody gave has three times the area of the
// opening.
func OutletOf(o job.Outlet) (Outlet, []job.Assumed, error) {
	const velocity = 0.97
	out := Outlet{Name: o.Name, Length: o.Length.V, Count: 1, Cd: o.Discharge.V, Cv: velocity, Feed: o.Feed, Roughness: usualWall}
	lip, reference := jet.RoundedNozzle, o.Bore.V
	switch o.Kind {
	case job.AirKnife:
		gap := o.Gap()
		if !(gap > 0 && o.Length.V > 0) {
			return out, nil, fmt.Errorf("give the length and the slot gap of the air knife")
		}
		out.Kind, out.Gap, out.Area = Slot, gap, q.Area(gap*o.Length.V)
		lip, reference = jet.SmoothSlot, gap
	case job.NozzleManifold, job.Nozzle:
		one := q.Area(math.Pi / 4 * float64(o.Bore.V*o.Bore.V))
		out.Kind, out.Bore = Round, o.Bore.V
		if o.Wide.V > 0 && o.High.V > 0 {
			one, out.Kind, out.Gap = q.Area(o.Wide.V*o.High.V), Oblong, o.High.V
			reference = jet.EquivalentBore(one)
		}
		if !(one > 0) {
			return out, nil, fmt.Errorf("give the bore of its nozzles, or the sides of an oblong opening")
		}
		if o.Kind == job.NozzleManifold {
			if out.Count = nozzles(o); out.Count < 1 {
				return out, nil, fmt.Errorf("give the number of nozzles, or length and spacing")
			}
			if out.Kind == Round {
				out.Kind = RoundRow
			}
			if out.Length == 0 {
				out.Length = o.Spacing.V * q.Length(out.Count)
			}
		}
		out.Area = one * q.Area(out.Count)
	default:
		return out, nil, fmt.Errorf("unknown kind %q: it is one of %s, %s, %s", o.Kind, job.AirKnife, job.NozzleManifold, job.Nozzle)
	}
	var assumed []job.Assumed
	if !o.Discharge.Known && o.Discharge.V == 0 {
		c, err := jet.DischargeCoefficient(lip, jet.Opening{Width: reference, Reynolds: usualReynolds(reference), Ratio: 0.87, Gas: jet.DryAir()})
		if err != nil {
			return out, nil, err
		}
		out.Cd = q.Ratio(math.Round(c.Likely*1000) / 1000)
		assumed = append(assumed, job.Assumed{
			Path: "/outlets/" + o.Name + "/discharge", Value: q.Significant(float64(out.Cd), 3),
			Low: q.Significant(c.Low, 2), High: q.Significant(c.High, 2), Source: "relation discharge-coefficient, " + string(lip),
		})
	}
	out.PlenumBore = o.PlenumBore.V
	if o.PlenumBore.V == 0 && o.Kind != job.Nozzle {
		out.PlenumBore = o.Plenum(out.Area)
		assumed = append(assumed, job.Assumed{
			Path: "/outlets/" + o.Name + "/plenum_bore", Value: fmt.Sprintf("%.0f mm", out.PlenumBore.MM()),
			Low: fmt.Sprintf("%.0f mm", out.PlenumBore.MM()*0.8), High: fmt.Sprintf("%.0f mm", out.PlenumBore.MM()*1.4), Source: practice,
		})
	}
	return out, assumed, out.check()
}

// usualReynolds is that of a round nozzle at 150 m/s in warm air, for its coefficient.
func usualReynolds(bore q.Length) q.Ratio { return q.Ratio(150 * float64(bore) / 1.7e-5) }

func nozzles(o job.Outlet) int {
	if o.Count > 0 || !(o.Spacing.V > 0) || !(o.Length.V > 0) {
		return o.Count
	}
	return int(math.Floor(float64(o.Length.V/o.Spacing.V)+1e-9)) + 1
}

// leaks adds what the job says leaks, and its general share as an opening at each outlet's feed.
func (b *builder) leaks() error {
	n := b.plan.Network
	for _, l := range b.supply.Leakage {
		n.Leaks = append(n.Leaks, Leak{At: l.At, Area: l.Area.V})
	}
	share := float64(b.supply.LeakShare.Share.V)
	switch {
	case share == 0:
		return nil
	case !(share > 0 && share < 0.5):
		return refuse("leak share", "it must lie between 0 and 50 %%")
	}
	for _, o := range n.Outlets {
		n.Leaks = append(n.Leaks, Leak{At: o.Name, Area: o.Area * q.Area(float64(o.Cd)*share)})
	}
	return nil
}

// straightRun is how many bores of straight duct a blower wants before and after it; from memory of AMCA 201, Fans and
// systems.
const straightRun = 3

// swirl notes bends, dampers and the like that stand so close to a blower that its curve does not hold: what they
// take is not counted.
func (b *builder) swirl() {
	n := b.plan.Network
	for i := range n.Blowers {
		blower := &n.Blowers[i]
		for k := len(blower.Inlet.Pieces) - 1; k >= 0; k-- {
			if b.close(blower.Inlet.Pieces[k], blower, "before the inlet of ") {
				break
			}
		}
		for _, br := range n.Branches {
			if br.From != blower.Name {
				continue
			}
			for _, e := range br.Elements {
				if b.close(e, blower, "after the outlet of ") {
					break
				}
			}
		}
	}
}

// close notes an element that disturbs a blower it stands next to, and reports whether what lies beyond is far enough.
func (b *builder) close(e job.Element, blower *Blower, where string) bool {
	switch e.Kind {
	case "duct", "hose":
		return float64(e.Length.V) >= straightRun*float64(e.Bore.V)
	case "bend", "mitre", "damper":
		b.note(relation.Caution, "blower-similarity", fmt.Sprintf(
			"A %s stands right %s%s: the blower may give less than its curve, which is not counted; fit %d bores of straight duct between them.",
			e.Kind, where, called(blower.Name), straightRun))
		return true
	}
	return false
}

// note adds a note to the network.
func (b *builder) note(sev relation.Severity, card, text string) {
	b.plan.Network.Notes = append(b.plan.Network.Notes, relation.Note{
		Severity: sev, Relation: card, Text: text, Value: math.NaN(), Limit: math.NaN(),
	})
}
