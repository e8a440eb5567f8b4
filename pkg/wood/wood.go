// Package wood knows the colours of woods, metals and what else is let into a board, by
// the names that makers give them: one table for every picture and page.
package wood

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/work"
)

// Board is what a board is of where nothing is said of it.
const Board = "walnut"

// index has every name of the table, and names is all of them in order.
var index, names = indexed()

func indexed() (map[string]Material, []string) {
	all := map[string]Material{}
	var list []string
	for _, t := range []struct {
		kind Kind
		rows []row
	}{{Timber, timbers}, {Metal, metals}, {Other, others}} {
		for _, r := range t.rows {
			called := strings.Split(r.names, ", ")
			for _, n := range called {
				all[n] = Material{Name: called[0], Base: called[0], Kind: t.kind, Color: r.lab}
				list = append(list, n)
			}
		}
	}
	return all, list
}

// dye is the colour that a word says, if it says one.
func dye(word string) (Color, bool) {
	for _, r := range dyes {
		if slices.Contains(strings.Split(r.names, ", "), word) {
			return r.lab, true
		}
	}
	return Color{}, false
}

// Words that say nothing of what it is: what it is made into, or how it is treated.
var (
	formWords = []string{
		"wire", "foil", "sheet", "strip", "strips", "line", "lines", "stringing", "banding", "purfling", "veneer", "veneers",
		"inlay", "burr", "burl", "root", "heartwood", "oiled", "waxed", "polished", "brushed", "lacquered", "varnished",
		"fiber", "fibre", "wood",
	}
	dyedWords = []string{"dyed", "stained", "tinted", "colored", "coloured", "ebonised", "ebonized", "bleached"}
	// Colours that no tree is called by: black walnut and red oak are trees, green pear
	// is dyed.
	onlyDyes = []string{"blue", "green", "gray", "grey", "purple", "violet", "orange"}
)

// Find is the material of a name: the longest end of the name that the table has, so that
// "Phosphor Bronze" is bronze, and "bog oak" isn't oak. Dyed wood is of its dye's colour:
// "black-dyed pear", "green veneer"; where the dye isn't said, of its own.
func Find(name string) (Material, bool) {
	words := split(name)
	dyed := slices.ContainsFunc(words, func(w string) bool { return slices.Contains(dyedWords, w) })
	for i := range words {
		m, ok := known(words[i:])
		if !ok {
			continue
		}
		for _, w := range words[:i] {
			c, colored := dye(w)
			if colored && m.Kind == Timber && (dyed || slices.Contains(onlyDyes, w)) {
				m.Name, m.Color = strings.Join(words[:i], " ")+" "+m.Name, c
				return m, true
			}
		}
		m.Vague = dyed && i > 0 && m.Kind == Timber
		return m, true
	}
	if len(words) > 0 {
		if c, ok := dye(words[len(words)-1]); ok { // "green veneer"; "pear, dyed black"
			return Material{Name: words[len(words)-1], Color: c}, true
		}
	}
	return Material{}, false
}

// split is the words of a name, without those at its end that don't say what it is.
func split(name string) []string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" \t-,;/()", r) })
	for n := len(words); n > 1 && slices.Contains(formWords, words[n-1]); n = len(words) {
		words = words[:n-1]
	}
	return words
}

// known looks words up as they stand, and without the wood of "pearwood".
func known(words []string) (Material, bool) {
	name := strings.Join(words, " ")
	if m, ok := index[name]; ok {
		return m, true
	}
	m, ok := index[strings.TrimSuffix(name, "wood")]
	return m, ok
}

// Nearest is the name of the table that was likely meant; "" if there is none like it.
func Nearest(name string) string {
	words := split(name)
	if len(words) == 0 {
		return ""
	}
	if near := diag.Nearest(strings.Join(words, " "), names); near != "" {
		return near
	}
	return diag.Nearest(words[len(words)-1], names)
}

// HasMetal reports whether a strip is known to be of metal. Of a job that gives a width
// alone nothing is known.
func HasMetal(strips []work.Strip) bool {
	return slices.ContainsFunc(strips, func(s work.Strip) bool {
		m, ok := Find(s.Material)
		return ok && m.Kind == Metal
	})
}

// BoardColor is the colour in which a board is shown.
func BoardColor(w work.Wood) Color {
	if c, ok := FromHex(w.Color); ok {
		return c
	}
	if m, ok := Find(w.Species); ok {
		return m.Shown()
	}
	return index[Board].Shown()
}

// Palette is the colour of each strip: its own where one is given, else its material's;
// of a material that isn't known, in order, the lightness furthest from all that are
// taken and from the board, with a slight hue of its own.
func Palette(strips []work.Strip, board Color) []Color {
	colors := make([]Color, len(strips))
	taken := []float64{board.L}
	done := make([]bool, len(strips))
	for i, s := range strips {
		m, ok := Find(s.Material)
		c, own := FromHex(s.Color)
		switch {
		case own:
			colors[i] = c
		case ok:
			colors[i] = m.Shown()
		default:
			continue
		}
		done[i] = true
		taken = append(taken, colors[i].L)
	}
	unknown := map[string]Color{}
	for i, s := range strips {
		if done[i] {
			continue
		}
		c, ok := unknown[s.Material]
		if !ok {
			const golden = 2.39996 // radians: no two hues of a few are near
			turn := golden * float64(len(unknown))
			c = Color{furthest(taken), 14 * math.Cos(turn), 14 * math.Sin(turn)}
			unknown[s.Material] = c
			taken = append(taken, c.L)
		}
		colors[i] = c
	}
	return colors
}

// furthest is the lightness between that of a dark and a pale wood which is furthest
// from all those taken; the palest of equals.
func furthest(taken []float64) float64 {
	best, at := -1.0, 0.0
	for l := 92.0; l >= 12; l -= 4 {
		d := math.Inf(1)
		for _, t := range taken {
			d = math.Min(d, math.Abs(l-t))
		}
		if d > best {
			best, at = d, l
		}
	}
	return at
}

// Line is a colour for the line round an area of colour c: as far from it in lightness
// as can be, so that it is seen between two of like lightness.
func Line(c Color) Color {
	dark, pale := Color{6, 1, 2}, Color{58, 2, 6}
	if c.L-dark.L < pale.L-c.L {
		return pale
	}
	return dark
}
