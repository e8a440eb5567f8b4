package setup

import (
	"fmt"
	"strings"
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
	"strapwork/pkg/work"
)

// stepped is a row of rings, 140 mm apart, of which two panels cut two rings at a time:
// one half of each with A, the other with B.
func stepped(t *testing.T) drawn {
	t.Helper()
	const pitch, rings, held = 140.0, 16, 2
	var b strings.Builder
	for i := range rings {
		fmt.Fprintf(&b, "[[motif.circle]]\ncenter = [%g, 0]\nradius = 50\n", pitch*float64(i))
	}
	j := made.Grooved(t, "[motif]\n"+b.String()+"[inlay]\ndepth = 3\nwidth = 4.5\n[router]\nguide = \"bushing\"\nrider = 17\nbit = 3.175\nbase = 90\ncollar = 4\n[board]\nsize = [2400, 400]\nthickness = 22\norigin = [150, 90]\n")
	cuts, found := plan.Split(&j.Groove)
	if found.HasErrors() || len(cuts) != 2*rings {
		t.Fatalf("%d cuts, %v", len(cuts), found)
	}
	p := plan.Plan{Step: plan.Step{Pitch: geom.Pt(pitch, 0), Repeats: held}}
	half := func(k, first int) []groove.Cut {
		var list []groove.Cut
		for i := first; i < first+held; i++ {
			list = append(list, cuts[2*i+k])
		}
		return list
	}
	for k := range 2 {
		panel := plan.Panel{Cuts: half(k, 0)}
		for n := 0; n < rings/held; n++ {
			at := plan.Orientation{Shift: p.Step.Shift().Scale(float64(n))}
			panel.Positions = append(panel.Positions, at)
			u := plan.SetUp{Panel: k, Position: at}
			for _, c := range half(k, n*held) {
				u.Tracks = append(u.Tracks, plan.Track{Cut: c})
			}
			p.SetUps = append(p.SetUps, u)
		}
		p.Panels = append(p.Panels, panel)
	}
	p.LayOut(&j.Groove)
	params := Params{Title: "A row of rings", Units: j.Units, Router: j.Router, Margin: j.Template.Margin, Board: j.Board, Wood: work.Wood{}}
	d := drawn{job: params, groove: j.Groove, set: template.Draw(fixture.Params{Router: j.Router, Template: j.Template, Board: j.Board, Units: j.Units}, j.Groove, p)}
	d.list = Pictures(params, j.Groove, d.set)
	return d
}

// Pictures of stepped panels show what lies round the panel, and the one of the whole rail
// every hole's number, in the board's coordinates; no two texts overlap and none is off the
// picture.
func TestSteppedPictures(t *testing.T) {
	d := stepped(t)
	for i, p := range d.list {
		textsApart(t, p.Title, p)
		if n := len(labelled(p, "index pin")); n != 1 {
			t.Errorf("set-up %d has %d pins", i+1, n)
		}
		if wide := p.Bounds.Size().X; wide > 900 {
			t.Errorf("set-up %d shows %g mm of the board", i+1, wide)
		}
	}
	p, ok := Steps(d.job, d.groove, d.set)
	if !ok {
		t.Fatal("no picture of the rail")
	}
	textsApart(t, "the rail", p)
	numbers := map[string]bool{}
	for _, x := range p.Texts {
		numbers[x.String] = true
		if high := x.Height * 190 / p.Bounds.Size().X; high < 1.6 {
			t.Errorf("%q is printed %.2f mm high", x.String, high)
		}
	}
	for _, u := range d.set.Plan.SetUps {
		if !numbers[fmt.Sprint(u.Number)] {
			t.Errorf("the hole of set-up %d has no number", u.Number)
		}
	}
}
