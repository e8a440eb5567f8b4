package dryrun

// A section of a top that comes apart: within its outline it is judged as any work is.
// Past the edges at which it meets others the groove runs on into scrap, so that it leaves
// the edge with its whole width; how far is measured here, and that it does.

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/unit"
)

// Section is the outline of work that meets others at some of its edges, in the program's
// coordinates. The groove is then all that may be cut with what it runs on past those
// edges; what must be cut is what of it lies within the outline.
type Section struct {
	Name    string
	Outline geom.Contour // counter-clockwise
	Edges   []Edge       // at which it meets another section, or scrap
	Ends    []geom.Edge  // the flat ends of grooves that run on past an edge, across the groove
}

// Edge is a straight part of a section's outline, along it: the section is on its left.
type Edge struct {
	Name     string
	From, To geom.Point
}

// RunOn is how a groove runs on past an edge, as the program cuts it.
type RunOn struct {
	Edge  string
	At    geom.Point // the middle of where it passes the edge
	Far   float64    // mm from the edge, square to it: how far the program cuts
	Whole float64    // and how far the groove's whole width is cut to depth
}

// outward is where a place lies seen from the edge, x how far it is beyond it and y how
// far along; back undoes it.
func (e Edge) outward() (to, back geom.Similarity) {
	d := e.To.Sub(e.From)
	turn := math.Pi/2 - math.Atan2(d.Y, d.X)
	return geom.Shifting(e.From.Scale(-1)).Then(geom.Turning(turn)), geom.Turning(-turn).Then(geom.Shifting(e.From))
}

// beyond is the area on the other side of an edge, as far as some length from it, with
// what lies within another one before it.
func (e Edge) beyond(within, far float64) region.Region {
	box := geom.Box{Min: geom.Pt(-within, 0), Max: geom.Pt(far, e.From.Dist(e.To))}
	_, back := e.outward()
	return region.New(back.Contour(geom.Rect(box)))
}

// allowed cuts off what of a groove leaves the section at an edge that isn't among its
// Edges: there is nothing that may be cut.
func (s *Section) allowed(groove region.Region) region.Region {
	parts := []region.Region{region.New(s.Outline)}
	for _, e := range s.Edges {
		parts = append(parts, e.beyond(0, groove.Bounds().Size().Norm()+1))
	}
	all := region.Union(parts...)
	if region.Subtract(groove, all).Open(thin).Empty() {
		return groove
	}
	return region.Intersect(groove, all)
}

// runOns measures where the groove passes the section's edges, and reports where its whole
// width doesn't leave one.
func (j *judge) runOns() {
	s := j.w.Section
	if s == nil || j.w.Partial {
		return
	}
	var corners []region.Region // that no bit reaches, wherever they lie: not those of the run-on's own ends
	for _, tip := range j.w.Groove.Tips(j.w.Bit.Slot) {
		if !s.atEnd(tip) {
			corners = append(corners, tip)
		}
	}
	spare := region.Union(append(corners, j.w.Done)...)
	for _, e := range s.Edges {
		j.runOnsAt(e, spare)
	}
}

// atEnd reports whether an area lies at the flat end of a groove that runs on.
func (s *Section) atEnd(r region.Region) bool {
	for _, c := range r.Loops() {
		for i := range c.Len() {
			for _, end := range s.Ends {
				if geom.Gap(c.Edge(i), end) < geom.Coincident {
					return true
				}
			}
		}
	}
	return false
}

// justWithin in mm is how far within an edge the groove is looked at with what is beyond:
// more than what thin takes off at the border of an area.
const justWithin = 0.1

// runOnsAt measures the run-ons past one edge. spare need not be cut.
func (j *judge) runOnsAt(e Edge, spare region.Region) {
	to, back := e.outward()
	far := j.w.Groove.Area.Bounds().Size().Norm() + 1
	paths := j.gouger.table.edgesAt(surface, j.w.Groove.Area.Bounds().Expand(far))
	for _, piece := range region.Intersect(j.w.Groove.Area, e.beyond(justWithin, far)).Pieces() {
		chords := passed(piece.Transform(to))
		if len(chords) == 0 {
			continue // it only comes near the edge
		}
		runs := make([]RunOn, len(chords))
		reach := j.furthestPast(piece, paths, to)
		for i, c := range chords {
			runs[i] = RunOn{Edge: e.Name, At: back.Apply(c.Mid()), Far: reach, Whole: math.Max(0, reach)}
		}
		j.wholePast(piece, spare, to, chords, runs)
		j.report.RunOns = append(j.report.RunOns, runs...)
	}
	for _, r := range j.report.RunOns {
		if r.Edge == e.Name && r.Whole <= thin {
			j.cutShortAt(r)
		}
	}
}

// passed are the lines along which an area that is seen from an edge lies across it, from
// the edge's start on.
func passed(r region.Region) (list []geom.Edge) {
	side := geom.Box{Min: geom.Pt(-1, r.Bounds().Min.Y-1), Max: geom.Pt(0, r.Bounds().Max.Y+1)}
	for _, c := range region.Subtract(r, region.New(geom.Rect(side))).Loops() {
		for i := range c.Len() {
			e := c.Edge(i)
			if !e.IsLine() || math.Abs(e.A.X) > geom.Coincident || math.Abs(e.B.X) > geom.Coincident {
				continue
			}
			if n := len(list); n > 0 && list[n-1].B.Near(e.A, geom.Coincident) {
				list[n-1].B = e.B
				continue
			}
			list = append(list, e)
		}
	}
	return list
}

// furthestPast is how far past the edge the bit's rim gets on paths that enter a run-on;
// 0 where none does.
func (j *judge) furthestPast(piece region.Region, paths []geom.Edge, to geom.Similarity) (far float64) {
	radius := j.w.Bit.Slot / 2
	box := piece.Bounds()
	for _, p := range paths {
		if !p.Bounds().Meets(box) {
			continue
		}
		at, t := to.Edge(p), 0.0
		if at.B.X > at.A.X {
			t = 1
		}
		if piece.Dist(p.At(t)) < radius {
			far = math.Max(far, at.At(t).X+radius)
		}
		if !p.IsLine() { // its own furthest place may lie between its ends
			if most := at.Bounds().Max.X; piece.Dist(p.Mid()) < radius {
				far = math.Max(far, most+radius)
			}
		}
	}
	return far
}

// wholePast takes the run-ons' Whole down to where the first wood is left.
func (j *judge) wholePast(piece, spare region.Region, to geom.Similarity, chords []geom.Edge, runs []RunOn) {
	radius := j.w.Bit.Slot/2 - j.gouger.table.blendAt(j.w.Depth-deepOver)
	want := region.Subtract(piece, spare).Shrink(thin)
	paths := j.gouger.table.edgesAt(j.w.Depth-deepOver, want.Bounds().Expand(radius))
	for _, bare := range newCover(paths, radius+thin).bare(want) {
		for _, c := range bare.Transform(to).Loops() {
			for i := range c.Len() {
				e := c.Edge(i)
				n, least := 0, math.Inf(1)
				for k, chord := range chords {
					if d := geom.Gap(e, chord); d < least {
						n, least = k, d
					}
				}
				runs[n].Whole = math.Max(0, math.Min(runs[n].Whole, e.Bounds().Min.X))
			}
		}
	}
}

// cutShortAt reports a run-on that doesn't take the groove's whole width off the edge.
func (j *judge) cutShortAt(r RunOn) {
	pos := diag.Position{File: j.tally.file, Line: max(1, int(j.lastLine))}
	n := 0
	for _, f := range j.report.Findings {
		if f.Rule == ruleRunOn {
			n++
		}
	}
	if n >= reportedMost || j.broken {
		return
	}
	f := diag.NewAt(diag.Error, pos, ruleRunOn, "the groove doesn't leave the %s edge with its whole width at %s: the program cuts %s past the edge there", r.Edge, place(r.At), unit.Len(r.Far))
	f.Hintf("%s", j.meant("check that the program is that of this section, and cuts on past its edges into scrap"))
	f.SetAt(r.At.X, r.At.Y)
	j.report.Findings.Add(f)
}

// ruleRunOn is the rule of a groove that doesn't leave an edge.
const ruleRunOn = "run-on"
