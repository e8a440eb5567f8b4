package sketch

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// insets shows places again, larger, three in a row under the drawing.
func (g *page) insets() {
	const abreast, between = 3, 5.0
	const side = (pageWidth - (abreast-1)*between) / abreast
	for i, in := range g.Insets {
		x := float64(i%abreast) * (side + between)
		if i%abreast == 0 {
			g.foot -= side + 2
		}
		window := geom.Box{Min: geom.Pt(x, g.foot), Max: geom.Pt(x+side, g.foot+side)}
		k := side / (2 * in.Half)
		to := geom.Scaling(k).Then(geom.Shifting(window.Center().Sub(in.At.Scale(k))))
		for _, l := range g.Layers {
			g.layer(l, to, &window)
		}
		g.passes(to, &window)
		g.near(to, window)
		g.stroke(inkShade, 0.25, geom.Rect(window))
		y := g.foot - line
		for _, row := range wrapped(letter(i)+": "+in.Caption, small, side) {
			g.write(geom.Pt(x, y), small, inkShade, row)
			y -= 0.8 * line
		}
		if i%abreast == abreast-1 || i == len(g.Insets)-1 {
			g.foot -= 3 * line // captions of three rows
		}
	}
}

// near draws the signs and the marks' places within a window.
func (g *page) near(to geom.Similarity, window geom.Box) {
	inner := window.Expand(-ring)
	for _, s := range g.Signs {
		if at := to.Apply(s.At); inner.Holds(at) {
			g.sign(s.Kind, s.Kind.shape(at, s.Dir, largestSign))
		}
	}
	for _, m := range g.Marks {
		for _, c := range m.rings(to, inner) {
			g.stroke(shadeOf(m.Severity), 0.35, c)
		}
	}
}

// legend says what lines and signs there are.
func (g *page) legend() {
	const sample, space = 9.0, 5.0
	x, y := 0.0, g.foot-line
	row := func(name string) geom.Point {
		w := sample + 2 + sheet.Text{Height: capitals, String: name}.Width() + space
		if x > 0 && x+w > pageWidth {
			x, y = 0, y-1.3*line
		}
		at := geom.Pt(x, y+capitals/2)
		g.write(geom.Pt(x+sample+2, y), capitals, inkShade, name)
		x += w
		return at
	}
	any := false
	for _, l := range slices.Backward(g.Layers) { // what lies on top comes first
		if l.Legend == "" || len(l.Lines) == 0 {
			continue
		}
		at := row(l.Legend)
		width := min(l.Width*g.scale, capitals*1.2)
		g.drawn(l.Style, []geom.Contour{segment(at, at.Add(geom.Pt(sample, 0)))}, width, nil)
		any = true
	}
	for k := Joint; k <= Way; k++ {
		if !g.used[k] {
			continue
		}
		at := row(k.String()).Add(geom.Pt(sample/2, 0))
		dir := geom.Pt(1, 0)
		if k == Tee {
			dir = dir.Left()
		}
		g.drawn(Copied, k.sample(at, sample/2), 0, nil)
		if k == Way {
			at = at.Sub(geom.Pt(largestSign, 0))
		}
		g.sign(k, k.shape(at, dir, largestSign))
		any = true
	}
	if any {
		g.foot = y - 1.5*line
	}
}

// sample is lines at which a sign may stand, so far to each side.
func (k SignKind) sample(at geom.Point, far float64) []geom.Contour {
	a, b := at.Sub(geom.Pt(far, 0)), at.Add(geom.Pt(far, 0))
	switch k {
	case Joint:
		return []geom.Contour{segment(a, b)}
	case Corner:
		return []geom.Contour{segment(a, at), segment(at, at.Add(geom.Pt(far/2, -far/3)))}
	case Tee, End:
		return []geom.Contour{segment(a, at)}
	case Way:
		return []geom.Contour{segment(a, b)}
	}
	return nil
}

// list says of each mark what there is to say.
func (g *page) list() {
	const indent = 2*badge + 2
	for i, m := range g.Marks {
		g.badge(geom.Pt(badge, g.foot+capitals/2), i+1, m.Severity)
		for _, row := range wrapped(m.Text, capitals, pageWidth-indent) {
			g.write(geom.Pt(indent, g.foot), capitals, inkShade, row)
			g.foot -= line
		}
		if m.Hint != "" {
			for _, row := range wrapped("hint: "+m.Hint, capitals, pageWidth-indent) {
				g.write(geom.Pt(indent, g.foot), capitals, quietShade, row)
				g.foot -= line
			}
		}
		g.foot -= 0.4 * line
	}
}

// closing writes what comes last.
func (g *page) closing() {
	for _, l := range g.Closing {
		for _, row := range wrapped(l, capitals, pageWidth) {
			g.write(geom.Pt(0, g.foot), capitals, quietShade, row)
			g.foot -= line
		}
	}
}

// wrapped breaks a text into lines that are no wider than width, between words where
// that can be.
func wrapped(s string, height, width float64) (rows []string) {
	fits := func(s string) bool { return sheet.Text{Height: height, String: s}.Width() <= width }
	row := ""
	for _, word := range strings.Fields(plain(s, math.MaxInt)) {
		for {
			next := strings.TrimLeft(row+" "+word, " ")
			if fits(next) {
				row = next
				break
			}
			if row != "" {
				rows, row = append(rows, row), ""
				continue
			}
			n := 0 // of a word longer than the line: as much as fits
			for i := range word {
				if i > 0 && !fits(word[:i]) {
					break
				}
				n = i
			}
			_, first := utf8.DecodeRuneInString(word)
			n = max(n, first)
			rows, word = append(rows, word[:n]), word[n:]
			if word == "" {
				break
			}
		}
	}
	if row != "" {
		rows = append(rows, row)
	}
	return rows
}

// plain is s without what could upset the lines about it, control characters and those
// that turn the direction of writing, and no longer than so many characters.
func plain(s string, most int) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Bidi_Control, r), r == utf8.RuneError:
			return '?'
		}
		return r
	}, s)
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "\u2026"
	}
	return s
}
