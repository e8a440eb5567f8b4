package build_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/paper"
	"strapwork/pkg/sheet"
	"strapwork/pkg/table"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// onTable is the extending table of testdata as it is built, once for all tests.
var onTable = sync.OnceValue(func() build.Result {
	data, err := os.ReadFile("../../testdata/tables/extending-table.toml")
	if err != nil {
		return build.Result{}
	}
	return build.Kept(string(data)).Build("table.toml", data, build.Options{})
})

func extendingTable(t *testing.T) build.Result {
	t.Helper()
	r := onTable()
	if !r.OK() || r.Reached != build.Proved {
		t.Fatal(r.Findings)
	}
	return r
}

// linesOf are the lines of a written drawing on a layer, in mm.
func linesOf(t *testing.T, r build.Result, path, layer string) (list []geom.Contour) {
	t.Helper()
	d, err := dxf.Read(bytes.NewReader(file(t, r, path).Data))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range d.Lines {
		if l.Layer == layer {
			list = append(list, geom.Scaling(d.Units.MM()).Contour(l.Contour))
		}
	}
	return list
}

// The story stick as it was written has every mark where the joints have it: straight strands
// pass them at y, their sides o / cos phi off. All lie within a millionth of a millimetre, and
// run to both long sides.
func TestStoryStickAsWritten(t *testing.T) {
	r := extendingTable(t)
	const exact, wide = 1e-6, 60
	var low, high []float64 // of what runs to the sides
	for _, c := range linesOf(t, r, "templates/story-stick.dxf", "MARK") {
		if b := c.Bounds(); b.Size().X == 0 && math.Abs(b.Min.Y-0.4) < exact {
			low = append(low, b.Min.X)
		} else if b.Size().X == 0 && math.Abs(wide-0.4-b.Max.Y) < exact {
			high = append(high, b.Min.X)
		}
	}
	want := []float64{450} // the axis
	in := r.Job.Inlay
	for _, p := range r.Table.Passings {
		if p.Curvature != 0 {
			t.Fatal("a curved passing: other tests hold those")
		}
		k := 1 / math.Cos(p.Angle)
		want = append(want, p.Y, p.Y-in.Width/2*k, p.Y+in.Width/2*k)
		at := 0.0
		for _, s := range p.Strips {
			at -= s.Thickness / 2
		}
		for _, s := range p.Strips[:2] { // the outer sides are as good as the groove's: they begin behind
			at += s.Thickness
			want = append(want, p.Y+at*k)
		}
	}
	for _, have := range [][]float64{low, high} {
		for _, x := range want {
			if !slices.ContainsFunc(have, func(h float64) bool { return math.Abs(h-x) < exact }) {
				t.Errorf("no mark at %v in %v", x, have)
			}
		}
		for _, h := range have {
			if !slices.ContainsFunc(want, func(x float64) bool { return math.Abs(h-x) < exact }) {
				t.Errorf("a mark at %v", h)
			}
		}
	}
	edge := linesOf(t, r, "templates/story-stick.dxf", "EDGE")
	kerf := r.Job.Cutting.Kerf // the drawing allows for it
	if size := edge[0].Bounds().Size(); len(edge) != 1 || math.Abs(size.X-kerf-900) > exact || math.Abs(size.Y-kerf-wide) > exact {
		t.Errorf("the stick is %v", edge)
	}
}

// grooveArea is that of the grooves of a kind in closed form: a band of width w along every
// strand, whose slanting end at a joint takes as much as it leaves, and what two of them share
// at a crossing once and not twice.
func grooveArea(r build.Result, kind int, w float64) (sum float64) {
	for _, s := range r.Table.StretchesOf(kind) {
		sum += w * (s.To - s.From)
	}
	for _, c := range r.Table.CrossingsOf(kind) {
		sum -= sharedArea(r, r.Table.Weave.Crossings[c.Top], w)
	}
	return sum
}

// sharedArea is that of two crossing bands: w^2 / sin of two straight ones. Of a straight one
// whose middle is c off the centre of a ring it is the integral of sqrt(R^2 - x^2) from c - w/2
// to c + w/2 for the ring's outer radius, less that for its inner one.
func sharedArea(r build.Result, c weave.Crossing, w float64) float64 {
	a, b := edgeOf(r, c.Visits[0]), edgeOf(r, c.Visits[1])
	if b.IsLine() {
		a, b = b, a
	}
	if b.IsLine() {
		return w * w / math.Sin(c.Angle)
	}
	off := math.Abs(b.Center().Sub(a.A).Cross(a.Tangent(0)))
	under := func(radius, x float64) float64 {
		return (x*math.Sqrt(radius*radius-x*x) + radius*radius*math.Asin(x/radius)) / 2
	}
	within := func(radius float64) float64 { return under(radius, off+w/2) - under(radius, off-w/2) }
	return within(b.Radius()+w/2) - within(b.Radius()-w/2)
}

func edgeOf(r build.Result, v weave.Visit) geom.Edge {
	return r.Table.Top.Strands[v.Strand].Contour.Edge(v.Edge)
}

// A section's drawing has its groove as closed outlines on one layer, as much as a closed form
// says, its centre lines open on another, and its own outline as the only closed line of a third.
func TestSectionsAsWritten(t *testing.T) {
	const exact = 1e-4 // mm2
	r := extendingTable(t)
	for k, kind := range r.Table.Kinds {
		path := build.SectionPath(kind.Name) + ".dxf"
		got := 0.0
		box := kind.Outline.Bounds().Expand(1e-6)
		for _, c := range linesOf(t, r, path, "OPENING") {
			if got += c.Area(); !c.Closed || !box.Holds(c.Bounds().Min) || !box.Holds(c.Bounds().Max) {
				t.Errorf("%s: a groove's outline is open, or beyond the section", kind.Name)
			}
		}
		if want := grooveArea(r, k, r.Job.Inlay.Width); math.Abs(got-want) > exact {
			t.Errorf("%s: the grooves are %v mm2, not %v", kind.Name, got, want)
		}
		length, want := 0.0, 0.0
		for _, c := range linesOf(t, r, path, "MARK") {
			if length += c.Length(); c.Closed {
				t.Errorf("%s: a centre line is closed", kind.Name)
			}
		}
		for _, s := range r.Table.StretchesOf(k) {
			want += s.To - s.From
		}
		if math.Abs(length-want) > exact {
			t.Errorf("%s: centre lines of %v mm, not %v", kind.Name, length, want)
		}
		closed := slices.DeleteFunc(linesOf(t, r, path, "NOTE"), func(c geom.Contour) bool { return !c.Closed })
		if len(closed) != 1 || math.Abs(closed[0].Area()-kind.Length*900) > exact {
			t.Errorf("%s: outlines %v", kind.Name, closed)
		}
	}
}

// ezdxf finds the same areas in a section's drawing, bounded by true arcs: it flattens them to a
// thousandth of a millimetre.
func TestWitnessMeasuresSections(t *testing.T) {
	python := witness.Python(t, "ezdxf")
	r := extendingTable(t)
	dir := t.TempDir()
	writeFiles(t, dir, slices.DeleteFunc(slices.Clone(r.Files), func(f build.File) bool { return f.Role != build.SectionRole }))
	for k, kind := range r.Table.Kinds {
		if kind.Name != "leaf" {
			continue // that one has crossings of all kinds
		}
		out, err := witness.Run(python, witness.Script(t, "dxf_outlines.py"), filepath.Join(dir, "sections", kind.Name+".dxf"))
		if err != nil {
			t.Fatalf("%v\n%.2000s", err, out)
		}
		var found []struct {
			Layer string
			Area  float64
			Edges [][4]float64
		}
		if err := json.Unmarshal(out, &found); err != nil {
			t.Fatal(err)
		}
		// Areas come without a sign: holes of the groove are those within another outline.
		sum, arcs := 0.0, 0
		largest := 0.0
		for _, o := range found {
			if o.Layer != "OPENING" {
				continue
			}
			for _, e := range o.Edges {
				if e[1] != 0 {
					arcs++
				}
			}
			sum += math.Abs(o.Area)
			largest = math.Max(largest, math.Abs(o.Area))
		}
		own := 0.0
		for _, c := range linesOf(t, r, build.SectionPath(kind.Name)+".dxf", "OPENING") {
			own += math.Abs(c.Area())
		}
		if math.Abs(sum-own) > 1e-3*own || arcs == 0 || largest == 0 {
			t.Errorf("%s (%d): %v mm2 by ezdxf with %d arcs, %v by ours", kind.Name, k, sum, arcs, own)
		}
	}
}

// Each set-up's picture says that its upright axis is the joint, and which station it shows.
func TestSetUpsSayTheStation(t *testing.T) {
	r, shown := extendingTable(t), 0
	for _, p := range r.Pictures {
		if strings.Contains(p.Path, "set-up-") {
			shown++
			var said []string
			for _, x := range p.Picture.Texts {
				said = append(said, x.String)
			}
			if !strings.Contains(strings.Join(said, " "), "the upright axis is the joint; shown at station 1") {
				t.Errorf("%s says %q", p.Path, said)
			}
		}
	}
	if shown != len(r.Set.Plan.SetUps) {
		t.Errorf("%d pictures of %d set-ups", shown, len(r.Set.Plan.SetUps))
	}
}

// Each picture of an arrangement has its sections side by side, what is seen of the strips as
// a closed form says, within the top, and its length.
func TestArrangementsAsDrawn(t *testing.T) {
	r := extendingTable(t)
	stack := 0.0
	for _, s := range r.Job.Inlay.Strips {
		stack += s.Thickness
	}
	for n, length := range []float64{1200, 1620, 2040} {
		path := build.ArrangementPath(n + 1)
		i := slices.IndexFunc(r.Pictures, func(p paper.Illustration) bool { return p.Path == path })
		if i < 0 || file(t, r, path).Role != build.ArrangementRole {
			t.Fatalf("no %s", path)
		}
		pic, a := r.Pictures[i].Picture, r.Table.Arrangements[n]
		want, got, x := 0.0, 0.0, 0.0
		for _, s := range a.Sections {
			want += grooveArea(r, s.Kind, stack)
		}
		joints := 0
		var strips, grooves []geom.Contour
		for _, f := range pic.Fills {
			switch {
			case f.Label == "" && f.Loops[0].Bounds() != pic.Bounds:
				grooves = append(grooves, f.Loops...)
			case slices.ContainsFunc(r.Job.Inlay.Strips, func(s work.Strip) bool { return strings.Contains(f.Label, s.Material) }):
				area := region.New(f.Loops...)
				got += area.Area()
				strips = append(strips, f.Loops...)
				if b := area.Bounds(); b.Min.X < -1e-6 || b.Max.X > length+1e-6 {
					t.Errorf("%s: a strip at %v", path, b)
				}
			case f.Label == "joint":
				joints++
			case slices.ContainsFunc(r.Table.Kinds, func(k table.Kind) bool { return k.Name == f.Label }):
				b := f.Loops[0].Bounds()
				if math.Abs(b.Min.X-x) > 1e-9 {
					t.Errorf("%s: %s begins at %v, not at %v", path, f.Label, b.Min.X, x)
				}
				x = b.Max.X
			}
		}
		if out := region.Subtract(region.New(strips...), region.New(grooves...)).Area(); out > 0.01 {
			t.Errorf("%s: %v mm2 of the strips lie beside the grooves", path, out)
		}
		if math.Abs(got-want) > 0.01 || x != length || joints != len(a.Sections)-1 {
			t.Errorf("%s: strips of %v mm2, not %v; %v long; %d joints", path, got, want, x, joints)
		}
		for _, s := range []string{"left", "right", "grain"} {
			if !slices.ContainsFunc(pic.Texts, func(x sheet.Text) bool { return x.String == s }) {
				t.Errorf("%s doesn't say %q", path, s)
			}
		}
	}
}
