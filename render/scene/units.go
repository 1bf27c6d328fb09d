package scene

import (
	"math"

	"leste/render/words"
)

// inch is an inch [m].
const inch = 0.0254

// Units says what dimensions are written in.
func (s Subject) Units() string {
	switch s.Words.Units {
	case words.US:
		return s.Words.T("drawing.inches")
	case words.Both:
		return "mm [in]"
	}
	return "mm"
}

// listed is what lengths of the table are written in: one unit, as its columns are narrow.
func (s Subject) listed() string {
	if s.Words.Units == words.US {
		return "in"
	}
	return "mm"
}

// measured writes a dimension of so many millimetres: to the tenth of a millimetre, or the hundredth of an inch; both
// where both are wanted.
func (s Subject) measured(mm float64, prefix string) string {
	w := s.Words
	digits := 0
	if math.Abs(mm-math.Round(mm)) > 0.049 {
		digits = 1
	}
	si, us := w.Fixed(mm, digits), w.Fixed(mm*1e-3/inch, 2)
	switch w.Units {
	case words.US:
		return prefix + us
	case words.Both:
		return prefix + si + " [" + us + "]"
	}
	return prefix + si
}

// sized writes a length [m] of an opening without its unit: below an inch to its thousandth, as gaps are small.
func (s Subject) sized(v float64) string {
	if w := s.Words; w.Units == words.US {
		step := 1e3
		if v >= inch {
			step = 1e2
		}
		return w.Number(math.Round(v/inch*step)/step, 5)
	}
	return s.Words.Number(v*1e3, 4)
}
