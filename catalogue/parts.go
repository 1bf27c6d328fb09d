package catalogue

import (
	"embed"
	"fmt"
	"sync"

	"leste/job"
	q "leste/quantity"
)

// Parts are the machines and parts an air supply may be made of.
type Parts struct {
	Blowers []BlowerPart
	Filters []FilterPart
	Hoses   []HosePart
}

// A BlowerPart is one machine as it is sold: curve, drive, motor, sound, price.
type BlowerPart struct {
	Part   string
	Blower job.Blower // Name is empty
	Price  q.Maybe[float64]
	Note   string
}

// A FilterPart is one inlet filter.
type FilterPart struct {
	Part   string
	Filter job.Filter
	Price  q.Maybe[float64]
	Note   string
}

// A HosePart is one hose by its bore.
type HosePart struct {
	Part        string
	Bore        q.Length
	Roughness   q.Length
	RatedTo     q.Temperature
	RatedFor    q.Gauge
	LeastRadius q.Length
	Price       q.Maybe[float64] // for a metre
	Note        string
}

// Blower returns the machine of a name; an unknown name lists the known ones.
func (p Parts) Blower(name string) (BlowerPart, error) {
	names := make([]string, len(p.Blowers))
	for i, b := range p.Blowers {
		if b.Part == name {
			return b, nil
		}
		names[i] = b.Part
	}
	return BlowerPart{}, unknownPart("blower", name, names)
}

// Filter returns the filter of a name.
func (p Parts) Filter(name string) (FilterPart, error) {
	names := make([]string, len(p.Filters))
	for i, f := range p.Filters {
		if f.Part == name {
			return f, nil
		}
		names[i] = f.Part
	}
	return FilterPart{}, unknownPart("filter", name, names)
}

// Hose returns the hose of a bore, the next larger when there is none of it.
func (p Parts) Hose(bore q.Length) (HosePart, bool) {
	best, found := HosePart{}, false
	for _, h := range p.Hoses {
		if h.Bore >= bore-1e-9 && (!found || h.Bore < best.Bore) {
			best, found = h, true
		}
	}
	return best, found
}

func unknownPart(kind, name string, names []string) error {
	const most = 12
	more := ""
	if len(names) > most {
		more = fmt.Sprintf(" and %d more", len(names)-most)
		names = names[:most]
	}
	return fmt.Errorf("there is no %s %q in the catalogue; it has %s%s", kind, name, quotedList(names), more)
}

func quotedList(names []string) string {
	text := ""
	for i, n := range names {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%q", n)
	}
	return text
}

//go:embed parts/*.csv
var genericFiles embed.FS

// GenericParts returns the generic set, invented for examples and marked so in every part's note.
func GenericParts() Parts { return genericParts() }

var genericParts = sync.OnceValue(func() Parts {
	var p Parts
	for _, l := range lists() {
		name := "parts/" + l.name + ".csv"
		text, err := genericFiles.ReadFile(name)
		if err != nil {
			panic("catalogue: " + err.Error())
		}
		if errs := ReadParts(name, text, &p); len(errs) > 0 {
			panic("catalogue: " + errs[0].Error())
		}
	}
	return p
})
