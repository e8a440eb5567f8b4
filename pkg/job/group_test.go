package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
)

// groupJob is a job of a bar, a bow and a ring in groups.
func groupJob(groups string) string {
	return `units = "mm"
[let]
reach = 40
[points]
A = [100, 50]
[motif]
[[motif.line]]
name = "bar"
from = [10, 5]
to = ["reach", 12]
[[motif.arc]]
name = "bow"
center = [5, 5]
radius = 20
start = 30
sweep = 100
[[motif.circle]]
name = "ring"
center = [300, 0]
radius = 10
` + groups + "\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
}

// A matrix takes (x, y) to (a x + b y + e, c x + d y + f).
type matrix struct{ a, b, c, d, e, f float64 }

func (m matrix) at(p geom.Point) geom.Point {
	return geom.Pt(m.a*p.X+m.b*p.Y+m.e, m.c*p.X+m.d*p.Y+m.f)
}

// after is m where n has been before.
func (m matrix) after(n matrix) matrix {
	return matrix{
		m.a*n.a + m.b*n.c, m.a*n.b + m.b*n.d, m.c*n.a + m.d*n.c, m.c*n.b + m.d*n.d,
		m.a*n.e + m.b*n.f + m.e, m.c*n.e + m.d*n.f + m.f,
	}
}

func turnBy(degrees float64) matrix {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return matrix{a: c, b: -s, c: s, d: c}
}

func moveBy(x, y float64) matrix { return matrix{a: 1, d: 1, e: x, f: y} }

// A set is a group's keys, and by hand what they do.
type set struct {
	copies, n, m int
	mirror       bool
	scale, turn  float64
	at, dn, dm   geom.Point
}

func drawSet(t *rapid.T, what string) set {
	u := func(k string, lo, hi float64) float64 {
		return math.Round(rapid.Float64Range(lo, hi).Draw(t, what+k)*100) / 100
	}
	i := func(k string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what+k) }
	return set{
		i("copies", 1, 3), i("n", 1, 3), i("m", 1, 2), rapid.Bool().Draw(t, what+"mirror"), u("scale", 0.2, 3), u("turn", -180, 180),
		geom.Pt(u("x", -90, 90), u("y", -90, 90)), geom.Pt(u("dx", 1, 90), u("dy", -9, 90)), geom.Pt(u("ex", -90, -1), u("ey", -9, 90)),
	}
}

func (s set) keys() string {
	return fmt.Sprintf("copies = %d\nmirror = %v\nscale = %g\nturn = %g\nat = [%g, %g]\nrepeat = [[%d, %g, %g], [%d, %g, %g]]\n",
		s.copies, s.mirror, s.scale, s.turn, s.at.X, s.at.Y, s.n, s.dn.X, s.dn.Y, s.m, s.dm.X, s.dm.Y)
}

// makes are the matrices, in order: repeats within copies, mirrored ones after the turned.
func (s set) makes() (all []matrix) {
	for mirrored := range 2 {
		for k := range s.copies {
			for j := range s.m {
				for i := range s.n {
					m := matrix{a: 1, d: 1 - 2*float64(mirrored)}
					m = turnBy(360 * float64(k) / float64(s.copies)).after(m)
					m = matrix{a: s.scale, d: s.scale}.after(m)
					m = moveBy(s.at.X, s.at.Y).after(turnBy(s.turn).after(m))
					all = append(all, moveBy(float64(i)*s.dn.X+float64(j)*s.dm.X, float64(i)*s.dn.Y+float64(j)*s.dm.Y).after(m))
				}
			}
		}
		if !s.mirror {
			break
		}
	}
	return all
}

// What a group makes of its elements is what matrices make of them by hand, one group in
// another too, in the order of the numbers, and the motif numbers them so.
func TestGroup(t *testing.T) {
	plain := read(t, groupJob(""))
	rapid.Check(t, func(t *rapid.T) {
		inner, outer := drawSet(t, "inner "), drawSet(t, "outer ")
		text := groupJob("[[motif.group]]\nname = \"outer\"\nof = [\"inner\", \"ring\"]\n" + outer.keys() + "[[motif.group]]\nname = \"inner\"\nof = [\"bow\", \"bar\"]\n" + inner.keys())
		j, found := job.Read("job.toml", []byte(text))
		if j == nil {
			t.Fatalf("%s\n%v", text, found)
		}
		next := 0
		for i, was := range plain.Motif.Elements {
			var want []matrix
			for _, o := range outer.makes() {
				if i == 2 {
					want = append(want, o)
					continue
				}
				for _, n := range inner.makes() {
					want = append(want, o.after(n))
				}
			}
			for k, m := range want {
				e := j.Motif.Elements[next]
				next++
				if e.Name != was.Name || e.Nth != k || e.Of != len(want) || e.Key != was.Key || e.Line != was.Line || e.Mirrored != (m.a*m.d-m.b*m.c < 0) {
					t.Fatalf("element %d of %s: %+v", k, was.Name, e)
				}
				for v, at := range was.Contour.Vertices {
					bulge := at.Bulge
					if e.Mirrored {
						bulge = -bulge
					}
					if got := e.Contour.Vertices[v]; !got.Near(m.at(at.Point), 1e-9) || got.Bulge != bulge {
						t.Fatalf("%s.%d: vertex %d is %v, want %v %v", was.Name, k+1, v, got, m.at(at.Point), bulge)
					}
				}
			}
		}
		if next != len(j.Motif.Elements) {
			t.Fatalf("%d elements, want %d", len(j.Motif.Elements), next)
		}
	})
}

// A group is fitted into a size with its copies, and keeps its proportions; a straight
// has no height (by hand).
func TestGroupSize(t *testing.T) {
	box := func(keys string, names ...string) geom.Box {
		b := geom.EmptyBox()
		for _, e := range read(t, groupJob("[[motif.group]]\n"+keys)).Motif.Elements {
			if e.Of > 0 {
				b = b.Join(e.Contour.Bounds())
			}
		}
		return b
	}
	for keys, want := range map[string]geom.Box{
		"of = [\"ring\"]\nsize = [60, 40]":                                                           {Min: geom.Pt(580, -20), Max: geom.Pt(620, 20)},
		"of = [\"ring\"]\ncopies = 4\nsize = [310, 620]\nat = \"A\"":                                 {Min: geom.Pt(-55, -105), Max: geom.Pt(255, 205)},
		"of = [\"ring\"]\nscale = \"1/2\"\nat = [-150, 0]\nturn = 90\nrepeat = [3, \"reach\", -1.5]": {Min: geom.Pt(-155, 142), Max: geom.Pt(-65, 155)},
	} {
		if got := box(keys); !got.Min.Near(want.Min, 1e-9) || !got.Max.Near(want.Max, 1e-9) {
			t.Errorf("%s: %v, want %v", keys, got, want)
		}
	}
	// Quarter turns are exact.
	if b := box("of = [\"ring\"]\ncopies = 4\nturn = 270"); b.Min != geom.Pt(-310, -310) || b.Max != geom.Pt(310, 310) {
		t.Errorf("four rings lie within %v", b)
	}
}

// What is wrong with a group is said once, at its place, with what to write.
func TestGroupMistakes(t *testing.T) {
	for groups, want := range map[string]string{
		"[[motif.group]]\nof = [\"baar\"]":                                                         `22:7: error: of: there is no element or group "baar"|did you mean bar?`,
		"[[motif.group]]\nof = [\"zzz\"]":                                                          `there is no element or group "zzz"|there are: bar, bow, ring, group`,
		"[[motif.group]]\ncopies = 3":                                                              `of is missing|of = ["bar", "ring"]`,
		"[[motif.group]]\nof = []":                                                                 "of names nothing|",
		"[[motif.group]]\nof = [3]":                                                                "of takes names of elements and groups, not a whole number|",
		"[[motif.group]]\nof = [\"bar\", \"bar\"]":                                                 "22:14: error: bar is in the group group already|",
		"[[motif.group]]\nof = [\"bar\"]\n[[motif.group]]\nof = [\"ring\", \"bar\"]":               "bar is in the group group already|of = [\"group\"]",
		"[[motif.group]]\nname = \"G\"\nof = [\"bar\", \"G\"]":                                     "the group G is in itself|G -> G: take",
		"[[motif.group]]\nname = \"G\"\nof = [\"H\"]\n[[motif.group]]\nname = \"H\"\nof = [\"G\"]": "the group G is in itself|G -> H -> G: take",
		"[[motif.group]]\nname = \"bar\"\nof = [\"ring\"]":                                         `the name "bar" is used twice|`,
		"[[motif.group]]\nof = [\"bar\"]\nscale = 2\nsize = [3, 3]":                                "scale and size are both given|",
		"[[motif.group]]\nof = [\"bar\"]\nsize = [3, 0]":                                           "size must be more than 0 both ways|",
		"[[motif.group]]\nof = [\"bar\"]\nscale = 0":                                               "scale must be more than 0|",
		"[[motif.group]]\nof = [\"bar\"]\nscale = \"2 mm\"":                                        "a share takes no unit|",
		"[[motif.group]]\nof = [\"bar\"]\nrepeat = 3":                                              "repeat must be how often, and how far along x and y|repeat = [3, 40, 0]",
		"[[motif.group]]\nof = [\"bar\"]\nrepeat = [3, 40]":                                        "repeat must be how often|repeat = [3, 40, 0]",
		"[[motif.group]]\nof = [\"bar\"]\nrepeat = [2.5, 40, 0]":                                   "repeat: how often must be a whole number, not a number|",
		"[[motif.group]]\nof = [\"bar\"]\nrepeat = [0, 40, 0]":                                     "repeat: how often must be 1 to 5000, not 0|the first counts",
		"[[motif.group]]\nof = [\"bar\"]\nrepeat = [2, 0, 0]":                                      "the repeats lie on one another|",
		"[[motif.group]]\nof = [\"bar\"]\nrepeat = [[2, 4, 0], [3000, 0, 4]]":                      "repeat makes more than 5000 of the group|",
		"[[motif.group]]\nof = [\"bar\"]\nrepeat = [[2, 4, 0], [2, 4, 0], [2, 0, 4]]":              "two for a grid, not 3|",
		"[[motif.group]]\nof = [\"bow\"]\ncopies = 360\nmirror = true\nrepeat = [9, 4, 0]":         "21:9: error: the group makes 6480 lines and arcs: more than 5000|at most 5000 copies",
		"[[motif.group]]\nof = [\"ring\"]\nscale = 1e9":                                            "21:9: error: the group goes beyond 100 m|is the unit right?",
		"[[motif.group]]\nof = [\"ring\"]\nrepeat = [200, 600, 0]":                                 "the group goes beyond 100 m|",
		"[[motif.group]]\nof = [\"bow\"]\nat = \"B\"":                                              `there is no point "B"|`,
	} {
		_, found := job.Read("job.toml", []byte(groupJob(groups)))
		text := ""
		for _, f := range found {
			text += f.Error() + "\nhint: " + f.Hint + "\n"
		}
		where, hint, _ := strings.Cut(want, "|")
		if len(found) != 1 || !strings.Contains(text, where) || !strings.Contains(text, hint) {
			t.Errorf("%s:\n%s\nwant %s, once", groups, text, want)
		}
	}
}

// A motif to two decimals whose copies join one another is the same by a group's copies as
// by its own, and as symmetric.
func TestGroupToDecimals(t *testing.T) {
	const text = `units = "mm"
[motif]
[[motif.line]]
name = "side"
from = [-183.60, 40.01]
to = [183.59, 40]
[[motif.arc]]
name = "loop"
center = [183.6, 105.98]
radius = 66
start = 270
sweep = 240
[inlay]
depth = 3
width = 4
[router]
guide = "none"
bit = 3
`
	var built [2]motif.Motif
	for i, way := range [2][2]string{{"[motif]\n", "[motif]\ncopies = 3\n"}, {"[inlay]", "[[motif.group]]\nof = [\"side\", \"loop\"]\ncopies = 3\n[inlay]"}} {
		m, found := motif.Build(read(t, strings.Replace(text, way[0], way[1], 1)).Motif)
		for _, f := range found {
			if f.Rule != "joined" {
				t.Errorf("way %d: %v", i, f)
			}
		}
		built[i] = m
		if turns := plan.Symmetry(m, false); len(turns) != 3 {
			t.Errorf("way %d falls on itself %d times", i, len(turns))
		}
	}
	if len(built[0].Strands) != 1 || len(built[1].Strands) != 1 {
		t.Fatalf("%d and %d strands", len(built[0].Strands), len(built[1].Strands))
	}
	a, b := built[0].Strands[0].Contour, built[1].Strands[0].Contour
	if a.Len() != b.Len() || !a.Closed || !b.Closed {
		t.Fatalf("%d and %d edges", a.Len(), b.Len())
	}
	for i, v := range a.Vertices {
		if !v.Near(b.Vertices[i].Point, motif.Same) {
			t.Errorf("vertex %d: %v and %v", i, v, b.Vertices[i])
		}
	}
}

// What is found in an element is said once, however many a group makes of it.
func TestGroupSaysOnce(t *testing.T) {
	legs := ""
	for i := range 13 {
		p := geom.Polar(40, float64(i)*5*math.Pi/180)
		legs += fmt.Sprintf("[%.4f, %.4f], ", p.X, p.Y)
	}
	j := read(t, groupJob("[[motif.line]]\nname = \"legs\"\nfit = true\npoints = ["+legs+"]\n[[motif.line]]\nname = \"again\"\nfit = true\npoints = ["+legs+"]\n"+
		"[[motif.group]]\nof = [\"legs\", \"again\"]\ncopies = 4\nat = [-300, 0]\n"))
	m, found := motif.Build(j.Motif)
	rules := map[string]int{}
	for _, f := range found {
		rules[f.Rule]++
	}
	if rules["fitted"] != 2 || rules["drawn-twice"] != 1 || len(rules) != 2 {
		t.Errorf("%v", found)
	}
	if len(m.Strands) != 7 { // three that are in no group, and four
		t.Errorf("%d strands", len(m.Strands))
	}
	for i, s := range m.Sources[3:] {
		if want := fmt.Sprintf("legs.%d", i+1); s.Name != want || s.Copy != i+1 || s.Element != 3 {
			t.Errorf("source %d is %+v, want %s", i, s, want)
		}
	}
}
