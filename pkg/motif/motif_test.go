package motif

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
	"strapwork/pkg/job"
	"strapwork/pkg/work"
)

// jobOf is a job whose elements are e1, e2, ... on lines 11, 12, ...
func jobOf(copies int, mirror bool, contours ...geom.Contour) *job.Job {
	j := &job.Job{Motif: work.Drawing{Copies: copies, Mirror: mirror}}
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

func closed(c geom.Contour) geom.Contour { c.Closed = true; return c }

func arc(x, y, r, startDeg, sweepDeg float64) geom.Contour {
	const deg = math.Pi / 180
	return geom.Chain(false, geom.Arc(geom.Pt(x, y), r, startDeg*deg, sweepDeg*deg)...)
}

// mustBuild builds and checks what must always hold.
func mustBuild(t testing.TB, j *job.Job) (Motif, diag.Findings) {
	t.Helper()
	m, found := Build(j.Motif)
	used := make([]bool, len(m.Sources))
	for i, s := range m.Strands {
		if s.ID != fmt.Sprintf("s%d", i+1) {
			t.Fatalf("strand %d is called %s", i, s.ID)
		}
		if len(s.Sources) != s.Contour.Len() || len(s.Corner) != len(s.Contour.Vertices) || len(s.Offsets()) != s.Contour.Len()+1 {
			t.Fatalf("%s: %d edges, %d sources, %d corners, %d offsets", s.ID, s.Contour.Len(), len(s.Sources), len(s.Corner), len(s.Offsets()))
		}
		if math.Abs(s.Length()-s.Contour.Length()) > 1e-9 {
			t.Fatalf("%s: length %v, contour %v", s.ID, s.Length(), s.Contour.Length())
		}
		for _, src := range s.Sources {
			used[src] = true
		}
	}
	if slices.Contains(used, false) {
		t.Fatalf("sources in no strand: %v", used)
	}
	return m, found
}

// faults are the findings that aren't notes.
func faults(found diag.Findings) diag.Findings {
	return slices.DeleteFunc(slices.Clone(found), func(f diag.Finding) bool { return f.Severity == diag.Note })
}

// TestLoopedTriangle follows the demonstration motif: a side and two thirds of a
// circle of radius 66, three times, in one smooth closed strand. The loop runs
// into the next side when half the side is sqrt(3) times the loop's centre's
// distance from the side's own axis (derived).
func TestLoopedTriangle(t *testing.T) {
	const inner, radius = 40, 66
	reach := math.Sqrt(3) * (inner + radius)
	m, found := mustBuild(t, jobOf(3, false, polyline(-reach, inner, reach, inner), arc(reach, inner+radius, radius, 270, 240)))
	if len(found) > 0 {
		t.Error(found)
	}
	if len(m.Strands) != 1 || len(m.Sources) != 6 {
		t.Fatalf("%d strands, %d sources", len(m.Strands), len(m.Sources))
	}
	s := m.Strands[0]
	if want := 3 * (2*reach + 4*math.Pi/3*radius); math.Abs(s.Length()-want) > 1e-9 || !s.Contour.Closed {
		t.Errorf("length %v, want %v; closed: %v", s.Length(), want, s.Contour.Closed)
	}
	if slices.Contains(s.Corner, true) {
		t.Errorf("corners: %v", s.Corner)
	}
	var names []string
	for _, i := range s.Sources {
		names = append(names, m.Sources[i].Name)
	}
	// Each loop runs into the side a third of a turn back; each arc is two edges.
	want := "e1.1 e2.1 e2.1 e1.3 e2.3 e2.3 e1.2 e2.2 e2.2"
	if got := strings.Join(names, " "); got != want {
		t.Errorf("order %s, want %s", got, want)
	}
	if !s.Contour.Start().Near(geom.Pt(-reach, inner), 1e-9) {
		t.Errorf("starts at %v", s.Contour.Start())
	}
}

// TestDirection has the first-listed element set a strand's direction,
// wherever in the strand it is.
func TestDirection(t *testing.T) {
	for _, c := range []struct {
		name       string
		contours   []geom.Contour
		start, end geom.Point
		order      string
	}{
		{
			"first in the middle",
			[]geom.Contour{polyline(10, 0, 20, 0), polyline(20, 0, 30, 5), polyline(10, 0, 0, 5)},
			geom.Pt(0, 5), geom.Pt(30, 5), "e3.1 e1.1 e2.1",
		},
		{
			"first in the middle, reversed",
			[]geom.Contour{polyline(20, 0, 10, 0), polyline(20, 0, 30, 5), polyline(0, 5, 10, 0)},
			geom.Pt(30, 5), geom.Pt(0, 5), "e2.1 e1.1 e3.1",
		},
		{
			"a triangle",
			[]geom.Contour{polyline(0, 0, 10, 0), polyline(0, 0, 5, 8), polyline(10, 0, 5, 8)},
			geom.Pt(0, 0), geom.Pt(0, 0), "e1.1 e3.1 e2.1",
		},
		{
			"an open element that closes",
			[]geom.Contour{polyline(0, 0, 10, 0, 5, 8, 0, 0.0004)},
			geom.Pt(0, 0.0002), geom.Pt(0, 0.0002), "e1.1 e1.1 e1.1",
		},
	} {
		m, found := mustBuild(t, jobOf(1, false, c.contours...))
		if len(faults(found)) > 0 || len(m.Strands) != 1 {
			t.Errorf("%s: %d strands, %v", c.name, len(m.Strands), found)
			continue
		}
		s := m.Strands[0]
		if !s.Contour.Start().Near(c.start, 1e-12) || !s.Contour.End().Near(c.end, 1e-12) || s.Contour.Closed != (c.start == c.end) {
			t.Errorf("%s: from %v to %v, closed %v", c.name, s.Contour.Start(), s.Contour.End(), s.Contour.Closed)
		}
		var names []string
		for _, i := range s.Sources {
			names = append(names, m.Sources[i].Name)
		}
		if got := strings.Join(names, " "); got != c.order {
			t.Errorf("%s: %s, want %s", c.name, got, c.order)
		}
	}
}

// TestCopies checks numbering and places of turned and mirrored copies.
func TestCopies(t *testing.T) {
	m, found := mustBuild(t, jobOf(4, true, polyline(20, 5, 60, 9)))
	if len(found) > 0 || len(m.Strands) != 8 {
		t.Fatalf("%d strands, %v", len(m.Strands), found)
	}
	want := []geom.Point{{X: 20, Y: 5}, {X: -5, Y: 20}, {X: -20, Y: -5}, {X: 5, Y: -20}, {X: 20, Y: -5}, {X: 5, Y: 20}, {X: -20, Y: 5}, {X: -5, Y: -20}}
	for i, s := range m.Strands {
		src := m.Sources[s.Sources[0]]
		if s.Contour.Start() != want[i] {
			t.Errorf("copy %d starts at %v, want exactly %v", i+1, s.Contour.Start(), want[i])
		}
		if src.Name != fmt.Sprintf("e1.%d", i+1) || src.Copy != i+1 || src.Mirrored != (i >= 4) || src.Line != 11 {
			t.Errorf("copy %d: %+v", i+1, src)
		}
	}
}

// TestMerged has elements fall on themselves when copied.
func TestMerged(t *testing.T) {
	for _, c := range []struct {
		name    string
		j       *job.Job
		sources int
		strands int
	}{
		{"a ring about the origin", jobOf(7, true, geom.Circle(geom.Pt(0, 0), 30)), 1, 1},
		{"concentric rings", jobOf(5, false, geom.Circle(geom.Pt(0, 0), 30), geom.Circle(geom.Pt(0, 0), 40)), 2, 2},
		{"a straight through the origin", jobOf(4, false, polyline(-30, 0, 30, 0)), 2, 2},
		{"a straight on the mirror axis", jobOf(3, true, polyline(10, 0, 30, 0)), 3, 3},
		{"a square's sides", jobOf(4, true, polyline(-30, 30, 30, 30)), 4, 1},
		{"a closed square", jobOf(4, true, closed(polyline(-30, -30, 30, -30, 30, 30, -30, 30))), 1, 1},
		{"twice, backwards, and off by half a micrometre", jobOf(1, false, polyline(0, 0, 30, 10), polyline(30, 10.0005, 0, 0)), 1, 1},
		{"twice, and off by 0.04", jobOf(1, false, polyline(0, 0, 30, 10), polyline(0.04, 0, 30, 10.04)), 1, 1},
		{"a ring off the origin by 0.03", jobOf(12, false, geom.Circle(geom.Pt(0.03, 0), 30)), 1, 1},
		{"a mirrored straight off the axis by 0.02", jobOf(1, true, polyline(10, 0.02, 30, -0.02)), 1, 1},
		{"a square's sides, off the middle by 0.02", jobOf(4, true, polyline(-29.98, 30, 30.02, 30.01)), 4, 1},
		{"with a vertex more", jobOf(1, false, polyline(0, 0, 30, 0), polyline(0, 0, 10, 0, 30, 0)), 1, 1},
		{"a part of a straight stays", jobOf(1, false, polyline(0, 0, 30, 0), polyline(5, 0, 10, 0)), 2, 2},
		{"an arc is not its other half", jobOf(1, false, arc(0, 0, 30, 0, 180), arc(0, 0, 30, 180, 180)), 2, 1},
	} {
		m, found := mustBuild(t, c.j)
		if len(m.Sources) != c.sources || len(m.Strands) != c.strands || len(faults(found)) > 0 {
			t.Errorf("%s: %d sources in %d strands, want %d in %d: %v", c.name, len(m.Sources), len(m.Strands), c.sources, c.strands, found)
		}
		twice := slices.ContainsFunc(found, func(f diag.Finding) bool {
			return f.Rule == "drawn-twice" && f.Key == "e2" && strings.HasPrefix(f.Message, "e2 lies on e1 all along")
		})
		if twice != (len(c.j.Motif.Elements) > c.sources) {
			t.Errorf("%s: %v", c.name, found)
		}
		for _, s := range m.Sources {
			if s.Element == 0 && s.Copy == 1 {
				continue
			}
			if s.Copy > c.j.Motif.Copies {
				t.Errorf("%s: %s is kept rather than an earlier copy", c.name, s.Name)
			}
		}
	}
}

// TestCorners turns at vertices by angles about the limit of 0.5 degrees. The
// flat ones are straightened: half of what is off at the vertex moves there,
// the rest at the far ends.
func TestCorners(t *testing.T) {
	const deg = math.Pi / 180
	for _, c := range []struct {
		turn   float64 // degrees
		corner bool
	}{{0, false}, {0.011, false}, {0.49, false}, {-0.49, false}, {0.51, true}, {-0.51, true}, {90, true}, {-179, true}} {
		next := geom.Pt(50, 0).Add(geom.Polar(40, c.turn*deg))
		joined := jobOf(1, false, polyline(0, 0, 50, 0), polyline(next.X, next.Y, 50, 0))
		inside := jobOf(1, false, polyline(0, 0, 50, 0, next.X, next.Y))
		for _, j := range []*job.Job{joined, inside} {
			m, _ := mustBuild(t, j)
			if got := m.Strands[0].Corner; !slices.Equal(got, []bool{false, c.corner, false}) {
				t.Errorf("turning by %v degrees: corners %v", c.turn, got)
			}
		}
	}
	// A short smooth edge whose end is moved by joining stays smooth.
	m, found := mustBuild(t, jobOf(1, false, polyline(0, 0, 50, 0), polyline(50, 0.0009, 52, 0.0009)))
	if s := m.Strands[0]; len(faults(found)) > 0 || slices.Contains(s.Corner, true) || !s.Contour.Vertices[1].Near(geom.Pt(50, 0.00045), 0.001) {
		t.Errorf("corners %v at %v: %v", s.Corner, s.Contour.Vertices, found)
	}
	// All corners of closed elements count, the first vertex too.
	m, _ = mustBuild(t, jobOf(1, false, closed(polyline(0, 0, 30, 0, 30, 30)), geom.Circle(geom.Pt(0, 0), 5)))
	if !slices.Equal(m.Strands[0].Corner, []bool{true, true, true}) || !slices.Equal(m.Strands[1].Corner, []bool{false, false}) {
		t.Errorf("corners %v, ring %v", m.Strands[0].Corner, m.Strands[1].Corner)
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		name, rule string
		severity   diag.Severity
		j          *job.Job
		says       []string
	}{
		{
			"three ends", "ends-crowded", diag.Error, jobOf(1, false, polyline(0, 0, 10, 0), polyline(0, 0, 0, 10), polyline(-9, -9, 0, 0)),
			[]string{"3 ends meet at (0, 0) mm", "e1.1 (line 11)", "e2.1 (line 12)", "e3.1 (line 13)"},
		},
		{
			"copies at the origin", "ends-crowded", diag.Error, jobOf(5, false, polyline(0, 0, 10, 0)),
			[]string{"5 ends meet at (0, 0) mm", "e1.1 (line 11)", "e1.5 (line 11)"},
		},
		{
			"alike at every copy", "ends-crowded", diag.Error, jobOf(4, false, polyline(20, 0, 30, 0), polyline(20, 0, 30, 5), polyline(20, 0, 30, -5)),
			[]string{"3 ends meet at (20, 0) mm", "3 more places like it"},
		},
		{
			"nearly met", "ends-near", diag.Error, jobOf(1, false, polyline(0, 0, 10, 0), polyline(10.25, 0, 20, 5)),
			[]string{"0.25 mm apart, at (10, 0) mm and (10.25, 0) mm", "e1.1 (line 11)", "e2.1 (line 12)"},
		},
		{
			"just not met", "ends-near", diag.Error, jobOf(1, false, polyline(0, 0, 10, 0), polyline(10.051, 0, 20, 5)),
			[]string{"0.051 mm apart"},
		},
		{
			"run past one another", "ends-near", diag.Error, jobOf(1, false, polyline(0, 0, 10, 0), polyline(9.91, 0.01, 20, 0.02)),
			[]string{"0.091 mm apart, at (10, 0) mm and (9.91, 0.01) mm"},
		},
		{
			"nearly a ring", "ends-near", diag.Error, jobOf(2, false, polyline(10, 0, 30, 0, 30, 30, 10, 0.5)),
			[]string{"0.5 mm apart, at (10, 0) mm", "one more place like it"},
		},
		{
			"a chain of ends", "ends-chained", diag.Error, jobOf(1, false, polyline(0, 0, 10, 0), polyline(0, 0.04, 0, 10), polyline(-9, -9, 0, 0.08)),
			[]string{"3 ends lie near (0, 0) mm", "within 0.05 mm", "e3.1 (line 13)"},
		},
		{
			"four ends, all smooth", "ends-crowded", diag.Error, jobOf(1, false, polyline(-10, 0, 0, 0), arc(0, 5, 5, 180, 90), polyline(0, 0, 10, 0), arc(0, 5, 5, 270, 90)),
			[]string{"4 ends meet at (0, 0) mm", "e1.1 (line 11)", "e4.1 (line 14)"},
		},
		{
			"four ends, none smooth", "ends-crowded", diag.Error, jobOf(1, false, polyline(0, 0, 10, 0), polyline(0, 0, 10, 3), polyline(0, 0, 0, 10), polyline(0, 0, 3, 10)),
			[]string{"4 ends meet at (0, 0) mm"},
		},
		{
			"more ends than are named", "ends-crowded", diag.Error, jobOf(40, false, polyline(0, 0, 10, 0)),
			[]string{"40 ends meet at (0, 0) mm: e1.1 (line 11), ", "e1.12 (line 11) and 28 more"},
		},
		{
			"too short", "element-short", diag.Error, jobOf(1, false, polyline(0, 0, 0.049, 0)),
			[]string{"e1 is shorter than 0.05 mm"},
		},
	} {
		_, found := Build(c.j.Motif)
		if len(found) != 1 || found[0].Rule != c.rule || found[0].Severity != c.severity || found[0].Key != "e1" || found[0].Hint == "" {
			t.Errorf("%s: %v", c.name, found)
			continue
		}
		for _, s := range c.says {
			if !strings.Contains(found[0].Message, s) {
				t.Errorf("%s: %q does not say %q", c.name, found[0].Message, s)
			}
		}
	}
	// A short straight's own two ends are no gap.
	if _, found := mustBuild(t, jobOf(1, false, polyline(0, 0, 0.5, 0))); len(found) > 0 {
		t.Errorf("a short straight: %v", found)
	}
}

// TestCutUp cuts a plait's strands into straights, listed in random order and
// running either way, and has them joined again.
func TestCutUp(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 2))
		a, b := 1+r.IntN(9), 1+r.IntN(9)
		var parts []geom.Contour
		var length float64
		whole := plait.Lines(a, b, 20)
		for _, l := range whole {
			length += l.Length()
			for _, e := range l.Edges() {
				if r.IntN(2) == 0 {
					e = e.Reverse()
				}
				parts = append(parts, geom.Chain(false, e))
			}
		}
		r.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
		m, found := mustBuild(t, jobOf(1, false, parts...))
		var sum float64
		for _, s := range m.Strands {
			sum += s.Length()
			if !s.Contour.Closed || slices.Contains(s.Corner, false) {
				t.Errorf("seed %d: %s is open or smooth", seed, s.ID)
			}
			first := parts[slices.Min(s.Sources)]
			if s.Contour.Edge(0) != first.Edge(0) {
				t.Errorf("seed %d: %s does not start with its first-listed straight", seed, s.ID)
			}
		}
		if len(found) > 0 || len(m.Strands) != len(whole) || math.Abs(sum-length) > 1e-6 {
			t.Errorf("seed %d: %d x %d: %d strands, want %d: %v", seed, a, b, len(m.Strands), len(whole), found)
		}
	}
}

// TestAlong checks places along a strand against its contour.
func TestAlong(t *testing.T) {
	m, _ := mustBuild(t, jobOf(1, false, polyline(0, 0, 30, 0), polyline(30, 0, 30, 40)))
	s := m.Strands[0]
	for _, c := range []struct {
		d            float64
		edge, source int
	}{{-1, 0, 0}, {0, 0, 0}, {29, 0, 0}, {30, 1, 1}, {70, 1, 1}, {99, 1, 1}} {
		if s.Edge(c.d) != c.edge || s.Source(c.d) != c.source {
			t.Errorf("at %v: edge %d, source %d", c.d, s.Edge(c.d), s.Source(c.d))
		}
	}
	if got := m.NameAt(0, 35); got != "e2.1 (line 12)" {
		t.Error(got)
	}
	if b := m.Bounds(); b != (geom.Box{Max: geom.Pt(30, 40)}) {
		t.Errorf("bounds %v", b)
	}
}

func BenchmarkCutUpPlait(b *testing.B) {
	var parts []geom.Contour
	for _, l := range plait.Lines(71, 72, 20) {
		for _, e := range l.Edges() {
			parts = append(parts, geom.Chain(false, e))
		}
	}
	j := jobOf(1, false, parts...)
	for b.Loop() {
		if m, _ := Build(j.Motif); len(m.Strands) != 1 {
			b.Fatal(len(m.Strands))
		}
	}
}

// TestNearlySymmetric draws a square's sides out by hand.
func TestNearlySymmetric(t *testing.T) {
	for _, c := range []struct {
		name string
		j    *job.Job
		says string
	}{
		{"a square by its sides", jobOf(1, false, polyline(-30, -30, 30, -30), polyline(30, -30, 30, 30), polyline(30, 30, -30, 30), polyline(-30, 30, -30, -30)), ""},
		{"one corner off by 0.02", jobOf(1, false, polyline(-30, -30, 30, -30), polyline(30, -30, 30.02, 30), polyline(30.02, 30, -30, 30), polyline(-30, 30, -30, -30)), "by 1/4 the motif matches itself only to within 0.02"},
		{"one corner off by 0.2", jobOf(1, false, polyline(-30, -30, 30, -30), polyline(30, -30, 30.2, 30), polyline(30.2, 30, -30, 30), polyline(-30, 30, -30, -30)), ""},
		{"three rings off by 0.01", jobOf(1, false, geom.Circle(geom.Pt(40, 0), 30), geom.Circle(geom.Pt(-20, 34.64), 30), geom.Circle(geom.Pt(-20, -34.65), 30)), "by 1/3 the motif matches itself only to within 0.0"},
		{"copies of what is nearly a ring", jobOf(4, false, arc(0, 0, 30, 0, 90)), ""},
	} {
		_, found := mustBuild(t, c.j)
		i := slices.IndexFunc(found, func(f diag.Finding) bool { return f.Rule == "nearly-symmetric" })
		if (i >= 0) != (c.says != "") || i >= 0 && (!strings.Contains(found[i].Message, c.says) || !strings.Contains(found[i].Hint, "copies = ")) {
			t.Errorf("%s: %v", c.name, found)
		}
	}
}

// TestSmooth takes an arc as smooth that is drawn 2 degrees out, and only then.
func TestSmooth(t *testing.T) {
	for _, c := range []struct {
		smooth work.Smooth
		rule   string
		corner bool
	}{{work.SmoothAsDrawn, "nearly-smooth", true}, {work.SmoothEnd, "nearly-smooth", true}, {work.SmoothStart, "smoothed", false}, {work.SmoothBoth, "smoothed", false}} {
		j := jobOf(1, false, polyline(-100, 0, 0, 0), arc(0, 50, 50, 272, 90))
		j.Motif.Elements[1].Smooth = c.smooth
		start := j.Motif.Elements[1].Contour.Start()
		j.Motif.Elements[0].Contour = polyline(-100, 0, start.X, start.Y)
		m, found := mustBuild(t, j)
		s := m.Strands[0]
		if len(found) == 0 || !slices.ContainsFunc(found, func(f diag.Finding) bool { return f.Rule == c.rule }) || slices.Contains(s.Corner, true) != c.corner {
			t.Errorf("%v: corners %v, %v", c.smooth, s.Corner, found)
		}
		if k := turn(s.Contour.Edge(0), s.Contour.Edge(1)); !c.corner && k > 1e-8 {
			t.Errorf("%v: still turns by %g", c.smooth, k)
		}
	}
}

// TestOpen has ends near one another that are meant to stay apart.
func TestOpen(t *testing.T) {
	for i := range 2 {
		j := jobOf(1, false, polyline(0, 0, 10, 0), polyline(10.25, 0, 20, 5))
		j.Motif.Elements[i].Open = true
		if m, found := mustBuild(t, j); len(found) > 0 || len(m.Strands) != 2 {
			t.Errorf("%d strands, %v", len(m.Strands), found)
		}
	}
}

// TestTeeEnds moves ends that nearly lie on a strand exactly onto it, in every
// copy: on straights, on arcs, on a ring's seam, on hosts that are moved
// themselves.
func TestTeeEnds(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 3))
		by := math.Pow(10, -9*r.Float64()) / 25
		off := func() float64 { return by * (2*r.Float64() - 1) }
		n := 3 + r.IntN(6)
		reach := 60 * math.Tan(math.Pi/float64(n))
		cs := []geom.Contour{
			polyline(-reach+off(), 30+off(), reach+off(), 30+off()),
			arc(reach+off(), 60+off(), 30+off(), 270, 360-360/float64(n)),
			polyline(0.3*reach, 20, 0.4*reach, 30+off()),  // on the side
			polyline(reach+off(), 90+off(), reach+8, 110), // on the loop
			polyline(10, 2, 15+off(), off()),              // on the ring's seam
			geom.Circle(geom.Pt(off()/4, off()/4), 15),    // a ring about the origin
		}
		m, found := mustBuild(t, jobOf(n, false, cs...))
		if found.HasErrors() {
			t.Errorf("seed %d: %v", seed, found)
			continue
		}
		ends := 0
		for i, s := range m.Strands {
			if s.Contour.Closed {
				continue
			}
			for _, p := range []geom.Point{s.Contour.Start(), s.Contour.End()} {
				for k, host := range m.Strands {
					if q, _ := host.Contour.Nearest(p); k != i && q.Dist(p) < 1 {
						if ends++; q.Dist(p) > 3*asDrawn { // the end, the host and its centre each
							t.Errorf("seed %d: %v is %g mm off its host", seed, p, q.Dist(p))
						}
					}
				}
			}
		}
		if ends != 3*n {
			t.Errorf("seed %d: %d ends on hosts, want %d", seed, ends, 3*n)
		}
	}
}
