package motif

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// mostLegs is how many legs the curves of an element and its copies may have
// that stay legs. Where they turn by more than Smooth each is cut on its own,
// between two corners; where by less, a cut is followed leg by leg: 80 corners
// took 12 s to share out over panels, 100 smooth legs 9 s. More of them are
// refused as what they are before anything of that is tried.
const mostLegs = 100

// fitted is an element's contour, with the runs of legs that stand for arcs
// made arcs if the job says so. Otherwise it reports them; not ok if nothing
// can be made of the element.
func fitted(e work.Element, c geom.Contour, copies int, found *diag.Findings) (as geom.Contour, ok bool) {
	if e.Kind == work.KindCircle || e.Kind == work.KindArc || c.Len() < leastLegs {
		return c, true
	}
	arcs, curves := legRuns(c)
	bad := diag.Warning
	stay := curves
	if !e.Fit {
		stay = append(slices.Clone(arcs), curves...)
	}
	if copies*legsOf(stay) > mostLegs {
		bad = diag.Error
	}
	at := func(l legRun) geom.Point { return c.Vertices[l.from%len(c.Vertices)].Point }
	for _, l := range arcs {
		p := at(l)
		if e.Fit {
			found.Notef(e.Key, "fitted", "fit: %d lines of %s became %s; their ends were off it by up to %s",
				l.legs, e.Name, l.arc(), unit.Len(l.off)).SetAt(p.X, p.Y)
			continue
		}
		f := diag.New(bad, e.Key, "many-legs", "%s draws %s in %d lines, which lie up to %s inside it",
			e.Name, l.arc(), l.legs, unit.Len(l.inside))
		f.SetAt(p.X, p.Y).Hintf("write fit = true to make it that arc, or draw it as one")
		found.Add(f)
	}
	if len(curves) > 0 {
		p := at(curves[0])
		f := diag.New(bad, e.Key, "many-legs", "%s draws a curve that is no arc in %d short lines", e.Name, legsOf(curves))
		f.SetAt(p.X, p.Y).Hintf("draw it as a few arcs that run into one another")
		found.Add(f)
	}
	switch {
	case bad == diag.Error && len(curves) > 0:
		return c, false
	case bad == diag.Error || e.Fit:
		return withArcs(c, arcs), true // refused or not, the rest is judged with arcs
	}
	return c, true
}

// legsOf counts the legs of runs.
func legsOf(runs []legRun) (n int) {
	for _, l := range runs {
		n += l.legs
	}
	return n
}

// arc describes the arc of a run, as exactly as its vertices are known at best.
func (l legRun) arc() unit.Text {
	coarse := func(x float64) float64 { return math.Round(x*100) / 100 }
	what := fmt.Sprintf("an arc of %g degrees", coarse(math.Abs(l.sweep)*degrees))
	if l.whole() {
		what = "a circle"
	}
	return unit.Say("%s of radius %s about %s", what, unit.Len(coarse(l.radius)), Place(l.center))
}

// withArcs is a contour with the legs of some runs made arcs, between the same
// ends: what is joined to them stays joined.
func withArcs(c geom.Contour, arcs []legRun) geom.Contour {
	for _, l := range arcs {
		if l.whole() {
			ring := geom.Circle(l.center, l.radius)
			if l.sweep < 0 {
				ring = ring.Reverse()
			}
			return ring
		}
	}
	by := make([]*legRun, c.Len()) // of each edge: the run that it is part of
	for i := range arcs {
		for k := range arcs[i].legs {
			by[(arcs[i].from+k)%c.Len()] = &arcs[i]
		}
	}
	// From an edge that begins a run, or is part of none.
	start := 0
	if c.Closed && len(arcs) > 0 {
		start = arcs[0].from % c.Len()
	}
	var edges []geom.Edge
	for i := 0; i < c.Len(); {
		k := (start + i) % c.Len()
		l := by[k]
		if l == nil {
			edges = append(edges, c.Edge(k))
			i++
			continue
		}
		last := c.Edge((k + l.legs - 1) % c.Len())
		edges = append(edges, run{}.edges(c.Edge(k).A, last.B, l.sweep)...)
		i += l.legs
	}
	return geom.Chain(c.Closed, edges...)
}
