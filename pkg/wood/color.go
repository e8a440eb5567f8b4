package wood

import (
	"fmt"
	"math"
	"strconv"
)

// A Color is a colour in CIE L*a*b* under D65: lightness 0 to 100, a towards red, b
// towards yellow. (CIE 15, L*a*b* 1976; IEC 61966-2-1 for sRGB, from memory.)
type Color struct{ L, A, B float64 }

// Hex is the colour as #rrggbb, held within what a screen can show.
func (c Color) Hex() string {
	fy := (c.L + 16) / 116
	x := whiteX * labInverse(fy+c.A/500)
	y := labInverse(fy)
	z := whiteZ * labInverse(fy-c.B/200)
	r := 3.2404542*x - 1.5371385*y - 0.4985314*z
	g := -0.9692660*x + 1.8760108*y + 0.0415560*z
	b := 0.0556434*x - 0.2040259*y + 1.0572252*z
	return fmt.Sprintf("#%02x%02x%02x", channel(r), channel(g), channel(b))
}

// FromHex is the colour of #rrggbb, and whether it is of that form.
func FromHex(hex string) (Color, bool) {
	if len(hex) != 7 || hex[0] != '#' {
		return Color{}, false
	}
	n, err := strconv.ParseUint(hex[1:], 16, 24)
	if err != nil {
		return Color{}, false
	}
	r, g, b := light(n>>16), light(n>>8&255), light(n&255)
	x := labForward((0.4124564*r + 0.3575761*g + 0.1804375*b) / whiteX)
	y := labForward(0.2126729*r + 0.7151522*g + 0.0721750*b)
	z := labForward((0.0193339*r + 0.1191920*g + 0.9503041*b) / whiteZ)
	return Color{116*y - 16, 500 * (x - y), 200 * (y - z)}, true
}

// whiteX and whiteZ are D65's, and knee is where the cube root ends.
const (
	whiteX, whiteZ = 0.95047, 1.08883
	knee           = 6.0 / 29
)

func labInverse(t float64) float64 {
	if t > knee {
		return t * t * t
	}
	return 3 * knee * knee * (t - 4.0/29)
}

func labForward(v float64) float64 {
	if v > knee*knee*knee {
		return math.Cbrt(v)
	}
	return v/(3*knee*knee) + 4.0/29
}

// channel is a linear light as an sRGB byte, and light the other way round.
func channel(v float64) int {
	v = math.Max(0, math.Min(1, v))
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return int(math.Round(255 * v))
}

func light(n uint64) float64 {
	v := float64(n) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// Finished is a wood's colour under oil or clear varnish: deeper, the darker woods
// most. That they are deepened most was measured on 24 species (Eur. J. Wood Prod. 2016,
// doi 10.1007/s00107-016-1108-0); by how much is common practice.
func (c Color) Finished() Color {
	const deeper, richer = 0.18, 1.2
	return Color{c.L - deeper*(100-c.L), richer * c.A, richer * c.B}
}

// Tint is the colour made paler, as light as dark for black and as pale for white, and no
// richer than is asked for: for pictures in which a board is drawn upon. Browns made
// paler at the same hue are seen as pinks, so they lose most of their red; a wood that is
// red keeps what it has more of it.
func (c Color) Tint(dark, pale, chroma float64) Color {
	const (
		share  = 0.5 // a dark colour's hue is loud where it is pale
		browns = 8.0 // the red of brown woods, finished: walnut and oak have 7
		lost   = 0.6 // of that (looked at: walnut reads as a brownish grey, pear still as pear)
	)
	c.A -= lost * math.Max(0, math.Min(c.A, browns))
	k := share
	if was := math.Hypot(c.A, c.B); share*was > chroma {
		k = chroma / was
	}
	return Color{dark + (pale-dark)*c.L/100, k * c.A, k * c.B}
}
