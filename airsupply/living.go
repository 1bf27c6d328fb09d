package airsupply

import (
	"context"
	"errors"
	"fmt"
	"slices"

	q "leste/quantity"
)

// selected chooses a blower for the wanted plenum pressures from the catalogue.
func (b *builder) selected(ctx context.Context, name string, way Inlet) (Blower, error) {
	n := b.plan.Network
	n.Blowers = []Blower{{Name: name}}
	nominal := b.plan.Site.Nominal()
	const enough = 1e-5 // the speed is set anew once the blower is known
	duty, _, err := dutyFor(ctx, n, nominal, b.plan.Wanted, enough)
	if err != nil {
		return Blower{}, err
	}
	b.plan.Candidates = Select(duty, nominal.Inlet, way, b.parts, b.terms())
	if len(b.plan.Candidates) == 0 || b.plan.Candidates[0].Rejected != "" {
		return Blower{}, refuse(called(name), "no blower of the catalogue does %.3g kg/s at %.4g kPa: %s",
			float64(duty.Flow), float64(duty.Pressure)/1e3, reasons(b.plan.Candidates))
	}
	out, err := b.living(ctx, name, way, duty)
	if err != nil {
		return Blower{}, err
	}
	b.assume("/air_supply/blowers", b.plan.Candidates[0].Part, "", "", fmt.Sprintf("selected from %d blowers of the catalogue by yearly cost", len(b.parts.Blowers)))
	return out, nil
}

// living is the first of the candidates that gives air in every case that the station must live with; those before it
// are rejected with the reason. Where none does it is the first of all, so that its cases tell what fails.
func (b *builder) living(ctx context.Context, name string, way Inlet, duty Duty) (Blower, error) {
	n, sized, in := b.plan.Network, len(b.sized), b.plan.Site.Nominal().Inlet
	entry, err := newInletWay(&way)
	if err != nil {
		return Blower{}, err
	}
	var why []string
	for i := range b.plan.Candidates {
		c := &b.plan.Candidates[i]
		if c.Rejected != "" {
			break
		}
		b.sized = b.sized[:sized]
		out, err := b.candidate(name, way, c)
		if err != nil {
			return Blower{}, err
		}
		if len(b.plan.Site.Own) == 0 && out.Machine.roomy(float64(c.Speed), float64(c.Inlet), float64(duty.Pressure), in, entry) {
			b.reject(why)
			return out, nil
		}
		n.Blowers = []Blower{out}
		s, err := compile(n, nil)
		if err != nil {
			return Blower{}, err
		}
		var refusal *Refusal
		switch err = s.lives(ctx, b.plan.Site, nil); {
		case err == nil:
			b.reject(why)
			return out, nil
		case !errors.As(err, &refusal):
			return Blower{}, err
		}
		why = append(why, refusal.Reason)
	}
	b.sized = b.sized[:sized]
	return b.candidate(name, way, &b.plan.Candidates[0])
}

// reject rejects the first candidates with reasons; they follow those that are not.
func (b *builder) reject(why []string) {
	for i, text := range why {
		b.plan.Candidates[i].Rejected = text
	}
	slices.SortStableFunc(b.plan.Candidates, func(a, c Candidate) int {
		switch {
		case a.Rejected == "" && c.Rejected != "":
			return -1
		case a.Rejected != "" && c.Rejected == "":
			return 1
		}
		return 0
	})
}

// candidate is a machine of the catalogue as a blower of the network.
func (b *builder) candidate(name string, way Inlet, c *Candidate) (Blower, error) {
	part, err := b.parts.Blower(c.Part)
	if err != nil {
		return Blower{}, err
	}
	g := part.Blower
	g.Name, g.Speed = name, q.Maybe[q.Ratio]{V: c.Speed}
	out, err := b.blower(g, way)
	out.Price = part.Price
	return out, err
}

func reasons(all []Candidate) string {
	if len(all) == 0 {
		return "it is empty"
	}
	text := ""
	for i, c := range all {
		if i == 3 {
			return fmt.Sprintf("%s; and %d more", text, len(all)-3)
		}
		if i > 0 {
			text += "; "
		}
		text += c.Part + " " + c.Rejected
	}
	return text
}
