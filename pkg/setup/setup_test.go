package setup

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// A drawn is a job with its pictures.
type drawn struct {
	job    Params
	groove groove.Groove
	set    template.Set
	list   []sheet.Picture
}

// known are the jobs drawn so far, by name and what was exchanged.
var known = map[string]drawn{}

// pictures draws a job of testdata with texts exchanged, once for all tests.
func pictures(t *testing.T, name string, swaps ...string) drawn {
	t.Helper()
	key := name + strings.Join(swaps, "|")
	d, ok := known[key]
	if !ok {
		d = draw(t, name, swaps...)
		known[key] = d
	}
	d.set.Panels = slices.Clone(d.set.Panels) // some tests lay them otherwise
	return d
}

func draw(t *testing.T, name string, swaps ...string) drawn {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata/jobs", name))
	if err != nil {
		t.Fatal(err)
	}
	var all diag.Findings
	j, found := job.Read(name, []byte(strings.NewReplacer(swaps...).Replace(string(data))))
	if j == nil {
		t.Fatal(found)
	}
	m, found := motif.Build(j.Motif)
	all.Add(found...)
	w, found := weave.Build(m, j.Weave)
	all.Add(found...)
	g, found := groove.Build(groove.SizeOf(j.Inlay, j.Router, j.Template), m, w)
	all.Add(found...)
	cuts, found := plan.Split(&g)
	all.Add(found...)
	if all.HasErrors() {
		t.Fatal(all)
	}
	p := Params{Title: j.Title, Units: j.Units, Router: j.Router, Margin: j.Template.Margin, Board: j.Board}
	d := drawn{job: p, groove: g, set: template.Draw(fixture.Params{Router: j.Router, Template: j.Template, Board: j.Board, Units: j.Units}, g, plan.Make(plan.Params{Turn: true}, &g, cuts))}
	d.list = Pictures(p, g, d.set)
	if len(d.list) != d.set.SetUps() || len(d.list) == 0 {
		t.Fatalf("%d pictures of %d set-ups", len(d.list), d.set.SetUps())
	}
	return d
}

// labelled are the loops of all fills whose label begins with a word.
func labelled(p sheet.Picture, word string) []geom.Contour {
	var loops []geom.Contour
	for _, f := range p.Fills {
		if strings.HasPrefix(f.Label, word) {
			loops = append(loops, f.Loops...)
		}
	}
	return loops
}

var jobs = []string{"looped-triangle.toml", "hall-table.toml", "box-lid.toml"}

// TestPicturesShowEveryCut: what is dark in a picture is within the groove, and
// all pictures together have what the plan's set-ups cut, found there in their
// places without turning any panel.
func TestPicturesShowEveryCut(t *testing.T) {
	for _, name := range jobs {
		d := pictures(t, name)
		ideal := d.groove.Area()
		for i, p := range d.list {
			var want []region.Region
			for _, track := range d.set.Plan.SetUps[i].Tracks {
				want = append(want, track.Cut.Centre.Grow(d.groove.Size.Bit/2))
			}
			var got []region.Region
			for _, f := range p.Fills {
				if strings.HasPrefix(f.Label, "cut ") && f.Color == cutShade {
					got = append(got, region.New(f.Loops...))
				}
			}
			all := region.Union(got...)
			if over := region.Subtract(all, ideal).Area(); over > 1e-3 {
				t.Errorf("%s, set-up %d: %g mm2 beyond the groove", name, i+1, over)
			}
			a, b := region.Subtract(all, region.Union(want...)).Area(), region.Subtract(region.Union(want...), all).Area()
			if a+b > 1e-3 {
				t.Errorf("%s, set-up %d: %g mm2 more than the plan's and %g less", name, i+1, a, b)
			}
		}
	}
}

// TestWallIsOnTheLeft: every arrow has the cut's middle line on its right, so
// that the wall that it runs along is on its left, however the panel lies, and
// stays in the track where there is room for it.
func TestWallIsOnTheLeft(t *testing.T) {
	for _, name := range jobs {
		d := pictures(t, name)
		layAnyhow(&d.groove, &d.set)
		inside := d.groove.Size.Reach()-d.groove.Size.Width/2 > 3
		list := Pictures(d.job, d.groove, d.set)
		for i, u := range d.set.Plan.SetUps {
			checkArrows(t, fmt.Sprintf("%s, set-up %d", name, i+1), list[i], u, inside)
		}
	}
}

// layAnyhow lays every panel in positions that its plan knows nothing of.
func layAnyhow(g *groove.Groove, set *template.Set) {
	set.Plan.SetUps = nil
	for i := range set.Panels {
		p := &set.Panels[i]
		p.Positions = []plan.Orientation{{}, {Flip: true}, {TurnDeg: 90, Flip: true}, {TurnDeg: 37}}
		for _, pos := range p.Positions {
			u := plan.SetUp{Panel: i, Position: pos}
			for _, c := range set.Plan.Panels[i].Cuts {
				u.Tracks = append(u.Tracks, plan.Track{Cut: c})
			}
			set.Plan.SetUps = append(set.Plan.SetUps, u)
		}
	}
	set.Plan.LayOut(g)
}

// checkArrows goes through a picture; a cut's arrows are drawn before the mark of its
// start.
func checkArrows(t *testing.T, what string, p sheet.Picture, u plan.SetUp, inside bool) {
	t.Helper()
	tracks := region.New(labelled(p, "track")...)
	cut, arrows := 0, 0
	for _, f := range p.Fills {
		switch {
		case f.Label == "start" && cut < len(u.Tracks):
			if inside && arrows < 2 {
				t.Errorf("%s: %d arrows along cut %d", what, arrows, cut+1)
			}
			cut, arrows = cut+1, 0
		case f.Label == "way to the finish":
			v := f.Loops[0].Vertices
			tip, tail := v[0].Point, v[1].Lerp(v[2].Point, 0.5)
			_, from := u.Tracks[cut].Line.Nearest(tail)
			if _, to := u.Tracks[cut].Line.Nearest(tip); inside || to <= from {
				t.Errorf("%s: the arrow at %v goes back", what, tail)
			}
		case f.Label == "way of travel":
			arrows++
			v := f.Loops[0].Vertices
			tip, neck := v[0].Point, v[1].Lerp(v[2].Point, 0.5)
			near, _ := u.Tracks[cut].Line.Nearest(neck)
			if near.Sub(neck).Dot(tip.Sub(neck).Left()) >= 0 {
				t.Errorf("%s: the arrow at %v has its wall on the right", what, neck)
			}
			if tracks.Locate(tip) == region.Outside || tracks.Locate(neck) == region.Outside {
				t.Errorf("%s: the arrow at %v leaves the track", what, neck)
			}
		}
	}
	if cut != len(u.Tracks) {
		t.Errorf("%s: %d of %d cuts have a start", what, cut, len(u.Tracks))
	}
}

// TestNumbersFollowTheOrder: every cut has its number in a disc, 1 to N through the job,
// and the words say which track each number is.
func TestNumbersFollowTheOrder(t *testing.T) {
	for _, name := range jobs {
		d := pictures(t, name)
		n := 0
		for i, p := range d.list {
			words := ""
			for _, x := range p.Texts {
				words += x.String + " "
			}
			tracks := map[int]string{}
			for _, m := range regexp.MustCompile(`cuts? (\d+)(?:-(\d+))?: tracks? ([A-Z]+)(\d+)`).FindAllStringSubmatch(words, -1) {
				first, _ := strconv.Atoi(m[1])
				last := first
				if m[2] != "" {
					last, _ = strconv.Atoi(m[2])
				}
				for k, at := first, 0; k <= last; k, at = k+1, at+1 {
					from, _ := strconv.Atoi(m[4])
					tracks[k] = m[3] + strconv.Itoa(from+at)
				}
			}
			for _, track := range d.set.Plan.SetUps[i].Made() {
				n++
				if discs := labelled(p, "cut number "+strconv.Itoa(n)); len(discs) == 0 {
					t.Errorf("%s, set-up %d: no disc for %d", name, i+1, n)
				}
				if tracks[n] != track.ID {
					t.Errorf("%s, set-up %d: %q gives cut %d the track %q, not %s", name, i+1, words, n, tracks[n], track.ID)
				}
			}
		}
	}
}

// TestTheBaseSweepsItsRadius: the box round the dashed line is that round the
// tracks, wider by what the base's radius is more than the rider's (derived:
// both are C grown, by one and the other).
func TestTheBaseSweepsItsRadius(t *testing.T) {
	d := pictures(t, "box-lid.toml")
	const base, bearing = 3.5 * 25.4, 0.25 * 25.4 // mm
	more := (base - bearing) / 2.0
	for i, p := range d.list {
		tracks, sweep := geom.EmptyBox(), geom.EmptyBox()
		for _, c := range labelled(p, "track") {
			tracks = tracks.Join(c.Bounds())
		}
		for _, c := range labelled(p, "what the router's base") {
			sweep = sweep.Join(c.Bounds())
		}
		if want := tracks.Expand(more); !sweep.Min.Near(want.Min, 1e-6) || !sweep.Max.Near(want.Max, 1e-6) {
			t.Errorf("set-up %d: the base sweeps %v, want %v", i+1, sweep, want)
		}
	}
	if d := pictures(t, "box-lid.toml", "base = \"3 1/2 in\"\n", ""); len(labelled(d.list[0], "what the router's base")) > 0 || !says(d.list[0], "router.base isn't in the job") {
		t.Error("a base that is not told is drawn")
	}
	if d := pictures(t, "hall-table.toml"); len(labelled(d.list[0], "what the router's base")) > 0 || !says(d.list[0], "stays within the track") {
		t.Error("a base that rides the walls sweeps beyond them")
	}
}

func says(p sheet.Picture, words string) bool {
	all := ""
	for _, x := range p.Texts {
		all += x.String + " "
	}
	return strings.Contains(all, words)
}

// TestPicturesAreLegible: no letter is under 3 mm, and nothing lies off the
// page, letters as wide as in a wide face included.
func TestPicturesAreLegible(t *testing.T) {
	for _, name := range jobs {
		for i, p := range pictures(t, name).list {
			for _, x := range p.Texts {
				if x.Height < 3-1e-9 {
					t.Errorf("%s, set-up %d: %q is %g mm high", name, i+1, x.String, x.Height)
				}
				from, wide := x.At, letterWide*x.Height*float64(len([]rune(x.String)))
				if x.Middle {
					from.X -= wide / 2
				}
				if !p.Bounds.Holds(from) || !p.Bounds.Holds(from.Add(geom.Pt(wide, x.Height))) {
					t.Errorf("%s, set-up %d: %q at %v is off the page", name, i+1, x.String, x.At)
				}
			}
			for _, f := range p.Fills {
				for _, c := range f.Loops {
					if b := c.Bounds(); !p.Bounds.Holds(b.Min) || !p.Bounds.Holds(b.Max) {
						t.Errorf("%s, set-up %d: %s is off the page", name, i+1, f.Label)
					}
				}
			}
		}
	}
}

// grey is the luma of a colour, 0 to 255 (ITU-R BT.601).
func grey(t *testing.T, color string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(color[1:], 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	return 0.299*float64(v>>16) + 0.587*float64(v>>8&255) + 0.114*float64(v&255)
}

// TestShadesDifferAsGreys: also on boards of the palest, darkest and most colourful woods.
func TestShadesDifferAsGreys(t *testing.T) {
	for _, species := range []string{"holly", "walnut", "ebony", "padauk", "boxwood", "purpleheart", "nothing that is known"} {
		shadesDiffer(t, boardShade(work.Wood{Species: species}))
	}
}

func shadesDiffer(t *testing.T, boardShade string) {
	t.Helper()
	for _, c := range []struct {
		light, dark string
		by          float64
	}{
		{panelShade, boardShade, 12}, // there is a line between them too
		{panelShade, frameShade, 25},
		{panelShade, grooveShade, 60},
		{boardShade, grooveShade, 45},
		{frameShade, grooveShade, 30},
		{grooveShade, cutShade, 90},
		{boardShade, cutShade, 150},
		{boardShade, rimShade, 100},
	} {
		if d := grey(t, c.light) - grey(t, c.dark); d < c.by {
			t.Errorf("%s and %s differ by %.0f of 255, want %.0f", c.light, c.dark, d, c.by)
		}
	}
}

// TestClip: lines through a box of 2 x 1 about the origin, worked out by hand.
func TestClip(t *testing.T) {
	box := geom.Box{Min: geom.Pt(-1, -0.5), Max: geom.Pt(1, 0.5)}
	for _, c := range []struct {
		p, along geom.Point
		long     float64 // 0: misses
	}{
		{geom.Pt(0, 0), geom.Pt(1, 0), 2},
		{geom.Pt(0, 0), geom.Pt(0, 1), 1},
		{geom.Pt(0, 0), geom.Polar(1, math.Pi/4), math.Sqrt2},
		{geom.Pt(5, 0.25), geom.Pt(1, 0), 2},
		{geom.Pt(0, 0.5), geom.Pt(1, 0), 0},
		{geom.Pt(0, 2), geom.Pt(1, 0), 0},
		{geom.Pt(2, 0), geom.Polar(1, math.Pi/4), 0},
	} {
		a, b, ok := clip(box, c.p, c.along)
		if ok != (c.long > 0) || math.Abs(a.Dist(b)-c.long) > 1e-9 {
			t.Errorf("%v along %v: %v to %v, %v", c.p, c.along, a, b, ok)
		}
	}
}

func TestNoPanelsNoPictures(t *testing.T) {
	d := pictures(t, "looped-triangle.toml")
	if got := Pictures(d.job, d.groove, template.Set{}); got != nil {
		t.Errorf("%d pictures of nothing", len(got))
	}
}

// TestLetteringContrasts: the letters of badges, tags and words on all that they stand on
// have the contrast of WCAG 2.2, 1.4.3 AA: 4.5, by its formula of relative luminance.
func TestLetteringContrasts(t *testing.T) {
	luminance := func(color string) float64 {
		v, err := strconv.ParseUint(color[1:], 16, 32)
		if err != nil {
			t.Fatal(err)
		}
		light := func(c uint64) float64 {
			s := float64(c&255) / 255
			if s > 0.04045 {
				return math.Pow((s+0.055)/1.055, 2.4)
			}
			return s / 12.92
		}
		return 0.2126*light(v>>16) + 0.7152*light(v>>8) + 0.0722*light(v)
	}
	under := []string{pageShade, panelShade, frameShade}
	for _, species := range []string{"holly", "walnut", "ebony", "padauk", "purpleheart"} {
		under = append(under, boardShade(work.Wood{Species: species}))
	}
	for _, c := range under {
		if got := (luminance(c) + 0.05) / (luminance(lineShade) + 0.05); got < 4.5 {
			t.Errorf("letters on %s have the contrast %.1f", c, got)
		}
	}
}
