package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/work"
)

// The trade's example: nothing is better than one panel with one opening, a side
// with half a loop at each end, in three positions a third of a turn apart; each
// loop must be split. Three sides that cross one another want three set-ups.
func TestLoopedTriangle(t *testing.T) {
	r := fromFile(t, "looped-triangle")
	p := r.plan()
	checkPlan(t, &r.groove, p)
	if len(p.Panels) != 1 || p.Openings() != 1 || p.Visible != 3 || p.Hidden != 0 || !p.Proved() {
		t.Fatalf("%v, %d openings, %d hidden splits, proved: %t", p, p.Openings(), p.Hidden, p.Proved())
	}
	if got, want := p.Panels[0].Positions, []Orientation{{}, {TurnDeg: 120}, {TurnDeg: 240}}; !slices.Equal(got, want) {
		t.Errorf("positions %v, want %v", got, want)
	}
	if got, want := p.String(), "1 panel, 3 set-ups, 3 visible splits; nothing fewer possible"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestPlanInWords(t *testing.T) {
	made := func(visible, setUps, panels, leastVisible, leastSetUps, leastPanels int) Plan {
		return Plan{
			Visible: visible, SetUps: make([]SetUp, setUps), Panels: make([]Panel, panels),
			LeastVisible: leastVisible, LeastSetUps: leastSetUps, LeastPanels: leastPanels,
		}
	}
	for _, test := range []struct {
		p    Plan
		want string
	}{
		{made(0, 5, 2, 0, 5, 2), "2 panels, 5 set-ups; nothing fewer possible"},
		{made(0, 5, 2, 0, 5, 1), "2 panels, 5 set-ups; no fewer set-ups possible"},
		{made(1, 5, 3, 1, 4, 1), "3 panels, 5 set-ups, 1 visible split; at least 4 set-ups needed"},
		{made(3, 1, 1, 2, 1, 1), "1 panel, 1 set-up, 3 visible splits; at least 2 visible splits needed"},
	} {
		if got := test.p.String(); got != test.want {
			t.Errorf("%q, want %q", got, test.want)
		}
	}
}

// Every plan of the example jobs is sound, comes out the same twice (the large ones'
// hashes are kept by package report), and is no worse than the chains' own cuts on
// panels that are not turned.
func TestExampleJobs(t *testing.T) {
	for _, name := range []string{"looped-triangle", "box-lid", "hall-table", "rosette"} {
		for _, prefer := range []work.Prefer{work.PreferClean, work.PreferSetups, work.PreferPanels} {
			for _, turn := range []bool{true, false} {
				slow, large := name == "rosette", name == "rosette" || name == "hall-table"
				if (slow && prefer != work.PreferClean) || (!turn && (slow || prefer != work.PreferClean)) {
					continue // seconds each
				}
				if testing.Short() && (large || !turn || prefer != work.PreferClean) {
					continue
				}
				t.Run(fmt.Sprintf("%s/%v/turn=%t", name, prefer, turn), func(t *testing.T) {
					r := fromFile(t, name)
					r.job.Template.Prefer, r.job.Template.Turn = prefer, turn
					p := r.plan()
					checkPlan(t, &r.groove, p)
					if !large && !reflect.DeepEqual(p, r.plan()) {
						t.Error("two runs differ")
					}
					if plain := unturned(&r.groove, r.cuts); better(plain.count(), p.count(), prefer) {
						t.Errorf("%v is worse than %v", p, plain)
					}
					// Sixteen-fold links, and rings that want no more than two splits
					// each. That it can be done with two panels, and neither with four
					// set-ups nor one panel, another solver said first.
					if slow && (p.Visible != 4 || len(p.SetUps) != 5 || len(p.Panels) != 2 || !p.Proved()) {
						t.Errorf("%v", p)
					}
					if !turn && len(p.Panels) != len(p.SetUps) {
						t.Errorf("%v, but nothing is turned", p)
					}
				})
			}
		}
	}
}

// curvedFigure is a figure with what random bars have not: loops that must be
// split, rings about the origin and off it, bows.
func curvedFigure(rng *rand.Rand, n int, mirror bool) figure {
	f := figure{copies: n, mirror: mirror}
	at := func(r float64) geom.Point { return geom.Polar(r, 2*math.Pi*rng.Float64()) }
	for range 1 + rng.IntN(2) {
		switch rng.IntN(4) {
		case 0:
			f.paths = append(f.paths, geom.Circle(at(150*rng.Float64()), 45+80*rng.Float64()))
		case 1:
			f.paths = append(f.paths, geom.Circle(geom.Pt(0, 0), 50+150*rng.Float64()))
		case 2:
			f.paths = append(f.paths, loop(at(60+120*rng.Float64()), at(1), 45+30*rng.Float64(), 60+90*rng.Float64()))
		default:
			a := at(60 + 120*rng.Float64())
			f.paths = append(f.paths, bow(a, a.Add(at(100+150*rng.Float64())), 0.1+0.2*rng.Float64()))
		}
	}
	return f
}

// loop is a bar that bends round in three quarters of a circle and crosses
// itself.
func loop(from, along geom.Point, radius, length float64) geom.Contour {
	u := along.Unit()
	end := from.Add(u.Scale(length + 2*radius))
	edges := []geom.Edge{geom.Line(from, end)}
	center := end.Add(u.Left().Scale(radius))
	edges = append(edges, geom.Arc(center, radius, end.Sub(center).Angle(), 1.5*math.Pi)...)
	last := edges[len(edges)-1].B
	return geom.Chain(false, append(edges, geom.Line(last, last.Sub(u.Left().Scale(length+2*radius))))...)
}

// folds are the numbers of copies that random motifs are made with; with -short a
// sample.
func folds() []int {
	if testing.Short() {
		return []int{1, 3}
	}
	return []int{1, 2, 3, 4, 5, 6, 8}
}

// Curved motifs: sound plans, and the fewest visible splits by another search.
func TestCurvedMotifs(t *testing.T) {
	for _, n := range folds() {
		for _, mirror := range []bool{false, true} {
			if testing.Short() && n == 1 && mirror {
				continue
			}
			t.Run(fmt.Sprintf("%d-fold/mirror=%t", n, mirror), func(t *testing.T) {
				rng := rand.New(rand.NewPCG(2, uint64(n)+77))
				tail := bushing + fmt.Sprintf("[template]\nflip = %t\n", n%2 == 0)
				f, r := randomCurved(t, rng, n, mirror, tail)
				p := r.plan()
				checkPlan(t, &r.groove, p)
				if want := fewestVisible(&r.groove); p.Visible != want {
					t.Errorf("%v; %d visible splits will do\n%s", p, want, f.text(9))
				}
			})
		}
	}
}

func randomCurved(t testing.TB, rng *rand.Rand, n int, mirror bool, tail string) (figure, ready) {
	t.Helper()
	for range 3000 {
		f := curvedFigure(rng, n, mirror)
		r, found := prepare("test.toml", []byte("title = \"test\"\nunits = \"mm\"\n"+f.text(9)+inlay+tail))
		if !found.HasErrors() && len(r.cuts) <= 40 {
			return f, r
		}
	}
	t.Fatal("no random figure is sound")
	return figure{}, ready{}
}

// fewestVisible is the sum over the chains of the fewest visible splits, found
// by trying all ways between places 8 mm apart, joints and passages under
// another strand. Copies of one element that pass under at the same distances are
// asked about once.
func fewestVisible(g *groove.Groove) int {
	sum := 0
	known := map[string]int{}
	for i, s := range g.Motif.Strands {
		for _, ch := range g.Chains(i) {
			stops := placesOn(g, ch)
			key := fmt.Sprintf("%d %.3f %.3f", g.Motif.Sources[s.Source(ch.From.S)].Element, ch.From.S, ch.To.S)
			for _, stop := range stops {
				key += fmt.Sprintf(" %.3f %t", stop.S, stop.Hidden)
			}
			if _, ok := known[key]; !ok {
				known[key] = fewestOn(g, ch, stops)
			}
			sum += known[key]
		}
	}
	return sum
}

func fewestOn(g *groove.Groove, ch groove.Chain, stops []groove.Stop) int {
	if !ch.Ring && g.Reaches(ch, ch.From, ch.To) {
		return 0
	}
	n := len(stops)
	known := map[[2]int]bool{}
	// reaches is asked of places by number, a ring's counted on past its start.
	reaches := func(i, j int) bool {
		if i >= n && ch.Ring {
			i, j = i-n, j-n
		}
		ok, asked := known[[2]int{i, j}]
		if !asked {
			ok = g.Reaches(ch, stops[i], stopOn(ch, stops, j))
			known[[2]int{i, j}] = ok
		}
		return ok
	}
	if !ch.Ring {
		stops = append(append([]groove.Stop{ch.From}, stops...), ch.To)
		return fewestBetween(stops, 0, len(stops)-1, reaches)
	}
	best := math.MaxInt
	for k, first := range stops {
		// The first split's own cost comes with the last stop, its image.
		if v := fewestBetween(stops, k, k+n, reaches); v < math.MaxInt {
			best = min(best, v+shown(first))
		}
	}
	return best
}

// stopOn is a stop by number, a ring's counted on past its start.
func stopOn(ch groove.Chain, stops []groove.Stop, i int) groove.Stop {
	s := stops[i%len(stops)]
	s.S += float64(i/len(stops)) * (ch.To.S - ch.From.S)
	return s
}

func shown(s groove.Stop) int {
	if s.Hidden {
		return 0
	}
	return 1
}

// fewestBetween is the fewest visible splits strictly between two stops, on a
// ring with at least one split of any kind. Where three stretches in a row can't
// be followed, no longer one is asked about.
func fewestBetween(stops []groove.Stop, first, last int, reaches func(i, j int) bool) int {
	n := last - first + 1
	cost := slices.Repeat([]int{math.MaxInt}, n)
	cost[0] = 0
	for i := range n - 1 {
		if cost[i] == math.MaxInt {
			continue
		}
		for j, failed := i+1, 0; j < n && failed < 3; j++ {
			c := cost[i]
			if j < n-1 {
				c += shown(stops[(first+j)%len(stops)])
			}
			switch {
			case c >= cost[j] || i == 0 && j == n-1:
			case reaches(first+i, first+j):
				cost[j], failed = c, 0
			default:
				failed++
			}
		}
	}
	return cost[n-1]
}

func placesOn(g *groove.Groove, ch groove.Chain) []groove.Stop {
	s := g.Motif.Strands[ch.Strand]
	l := s.Length()
	var at []float64
	for lap := 0.0; lap <= l; lap += l {
		for _, v := range g.Weave.Visits[ch.Strand] {
			at = append(at, v.S+lap)
		}
		for _, o := range s.Offsets() {
			at = append(at, o+lap)
		}
	}
	parts := math.Ceil((ch.To.S - ch.From.S) / 8)
	for k := range int(parts) {
		at = append(at, ch.From.S+(ch.To.S-ch.From.S)*(float64(k)+0.3)/parts)
	}
	slices.Sort(at)
	var stops []groove.Stop
	for _, d := range at {
		if d <= ch.From.S+0.01 || d >= ch.To.S-0.01 || (len(stops) > 0 && d-stops[len(stops)-1].S < 0.01) {
			continue
		}
		p, _ := s.Contour.At(d)
		stops = append(stops, groove.Stop{Kind: groove.StopSplit, S: d, At: p, Hidden: isHidden(g, ch.Strand, d)})
	}
	return stops
}

// Copies out by half a micrometre, as drawings from elsewhere are, still turn.
func TestInexactCopies(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	for _, n := range []int{2, 3, 4, 6, 8} {
		if testing.Short() && n > 3 {
			break
		}
		f := figure{copies: n, paths: []geom.Contour{bar(geom.Pt(-150, 70), geom.Pt(160, 70)), geom.Circle(geom.Pt(200, 0), 60)}}
		exact := mustPrepare(t, f.text(9)+inlay+bushing)
		loose := mustPrepare(t, f.listed(0.0005/math.Sqrt2, rng).text(12)+inlay+bushing)
		p, q := exact.plan(), loose.plan()
		checkPlan(t, &loose.groove, q)
		if a, b := p.count(), q.count(); a != b {
			t.Errorf("%d-fold: exact %+v, inexact %+v", n, a, b)
		}
	}
}

// A free end near a crossing leaves a stub that no split may cut off.
func TestNoStubs(t *testing.T) {
	for _, over := range []float64{3.5, 4.5, 6, 9} {
		f := figure{copies: 4, paths: []geom.Contour{bar(geom.Pt(-100, 100), geom.Pt(100+over, 100))}}
		for _, prefer := range []string{"clean", "setups", "panels"} {
			r := mustPrepare(t, f.text(9)+inlay+bushing+fmt.Sprintf("[template]\nprefer = %q\n", prefer))
			p := r.plan()
			checkPlan(t, &r.groove, p)
			if len(p.SetUps) != 2 || len(p.Panels) != 1 {
				t.Errorf("over by %g, %s: %v", over, prefer, p)
			}
		}
	}
}

// Crossings nearer to one another than the tolerance for an atom's image: each
// atom still has one image.
func TestCrossingsVeryNearOneAnother(t *testing.T) {
	// Three lines by the origin, whose triangle has sides of 0.0104 mm.
	r := mustPrepare(t, `[motif]
copies = 3
[[motif.line]]
name = "l"
from = [-60, 0.003]
to = [80, 0.003]
[inlay]
depth = 3
width = 3
[router]
guide = "bushing"
bit = 3
rider = 8
`)
	at := cutUp(&r.groove, Symmetry(r.groove.Motif, false), 1e9, false)
	short := 0
	for i, c := range at.line {
		if c.Length() < sameAtom {
			short++
		}
		if at.image[0][i] != i {
			t.Errorf("unturned, atom %d is taken for %d", i, at.image[0][i])
		}
	}
	if short == 0 {
		t.Error("no atom is short: nothing is tried here")
	}
	at.relate()
	for k, row := range at.seamImage {
		if len(row) != len(at.seams) {
			t.Errorf("position %d maps %d of %d seams", k, len(row), len(at.seams))
		}
	}
}

// By hand: (3, 4) turned by quarters, and turned over in the y axis before; what was
// the right edge is up when a panel is turned a quarter counter-clockwise, the left
// one when it is turned over first.
func TestOrientations(t *testing.T) {
	p := geom.Pt(3, 4)
	for _, c := range []struct {
		pos      Orientation
		want, up geom.Point
	}{
		{Orientation{}, p, geom.Pt(0, 1)},
		{Orientation{TurnDeg: 90}, geom.Pt(-4, 3), geom.Pt(1, 0)},
		{Orientation{TurnDeg: 180}, geom.Pt(-3, -4), geom.Pt(0, -1)},
		{Orientation{Flip: true}, geom.Pt(-3, 4), geom.Pt(0, 1)},
		{Orientation{TurnDeg: 90, Flip: true}, geom.Pt(-4, -3), geom.Pt(-1, 0)},
	} {
		if got := c.pos.Similarity().Apply(p); got != c.want {
			t.Errorf("%+v takes %v to %v, want %v", c.pos, p, got, c.want)
		}
		if got := c.pos.Inverse().Apply(c.want); got != p {
			t.Errorf("%+v undone takes %v to %v, want %v", c.pos, c.want, got, p)
		}
		if got := c.pos.Up(); !got.Near(c.up, 1e-12) {
			t.Errorf("%+v: up is %v, want %v", c.pos, got, c.up)
		}
	}
}

// What another preference would get is said as it is: what it aims at first, and what
// else differs.
func TestPricesInWords(t *testing.T) {
	p := Plan{Panels: make([]Panel, 2), SetUps: make([]SetUp, 4), Visible: 0, Price: []Price{
		{work.PreferSetups, 4, 3, 2}, {work.PreferPanels, 1, 5, 1},
	}}
	got := strings.Join(p.Prices(), "\n")
	want := "with prefer = \"setups\": 3 set-ups, 4 visible splits\nwith prefer = \"panels\": 1 panel, 1 visible split, 5 set-ups"
	if got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	p.Price = []Price{{work.PreferSetups, 4, 2, 1}, {work.PreferPanels, 4, 2, 1}}
	if got, want := strings.Join(p.Prices(), "\n"), "with prefer = \"setups\" or \"panels\": 2 set-ups, 4 visible splits, 1 panel"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	p = Plan{Panels: make([]Panel, 1), SetUps: make([]SetUp, 4), Visible: 4, Price: []Price{{work.PreferClean, 0, 6, 1}}}
	if got, want := strings.Join(p.Prices(), ""), "with prefer = \"clean\": no visible splits, 6 set-ups"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
