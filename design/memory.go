package design

import (
	"encoding/binary"
	"math"
	"sync"
)

// A memory keeps what looks have found: judging anew comes back to where the search has been. Of the air it
// keeps nothing, which would be too much.
type memory struct {
	mutex sync.Mutex
	found map[string]*recalled
}

// recalled is what one look has found: up to which pressure the container stands, and what was measured at which.
type recalled struct {
	mutex    sync.Mutex
	stands   bool // it is known how it stands
	holds    float64
	gives    string
	pressure []float64
	points   [][]float64 // only read
}

func newMemory() *memory { return &memory{found: map[string]*recalled{}} }

// of is what has been found by looks like l, to the last bit of all that they depend on.
func (m *memory) of(l *look) *recalled {
	key := []byte(l.from.concept.name)
	key = append(key, 0, byte(l.format), byte(l.eye))
	number := func(v float64) { key = binary.LittleEndian.AppendUint64(key, math.Float64bits(v)) }
	number(l.pressure)
	for i := range l.setups {
		s := &l.setups[i]
		for _, v := range [...]float64{s.tilt, s.down, s.along, s.x, s.length, s.gap, s.bore, s.spacing, s.height, s.offset} {
			number(v)
		}
	}
	m.mutex.Lock()
	defer m.mutex.Unlock()
	f := m.found[string(key)]
	if f == nil {
		f = &recalled{}
		m.found[string(key)] = f
	}
	return f
}

// standing is up to which pressure the container stands and what gives way beyond, if that is known.
func (f *recalled) standing() (holds float64, gives string, known bool) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	return f.holds, f.gives, f.stands
}

func (f *recalled) stand(holds float64, gives string) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.holds, f.gives, f.stands = holds, gives, true
}

// measures are those at a pressure, if they are known.
func (f *recalled) measures(pressure float64) ([]float64, bool) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	for i, p := range f.pressure {
		if p == pressure {
			return f.points[i], true
		}
	}
	return nil, false
}

func (f *recalled) measured(pressure float64, m []float64) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.pressure, f.points = append(f.pressure, pressure), append(f.points, m)
}
