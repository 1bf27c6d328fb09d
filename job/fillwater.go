package job

import (
	"fmt"
	"math"
	"reflect"

	q "leste/quantity"
)

// waters fills how much water containers bring.
func (a *assumer) waters() {
	j := a.job
	if len(j.Formats) == 0 {
		return
	}
	a.water(&j.Arrives, "/arrives")
	for i := range j.Formats {
		own := j.Formats[i].Arrives
		if own == nil {
			continue
		}
		said := own.Looks != "" || own.Since.Known
		inheritArrives(own, &j.Arrives)
		if said {
			a.water(own, fmt.Sprintf("/formats/%d/arrives", i))
		}
	}
}

// inheritArrives copies into a format's water what the job says about all of them. An amount of water is
// replaced only where the format said nothing of its own about it.
func inheritArrives(own, all *Arrives) {
	said := own.Looks != "" || own.Since.Known
	to, from := reflect.ValueOf(own).Elem(), reflect.ValueOf(all).Elem()
	for i := range to.NumField() {
		v, w := to.Field(i), from.Field(i)
		switch {
		case isMaybe(v.Type()):
			if !v.Field(1).Bool() && !(said && to.Type().Field(i).Name == "Water") {
				v.Set(w)
			}
		case v.IsZero():
			v.Set(w)
		}
	}
}

// looks gives, for what a person sees on the wall, the water there in g/m2: likely, low, high. A wall
// fully covered with drops just about to slide holds 150 to 220 g/m2; rinsed lines show a fifth to two
// fifths of it. A draining film on a 115 mm wall holds 72 g/m2 in the mean after 1 s, 23 g/m2 after 10 s.
var looks = map[string][3]float64{
	"streaming": {100, 60, 200},
	"wet":       {50, 20, 100},
	"beaded":    {40, 20, 80},
	"damp":      {10, 4, 20},
}

// lookNames are the keys of looks, wettest first.
var lookNames = []string{"streaming", "wet", "beaded", "damp"}

// usualSince is the time after wetting that the amount for an unseen wall is for.
const usualSince = 5 // s

func (a *assumer) water(w *Arrives, path string) {
	amount, seen := looks[w.Looks]
	source := judgement
	if !seen {
		// Nobody looked: drops and film of a rinsed wall, thinning as a draining film does, with the
		// root of time, within what rinsed lines show.
		likely := 50 * math.Sqrt(usualSince/max(float64(w.Since.V), 0.5))
		likely = min(max(likely, 20), 100)
		amount = [3]float64{likely, likely * 0.4, likely * 2}
		if w.Since.Known {
			source = "judgement from the time since wetting, to be fitted"
		}
	}
	text := func(i int) string { return q.KindAreaMass.FormatDigits(amount[i]/1000, q.SI, 2) }
	assume(a, &w.Water, path+"/water", text(0), text(1), text(2), source)
}
