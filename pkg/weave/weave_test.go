package weave

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/work"
)

// jobOf is a job whose elements are e1, e2, ... on lines 11, 12, ...
func jobOf(copies int, contours ...geom.Contour) *job.Job {
	j := &job.Job{Motif: work.Drawing{Copies: copies}, Weave: work.Weaving{FirstOver: true}}
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

func arc(x, y, r, startDeg, sweepDeg float64) geom.Contour {
	const deg = math.Pi / 180
	return geom.Chain(false, geom.Arc(geom.Pt(x, y), r, startDeg*deg, sweepDeg*deg)...)
}

func circle(x, y, r float64) geom.Contour { return geom.Circle(geom.Pt(x, y), r) }

// sideAt and crossAt are the places of the looped triangle's crossings: its sides lie
// 40 mm from the middle, and cross where a triangle's do, sqrt(3) times that from
// the middle of a side (derived).
const sideAt = 40.0

var crossAt = math.Sqrt(3) * sideAt

func loopedTriangle() *job.Job {
	reach := math.Sqrt(3) * (sideAt + 66)
	return jobOf(3, polyline(-reach, sideAt, reach, sideAt), arc(reach, sideAt+66, 66, 270, 240))
}

// mustWeave builds both stages and checks what must always hold.
func mustWeave(t testing.TB, j *job.Job) (motif.Motif, Weave, diag.Findings) {
	t.Helper()
	m, fs := motif.Build(j.Motif)
	if fs.HasErrors() {
		t.Fatal(fs)
	}
	w, found := Build(m, j.Weave)
	for i, c := range w.Crossings {
		if !c.Upper().Over || c.Lower().Over {
			t.Fatalf("crossing %d: upper %v, lower %v", i, c.Upper(), c.Lower())
		}
		for _, v := range c.Visits {
			if v.Crossing != i {
				t.Fatalf("crossing %d calls itself %d", i, v.Crossing)
			}
			if p, _ := m.Strands[v.Strand].Contour.At(v.S); !p.Near(c.At, motif.Same) {
				t.Fatalf("crossing %d at %v: strand %d is at %v there", i, c.At, v.Strand, p)
			}
		}
	}
	visits := 0
	for i, vs := range w.Visits {
		visits += len(vs)
		for k, v := range vs {
			if v.Strand != i || k > 0 && vs[k-1].S > v.S {
				t.Fatalf("strand %d: visits out of order: %v", i, vs)
			}
		}
	}
	if visits != 2*len(w.Crossings) {
		t.Fatalf("%d visits of %d crossings", visits, len(w.Crossings))
	}
	return m, w, found
}

// breaks counts the places where a strand passes over, or under, twice.
func breaks(m motif.Motif, w Weave) int {
	n := 0
	for i, vs := range w.Visits {
		for k := range vs {
			if k+1 < len(vs) && vs[k].Over == vs[k+1].Over {
				n++
			}
		}
		if len(vs) > 0 && m.Strands[i].Contour.Closed && vs[len(vs)-1].Over == vs[0].Over {
			n++
		}
	}
	return n
}

func TestLoopedTriangle(t *testing.T) {
	m, w, found := mustWeave(t, loopedTriangle())
	if len(found) > 0 {
		t.Error(found)
	}
	if len(m.Strands) != 1 || len(w.Crossings) != 3 || breaks(m, w) != 0 {
		t.Fatalf("%d strands, %d crossings, %d breaks", len(m.Strands), len(w.Crossings), breaks(m, w))
	}
	for _, c := range w.Crossings {
		if math.Abs(c.At.Norm()-2*sideAt) > 1e-9 {
			t.Errorf("crossing at %v", c.At)
		}
		if math.Abs(c.Angle-math.Pi/3) > 1e-9 {
			t.Errorf("angle %v", c.Angle)
		}
	}
	along := math.Sqrt(3) * 66 // half a side less crossAt
	if v := w.Visits[0][0]; !v.Over || math.Abs(v.S-along) > 1e-9 {
		t.Errorf("first visit %+v, want over at %g mm along the side", v, along)
	}
}

// TestPlait checks crossings and alternation of plaitwork; see package plait
// for the counts.
func TestPlait(t *testing.T) {
	for _, c := range []struct{ a, b int }{{1, 2}, {2, 2}, {4, 5}, {12, 9}, {7, 14}} {
		m, w, found := mustWeave(t, jobOf(1, plait.Lines(c.a, c.b, 20)...))
		if len(found) > 0 {
			t.Errorf("%d x %d: %v", c.a, c.b, found)
		}
		if want := 2*c.a*c.b - c.a - c.b; len(w.Crossings) != want {
			t.Errorf("%d x %d: %d crossings, want %d", c.a, c.b, len(w.Crossings), want)
		}
		if n := breaks(m, w); n != 0 {
			t.Errorf("%d x %d: %d breaks in a closed motif", c.a, c.b, n)
		}
	}
}

// TestTwoSolutions checks, by trying all assignments, that a closed motif has
// exactly two weaves, and that first chooses between them.
func TestTwoSolutions(t *testing.T) {
	for name, j := range map[string]*job.Job{
		"looped triangle": loopedTriangle(),
		"plait":           jobOf(1, plait.Lines(2, 3, 20)...),
		"three rings":     jobOf(3, circle(20, 0, 30)),
		// Three arcs of 240 degrees through each other: a trefoil's outline.
		"trefoil": trefoil(),
	} {
		m, w, _ := mustWeave(t, j)
		n := 0
		for set := range 1 << len(w.Crossings) {
			trial := w.with(set)
			if breaks(m, trial) == 0 {
				n++
			}
		}
		if n != 2 {
			t.Errorf("%s: %d weaves without a break, want 2", name, n)
		}
		j.Weave.FirstOver = false
		_, u, _ := mustWeave(t, j)
		for i := range w.Crossings {
			if w.Crossings[i].Visits[0].Over == u.Crossings[i].Visits[0].Over {
				t.Errorf("%s: crossing %d is the same whichever comes first", name, i)
			}
		}
	}
}

// with returns the weave whose i-th crossing has its first passage on top
// where bit i of set is set.
func (w Weave) with(set int) Weave {
	u := Weave{Crossings: append([]Crossing(nil), w.Crossings...)}
	for _, vs := range w.Visits {
		u.Visits = append(u.Visits, append([]Visit(nil), vs...))
	}
	for i := range u.Crossings {
		u.setOver(i, 1-set>>i&1)
	}
	u.spread()
	return u
}

// trefoil is one closed curve of three arcs that crosses itself three times:
// the arcs, of radius 50 about three centres 30 mm from the origin, run into
// each other at corners outside.
func trefoil() *job.Job {
	a, b := geom.Polar(100, math.Pi/2), geom.Polar(100, math.Pi/2+2*math.Pi/3)
	return jobOf(3, geom.Chain(false, geom.Edge{A: a, B: b, Bulge: -0.5}))
}

func TestTees(t *testing.T) {
	for _, c := range []struct {
		name string
		j    *job.Job
		want []Tee
	}{
		{
			"on a straight", jobOf(1, polyline(-50, 0, 50, 0), polyline(0, 30, 0, 0.0005)),
			[]Tee{{Strand: 1, AtEnd: true, Host: 0, HostS: 50, At: geom.Pt(0, 0)}},
		},
		{
			"both sides of a ring", jobOf(1, circle(0, 0, 30), polyline(-30, 0, 30, 0)),
			[]Tee{{Strand: 1, Host: 0, HostS: 30 * math.Pi, At: geom.Pt(-30, 0)}, {Strand: 1, AtEnd: true, Host: 0, At: geom.Pt(30, 0)}},
		},
		{
			"on itself", jobOf(1, polyline(0, 0, 100, 0, 100, 50, 50, 50, 50, 0)),
			[]Tee{{Strand: 0, AtEnd: true, Host: 0, HostS: 50, At: geom.Pt(50, 0)}},
		},
		{
			"at a shallow angle, a little too long", jobOf(1, polyline(-50, 0, 50, 0), polyline(-40, 4, 0, -0.0005)),
			[]Tee{{Strand: 1, AtEnd: true, Host: 0, HostS: 50, At: geom.Pt(0, 0)}},
		},
	} {
		_, w, found := mustWeave(t, c.j)
		if len(found) > 0 || len(w.Crossings) > 0 || len(w.Tees) != len(c.want) {
			t.Errorf("%s: %d crossings, tees %v, %v", c.name, len(w.Crossings), w.Tees, found)
			continue
		}
		for i, got := range w.Tees {
			want := c.want[i]
			if !got.At.Near(want.At, 1e-9) || math.Abs(got.HostS-want.HostS) > 0.001 {
				t.Errorf("%s: tee %+v, want %+v", c.name, got, want)
			}
			got.At, got.HostS = want.At, want.HostS
			if got != want {
				t.Errorf("%s: tee %+v, want %+v", c.name, got, want)
			}
		}
	}
}

// TestCrossingAtVertex has strands cross where one or both have a vertex.
func TestCrossingAtVertex(t *testing.T) {
	for _, c := range []struct {
		name      string
		contours  []geom.Contour
		crossings int
	}{
		{"through a corner", []geom.Contour{polyline(-50, 0, 50, 0), polyline(-20, 30, 0, 0, 0, -30)}, 1},
		{"through a joint of straights", []geom.Contour{polyline(-50, 0, 0, 0, 50, 0), polyline(0, 30, 0, -30)}, 1},
		{"joint on joint", []geom.Contour{polyline(-50, 0, 0, 0, 50, 0), polyline(0, 30, 0, 0, 0, -30)}, 1},
		{"corner in corner, passing", []geom.Contour{polyline(-50, 0, 0, 0, 50, 10), polyline(0, 30, 0, 0, 10, -30)}, 1},
		{"a ring's own start", []geom.Contour{circle(0, 0, 30), polyline(0, 0, 60, 0), polyline(-60, 0, 0, 0)}, 2},
	} {
		_, w, found := mustWeave(t, jobOf(1, c.contours...))
		if unexpected(found, "weave-break") || len(w.Crossings) != c.crossings {
			t.Errorf("%s: %d crossings, want %d: %v", c.name, len(w.Crossings), c.crossings, found)
		}
	}
}

func TestTroubles(t *testing.T) {
	ten := polyline(-50, 0, 50, 0)
	for _, c := range []struct {
		name, rule, at string
		contours       []geom.Contour
		copies         int
		lines          string // the job lines that the message must name
	}{
		{"line touches ring", "strands-touch", "(0, 30)", []geom.Contour{circle(0, 0, 30), polyline(-50, 30, 50, 30)}, 1, "11 12"},
		{"ring touches ring", "strands-touch", "(30, 0)", []geom.Contour{circle(0, 0, 30), circle(50, 0, 20)}, 1, "11 12"},
		{"corner touches line", "strands-touch", "(0, 0)", []geom.Contour{ten, polyline(-20, 30, 0, 0, 20, 30)}, 1, "11 12"},
		{"corner touches corner", "strands-touch", "(0, 0)", []geom.Contour{polyline(-20, -30, 0, 0, 20, -30), polyline(-20, 30, 0, 0, 20, 30)}, 1, "11 12"},
		{"ring's start touches line", "strands-touch", "(30, 0)", []geom.Contour{circle(0, 0, 30), polyline(30, -50, 30, 50)}, 1, "11 12"},
		{"corner leaves within a quarter of a degree", "strands-touch", "(0, 0)", []geom.Contour{polyline(-50, 0, 300, 0), polyline(-20, 30, 0, 0, 290, -1.2)}, 1, "11 12"},
		{"tee that touches", "strands-touch", "(0, 30)", []geom.Contour{circle(0, 0, 30), polyline(-50, 30, 0, 30)}, 1, "11 12"},
		{"partial overlap", "strands-overlap", "(0, 0)", []geom.Contour{ten, polyline(0, 0, 80, 0)}, 1, "11 12"},
		{"arc on ring", "strands-overlap", "(30, 0)", []geom.Contour{circle(0, 0, 30), arc(0, 0, 30, 0, 90)}, 1, "11 12"},
		{"doubles back", "strands-overlap", "(20, 0)", []geom.Contour{polyline(-50, 0, 50, 0, 20, 0, 20, 20)}, 1, "11"},
		{"three through a point", "strands-crowded", "(0, 0)", []geom.Contour{ten, polyline(-30, -30, 30, 30), polyline(0, -30, 0, 30)}, 1, "11 12 13"},
		{"copies through a point", "strands-crowded", "(0, 0)", []geom.Contour{polyline(-40, 0, 50, 0)}, 3, "11"},
		{"tee at a crossing", "strands-crowded", "(0, 0)", []geom.Contour{ten, polyline(0, -30, 0, 30), polyline(30, 30, 0, 0)}, 1, "11 12 13"},
		{"tee on a corner", "tee-corner", "(0, 0)", []geom.Contour{polyline(-20, -30, 0, 0, 20, -30), polyline(0, 40, 0, 0)}, 1, "11 12"},
		{"nearly a tee", "tee-near", "(0, 0.4)", []geom.Contour{ten, polyline(0, 30, 0, 0.4)}, 1, "11 12"},
		{"slightly past", "tee-near", "(0, -0.4)", []geom.Contour{ten, polyline(0, 30, 0, -0.4)}, 1, "11 12"},
	} {
		_, _, found := mustWeave(t, jobOf(c.copies, c.contours...))
		if len(found) != 1 || found[0].Rule != c.rule {
			t.Errorf("%s: %v, want %s", c.name, found, c.rule)
			continue
		}
		if msg := found[0].Message; !strings.Contains(msg, "at "+c.at+" mm") {
			t.Errorf("%s: %q names another place than %s", c.name, msg, c.at)
		}
		for _, l := range strings.Fields(c.lines) {
			if !strings.Contains(found[0].Message, "(line "+l+")") {
				t.Errorf("%s: %q does not name line %s", c.name, found[0].Message, l)
			}
		}
		if !found[0].HasAt || found[0].Hint == "" || found[0].Key != "e1" {
			t.Errorf("%s: no place, hint or line: %+v", c.name, found[0])
		}
	}
}

func TestFlips(t *testing.T) {
	_, plain, _ := mustWeave(t, loopedTriangle())
	j := loopedTriangle()
	j.Weave.Flips = []work.Flip{{At: geom.Pt(crossAt+0.6, sideAt+0.6)}}
	_, w, found := mustWeave(t, j)
	if len(found) > 0 {
		t.Error(found)
	}
	for i, c := range w.Crossings {
		flipped := c.Visits[0].Over != plain.Crossings[i].Visits[0].Over
		if want := c.At.Near(geom.Pt(crossAt, sideAt), 1); flipped != want {
			t.Errorf("crossing at %v flipped: %v, want %v", c.At, flipped, want)
		}
	}
	j.Weave.Flips = []work.Flip{{At: geom.Pt(crossAt+2, sideAt), Key: "weave.flip.1"}}
	_, _, found = mustWeave(t, j)
	if len(found) != 1 || found[0].Severity != diag.Error || found[0].Key != "weave.flip.1" || !strings.Contains(found[0].Hint, "(69.28, 40) mm") {
		t.Errorf("a flip that misses: %+v", found)
	}
	bare := jobOf(1, circle(0, 0, 30))
	bare.Weave.Flips = []work.Flip{{At: geom.Pt(30, 0)}}
	if _, _, found = mustWeave(t, bare); len(found) != 1 || !strings.Contains(found[0].Hint, "no crossings") {
		t.Errorf("a flip without crossings: %v", found)
	}
	j.Weave.Flips = []work.Flip{{At: geom.Pt(crossAt, sideAt)}, {At: geom.Pt(crossAt, sideAt)}}
	if _, _, found = mustWeave(t, j); len(found) != 1 || found[0].Rule != "flip-twice" {
		t.Errorf("a crossing flipped twice: %v", found)
	}
}

// unexpected reports whether there are findings of other rules than one.
func unexpected(found diag.Findings, rule string) bool {
	for _, f := range found {
		if f.Rule != rule {
			return true
		}
	}
	return false
}
