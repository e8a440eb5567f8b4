package inlay

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

const deg = math.Pi / 180

// tableStrips is the stack of the walnut games table, tableStack wide.
func tableStrips() []work.Strip {
	return []work.Strip{
		{Material: "pear", Thickness: 0.9},
		{Material: "holly", Thickness: 1.6},
		{Material: "bronze", Thickness: 1},
		{Material: "pear", Thickness: 0.9},
	}
}

// tableStack in mm is how thick all of tableStrips are.
const tableStack = 0.9 + 1.6 + 1 + 0.9

// unequal is a stack that distinguishes left from right: 1 + 2 + 0.5 mm.
func unequal() []work.Strip {
	return []work.Strip{
		{Material: "holly", Thickness: 1},
		{Material: "pear", Thickness: 2},
		{Material: "walnut", Thickness: 0.5},
	}
}

// jobOf is a job whose elements are e1, e2, ... on lines 11, 12, ...
func jobOf(strips []work.Strip, copies int, contours ...geom.Contour) *job.Job {
	j := &job.Job{Motif: work.Drawing{Copies: copies}, Weave: work.Weaving{FirstOver: true}}
	j.Inlay = work.Inlay{Depth: 3, Clearance: 0.08, Width: 0.08, Strips: strips}
	for _, s := range strips {
		j.Inlay.Width += s.Thickness
	}
	for i, c := range contours {
		j.Motif.Elements = append(j.Motif.Elements, work.Element{
			Name: fmt.Sprintf("e%d", i+1), Contour: c, Key: diag.Key(fmt.Sprintf("e%d", i+1)), Line: 11 + i,
		})
	}
	return j
}

func polyline(xy ...float64) geom.Contour {
	var c geom.Contour
	for i := 0; i < len(xy); i += 2 {
		c.Vertices = append(c.Vertices, geom.Vertex{Point: geom.Pt(xy[i], xy[i+1])})
	}
	return c
}

func polygon(xy ...float64) geom.Contour {
	c := polyline(xy...)
	c.Closed = true
	return c
}

func arc(x, y, r, start, sweep float64) geom.Contour {
	return geom.Chain(false, geom.Arc(geom.Pt(x, y), r, start*deg, sweep*deg)...)
}

func circle(x, y, r float64) geom.Contour { return geom.Circle(geom.Pt(x, y), r) }

// loopedReach in mm is half the length of the looped triangle's sides, which lie
// 40 mm from the middle: its loops of radius 66 then run into the next side.
var loopedReach = math.Sqrt(3) * (40 + 66)

func loopedTriangle() *job.Job {
	return jobOf(tableStrips(), 3, polyline(-loopedReach, 40, loopedReach, 40), arc(loopedReach, 40+66, 66, 270, 240))
}

func plaitJob(a, b int, pitch float64) *job.Job {
	return jobOf(tableStrips(), 1, plait.Lines(a, b, pitch)...)
}

// build runs the stages; a motif that does not weave fails the test.
func build(t testing.TB, j *job.Job) (Inlay, weave.Weave, diag.Findings) {
	t.Helper()
	m, found := motif.Build(j.Motif)
	if found.HasErrors() {
		t.Fatal(found)
	}
	w, found := weave.Build(m, j.Weave)
	if found.HasErrors() {
		t.Fatal(found)
	}
	in, found := Build(paramsOf(j), m, w)
	return in, w, found
}

// quiet is build for motifs about which nothing is to be reported.
func quiet(t testing.TB, j *job.Job) (Inlay, weave.Weave) {
	t.Helper()
	in, w, found := build(t, j)
	if len(found) > 0 {
		t.Fatal(found)
	}
	return in, w
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.12g, want %.12g (within %g)", what, got, want, tol)
	}
}

// paramsOf are a job's.
func paramsOf(j *job.Job) Params {
	return Params{Strips: j.Inlay.Strips, Width: j.Inlay.Width, Board: j.Board, Units: j.Units}
}
