package marks

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/lettering"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
)

const revision = "0123abcd"

// kept are the jobs of testdata that have panels, and seeded motifs.
var kept []drawn

func drawings(t *testing.T) []drawn {
	t.Helper()
	if kept == nil {
		for _, j := range made.Every(t) {
			m := withPanels(j)
			m.marked, m.found = On(m.set, paramsOf(m))
			kept = append(kept, m)
		}
	}
	return kept
}

func everyJob(t *testing.T, check func(t *testing.T, m drawn)) {
	t.Helper()
	for _, m := range drawings(t) {
		t.Run(m.Name, func(t *testing.T) { check(t, m) })
	}
}

// No mark comes within a millimetre of a cut, on sheets of true size and on
// those that allow for a kerf, and every sheet can be cut. Points along the
// marks are measured against the cuts of the finished sheet.
func TestMarksClearOfCuts(t *testing.T) {
	everyJob(t, func(t *testing.T, m drawn) {
		set := m.marked
		for _, kerf := range []float64{0, 0.3} {
			for _, p := range set.Parts(m.Template, m.Groove.Size, kerf) {
				if p.Panel == "" {
					continue
				}
				if err := sheet.Check(p.Sheet).Err(); err != nil {
					t.Error(err)
				}
				if n := marksClear(t, p.Sheet); n == 0 {
					t.Errorf("%s carries no mark", p.Sheet.Name)
				}
			}
		}
	})
}

// marksClear measures a sheet's marks and returns how many there are.
func marksClear(t *testing.T, s sheet.Sheet) int {
	t.Helper()
	const least, step = 1.0, 0.2 // mm
	wood := region.Region{}
	var cut []region.Region
	for _, l := range s.Lines {
		switch l.Role {
		case sheet.Edge:
			wood = region.New(l.Contour)
		case sheet.Opening:
			cut = append(cut, region.New(l.Contour))
		case sheet.Pin, sheet.Mark, sheet.Note:
		}
	}
	for _, h := range s.Holes {
		cut = append(cut, region.Disc(h.Center, h.Radius))
	}
	wood = region.Subtract(wood, region.Union(cut...))
	marks := 0
	for _, l := range s.Lines {
		if l.Role != sheet.Mark {
			continue
		}
		marks++
		for d := 0.0; d <= l.Contour.Length(); d += step {
			at, _ := l.Contour.At(d)
			if dist := wood.BoundaryDist(at); !wood.Contains(at) || dist < least {
				t.Errorf("%s: a mark at %v is %.3f mm from a cut, or not on wood", s.Name, at, dist)
				return marks
			}
		}
	}
	return marks
}

// Marks lie 5 mm from the panels' edges, as far as they are placed, and each name nearer to its own track than to
// any other.
func TestMarksOffEdges(t *testing.T) {
	everyJob(t, func(t *testing.T, m drawn) {
		for _, p := range m.marked.Panels {
			board := region.New(p.Outline)
			for _, c := range slices.Concat(p.Marks, p.FloorMarks) {
				for _, part := range []float64{0, 0.25, 0.5, 0.75, 1} {
					at, _ := c.At(part * c.Length())
					if d := board.BoundaryDist(at); !board.Contains(at) || d < 5-1e-6 {
						t.Errorf("panel %s: a mark at %v is %.3f mm from the edge", p.ID, at, d)
					}
				}
			}
			for i := range p.Openings {
				for _, r := range find(p.Marks, fmt.Sprint(p.ID, i+1)) {
					middle := geom.EmptyBox()
					for _, c := range p.Marks[r.at : r.at+len(lettering.Text(fmt.Sprint(p.ID, i+1), geom.Point{}, 1))] {
						middle = middle.Join(c.Bounds())
					}
					for k, o := range p.Openings {
						if d := o.Area.Dist(middle.Center()); k != i && len(p.Openings) < 10 && d < p.Openings[i].Area.Dist(middle.Center()) {
							t.Errorf("panel %s: the name of track %d is nearer to track %d", p.ID, i+1, k+1)
						}
					}
				}
			}
		}
	})
}

// Marks keep apart, so that each can be read.
func TestMarksApart(t *testing.T) {
	const least = 1.0
	everyJob(t, func(t *testing.T, m drawn) {
		for panel, p := range m.set.Panels {
			r, _ := markWall(p, newLabels(paramsOf(m)), setUpsOf(m.set, panel), p.Fixings(), Params{})
			for i, a := range r.marks {
				for _, b := range r.marks[:i] {
					if d := apart(a.strokes, b.strokes); d < least {
						t.Errorf("panel %s: two marks are %.3f mm apart near %v", p.ID, d, a.strokes[0].Start())
					}
				}
			}
		}
	})
}

func apart(a, b []geom.Contour) float64 {
	d := math.Inf(1)
	for _, c := range a {
		near := c.Bounds().Expand(2 * markGap)
		for _, e := range c.Edges() {
			for _, o := range b {
				if !near.Meets(o.Bounds()) {
					continue
				}
				for _, f := range o.Edges() {
					d = min(d, geom.Gap(e, f))
				}
			}
		}
	}
	return d
}

// A reading is a text found among strokes.
type reading struct {
	height float64
	up     geom.Point
	at     int // index of its first stroke
}

// find looks for a text among strokes: a run of them that is the text's own
// drawing, turned, stretched and shifted.
func find(strokes []geom.Contour, s string) []reading {
	want := lettering.Text(s, geom.Point{}, 1)
	var found []reading
	for i := 0; i+len(want) <= len(strokes); i++ {
		a, b := want[0].Vertices, strokes[i].Vertices
		if len(a) != len(b) {
			continue
		}
		// As complex numbers: b = k a + shift.
		u, v := a[1].Sub(a[0].Point), b[1].Sub(b[0].Point)
		k := geom.Pt(u.Dot(v), u.Cross(v)).Scale(1 / u.Dot(u))
		image := func(p geom.Point) geom.Point {
			p = p.Sub(a[0].Point)
			return geom.Pt(p.X*k.X-p.Y*k.Y, p.X*k.Y+p.Y*k.X).Add(b[0].Point)
		}
		same := true
		for n, c := range want {
			same = same && slices.EqualFunc(c.Vertices, strokes[i+n].Vertices, func(p, q geom.Vertex) bool {
				return image(p.Point).Near(q.Point, 1e-6)
			})
		}
		if same {
			found = append(found, reading{k.Norm(), k.Left().Unit(), i})
		}
	}
	return found
}

// Letter, bit, rider, revision and every track's name can be read in the strokes,
// at 4 mm or more, or a finding tells of what is missing. On a floor is its
// letter and nothing else.
func TestMarksLegible(t *testing.T) {
	everyJob(t, func(t *testing.T, m drawn) {
		set, found := m.marked, m.found
		words := newLabels(paramsOf(m))
		for _, p := range set.Panels {
			texts := []string{p.ID, words.bit, words.rider, "rev " + revision}
			for i := range p.Openings {
				texts = append(texts, fmt.Sprint(p.ID, i+1))
			}
			for _, s := range texts {
				rs := find(p.Marks, s)
				legible := slices.ContainsFunc(rs, func(r reading) bool { return r.height >= leastLetter-1e-9 })
				if !legible && !strings.Contains(found.Error(), "panel "+p.ID+" has no room") {
					t.Errorf("panel %s lacks %q: %v", p.ID, s, rs)
				}
				for _, r := range rs {
					// An I is any stroke, and no such text.
					if r.height < leastLetter-1e-9 && len(s) > 1 {
						t.Errorf("panel %s has %q at %.2f mm", p.ID, s, r.height)
					}
				}
			}
			if p.HasFloor() {
				rs := find(p.FloorMarks, p.ID)
				if len(rs) != 1 || len(p.FloorMarks) != len(lettering.Text(p.ID, geom.Point{}, 1)) || rs[0].height < leastLetter {
					t.Errorf("the floor of %s has %d strokes, of which its letter is %v", p.ID, len(p.FloorMarks), rs)
				}
			}
		}
	})
}

// In each position the set-up's number stands upright for the maker, its arrow
// points away from them, and it lies at the upper edge.
func TestUpperEdgeMarks(t *testing.T) {
	everyJob(t, func(t *testing.T, m drawn) {
		set, found := m.marked, m.found
		n := 0
		for _, p := range set.Panels {
			labels := map[int]string{}
			for i, pos := range p.Positions {
				n++
				label := fmt.Sprint(n)
				if pos.Flip {
					label += " over"
				}
				// Positions with one upper edge share a mark. By hand: turned by
				// t, what lay towards (sin t, cos t) points up; turned over
				// before, towards (-sin t, cos t).
				first := slices.IndexFunc(p.Positions, func(o plan.Orientation) bool { return upOf(o).Near(upOf(pos), 1e-6) })
				if first < i {
					label = labels[first] + ", " + label
				}
				labels[first] = label
			}
			for i, pos := range p.Positions {
				label, own := labels[i]
				if own && !strings.Contains(found.Error(), "the number of set-up "+label+" at") {
					checkUpper(t, p, pos, label)
				}
			}
		}
		if n != set.SetUps() {
			t.Errorf("%d positions for %d set-ups", n, set.SetUps())
		}
	})
}

func upOf(p plan.Orientation) geom.Point {
	s, c := math.Sincos(p.TurnDeg * math.Pi / 180)
	if p.Flip {
		s = -s
	}
	return geom.Pt(s, c)
}

// checkUpper checks the mark of a panel's position.
func checkUpper(t *testing.T, p template.Panel, pos plan.Orientation, label string) {
	t.Helper()
	lay := pos.Similarity()
	turn := func(v geom.Point) geom.Point { return lay.Apply(v).Sub(lay.Apply(geom.Point{})) }
	top := lay.Contour(p.Outline).Bounds().Max.Y
	for _, r := range find(p.Marks, label) {
		if r.at < 2 || !turn(r.up).Near(geom.Pt(0, 1), 1e-6) {
			continue
		}
		shaft, head := p.Marks[r.at-2], p.Marks[r.at-1]
		if len(head.Vertices) != 3 || head.Vertices[1].Point != shaft.End() {
			continue // a number in another text
		}
		if way := turn(shaft.End().Sub(shaft.Start())); !way.Unit().Near(geom.Pt(0, 1), 1e-6) {
			t.Errorf("panel %s: the arrow of set-up %s points to %v", p.ID, label, way)
		}
		if tip := lay.Apply(shaft.End()); top-tip.Y > edgeFall+markEdge+1 {
			t.Errorf("panel %s: the arrow of set-up %s ends %.1f mm below the upper edge", p.ID, label, top-tip.Y)
		}
		return
	}
	t.Errorf("panel %s has no number %q that is upright at %v degrees", p.ID, label, pos.TurnDeg)
}

// Both walls of each opening have feed arrows, and whoever follows one has the
// wall close by on the left, the opening on the right, and runs clockwise
// round the cut's centre line.
func TestFeedArrows(t *testing.T) {
	everyJob(t, func(t *testing.T, m drawn) {
		for _, p := range m.set.Panels {
			r := newRoom(p.Outline, append(openAreas(p), p.Fixings()...))
			missing := r.markFeed(p)
			sides := map[string]int{}
			for _, a := range r.marks {
				checkFeed(t, p, a.strokes[0], sides)
			}
			if got := len(sides) + len(missing); got != 2*len(p.Openings) {
				t.Errorf("panel %s: %d walls have arrows or are told of, of %d openings: %v", p.ID, got, len(p.Openings), missing)
			}
		}
	})
}

func openAreas(p template.Panel) []region.Region {
	var list []region.Region
	for _, o := range p.Openings {
		list = append(list, o.Area)
	}
	return list
}

// checkFeed checks points along an arrow's shaft, and notes which side of which
// cut it is on.
func checkFeed(t *testing.T, p template.Panel, shaft geom.Contour, sides map[string]int) {
	t.Helper()
	for _, part := range []float64{0.05, 0.3, 0.5, 0.7, 0.95} {
		at, way := shaft.At(part * shaft.Length())
		best, own := math.Inf(1), template.Opening{}
		for _, o := range p.Openings {
			if d := o.Area.Dist(at); d < best {
				best, own = d, o
			}
		}
		if best < 2.5 || best > 5.5 {
			t.Errorf("panel %s: a feed arrow is %.2f mm from %s", p.ID, best, own.Cut.Name)
		}
		inside := at.Sub(way.Left().Scale(best + 0.5))
		if !own.Area.Contains(inside) {
			t.Errorf("panel %s: right of a feed arrow at %v is no opening", p.ID, at)
		}
		if own.Area.Contains(at.Add(way.Left().Scale(0.5))) {
			t.Errorf("panel %s: left of a feed arrow at %v is no wood", p.ID, at)
		}
		on, s := own.Cut.Line.Nearest(at)
		if way.Cross(at.Sub(on)) <= 0 {
			t.Errorf("panel %s: a feed arrow at %v runs counter-clockwise", p.ID, at)
		}
		_, along := own.Cut.Line.At(s)
		sides[fmt.Sprint(own.Cut.Name, along.Dot(way) > 0)]++
	}
}

// A panel in parts has each part's name on it, and nothing over the joint.
func TestMarksOfHalves(t *testing.T) {
	m := prepared(t, "[[motif.line]]\nname = \"a\"\nfrom = [-150, -60]\nto = [-150, 60]\n"+
		"[[motif.line]]\nname = \"b\"\nfrom = [150, -60]\nto = [150, 60]\n"+made.Inlay+made.Base)
	set := template.NewSet(fixtureParams(m.Job), m.Groove, m.Plan, profile.Shop{Name: "small", Bed: [2]float64{320, 420}})
	set, _ = On(set, paramsOf(m))
	split := 0
	for _, p := range set.Panels {
		if p.Division == nil {
			continue
		}
		split++
		for i := range 2 {
			rs := find(p.Marks, fmt.Sprintf("%s-%d", p.ID, i+1))
			if len(rs) != 1 || p.Division.Part(p.Marks[rs[0].at].Start()) != i {
				t.Errorf("part %d of panel %s has no name: %v", i+1, p.ID, rs)
			}
		}
		for _, c := range p.Marks {
			if p.Division.Part(c.Start()) != p.Division.Part(c.End()) {
				t.Errorf("panel %s: a mark runs over the joint at %v", p.ID, c.Start())
			}
		}
	}
	if split == 0 {
		t.Fatal("no panel is split")
	}
	for _, part := range set.Parts(m.Template, m.Groove.Size, 0) {
		if part.Panel != "" {
			marksClear(t, part.Sheet)
		}
	}
}

// What is kept free for others stays free, and the marks go elsewhere.
func TestMarksKeepOut(t *testing.T) {
	m := prepared(t, made.Cross+made.Inlay+made.Base)
	free, found := On(m.set, paramsOf(m))
	if len(found) != 0 {
		t.Fatal(found)
	}
	for i, p := range free.Panels {
		title := find(p.Marks, "rev "+revision)
		if len(title) != 1 {
			t.Fatalf("panel %s: %v", p.ID, title)
		}
		out := region.Disc(p.Marks[title[0].at].Start(), 30)
		again, _ := On(m.set, paramsOf(m), out)
		if len(find(again.Panels[i].Marks, "rev "+revision)) != 1 {
			t.Errorf("panel %s: the revision is gone", p.ID)
		}
		for _, c := range again.Panels[i].Marks {
			for d := 0.0; d < c.Length(); d += 0.2 {
				if at, _ := c.At(d); out.Dist(at) < 1 {
					t.Fatalf("panel %s: a mark at %v is not clear", p.ID, at)
				}
			}
		}
	}
}

// Where there is hardly any wood left, what finds no room is told, and what is
// there is clear of the cuts.
func TestMarksWithoutRoom(t *testing.T) {
	m := prepared(t, "[[motif.line]]\nname = \"short\"\nfrom = [0, 0]\nto = [12, 0]\n"+made.Inlay+
		"[router]\nguide = \"bushing\"\nrider = 17\nbit = 3.175\nflute = 16\n[template]\nmargin = 6\nframe = 0\n")
	set, found := On(m.set, paramsOf(m))
	if len(found) != 1 || found[0].Rule != ruleNoRoom || found.HasErrors() {
		t.Fatalf("%v", found)
	}
	for _, want := range []string{"panel A", "rev " + revision, "title"} {
		if !strings.Contains(found[0].Message, want) {
			t.Errorf("%q lacks %q", found[0].Message, want)
		}
	}
	for _, p := range set.Parts(m.Template, m.Groove.Size, 0) {
		marksClear(t, p.Sheet)
	}
}

// Where the panel's upper edge is, from the positions alone: turned a quarter
// counter-clockwise, what was the right edge is up; turned over first, the
// left one (by hand).
func TestUpperEdges(t *testing.T) {
	var ups []plan.SetUp
	for i, pos := range []plan.Orientation{{}, {TurnDeg: 90}, {TurnDeg: 180}, {Flip: true}, {TurnDeg: 90, Flip: true}} {
		ups = append(ups, plan.SetUp{Number: i + 3, Position: pos})
	}
	got := upperEdges(ups)
	want := []setUpsAt{
		{geom.Pt(0, 1), "3, 6 over"}, {geom.Pt(1, 0), "4"}, {geom.Pt(0, -1), "5"}, {geom.Pt(-1, 0), "7 over"},
	}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if got[i].label != want[i].label || !got[i].up.Near(want[i].up, 1e-12) {
			t.Errorf("%v, want %v", got[i], want[i])
		}
	}
}

func TestWrapped(t *testing.T) {
	for _, c := range []struct {
		in   string
		wide int
		want string
	}{
		{"", 30, ""},
		{"Box lid", 30, "Box lid"},
		{"Looped strap, lens and ring for a walnut hall table", 30, "Looped strap, lens and ring/for a walnut hall table"},
		{"Linked rings for a guitar's rosette", 12, "Linked rings/for a/guitar's..."},
		{"Unbreakable", 8, "Unbre..."},
		{"one two three four five six", 9, "one two/three/four f..."},
	} {
		got := strings.Join(wrapped(c.in, c.wide), "/")
		for _, l := range strings.Split(got, "/") {
			if len(l) > c.wide {
				t.Errorf("%q is wider than %d", l, c.wide)
			}
		}
		if got != c.want {
			t.Errorf("%q in %d becomes %q, want %q", c.in, c.wide, got, c.want)
		}
	}
}
