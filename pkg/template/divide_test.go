package template

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/plan"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
)

// board is a panel of the given corners with round openings.
func board(min, max geom.Point, openings ...region.Region) (Panel, fixture.Shape) {
	s := fixture.NewShape([]plan.Orientation{{}}, []region.Region{region.New(geom.Rect(geom.Box{Min: min, Max: max}))}, 0)
	p := Panel{ID: "A", Positions: []plan.Orientation{{}}, Outline: s.Polygon()}
	for _, o := range openings {
		p.Openings = append(p.Openings, Opening{Area: o})
	}
	return p, s
}

// Joints by hand. A joint keeps the web of 10 mm from openings, as near to the middle
// as it can. Its keys, of two discs of 12 mm whose
// middles are 9.6 mm from it, keep the web from all edges: they are 31.6 mm from the
// outline and the openings, as far apart as can be, and 60 mm at least.
func TestJoints(t *testing.T) {
	disc := func(x float64) region.Region { return region.Disc(geom.Pt(x, 0), 40) }
	for _, c := range []struct {
		name     string
		min, max geom.Point
		openings []region.Region
		bed      [2]float64
		dist     float64
		keys     float64 // how far from the middle of the joint the keys may be
		none     bool
	}{
		{"in the middle", geom.Pt(-200, -100), geom.Pt(200, 100), nil, [2]float64{250, 250}, 0, 68.4, false},
		{"off the origin", geom.Pt(-150, -100), geom.Pt(250, 100), nil, [2]float64{250, 250}, 50, 68.4, false},
		{"left of an opening", geom.Pt(-200, -100), geom.Pt(200, 100), []region.Region{disc(-120), disc(30)}, [2]float64{250, 250}, -20, 68.4, false},
		{"right of an opening", geom.Pt(-200, -100), geom.Pt(200, 100), []region.Region{disc(120), disc(-30)}, [2]float64{250, 250}, 20, 68.4, false},
		{"too narrow for two keys", geom.Pt(-200, -55), geom.Pt(200, 55), nil, [2]float64{250, 250}, 0, 0, true},
		{"just wide enough", geom.Pt(-200, -65), geom.Pt(200, 65), nil, [2]float64{250, 250}, 0, 33.4, false},
		{"an opening right across", geom.Pt(-200, -100), geom.Pt(200, 100), []region.Region{region.New(geom.Rect(geom.Box{Min: geom.Pt(-190, -5), Max: geom.Pt(190, 5)}))}, [2]float64{250, 250}, 0, 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, shape := board(c.min, c.max, c.openings...)
			d := p.divide(shape, c.bed, 10, fixture.NewJointKey(wholeWidth, 3))
			if d == nil || c.none {
				if (d == nil) != c.none {
					t.Errorf("the division is %+v", d)
				}
				return
			}
			if len(d.Joints) != 1 || len(d.Parts) != 2 || len(d.Joints[0].Keys) != 2 {
				t.Fatalf("the division is %+v", d)
			}
			joint := d.Joints[0]
			made.Near(t, "joint's lower end", joint.Line.A.X, c.dist, 1e-9)
			made.Near(t, "joint's lower end", joint.Line.A.Y, c.min.Y, 1e-9)
			made.Near(t, "joint's upper end", joint.Line.B.X, c.dist, 1e-9)
			made.Near(t, "joint's upper end", joint.Line.B.Y, c.max.Y, 1e-9)
			for i, way := range []float64{-1, 1} {
				at := joint.Keys[i].At
				made.Near(t, "key off the joint", at.X, c.dist, 1e-9)
				// Places are 2 mm apart.
				made.Near(t, "key's place", way*at.Y, c.keys-1, 1+1e-9)
			}
			made.Near(t, "left part", d.Parts[0].Area(), (c.dist-c.min.X)*(c.max.Y-c.min.Y), 1e-6)
			made.Near(t, "right part", d.Parts[1].Area(), (c.max.X-c.dist)*(c.max.Y-c.min.Y), 1e-6)
			left, right := geom.Pt(c.dist-1, 0), geom.Pt(c.dist+1, 0)
			if d.Part(left) != 0 || d.Part(right) != 1 || !reflect.DeepEqual(joint.Sides, [2][]int{{0}, {1}}) {
				t.Error("the parts are exchanged")
			}
			if n := (Set{Panels: []Panel{{Division: d}, {}, {Division: d}}}).jointKeys(9); len(n) != 1 || n[0].Quantity != 4 {
				t.Errorf("two panels in two parts have the keys %v", n)
			}
		})
	}
}

// How many parts blank panels take, by hand: along each side as many as the bed is
// long or wide, the better way round. Five of 800 x 800 need joints that end on others:
// two of 300 x 400 beside three of 500 x 267.
func TestFewestParts(t *testing.T) {
	for _, c := range []struct {
		size, bed [2]float64
		parts     int
	}{
		{[2]float64{994, 994}, [2]float64{900, 600}, 4},
		{[2]float64{994, 994}, [2]float64{1000, 500}, 2},
		{[2]float64{994, 994}, [2]float64{1000, 400}, 3},
		{[2]float64{1200, 300}, [2]float64{450, 310}, 3},
		{[2]float64{1000, 700}, [2]float64{600, 400}, 4},
		{[2]float64{1190, 890}, [2]float64{600, 300}, 6},
		{[2]float64{500, 800}, [2]float64{500, 300}, 3},
		{[2]float64{800, 800}, [2]float64{500, 300}, 5},
		{[2]float64{9000, 9000}, [2]float64{500, 300}, 0},
	} {
		p, shape := board(geom.Pt(-c.size[0]/2, -c.size[1]/2), geom.Pt(c.size[0]/2, c.size[1]/2))
		n := 0
		if d := p.divide(shape, c.bed, 8, fixture.NewJointKey(wholeWidth, 3)); d != nil {
			n = len(d.Parts)
		}
		if n != c.parts {
			t.Errorf("%v on %v: %d parts, want %d", c.size, c.bed, n, c.parts)
		}
	}
}

// border is the border of a games table, all of it within 994 x 994 mm with its margin,
// out by so many mm.
func border(off float64) string {
	return fmt.Sprintf("[motif]\ncopies = 4\n[[motif.line]]\nname = \"side\"\nfrom = [%g, 463]\nto = [300, %g]\n"+
		"[[motif.line]]\nname = \"corner\"\nfrom = [300, %g]\nto = [463, 300]\n", -300-off, 463+off, 463+off) + made.Inlay +
		"[router]\nguide = \"bushing\"\nrider = 17\nbit = 3\nbase = 150\n"
}

// The parts of a border that is too large for a bed: with what the keys take they make
// up the panel, each fits the bed, and no opening comes near a joint or a key. Places
// are measured here along the outlines and by hand's formulas. Noise leaves the joints
// where they are.
func TestBorderInParts(t *testing.T) {
	bed := [2]float64{900, 600}
	m := forShop(t, border(0), withBed(bed[0], bed[1]))
	if m.set.Found.HasErrors() || !m.set.Fits(m.Template, bed) {
		t.Fatal(m.set.Found)
	}
	noisy := forShop(t, border(1e-4), withBed(bed[0], bed[1]))
	sheets := m.set.Parts(m.Template, m.Groove.Size, 0)
	for i, p := range m.set.Panels {
		d := p.Division
		size := p.Outline.Bounds().Size()
		t.Logf("panel %s of %v in %d parts", p.ID, size, len(d.Parts))
		if len(d.Joints) != len(d.Parts)-1 {
			t.Errorf("%d joints of %d parts", len(d.Joints), len(d.Parts))
		}
		var area float64
		openings := 0
		for _, part := range sheets {
			if part.Panel != p.ID || part.Ply != sheet.Wall {
				continue
			}
			if err := sheet.Check(part.Sheet).Err(); err != nil {
				t.Error(err)
			}
			box := part.Sheet.BoundsOf(sheet.Edge).Size()
			if max(box.X, box.Y) > bed[0]+1e-6 || min(box.X, box.Y) > bed[1]+1e-6 {
				t.Errorf("%s of %v doesn't fit", part.Sheet.Name, box)
			}
			for _, l := range part.Sheet.Lines {
				switch l.Role {
				case sheet.Edge:
					area += l.Contour.Area()
				case sheet.Opening:
					openings++
				case sheet.Pin, sheet.Mark, sheet.Note:
				}
			}
		}
		// Two discs of 12 mm and the fit of 0.1 whose middles are 19.2 mm apart: their
		// union is both less the lens that they share.
		const r, apart = 12.1, 19.2
		lens := 2*r*r*math.Acos(apart/2/r) - apart/2*math.Sqrt(4*r*r-apart*apart)
		made.Near(t, "parts and recesses", area+float64(d.Keys())*(2*math.Pi*r*r-lens), p.Outline.Area(), 1e-3)
		if openings != len(p.Openings) {
			t.Errorf("%d of %d openings are drawn", openings, len(p.Openings))
		}
		for _, o := range p.Openings {
			for _, c := range o.Area.Loops() {
				clearOfJoints(t, c, d, m.Template.Web)
			}
		}
		for k, j := range d.Joints {
			if q := noisy.set.Panels[i].Division.Joints[k]; !q.Line.A.Near(j.Line.A, 0.01) || !q.Line.B.Near(j.Line.B, 0.01) {
				t.Errorf("panel %s: joint %v, with noise %v", p.ID, j.Line, q.Line)
			}
		}
	}
	if proof := proof.Prove(m.Groove, m.laid(0), 0); !proof.Holds() {
		t.Errorf("overcut %g", proof.OvercutMax)
	}
}

// clearOfJoints walks round an outline and measures to joints and keys.
func clearOfJoints(t *testing.T, c geom.Contour, d *Division, web float64) {
	t.Helper()
	for s := 0.0; s < c.Length(); s += 0.5 {
		p, _ := c.At(s)
		for _, j := range d.Joints {
			along := j.Line.B.Sub(j.Line.A)
			at := min(max(p.Sub(j.Line.A).Dot(along)/along.Dot(along), 0), 1)
			if far := p.Sub(j.Line.A.Add(along.Scale(at))).Norm(); far < web-1e-6 {
				t.Fatalf("an opening is %g mm from a joint at %v", far, p)
			}
			for _, k := range j.Keys {
				for _, side := range []float64{-1, 1} {
					if far := p.Sub(k.At.Add(k.Along.Left().Scale(9.6*side))).Norm() - 12; far < web-1e-6 {
						t.Fatalf("an opening is %g mm from a key at %v", far, k.At)
					}
				}
			}
		}
	}
}
