package byhand

import (
	"fmt"
	"slices"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Of takes a job file apart: the motif into worked-out numbers, the rest left
// as it is. It doesn't know paths.
func Of(text string) (Drawing, error) {
	j, found := job.Read("job.toml", []byte(text))
	if found.HasErrors() {
		return Drawing{}, found
	}
	d := Drawing{Head: withoutMotif(text), Inch: j.Units == unit.Inch, Copies: j.Motif.Copies, Mirror: j.Motif.Mirror}
	for _, e := range j.Motif.Elements {
		made := Element{Name: e.Name}
		if e.Of > 1 {
			made.Name = fmt.Sprintf("%s-of-%d", e.Name, e.Nth+1)
		}
		c := e.Contour
		switch e.Kind {
		case work.KindLine:
			made.Kind, made.Closed = Line, c.Closed
			for _, v := range c.Vertices {
				if v.Bulge != 0 {
					return Drawing{}, fmt.Errorf("%s has round corners", e.Name)
				}
				made.Points = append(made.Points, v.Point)
			}
		case work.KindArc, work.KindCircle:
			made.Kind = Circle
			made.Center, made.Radius = c.Edge(0).Center(), c.Edge(0).Radius()
			if e.Kind == work.KindArc {
				made.Kind = Arc
				made.Start = c.Start().Sub(made.Center).Angle()
				for _, k := range c.Edges() {
					made.Sweep += k.Sweep()
				}
			}
		case work.KindPattern:
			d.Elements = append(d.Elements, pieces(made.Name, c)...)
			continue
		default:
			return Drawing{}, fmt.Errorf("%s is a %s", e.Name, e.Kind)
		}
		d.Elements = append(d.Elements, made)
	}
	return d, nil
}

// pieces are a pattern's line as one draws it by hand: a circle, or its straights and
// arcs one by one.
func pieces(name string, c geom.Contour) []Element {
	edges := c.Edges()
	ring := func(e geom.Edge) bool {
		return !e.IsLine() && e.Center().Near(edges[0].Center(), geom.Coincident)
	}
	if c.Closed && !slices.ContainsFunc(edges, func(e geom.Edge) bool { return !ring(e) }) {
		return []Element{{Kind: Circle, Name: name, Center: edges[0].Center(), Radius: edges[0].Radius()}}
	}
	var list []Element
	for i, e := range edges {
		made := Element{Name: fmt.Sprintf("%s-%d", name, i+1), Kind: Line, Points: []geom.Point{e.A, e.B}}
		if !e.IsLine() {
			made.Kind, made.Points = Arc, nil
			made.Center, made.Radius, made.Sweep = e.Center(), e.Radius(), e.Sweep()
			made.Start = e.A.Sub(made.Center).Angle()
		}
		list = append(list, made)
	}
	return list
}

// withoutMotif is a job file without the tables of its motif.
func withoutMotif(text string) string {
	var kept []string
	motif := false
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "[") {
			motif = strings.HasPrefix(strings.TrimLeft(line, "["), "motif")
		}
		if !motif {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "")
}
