package inlay

// Colours. Each material has a lightness of its own in CIE L*a*b*, so that a
// picture can be read without colours: on a monochrome printer, by a colour
// blind person. (CIE 15, L*a*b* 1976; IEC 61966-2-1 for sRGB with its D65
// white, from memory.)

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/work"
)

// lab is a colour: lightness 0 to 100, a towards red, b towards yellow.
type lab struct{ l, a, b float64 }

// hex is the colour as #rrggbb, held within what a screen can show.
func (c lab) hex() string {
	fy := (c.l + 16) / 116
	x := 0.95047 * labInverse(fy+c.a/500)
	y := labInverse(fy)
	z := 1.08883 * labInverse(fy-c.b/200)
	r := 3.2406*x - 1.5372*y - 0.4986*z
	g := -0.9689*x + 1.8758*y + 0.0415*z
	b := 0.0557*x - 0.2040*y + 1.0570*z
	return fmt.Sprintf("#%02x%02x%02x", channel(r), channel(g), channel(b))
}

func labInverse(t float64) float64 {
	const delta = 6.0 / 29
	if t > delta {
		return t * t * t
	}
	return 3 * delta * delta * (t - 4.0/29)
}

// channel is a linear light as an sRGB byte.
func channel(v float64) int {
	v = math.Max(0, math.Min(1, v))
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return int(math.Round(255 * v))
}

// materials are the woods and metals that makers inlay, in a lightness that
// is like theirs and no other's.
var materials = map[string]lab{
	"white":       {98, 0, 0},
	"holly":       {95, 0, 7},
	"bone":        {93, 1, 10},
	"sycamore":    {91, 1, 13},
	"silver":      {89, 0, -1},
	"birch":       {87, 3, 17},
	"maple":       {84, 5, 22},
	"boxwood":     {81, 4, 36},
	"aluminium":   {78, 0, -2},
	"ash":         {76, 5, 20},
	"brass":       {73, 5, 50},
	"beech":       {70, 12, 23},
	"oak":         {67, 8, 30},
	"pear":        {64, 17, 17},
	"steel":       {60, -1, -3},
	"yew":         {57, 22, 37},
	"cherry":      {54, 22, 27},
	"copper":      {50, 28, 30},
	"bronze":      {46, 11, 34},
	"plum":        {42, 20, 14},
	"padauk":      {39, 38, 34},
	"mahogany":    {35, 24, 23},
	"purpleheart": {32, 22, -6},
	"walnut":      {29, 9, 15},
	"rosewood":    {25, 15, 9},
	"wenge":       {17, 4, 6},
	"ebony":       {9, 1, 2},
	"black":       {4, 0, 0},
}

var (
	boardColor  = lab{21, 8, 12} // walnut, oiled
	grooveColor = lab{4, 1, 2}
	darkLine    = lab{6, 1, 2}
	lightLine   = lab{45, 2, 5} // round strips too dark for a dark line
	pageColor   = lab{100, 0, 0}
)

// darkest is the lightness of a strip under which a dark line round it is lost.
const darkest = 22

// outline is the colour of the line round a strip of colour c.
func outline(c lab) lab {
	if c.l < darkest {
		return lightLine
	}
	return darkLine
}

// palette gives each material its colour: those that are known their own,
// also as the last word of a name ("dyed pear"); the others, in order, the
// lightness furthest from all that are taken, with a slight hue of their own.
func palette(names []string) map[string]lab {
	colors := map[string]lab{}
	var unknown []string
	for _, n := range names {
		if _, done := colors[n]; done {
			continue
		}
		if c, ok := known(n); ok {
			colors[n] = c
		} else {
			colors[n] = lab{}
			unknown = append(unknown, n)
		}
	}
	var taken []float64
	for _, n := range names {
		if _, ok := known(n); ok {
			taken = append(taken, colors[n].l)
		}
	}
	for i, n := range unknown {
		l := furthest(taken)
		const golden = 2.39996 // radians: no two hues of a few are near
		colors[n] = lab{l, 14 * math.Cos(golden*float64(i)), 14 * math.Sin(golden*float64(i))}
		taken = append(taken, l)
	}
	return colors
}

func known(name string) (lab, bool) {
	words := strings.Fields(strings.ToLower(name))
	if len(words) == 0 {
		return lab{}, false
	}
	c, ok := materials[words[len(words)-1]]
	return c, ok
}

// metals are those of the materials that are one, besides names that no picture
// has a colour for.
var metals = map[string]bool{
	"metal": true, "silver": true, "gold": true, "aluminium": true, "aluminum": true, "brass": true, "bronze": true,
	"copper": true, "steel": true, "iron": true, "nickel": true, "tin": true, "pewter": true, "zinc": true, "titanium": true,
}

// HasMetal reports whether a strip is known to be of metal, by the last word of
// its material's name ("phosphor bronze"). Of a job that gives a width alone
// nothing is known.
func HasMetal(strips []work.Strip) bool {
	return slices.ContainsFunc(strips, func(s work.Strip) bool {
		words := strings.Fields(strings.ToLower(s.Material))
		return len(words) > 0 && metals[words[len(words)-1]]
	})
}

// furthest is the lightness between that of a dark and a pale wood which is
// furthest from all those taken and from the board; the palest of equals.
func furthest(taken []float64) float64 {
	best, at := -1.0, 0.0
	for l := 92.0; l >= 12; l -= 4 {
		d := math.Abs(l - boardColor.l)
		for _, t := range taken {
			d = math.Min(d, math.Abs(l-t))
		}
		if d > best {
			best, at = d, l
		}
	}
	return at
}
