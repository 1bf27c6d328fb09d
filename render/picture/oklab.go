package picture

import "math"

// Perceived is a colour in the OKLab space, in which equal distances look about equally far apart.
// Published: Ottosson, B., A perceptual color space for image processing, 2020 (public domain).
type Perceived struct{ L, A, B float64 }

// Polar returns the colour of a lightness 0..1, a chroma and a hue in degrees.
func Polar(lightness, chroma, hue float64) Perceived {
	sin, cos := math.Sincos(hue * math.Pi / 180)
	return Perceived{lightness, chroma * cos, chroma * sin}
}

// Mix returns the colour a share t of the way from p to o.
func (p Perceived) Mix(o Perceived, t float64) Perceived {
	return Perceived{p.L + t*(o.L-p.L), p.A + t*(o.A-p.A), p.B + t*(o.B-p.B)}
}

// Distance returns how far apart two colours look.
func (p Perceived) Distance(o Perceived) float64 {
	return math.Sqrt((p.L-o.L)*(p.L-o.L) + (p.A-o.A)*(p.A-o.A) + (p.B-o.B)*(p.B-o.B))
}

// Colour returns the nearest sRGB colour.
func (p Perceived) Colour() Colour {
	l := cube(p.L + 0.3963377774*p.A + 0.2158037573*p.B)
	m := cube(p.L - 0.1055613458*p.A - 0.0638541728*p.B)
	s := cube(p.L - 0.0894841775*p.A - 1.2914855480*p.B)
	return Colour{
		channel(4.0767416621*l - 3.3077115913*m + 0.2309699292*s),
		channel(-1.2684380046*l + 2.6097574011*m - 0.3413193965*s),
		channel(-0.0041960863*l - 0.7034186147*m + 1.7076147010*s),
	}
}

// Perceive returns how an sRGB colour looks.
func Perceive(c Colour) Perceived {
	r, g, b := linear(c.R), linear(c.G), linear(c.B)
	l := math.Cbrt(0.4122214708*r + 0.5363325363*g + 0.0514459929*b)
	m := math.Cbrt(0.2119034982*r + 0.6806995451*g + 0.1073969566*b)
	s := math.Cbrt(0.0883024619*r + 0.2817188376*g + 0.6299787005*b)
	return Perceived{
		0.2104542553*l + 0.7936177850*m - 0.0040720468*s,
		1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
		0.0259040371*l + 0.7827717662*m - 0.8086757660*s,
	}
}

func cube(x float64) float64 { return x * x * x }

// channel applies the sRGB transfer curve (IEC 61966-2-1).
func channel(x float64) uint8 {
	switch {
	case !(x > 0):
		return 0
	case x >= 1:
		return 255
	case x <= 0.0031308:
		x *= 12.92
	default:
		x = 1.055*math.Pow(x, 1/2.4) - 0.055
	}
	return uint8(math.Round(x * 255))
}

func linear(v uint8) float64 {
	x := float64(v) / 255
	if x <= 0.04045 {
		return x / 12.92
	}
	return math.Pow((x+0.055)/1.055, 2.4)
}
