package fullsize

import (
	"fmt"
	"strings"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/paper"
	"strapwork/pkg/unit"
)

// Bars are the figures for the strips' sheet on paper, with so much room for each.
func Bars(figures []Figure, l cutlist.List, room geom.Point, u unit.System) []paper.Bar {
	var all []paper.Bar
	for _, f := range figures {
		b := paper.Bar{Name: cutlist.Numbers(f.Numbers), Facts: f.facts(l.Height, u), Flat: draw(paper.Strip, f.Flat...), Laid: f.views(room, u)}
		if f.Blank.Len() > 0 {
			b.Flat = append(b.Flat, draw(paper.Blank, f.Blank)...)
		}
		all = append(all, b)
	}
	return all
}

// Tags are the labels of the pieces, one each, and those of the bags that pieces cut alike
// share.
func Tags(figures []Figure, l cutlist.List, u unit.System) (pieces, bags []paper.Tag) {
	for _, p := range l.Pieces {
		where := p.Where()
		if p.Strip > 0 && len(l.Layup) > 1 {
			where = fmt.Sprintf("%s, strip %d", where, p.Strip)
		}
		pieces = append(pieces, paper.Tag{Number: fmt.Sprint(p.Number), Lines: append([]string{where}, cutWords(p, l.Cut(p), u)...)})
	}
	for _, f := range figures {
		if n := len(f.Numbers); n > 1 {
			p := f.Piece
			words := cutWords(p, f.Cut, u)
			bags = append(bags, paper.Tag{Number: cutlist.Numbers(f.Numbers), Lines: []string{unit.Count(n, "piece") + ", " + words[0], strings.Join(words[1:], ", ")}})
		}
	}
	return pieces, bags
}

// cutWords say what a piece is of, what it is cut to, and its bend.
func cutWords(p cutlist.Piece, cut float64, u unit.System) []string {
	words := []string{material(p) + " " + length(p.Thickness, u), "cut " + length(cut, u)}
	if p.Bend > 0 {
		words = append(words, "bend R "+radius(p.Bend, u))
	}
	return words
}
