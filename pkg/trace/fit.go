package trace

import (
	"math"
	"slices"

	"strapwork/pkg/arcfit"
	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

const ruleFit = "drawing-shakes"

// chordShare is how much finer than the tolerance the points lie to which curves are
// fitted; what is between them is looked at after that.
const chordShare = 0.1

// A spot is where a point of a section is on its segment.
type spotOn struct {
	seg  drawing.Segment
	from float64 // parameter there
	to   float64 // and at the next point
}

// fit lays the fewest tangent lines and arcs along a stretch; none where that can't be
// done within the tolerance, which is reported.
func (t *tracer) fit(s stretch, of stroke) []geom.Edge {
	section, on := t.section(s)
	section.Between = func(i int, u float64) geom.Point {
		o := on[i]
		return o.seg.At(o.from + u*(o.to-o.from))
	}
	chain, result, err := arcfit.Fit(section, t.fitting())
	switch {
	case err != nil:
		t.found.ErrorAt(of.Pos, ruleFit, "no lines and arcs can be laid along this curve: %v", err)
		return nil
	case !result.Met && chordsOnly(s):
		// Lines that no curve follows within the tolerance are what was drawn.
		t.coarse = append(t.coarse, coarse{s.segs[0].At(0), len(s.segs), result.Deviation})
		edges, _ := exactly(s)
		return edges
	case !result.Met:
		t.shakes(of.Pos, result)
		return nil
	}
	return t.took(chain.Contour().Edges())
}

// fitting is how curves are fitted.
func (t *tracer) fitting() arcfit.Params {
	// What is measured is measured on chords.
	p := arcfit.Params{Tolerance: t.p.Tolerance - 2*t.fine()}
	if t.p.Snap {
		p.Snap = arcfit.Usual()
		p.Snap.Radii = t.radii
		if t.inches() {
			p.Snap.Steps = inchSteps[:]
		}
	}
	return p
}

// inchSteps are what radii become multiples of for whoever measures in inches.
var inchSteps = [...]float64{unit.MMPerInch / 16, unit.MMPerInch / 64}

// inches reports whether whoever reads the trace measures in inches.
func (t *tracer) inches() bool {
	return t.p.Inches || t.rep.Unit == unit.MMPerInch || t.rep.Unit == 12*unit.MMPerInch
}

const (
	// sameRadius is by how much in mm two radii differ that are one, but for rounding.
	sameRadius = 1e-6
	// mostRadii bounds the radii that later fits try: a motif has few, and each try is a fit.
	mostRadii = 12
)

// took keeps the radii of lines and arcs, so that what is fitted later has them too.
func (t *tracer) took(edges []geom.Edge) []geom.Edge {
	for _, e := range edges {
		if len(t.radii) == mostRadii {
			break
		}
		if e.IsLine() {
			continue
		}
		if r := e.Radius(); !slices.ContainsFunc(t.radii, func(q float64) bool { return math.Abs(q-r) <= sameRadius }) {
			t.radii = append(t.radii, r)
		}
	}
	return edges
}

// shakes reports a curve that isn't followed within the tolerance.
func (t *tracer) shakes(pos diag.Position, r arcfit.Result) {
	f := t.found.ErrorAt(pos, ruleFit, "a curve is too uneven: no tangent lines and arcs follow it %s, near %s", within(t.p.Tolerance), at(r.At))
	if r.Deviation > 0 {
		f.Hintf("they do within %s: %s", unit.AtLeast(r.Deviation), t.write("tolerance", unit.AtLeast(r.Deviation).Typed().String()))
	}
}

func within(tol float64) unit.Text { return unit.Say("within %s", unit.Len(tol)) }

// section is a stretch as points along it.
func (t *tracer) section(s stretch) (arcfit.Section, []spotOn) {
	var points []geom.Point
	var on []spotOn
	for k, seg := range s.segs {
		places := drawing.Places(seg, t.p.Tolerance*chordShare)
		for i, u := range places {
			if i == len(places)-1 {
				if k == len(s.segs)-1 && !s.closed {
					points = append(points, seg.At(u))
				}
				break
			}
			points = append(points, seg.At(u))
			on = append(on, spotOn{seg, u, places[i+1]})
		}
	}
	return arcfit.Section{Points: points, Closed: s.closed}, on
}

// A coarse is a row of lines that may stand for a curve, but not within the tolerance.
type coarse struct {
	at    geom.Point
	lines int
	off   float64 // within which a curve follows them; 0 if none does
}

// chordsOnly reports whether a stretch is drawn as lines.
func chordsOnly(s stretch) bool {
	return !slices.ContainsFunc(s.segs, func(seg drawing.Segment) bool { _, ok := seg.(drawing.Line); return !ok })
}
