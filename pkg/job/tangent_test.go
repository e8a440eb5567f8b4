package job_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
)

// tangentJob is a job of two elements and an arc that joins them.
func tangentJob(a, b, arc string) string {
	return "title = \"t\"\nunits = \"mm\"\n[motif]\n" + a + "\nname = \"bar\"\n" + b + "\nname = \"rail\"\n[[motif.arc]]\nname = \"bend\"\ntangent = [\"bar\", \"rail\"]\n" + arc +
		"\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
}

func lineFrom(a, b geom.Point) string {
	return fmt.Sprintf("[[motif.line]]\nfrom = [%.12g, %.12g]\nto = [%.12g, %.12g]", a.X, a.Y, b.X, b.Y)
}

func circleRound(c geom.Point, r float64) string {
	return fmt.Sprintf("[[motif.circle]]\ncenter = [%.12g, %.12g]\nradius = %.12g", c.X, c.Y, r)
}

func arcRound(c geom.Point, r, start, sweep float64) string {
	return fmt.Sprintf("[[motif.arc]]\ncenter = [%.12g, %.12g]\nradius = %.12g\nstart = %.12g\nsweep = %.12g", c.X, c.Y, r, start, sweep)
}

var (
	barX  = lineFrom(geom.Pt(-50, 0), geom.Pt(50, 0))
	railY = lineFrom(geom.Pt(10, -30), geom.Pt(10, 80))
)

// joined is bar, rail and bend, in a row: a chain without a gap or a kink.
func joined(t interface{ Fatalf(string, ...any) }, text string) (bar, rail, bend geom.Contour) {
	j, found := job.Read("job.toml", []byte(text))
	if j == nil {
		t.Fatalf("%s\n%v", text, found)
	}
	for i, e := range j.Motif.Elements {
		switch e.Name {
		case "bar":
			bar = e.Contour
		case "rail":
			rail = e.Contour
		case "bend":
			bend = j.Motif.Elements[i].Contour
		}
	}
	return bar, rail, bend
}

// smoothEnd reports how far the nearest end of c is from p, and by how much the way turns
// from there to what leaves p in a direction.
func smoothEnd(c geom.Contour, p, ahead geom.Point) (gap, kink float64) {
	end, dir := c.End(), c.Edge(c.Len()-1).Tangent(1)
	if c.Start().Dist(p) < end.Dist(p) {
		end, dir = c.Start(), c.Edge(0).Tangent(0).Scale(-1)
	}
	return end.Dist(p), math.Abs(math.Atan2(dir.Cross(ahead), dir.Dot(ahead)))
}

// A fillet of radius r between lines at right angles takes r of each, and has its centre
// r from both (by hand). What ran on past it is gone.
func TestTangentToLines(t *testing.T) {
	bar, rail, bend := joined(t, tangentJob(barX, railY, "radius = 12"))
	if l := bar.Length(); math.Abs(l-48) > 1e-9 { // from -50 to 10 - 12: what is left of both is the most
		t.Errorf("the bar is %g long, want 48", l)
	}
	if l := rail.Length(); math.Abs(l-68) > 1e-9 { // from 12 to 80
		t.Errorf("the rail is %g long, want 68", l)
	}
	if l := bend.Length(); math.Abs(l-6*math.Pi) > 1e-9 {
		t.Errorf("the arc is %g long, want a quarter turn", l)
	}
	for near, center := range map[string]geom.Point{
		"[12, 2]": geom.Pt(22, 12), "[12, -2]": geom.Pt(22, -12), "[8, -2]": geom.Pt(-2, -12), "[8, 2]": geom.Pt(-2, 12),
	} {
		bar, rail, bend := joined(t, tangentJob(barX, railY, "radius = 12\nnear = "+near))
		if got := bend.Edge(0).Center(); !got.Near(center, 1e-9) {
			t.Errorf("near %s: the centre is %v, want %v", near, got, center)
		}
		chain(t, bar, rail, bend)
	}
	_, _, inLoop := joined(t, tangentJob(barX, railY, "radius = 12\nlong = true\nnear = [-2, 12]"))
	if got := inLoop.Edge(0).Center(); !got.Near(geom.Pt(-2, 12), 1e-9) {
		t.Errorf("the loop about [-2, 12] has its centre at %v", got)
	}
	// The long way round: a loop at the corner, and both run on to it.
	bar, rail, bend = joined(t, tangentJob(barX, railY, "radius = 12\nlong = true\nnear = [-8, 18]"))
	if l := bend.Length(); math.Abs(l-18*math.Pi) > 1e-9 {
		t.Errorf("the loop is %g long, want three quarters of a turn", l)
	}
	chain(t, bar, rail, bend)
	bar, _, _ = joined(t, tangentJob(barX, railY, "radius = 12\ntrim = false"))
	if l := bar.Length(); l != 100 {
		t.Errorf("the bar that isn't trimmed is %g long", l)
	}
}

// chain fails where bar, bend and rail don't follow smoothly.
func chain(t interface{ Fatalf(string, ...any) }, bar, rail, bend geom.Contour) {
	gap, kink := smoothEnd(bar, bend.Start(), bend.Edge(0).Tangent(0))
	other, turn := smoothEnd(rail, bend.End(), bend.Edge(bend.Len()-1).Tangent(1).Scale(-1))
	if max(gap, other) > 1e-6 || max(kink, turn) > 1e-6 {
		t.Fatalf("gaps of %g and %g, kinks of %g and %g:\n%v\n%v\n%v", gap, other, kink, turn, bar, bend, rail)
	}
}

// Whatever is joined, the arc's centre is a radius from the lines it touches and R + r or
// |R - r| from circles' centres (the definition of tangency: Apollonius), and all is one
// smooth chain. An arc that was known beforehand is found.
func TestTangentAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		center, r := geom.Pt(u(-20, 20, "x"), u(-20, 20, "y")), u(5, 30, "r")
		start, sweep := u(0, 360, "start"), u(30, 160, "sweep")
		// Beginning from the arc: what touches it at its ends and goes on from there.
		part := func(name string, at, dir float64) (string, func(c geom.Point) float64) {
			on := center.Add(geom.Polar(r, at))
			ahead := geom.Polar(1, dir)
			if rapid.Bool().Draw(t, name+" is straight") {
				return lineFrom(on.Sub(ahead.Scale(u(1, 9, name+" runs on"))), on.Add(ahead.Scale(40))), func(c geom.Point) float64 {
					return math.Abs(math.Abs(c.Sub(on).Cross(ahead)) - r)
				}
			}
			R := u(10, 60, name+" radius")
			side := 1.0
			if rapid.Bool().Draw(t, name+" bends back") {
				side = -1
			}
			own := on.Add(ahead.Left().Scale(side * R))
			deg := on.Sub(own).Angle() * 180 / math.Pi
			return arcRound(own, R, deg-side*5, side*60), func(c geom.Point) float64 {
				d := c.Dist(own)
				return min(math.Abs(d-R-r), math.Abs(d-math.Abs(R-r)))
			}
		}
		from, to := start*math.Pi/180, (start+sweep)*math.Pi/180
		a, offA := part("bar", from, from-math.Pi/2)
		b, offB := part("rail", to, to+math.Pi/2)
		mid := center.Add(geom.Polar(r, (from+to)/2))
		text := tangentJob(a, b, fmt.Sprintf("radius = %.12g\nnear = [%.12g, %.12g]", r, mid.X, mid.Y))
		bar, rail, bend := joined(t, text)
		c := bend.Edge(0).Center()
		if offA(c) > 1e-6 || offB(c) > 1e-6 {
			t.Fatalf("%s\ncentre %v is off by %g and %g", text, c, offA(c), offB(c))
		}
		if _, s := bend.Nearest(mid); math.Abs(s-bend.Length()/2) > 1e-5*r && c.Near(center, 1e-6) {
			t.Fatalf("%s\nthe arc runs round the other way", text)
		}
		chain(t, bar, rail, bend)
	})
}

// Parallel lines end in a half turn, also where they are parallel but for two decimals.
func TestTangentHalfTurn(t *testing.T) {
	for _, c := range []struct {
		a, b  geom.Point
		round float64
	}{
		{geom.Pt(0, 24), geom.Pt(60, 24), 12}, {geom.Pt(60, 24), geom.Pt(0, 24), 12}, {geom.Pt(0.01, 23.98), geom.Pt(59.98, 24.01), 12},
	} {
		_, _, bend := joined(t, tangentJob(lineFrom(geom.Pt(0, 0), geom.Pt(60, 0)), lineFrom(c.a, c.b), fmt.Sprintf("radius = %g\nnear = [70, 12]", c.round)))
		if math.Abs(bend.Length()-12*math.Pi) > 0.1 || math.Abs(bend.Bounds().Max.X-72) > 0.05 {
			t.Errorf("to %v: %g long, to x %g; want a half turn on the right", c, bend.Length(), bend.Bounds().Max.X)
		}
	}
	_, _, bend := joined(t, tangentJob(arcRound(geom.Pt(0, 0), 30, 0, 90), arcRound(geom.Pt(0, 0), 50, 0, 90), "radius = 10\nnear = [0, 60]"))
	if b := bend.Bounds(); math.Abs(b.Min.X+10) > 1e-9 {
		t.Errorf("between rings it goes to x %g, want -10", b.Min.X)
	}
}

// A lens of two arcs with rounded points: each arc is cut at both ends.
func TestTangentAtBothEnds(t *testing.T) {
	text := "units = \"mm\"\n[motif]\n" + arcRound(geom.Pt(0, -30), 50, 20, 140) + "\nname = \"over\"\n" + arcRound(geom.Pt(0, 30), 50, 200, 140) +
		"\nname = \"under\"\n[[motif.arc]]\ntangent = [\"under\", \"over\"]\nradius = 8\nnear = [37.4, 0]\n[[motif.arc]]\ntangent = [\"over\", \"under\"]\nradius = 8\nnear = [-37.4, 0]\n" +
		"[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
	j := read(t, text)
	// The round's centre is 50 - 8 from both centres: at x = sqrt(42^2 - 30^2).
	x := math.Sqrt(42*42 - 30*30)
	total := 0.0
	for _, e := range j.Motif.Elements {
		total += e.Contour.Length()
	}
	half := math.Atan2(30, x)
	if want := 2*50*(math.Pi-2*half) + 2*8*2*half; math.Abs(total-want) > 1e-9 {
		t.Errorf("the lens is %g round, want %g", total, want)
	}
}

// Every refusal says what would do, and that does.
func TestTangentMistakes(t *testing.T) {
	lineTo := func(x, y float64) string { return lineFrom(geom.Pt(10, 0), geom.Pt(x, y)) }
	short := lineFrom(geom.Pt(-20, 0), geom.Pt(10, 0))
	for _, c := range []struct{ name, a, b, arc, want, hint string }{
		{"too large for the short one", short, lineTo(10, 80), "radius = 60", "15:10: error: tangent: no arc of 60 mm radius touches both bar and rail", "at most 29.9"},
		{"too small to reach", lineFrom(geom.Pt(-20, 0), geom.Pt(0, 0)), lineFrom(geom.Pt(10, 10), geom.Pt(10, 40)), "radius = 4", "no arc of 4 mm", "at least 10; or make bar longer by 6 mm and rail longer by 6 mm"},
		{"parallel", lineFrom(geom.Pt(0, 0), geom.Pt(60, 0)), lineFrom(geom.Pt(0, 24), geom.Pt(60, 24)), "radius = 10\nnear = [70, 0]", "no arc of 10 mm", "at least 12"},
		{"between circles", arcRound(geom.Pt(0, 0), 20, 0, 180), arcRound(geom.Pt(60, 0), 20, 0, 180), "radius = 6", "no arc of 6 mm", "at least 10"},
		{"symmetrical", lineFrom(geom.Pt(-50, 0), geom.Pt(50, 0)), lineFrom(geom.Pt(0, -50), geom.Pt(0, 50)), "radius = 10", "4 arcs join bar and rail, with their middles at", "near = ["},
		{"near the middle", lineFrom(geom.Pt(-50, 0), geom.Pt(50, 0)), lineFrom(geom.Pt(0, -50), geom.Pt(0, 50)), "radius = 10\nnear = [0, 0]", "near is as near to one arc as to another", "near = ["},
	} {
		text := tangentJob(c.a, c.b, c.arc)
		_, found := job.Read("job.toml", []byte(text))
		if len(found) != 1 || !strings.Contains(found.Error(), c.want) || !strings.Contains(found[0].Hint, c.hint) {
			t.Errorf("%s:\n%v\nhint: %v\nwant %s\nhint: %s", c.name, found, hints(found), c.want, c.hint)
			continue
		}
		if m := regexp.MustCompile(`at (?:least|most) ([0-9.]+)`).FindStringSubmatch(found[0].Hint); m != nil {
			text = regexp.MustCompile(`radius = [0-9.]+\n(near|\[inlay)`).ReplaceAllString(text, "radius = "+m[1]+"\n$1")
		} else {
			text = strings.Replace(regexp.MustCompile(`near = .*\n`).ReplaceAllString(text, ""), "[inlay]", regexp.MustCompile(`near = .*`).FindString(found[0].Hint)+"\n[inlay]", 1)
		}
		joined(t, text)
	}
	for arc, want := range map[string]string{
		"":                             "radius is missing",
		"radius = 10\nsweep = 4":       "sweep doesn't go with tangent",
		"radius = 10\nnear = \"A\"":    `there is no point "A"`,
		"radius = 10\ncenter = [0, 0]": "center doesn't go with tangent",
	} {
		_, found := job.Read("job.toml", []byte(tangentJob(barX, railY, arc)))
		if len(found) != 1 || !strings.Contains(found.Error(), want) {
			t.Errorf("%q: %v, want %s", arc, found, want)
		}
	}
	for text, want := range map[string]string{
		tangentJob(circleRound(geom.Pt(0, 0), 20), lineFrom(geom.Pt(-60, 30), geom.Pt(60, 30)), "radius = 10\nnear = [20, 20]"): "bar is closed, and bend joins it at one place only",
		tangentJob(barX, railY, "radius = 12\n[[motif.arc]]\nname = \"too\"\ntangent = [\"bar\", \"rail\"]\nradius = 6"):        "bend and too both go on from the same end of bar",
		strings.Replace(tangentJob(barX, railY, "radius = 12"), `"rail"]`, `"bend"]`, 1):                                        "the element bend is defined by itself",
		strings.Replace(tangentJob(barX, railY, "radius = 12"), "tangent", "near = [1, 2]\ncenter = [0, 0]\n#", 1):              "near doesn't go with center",
	} {
		_, found := job.Read("job.toml", []byte(text))
		if len(found) < 1 || !strings.Contains(found.Error(), want) {
			t.Errorf("%v\nwant %s", found, want)
		}
	}
}

func hints(found diag.Findings) (all []string) {
	for _, f := range found {
		all = append(all, f.Hint)
	}
	return all
}

// A polygon with looped corners: its sides run on by r tan(pi/n) past each corner to a
// loop of 2 pi - 2 pi / n, in all n (2 R tan(pi/n) + 2 r tan(pi/n) + r (2 pi - 2 pi/n))
// round (closed form). One side and one loop, tangent to the side's next copy, make it.
func TestTangentToCopy(t *testing.T) {
	for n := 3; n <= 8; n++ {
		for _, inGroup := range []bool{false, true} {
			const R, r = 60.0, 12.0
			half := math.Pi / float64(n)
			far := (R+r)/math.Cos(half) + r
			text := fmt.Sprintf("units = \"mm\"\n[motif]\n[[motif.line]]\nname = \"bar\"\nfrom = [-300, %g]\nto = [300, %g]\n[[motif.arc]]\nname = \"loop\"\ntangent = [\"bar\", \"bar.2\"]\nradius = %g\nlong = true\nnear = { r = %.12g, a = %.12g }\n",
				R, R, r, far, 90+180/float64(n))
			if copies := fmt.Sprintf("copies = %d\n", n); inGroup {
				text += "[[motif.group]]\nof = [\"loop\", \"bar\"]\n" + copies
			} else {
				text = strings.Replace(text, "[motif]\n", "[motif]\n"+copies, 1)
			}
			j := read(t, text+"[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n")
			m, found := motif.Build(j.Motif)
			if found.HasErrors() || len(m.Strands) != 1 || !m.Strands[0].Contour.Closed {
				t.Fatalf("%d corners: %d strands, %v", n, len(m.Strands), found)
			}
			want := float64(n) * (2*(R+r)*math.Tan(half) + r*(2*math.Pi-2*half))
			if got := m.Strands[0].Length(); math.Abs(got-want) > 1e-9 {
				t.Errorf("%d corners, in a group: %v: %g round, want %g", n, inGroup, got, want)
			}
			if k := kink(m.Strands[0].Contour); k > 1e-9 {
				t.Errorf("%d corners: a kink of %g", n, k)
			}
		}
	}
	// An arc that joins a line to its own reflection: a point rounded off, with its centre on
	// the axis.
	text := "units = \"mm\"\n[motif]\nmirror = true\n[[motif.line]]\nname = \"bar\"\nfrom = [-60, 0]\nto = [60, 40]\n[[motif.arc]]\ntangent = [\"bar\", \"bar.2\"]\nradius = 12\n" +
		"[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
	m, found := motif.Build(read(t, text).Motif)
	slope := math.Atan2(40, 120)
	if want := 2*(math.Hypot(120, 40)-12/math.Tan(slope)) + 12*(math.Pi-2*slope); found.HasErrors() || len(m.Strands) != 1 || math.Abs(m.Strands[0].Length()-want) > 1e-9 {
		t.Errorf("the rounded point: %d strands, %v, %g long, want %g", len(m.Strands), found, m.Strands[0].Length(), want)
	}
	for name, want := range map[string]string{"bar.3": "tangent: bar has copies 1 to 2, and no \"3\"", "bar.0": "no \"0\"", "bar.x": "no \"x\"", "bar.1": "names one element twice", "baar.2": "there is no element \"baar\""} {
		text := strings.Replace(strings.Replace(tangentJob(barX, railY, "radius = 4"), "[motif]", "[motif]\ncopies = 2", 1), `"rail"]`, `"`+name+`"]`, 1)
		_, found := job.Read("job.toml", []byte(text))
		if len(found) != 1 || !strings.Contains(found.Error(), want) {
			t.Errorf("%s: %v, want %s", name, found, want)
		}
	}
}

// Elements that were drawn to the arc's ends, to two decimals, are joined by it as those
// that run on past them are: one smooth strand, whatever the decimals.
func TestTangentToDecimals(t *testing.T) {
	two := func(p geom.Point) geom.Point { return geom.Pt(math.Round(p.X*100)/100, math.Round(p.Y*100)/100) }
	rapid.Check(t, func(t *rapid.T) {
		u := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		a, turn, r := u(0, 6.28, "way"), u(0.5, 2.4, "turn"), math.Round(u(8, 40, "r")*100)/100
		corner, in, on := geom.Pt(u(-40, 40, "x"), u(-40, 40, "y")), geom.Polar(1, a), geom.Polar(1, a+turn)
		takes := r * math.Tan(turn/2)
		bar := lineFrom(two(corner.Sub(in.Scale(takes+50))), two(corner.Sub(in.Scale(takes))))
		rail := lineFrom(two(corner.Add(on.Scale(takes))), two(corner.Add(on.Scale(takes+50))))
		text := tangentJob(bar, rail, fmt.Sprintf("radius = %g", r))
		j, found := job.Read("job.toml", []byte(text))
		if j == nil {
			t.Fatalf("%s\n%v", text, found)
		}
		m, found := motif.Build(j.Motif)
		if found.Count(diag.Warning) > 0 || found.HasErrors() || len(m.Strands) != 1 {
			t.Fatalf("%s\n%d strands, %v", text, len(m.Strands), found)
		}
		c := m.Strands[0].Contour
		if k := kink(c); k > motif.Smooth || math.Abs(c.Length()-100-r*turn) > 0.2 {
			t.Fatalf("%s\n%g long, want %g; a kink of %g", text, c.Length(), 100+r*turn, k)
		}
	})
}
