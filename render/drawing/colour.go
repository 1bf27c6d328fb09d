package drawing

import "fmt"

// A Colour is an opaque sRGB colour.
type Colour struct{ R, G, B uint8 }

// Hex returns the colour as "#rrggbb".
func (c Colour) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Mix returns the colour that lies the share t of the way from c to d, t in 0..1.
func (c Colour) Mix(d Colour, t float64) Colour {
	t = min(max(t, 0), 1)
	blend := func(a, b uint8) uint8 { return uint8(float64(a)*(1-t) + float64(b)*t + 0.5) }
	return Colour{blend(c.R, d.R), blend(c.G, d.G), blend(c.B, d.B)}
}

// The colours of the documents. Ink carries text and outlines; Sea is the accent; the rest say what a
// thing is. Verdict colours never stand alone: a sign or a word is always beside them.
var (
	White = Colour{255, 255, 255}
	Black = Colour{0, 0, 0}
	Ink   = Colour{0x1c, 0x28, 0x30}
	Slate = Colour{0x5b, 0x69, 0x72} // secondary text, dimensions
	Mist  = Colour{0xc9, 0xd1, 0xd5} // rules
	Foam  = Colour{0xf1, 0xf4, 0xf5} // shaded rows, panels
	Sea   = Colour{0x14, 0x5a, 0x6b} // accent: headings, air outlets
	Shoal = Colour{0xd7, 0xe7, 0xea} // accent, pale
	Clay  = Colour{0xb2, 0x4a, 0x2c} // not met
	Fern  = Colour{0x2f, 0x75, 0x4a} // met
	Ochre = Colour{0xa8, 0x78, 0x1a} // undecided
)

// waterStops are the colours of amounts of water, from dry to wet. The sequence falls steadily in
// lightness (CIE L* 97 to 22), so that it keeps its order in grey print and for colour-blind readers.
var waterStops = []Colour{
	{0xf7, 0xf6, 0xee}, {0xd3, 0xe4, 0xe0}, {0x9f, 0xcb, 0xcf}, {0x63, 0xa9, 0xbb}, {0x32, 0x80, 0xa3}, {0x1c, 0x56, 0x83}, {0x14, 0x2e, 0x56},
}

// Water returns the colour of an amount of water, t from 0 (dry) to 1 (the wet end of the scale).
func Water(t float64) Colour {
	t = min(max(t, 0), 1) * float64(len(waterStops)-1)
	i := min(int(t), len(waterStops)-2)
	return waterStops[i].Mix(waterStops[i+1], t-float64(i))
}
