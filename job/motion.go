package job

import q "leste/quantity"

// Motion is how the containers of one format move. Pitch and Gap are zero while the container's extent along
// travel is not known; Speed or Rate is zero when it follows from the pitch then.
type Motion struct {
	Speed    q.Speed
	Rate     q.Rate
	Pitch    q.Length
	Gap      q.Length
	Touching bool

	AssumedSpeed   bool // nobody gave speed or rate
	AssumedSpacing bool // nobody gave pitch, gap or touching, and it was needed
}

// MotionOf settles speed, rate and spacing of a format whose container measures extent [m] along travel;
// extent 0 means not known. Two of the three make the third. What the format says wins over what the line
// says; of the line the spacing wins over the speed and the speed over the rate. Where nobody said
// enough, containers touch, and then run at the line's assumed speed.
func (j *Job) MotionOf(f *Format, extent q.Length) Motion {
	var m Motion
	speed, rate := f.Speed, f.Rate
	pitch, gap := f.Pitch, f.Gap
	line := &j.Line
	spaced := pitch.Known || gap.Known
	if !(speed.Known && rate.Known) && !spaced {
		pitch, gap = line.Pitch, line.Gap
		if line.Touching.Known && line.Touching.V && !pitch.Known {
			gap = q.Known(q.Length(0))
		}
		spaced = pitch.Known || gap.Known
	}
	known := count(speed.Known, rate.Known, spaced)
	if known < 2 && !speed.Known && line.Speed.Known {
		speed, known = line.Speed, known+1
	}
	if known < 2 && !rate.Known && line.Rate.Known {
		rate, known = line.Rate, known+1
	}
	if known < 2 && !spaced {
		gap, spaced, m.AssumedSpacing = q.Known(line.Gap.V), true, true
		known++
	}
	if known < 2 {
		v, _ := q.Parse[q.Speed](usualSpeed)
		if line.Speed.V > 0 {
			v = line.Speed.V
		}
		speed, m.AssumedSpeed = q.Known(v), true
	}

	m.Speed, m.Rate = speed.V, rate.V
	switch {
	case pitch.Known && spaced:
		m.Pitch = pitch.V
		if extent > 0 {
			m.Gap = max(m.Pitch-extent, 0)
		}
	case spaced:
		m.Gap = gap.V
		if extent > 0 {
			m.Pitch = gap.V + extent
		}
	case rate.V > 0:
		m.Pitch = q.Length(float64(speed.V) / float64(rate.V))
		if extent > 0 {
			m.Gap = max(m.Pitch-extent, 0)
		}
	}
	if m.Pitch > 0 {
		switch {
		case !speed.Known:
			m.Speed = q.Speed(float64(m.Rate) * float64(m.Pitch))
		case !rate.Known:
			m.Rate = q.Rate(float64(m.Speed) / float64(m.Pitch))
		}
	}
	const closed = 1e-6 // m: a gap that no drawing shows
	m.Touching = spaced && !pitch.Known && gap.V < closed || m.Pitch > 0 && extent > 0 && m.Pitch < extent+closed
	return m
}

func count(flags ...bool) int {
	n := 0
	for _, f := range flags {
		if f {
			n++
		}
	}
	return n
}

// Extent returns what the file itself says about a container's extent along travel, or 0. A family's size
// is known to the catalogue.
func (c *Container) Extent() q.Length {
	switch {
	case c.Section != nil && c.Section.Shape != "round" && c.Section.Width.Known:
		return c.Section.Width.V
	case c.Width.Known:
		return c.Width.V
	case c.Section != nil && c.Section.Shape != "round":
		return 0
	case c.Diameter.Known:
		return c.Diameter.V
	}
	widest := q.Length(0)
	for _, s := range c.Profile {
		if s.Bulge.Known {
			return 0 // an arc may reach farther out than its ends
		}
		widest = max(widest, s.Radius)
	}
	return 2 * widest
}
