package airsupply

import (
	"context"
	"fmt"
	"math"
	"slices"

	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// oneBlower is the name of a blower that nobody named.
const oneBlower = "blower"

// blowers fills in blowers and branches: as given, or laid out and selected.
func (b *builder) blowers(ctx context.Context) error {
	n := b.plan.Network
	given := b.supply.Blowers
	way, err := b.inlet()
	if err != nil {
		return err
	}
	root := oneBlower
	if len(given) == 0 && len(b.supply.Branches) > 0 {
		if root, err = b.source(); err != nil {
			return err
		}
	}
	b.branches(root, given)
	if len(given) == 0 {
		blower, err := b.selected(ctx, root, way)
		if err != nil {
			return err
		}
		n.Blowers = []Blower{blower}
		return nil
	}
	for i, g := range given {
		g.Name = nameOf(g, i)
		blower, err := b.blower(g, way)
		if err != nil {
			return err
		}
		n.Blowers = append(n.Blowers, blower)
	}
	return nil
}

// nameOf is the name of a blower of the job, or one after its place in the list.
func nameOf(b job.Blower, i int) string {
	if b.Name == "" {
		return fmt.Sprintf("%s %d", oneBlower, i+1)
	}
	return b.Name
}

// source is the place that branches start from and none ends at: the blower that the job does not describe.
func (b *builder) source() (string, error) {
	ends := map[string]bool{}
	for _, br := range b.supply.Branches {
		ends[br.To] = true
	}
	found := ""
	for _, br := range b.supply.Branches {
		if !ends[br.From] && br.From != found {
			if found != "" {
				return "", refuse("branches", "they start from %q and from %q; name the blowers", found, br.From)
			}
			found = br.From
		}
	}
	if found == "" {
		return "", refuse("branches", "they form a ring without a beginning; name the blower one of them starts from")
	}
	return found, nil
}

// branches takes the job's ducts, or lays out simple ones from a blower, or from a header that several join.
func (b *builder) branches(root string, given []job.Blower) {
	n := b.plan.Network
	if len(b.supply.Branches) > 0 {
		n.Branches, n.Junctions = b.supply.Branches, b.supply.Junctions
		return
	}
	flows := b.roughFlows()
	var total float64
	for _, f := range flows {
		total += f
	}
	from := root
	if len(given) == 1 {
		from = nameOf(given[0], 0)
	}
	if len(given) > 1 {
		from = "header"
		bore := boreFor(total / float64(len(given)))
		for i, g := range given {
			name := nameOf(g, i)
			n.Branches = append(n.Branches, job.Branch{Name: "duct of " + name, From: name, To: from, Elements: []job.Element{
				{Kind: "duct", Bore: q.Known(bore), Length: q.Known(q.Length(1)), Material: usualDuct},
			}})
		}
		n.Junctions = append(n.Junctions, job.Junction{At: from, Kind: "box"})
	}
	branches, junctions := layOut(from, n.Outlets, flows)
	b.rateHoses(branches)
	n.Branches, n.Junctions = append(n.Branches, branches...), append(n.Junctions, junctions...)
	b.assume("/air_supply/branches", fmt.Sprintf("6 m of duct, bore %.0f mm, for %.3g m/s; a wye at each branching; 1.5 m of hose to each outlet", boreFor(total).MM(), usualDuctSpeed),
		"3 m", "15 m", practice)
	b.note(relation.Caution, "", "Ducts and hoses are assumed; the air supply is a sketch until they are laid out.")
}

// rateHoses gives hoses that were laid out what the catalogue says of the hose of their bore.
func (b *builder) rateHoses(branches []job.Branch) {
	for _, br := range branches {
		for i := range br.Elements {
			e := &br.Elements[i]
			part, ok := b.parts.Hose(e.Bore.V)
			if e.Kind != "hose" || !ok {
				continue
			}
			if math.Abs(float64(part.Bore-e.Bore.V)) > 1e-6 {
				continue // the catalogue has none of this bore
			}
			e.Roughness, e.RatedTo, e.RatedFor = stated(part.Roughness), stated(part.RatedTo), stated(part.RatedFor)
			e.LeastRadius = stated(part.LeastRadius)
		}
	}
}

// stated is a value of a part; 0 is one that its maker does not state.
func stated[T ~float64](v T) q.Maybe[T] { return q.Maybe[T]{V: v, Known: v > 0} }

// roughPressure stands for a plenum pressure that is not wanted in particular, for choosing bores.
const roughPressure q.Gauge = 15e3

// roughFlows are volume flows [m3/s] of the outlets at duct conditions, for choosing bores.
func (b *builder) roughFlows() []float64 {
	inlet := b.plan.Site.Summer.Inlet
	g := gasOf(inlet)
	pa := float64(inlet.P)
	out := make([]float64, len(b.plan.Network.Outlets))
	for i, o := range b.plan.Network.Outlets {
		p, ok := b.plan.Wanted[o.Name]
		if !ok {
			p = roughPressure
		}
		p0, t0 := pa+float64(p), float64(inlet.T)+20
		out[i] = float64(o.Cd) * float64(o.Area) * g.outflow(p0, t0, pa) * g.r * t0 / p0
	}
	return out
}

// inlet is what the air passes before a blower.
func (b *builder) inlet() (Inlet, error) {
	in := b.supply.Inlet
	way := Inlet{Bore: in.Bore.V, Loss: orDefault(in.Loss, 0.5), Recirculation: in.Recirculation.V}
	if !in.Bore.Known {
		var total float64
		for _, f := range b.roughFlows() {
			total += f
		}
		count := float64(max(len(b.supply.Blowers), 1))
		way.Bore = boreFor(total / count)
	}
	if s := b.supply.Silencer; s != nil {
		way.Pieces = append(way.Pieces, job.Element{Kind: "fitting", Bore: q.Known(orDefault(s.Bore, way.Bore)), Loss: q.Known(orDefault(s.Loss, 2))})
	}
	var err error
	way.Filter, err = b.filter()
	return way, err
}

// filter turns the job's filter into a law; without one a usual filter is assumed.
func (b *builder) filter() (Filter, error) {
	f := b.supply.Filter
	if f == nil {
		f = &job.Filter{}
		b.assume("/air_supply/filter", "250 Pa clean, 1000 Pa at change-out, at the station's flow", "100 Pa", "1500 Pa", practice)
	}
	points := f.Points
	clean, change := orDefault(f.Clean, 250), orDefault(f.ChangeOut, 1000)
	flow := float64(f.Flow.V)
	if flow == 0 {
		for _, v := range b.roughFlows() {
			flow += v
		}
		flow /= float64(max(len(b.supply.Blowers), 1))
	}
	count := float64(max(f.Count, 1))
	if len(points) == 0 {
		points = []job.DropPoint{{Flow: q.VolumeFlow(flow), Drop: clean}}
	} else if f.Clean.Known && f.Flow.Known {
		points = append([]job.DropPoint{{Flow: f.Flow.V, Drop: f.Clean.V}}, points...)
	}
	law, ok := FilterThrough(points, orDefault(f.LinearShare, 0.5))
	if !ok {
		return Filter{}, refuse("filter", "its drops must be numbers of at least zero at positive flows that differ")
	}
	if f.Flow.Known || len(f.Points) > 0 { // stated for one filter; the flow divides over all
		law.Linear, law.Square = law.Linear/count, law.Square/(count*count)
	}
	at := float64(points[0].Flow)
	if f.Flow.Known {
		at = float64(f.Flow.V)
	}
	one := law.Linear*count*at + law.Square*count*count*at*at
	law.Loading = q.Ratio(math.Max(float64(change)/one, 1))
	if f.Temperature.Known {
		law.Stated = air.Dry(orDefault(f.Pressure, 101325), f.Temperature.V)
	}
	return law, nil
}

// blower turns a blower of the job, with its part's data, into one of the network.
func (b *builder) blower(g job.Blower, way Inlet) (Blower, error) {
	name := g.Name
	price := q.Maybe[float64]{}
	if g.Part != "" {
		part, err := b.parts.Blower(g.Part)
		if err != nil {
			return Blower{}, refuse(called(name), "%v", err)
		}
		g, price = filled(g, part.Blower), part.Price
	}
	m, err := machineOf(g)
	if err != nil {
		return Blower{}, refuse(called(name), "%v", err)
	}
	way.Pieces = append(append([]job.Element(nil), way.Pieces...), g.Suction...)
	out := Blower{
		Name: name, Machine: m, Speed: orDefault(g.Speed, 1), MaxSpeed: q.Ratio(maxSpeedOf(g)), Inlet: way,
		NonReturn: orDefault(g.NonReturn, 1.5), Outlet: g.Outlet.V, Sound: g.Sound, Price: price,
	}
	out.Drive = Drive{Belt: g.Drive != "direct", Inverter: g.Inverter != "no", Motor: b.motor(g.Motor)}
	if err := b.mainsSpeed(g, &out); err != nil {
		return Blower{}, err
	}
	if out.Drive.Motor.Rated == 0 {
		b.sized = append(b.sized, name)
		if err := b.size(&out); err != nil {
			return Blower{}, err
		}
	}
	return out, nil
}

// size gives a blower the smallest usual motor that its machine cannot overload on the coldest day.
func (b *builder) size(out *Blower) error {
	need := MotorDemand(out.Machine, out.Speed, b.plan.Site.coldest(out.Name), out.Drive.Belt)
	rated, ok := PreferredMotor(out.Drive.Motor.Class, need)
	if !ok {
		return refuse("motor of "+called(out.Name), "no usual motor gives the %.3g kW it may need", float64(need)/1e3)
	}
	out.Drive.Motor.Rated = rated
	return nil
}

// motors sizes again, at the speeds that were set, the motors nobody gave, and lists them.
func (b *builder) motors() error {
	for i := range b.plan.Network.Blowers {
		out := &b.plan.Network.Blowers[i]
		if !slices.Contains(b.sized, out.Name) {
			continue
		}
		if err := b.size(out); err != nil {
			return err
		}
		b.assume("/air_supply/blowers/"+out.Name+"/motor/power", fmt.Sprintf("%.3g kW", float64(out.Drive.Motor.Rated)/1e3), "", "",
			"next usual size over the greatest power on the coldest day")
	}
	return nil
}

func (b *builder) motor(m *job.Motor) Motor {
	out := Motor{Class: IE3, Poles: motorPoles(m)}
	if m != nil {
		out.Rated, out.Efficiency = m.Power.V, m.Efficiency.V
		if m.Class != "" {
			out.Class = m.Class
		}
	}
	return out
}

// mainsSpeed sets the speed of a machine on the mains: a direct drive without inverter follows the frequency.
func (b *builder) mainsSpeed(g job.Blower, out *Blower) error {
	if out.Drive.Belt || out.Drive.Inverter {
		return nil
	}
	if g.Speed.Known && math.Abs(float64(g.Speed.V)-1) > 1e-9 {
		return refuse(called(out.Name), "driven directly by a motor on the mains it has one speed, not %.3g of its rated one; give it an inverter or a belt", float64(g.Speed.V))
	}
	if g.Motor == nil || !g.Motor.Frequency.Known {
		return nil
	}
	mains := orDefault(b.job.Site.Frequency, 50)
	ratio := q.Ratio(mains / g.Motor.Frequency.V)
	if most := maxSpeedOf(g); float64(ratio) > most*(1+1e-9) {
		return refuse(called(out.Name), "made for %.0f Hz it would run at %.2f of its rated speed on %.0f Hz mains, and %.2f is allowed; use a motor for %.0f Hz or an inverter",
			float64(g.Motor.Frequency.V), float64(ratio), float64(mains), most, float64(mains))
	}
	out.Speed = ratio
	return nil
}

// filled is a blower of the job with everything it leaves out taken from the part.
func filled(g, part job.Blower) job.Blower {
	if g.Kind == "" {
		g.Kind = part.Kind
	}
	if g.Curve == nil {
		g.Curve = part.Curve
	}
	if g.Motor == nil {
		g.Motor = part.Motor
	}
	if g.Drive == "" || part.Drive == "direct" {
		g.Drive = part.Drive
	}
	for _, m := range []struct{ to, from *q.Maybe[q.Ratio] }{{&g.MaxSpeed, &part.MaxSpeed}} {
		if !m.to.Known && m.from.Known {
			*m.to = *m.from
		}
	}
	if !g.Outlet.Known {
		g.Outlet = part.Outlet
	}
	if !g.RatedSpeed.Known {
		g.RatedSpeed = part.RatedSpeed
	}
	if !g.Sound.Known {
		g.Sound = part.Sound
	}
	return g
}

// terms are what the job's money says about choosing a blower.
func (b *builder) terms() Terms {
	c := b.job.Cost
	years := float64(c.Years)
	if years == 0 {
		years = 10
	}
	d := float64(orDefault(c.Discount, 0.08))
	capital := 1 / years
	if d > 0 {
		capital = d / (1 - math.Pow(1+d, -years))
	}
	t := Terms{
		Hours: orDefault(c.Hours, 6000*3600), Electricity: orDefault(c.Electricity, 0.15/3.6e6),
		Capital: q.Ratio(capital), Coldest: b.plan.Site.Coldest, Reserve: wantedReserve,
	}
	if h, ok := hottestHose(b.supply.Branches); ok {
		t.Hose = h
	}
	return t
}

// wantedReserve is the pressure a selected blower has left for a loaded filter and a harder system.
const wantedReserve q.Ratio = 0.10

// hottestHose is the least temperature rating of the hoses that have one.
func hottestHose(branches []job.Branch) (q.Temperature, bool) {
	least, found := q.Temperature(0), false
	for _, br := range branches {
		for _, e := range br.Elements {
			if e.RatedTo.Known && (!found || e.RatedTo.V < least) {
				least, found = e.RatedTo.V, true
			}
		}
	}
	return least, found
}

// speeds sets the blowers' speed for the wanted plenum pressures where the job does not say it and the drive
// can follow; blowers that no branch joins each on their own.
func (b *builder) speeds(ctx context.Context) error {
	n := b.plan.Network
	for _, part := range n.islands() {
		wanted := Wanted{}
		for _, o := range part.Outlets {
			if p, ok := b.plan.Wanted[o.Name]; ok {
				wanted[o.Name] = p
			}
		}
		if len(wanted) == 0 || slices.ContainsFunc(part.Blowers, b.fixed) {
			continue
		}
		speed, _, err := speedFor(ctx, part, b.plan.Site.Nominal(), wanted)
		if err != nil {
			return err
		}
		for i := range n.Blowers {
			if slices.ContainsFunc(part.Blowers, func(bl Blower) bool { return bl.Name == n.Blowers[i].Name }) {
				n.Blowers[i].Speed = speed
			}
		}
	}
	return nil
}

// fixed reports whether a blower's speed is not to be set: the job gives it, or it turns as the mains do.
func (b *builder) fixed(bl Blower) bool {
	return !bl.Drive.Inverter && !bl.Drive.Belt || b.speedGiven(bl.Name)
}
