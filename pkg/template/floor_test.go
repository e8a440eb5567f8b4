package template

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/work"
)

// A floor's slot is the groove's width and a millimetre for chips on either side,
// 5.08 + 2 mm, all along a cut, whatever the bit; and the wall's opening is wider.
func TestSlots(t *testing.T) {
	for _, bit := range []string{"3.175", "5.08"} {
		for _, text := range []string{made.TwoLoops, made.Cross, made.Angle} {
			m := prepared(t, text+made.Inlay+strings.Replace(made.Base, "3.175", bit, 1))
			made.Near(t, "width", SlotWidth(m.Groove.Size), 7.08, 1e-12)
			for _, p := range m.set.Panels {
				for _, o := range p.Openings {
					for k := 2; k < 9; k++ {
						at, _ := o.Cut.Line.At(o.Cut.Length() * float64(k) / 10)
						made.Near(t, "half of "+o.Cut.Name+"'s slot", o.Slot.BoundaryDist(at), 3.54, 1e-6)
					}
					if o.Slot.Empty() || o.Slot.Gap(o.Area) > 0 || o.Area.Area() < o.Slot.Area() {
						t.Errorf("the slot of %s doesn't lie under its opening", o.Cut.Name)
					}
				}
			}
		}
	}
}

// Only what a base rides in has a floor, and only where one is wanted.
func TestFloors(t *testing.T) {
	for _, c := range []struct {
		guide work.Guide
		floor float64
		want  bool
	}{{work.GuideBase, 3, true}, {work.GuideBase, 0, false}, {work.GuideBushing, 3, false}, {work.GuideBearing, 0, false}} {
		j := made.Planned(t, made.Cross+made.Inlay+made.Base)
		want := fixture.Params{Router: j.Router, Template: j.Template}
		want.Router.Guide, want.Template.Floor = c.guide, c.floor
		set := NewSet(want, j.Groove, j.Plan, profile.Plain())
		floors := 0
		for _, p := range set.Parts(want.Template, j.Groove.Size, 0) {
			if p.Ply == sheet.Floor {
				floors++
				made.Near(t, "thickness", p.Thickness, c.floor, 0)
			}
		}
		if has := set.Panels[0].HasFloor(); has != c.want || floors != map[bool]int{true: len(set.Panels)}[c.want] {
			t.Errorf("%v with a floor of %g: %t, %d sheets", c.guide, c.floor, has, floors)
		}
	}
}

// Walls and floors begin in the middle of an arc at the far end of the cut. Where the
// bit leaves play k = (w - b)/2, what its middle reaches ends square, and the arcs are
// quarters about the two corners k aside of the line, with the rider's radius or half
// of the slot less k. Where it leaves next to none, one half round about the line's
// end has that radius and k (by hand).
func TestLayersBeginAheadOfTheirCuts(t *testing.T) {
	for _, c := range []struct {
		bit                string
		wall, floor, aside float64 // radii, and the corners'
	}{{"3.175", 50, 3.175/2 + 1, 1.905 / 2}, {"5.05", 50.015, 3.54, 0}, {"5.08", 50, 3.54, 0}} {
		m := prepared(t, made.TwoLoops+made.Inlay+strings.Replace(made.Base, "3.175", c.bit, 1))
		for _, p := range m.set.Panels {
			for ply, radius := range map[sheet.Ply]float64{sheet.Wall: c.wall, sheet.Floor: c.floor} {
				ahead, aside := radius, 0.0
				if c.aside > 0 {
					ahead, aside = radius/math.Sqrt2, c.aside+radius/math.Sqrt2
				}
				lines := p.part(ply, 3, m.Groove.Size).Sheet.Lines
				for i, o := range p.Openings {
					end, way := o.Cut.Line.At(o.Cut.Length())
					from := lines[i].Contour.Start().Sub(end)
					made.Near(t, c.bit+", "+ply.String()+" begins ahead", from.Dot(way), ahead, 1e-6)
					made.Near(t, c.bit+", "+ply.String()+" begins aside", math.Abs(from.Cross(way)), aside, 1e-6)
				}
			}
		}
	}
}

// Dowels of 4 mm and screws of 4.5 mm are drilled where less than 0.5 mm of path
// would be left of them.
func TestDrilledHoles(t *testing.T) {
	const bushing = "[router]\nguide = \"bushing\"\nrider = 12\nbit = 3\nflute = 14\ncollar = 7\nbase = 90\n[template]\nmargin = 60\n"
	for _, c := range []struct {
		name, text string
		kerf       float64
		want       []float64
	}{
		{"none", made.Cross + made.Inlay + made.Base, 0.2, nil},
		{"the dowels'", made.Cross + made.Inlay + made.Base, 3.8, []float64{4}},
		{"both", made.Cross + made.Inlay + made.Base, 4.2, []float64{4, 4.5}},
		{"no frame", made.Cross + made.Inlay + made.Base + "[template]\nframe = 0\n", 4.2, []float64{4}},
		{"no floor", made.Cross + made.Inlay + bushing, 4.2, []float64{4.5}},
	} {
		if got := prepared(t, c.text).set.Drilled(c.kerf); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A cut that goes over groove of an earlier set-up is reported once; what is spare isn't cut and isn't reported.
func TestCutAgainIsReported(t *testing.T) {
	j := made.Planned(t, made.TwoLoops+made.Inlay+made.Base)
	plain := func(set Set) int {
		n := 0
		for _, f := range set.Found {
			if f.Rule == "cut-again" {
				n++
			}
		}
		return n
	}
	draw := func(spare bool) Set {
		p := j.Plan
		p.SetUps = slices.Clone(p.SetUps)
		u := &p.SetUps[len(p.SetUps)-1]
		u.Tracks = slices.Clone(u.Tracks)
		for i := range u.Tracks {
			u.Tracks[i].Spare = spare
			u.Tracks[i].Elsewhere = append(u.Tracks[i].Elsewhere, plan.Overlap{SetUp: 1, Cut: "bar.1", Length: 12})
		}
		return Draw(fixture.Params{Router: j.Router, Template: j.Template}, j.Groove, p)
	}
	if n := plain(draw(false)); n != 1 {
		t.Errorf("a cut that is made twice is reported %d times", n)
	}
	if n := plain(draw(true)); n != 0 {
		t.Errorf("a track that is left alone is reported %d times", n)
	}
}
