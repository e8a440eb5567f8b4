package plan

// Motifs for the tests.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// A ready job is made up to its cuts.
type ready struct {
	job    *job.Job
	groove groove.Groove
	cuts   []groove.Cut
}

func (r *ready) plan() Plan { return Make(paramsOf(r.job), &r.groove, r.cuts) }

// prepare runs the stages before planning.
func prepare(file string, text []byte) (ready, diag.Findings) {
	j, found := job.Read(file, text)
	if found.HasErrors() {
		return ready{}, found
	}
	m, found := motif.Build(j.Motif)
	if found.HasErrors() {
		return ready{}, found
	}
	w, found := weave.Build(m, j.Weave)
	if found.HasErrors() {
		return ready{}, found
	}
	g, found := groove.Build(groove.SizeOf(j.Inlay, j.Router, j.Template), m, w)
	if found.HasErrors() {
		return ready{}, found
	}
	cuts, found := Split(&g)
	return ready{j, g, cuts}, found
}

func mustPrepare(t testing.TB, text string) ready {
	t.Helper()
	r, found := prepare("test.toml", []byte("title = \"test\"\nunits = \"mm\"\n"+text))
	if found.HasErrors() {
		t.Fatalf("%v\n%s", found, text)
	}
	return r
}

// fromFile prepares one of the example jobs.
func fromFile(t testing.TB, name string) ready {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", name+".toml"))
	if err != nil {
		t.Fatal(err)
	}
	r, found := prepare(name+".toml", text)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return r
}

// A figure is a motif written down element by element.
type figure struct {
	copies int
	mirror bool
	paths  []geom.Contour // open, of lines and arcs up to a half circle; or circles
	data   []string       // more paths, as path data
}

// text writes the figure's [motif] with so many decimals.
func (f figure) text(decimals int) string {
	var s strings.Builder
	s.WriteString("[motif]\n")
	if f.copies > 1 {
		fmt.Fprintf(&s, "copies = %d\n", f.copies)
	}
	if f.mirror {
		s.WriteString("mirror = true\n")
	}
	for i, c := range f.paths {
		fmt.Fprintf(&s, "[[motif.path]]\nname = \"e%d\"\nd = %q\n", i+1, pathData(c, decimals))
	}
	for i, d := range f.data {
		fmt.Fprintf(&s, "[[motif.path]]\nname = \"d%d\"\nd = %q\n", i+1, d)
	}
	return s.String()
}

func pathData(c geom.Contour, decimals int) string {
	var s strings.Builder
	fmt.Fprintf(&s, "M %.*f %.*f", decimals, c.Start().X, decimals, c.Start().Y)
	for _, e := range c.Edges() {
		if e.IsLine() {
			fmt.Fprintf(&s, " L %.*f %.*f", decimals, e.B.X, decimals, e.B.Y)
			continue
		}
		ccw := 0
		if e.Bulge > 0 {
			ccw = 1
		}
		fmt.Fprintf(&s, " A %.*f %.*f 0 0 %d %.*f %.*f", decimals, e.Radius(), decimals, e.Radius(), ccw, decimals, e.B.X, decimals, e.B.Y)
	}
	if c.Closed {
		s.WriteString(" Z")
	}
	return s.String()
}

// listed writes the copies out one by one, turned and mirrored by hand, each
// moved by up to off in x and y.
func (f figure) listed(off float64, rng *rand.Rand) figure {
	var all figure
	for k := range max(1, f.copies) {
		for _, flipped := range [2]bool{false, true} {
			if flipped && !f.mirror {
				continue
			}
			for _, c := range f.paths {
				shift := geom.Pt(off*(2*rng.Float64()-1), off*(2*rng.Float64()-1))
				at := func(p geom.Point) geom.Point {
					if flipped {
						p.Y = -p.Y
					}
					return p.Turn(2 * math.Pi * float64(k) / float64(max(1, f.copies))).Add(shift)
				}
				all.paths = append(all.paths, mapped(c, at, flipped))
			}
		}
	}
	return all
}

func mapped(c geom.Contour, at func(geom.Point) geom.Point, flipped bool) geom.Contour {
	out := geom.Contour{Closed: c.Closed}
	for _, v := range c.Vertices {
		if flipped {
			v.Bulge = -v.Bulge
		}
		v.Point = at(v.Point)
		out.Vertices = append(out.Vertices, v)
	}
	return out
}

func bar(a, b geom.Point) geom.Contour { return geom.Chain(false, geom.Line(a, b)) }

// bow is an arc from a to b that rises by so much of its chord to the right.
func bow(a, b geom.Point, rise float64) geom.Contour {
	return geom.Chain(false, geom.Edge{A: a, B: b, Bulge: 2 * rise})
}

// Tools that the random figures are planned for.
const (
	bushing = "[router]\nguide = \"bushing\"\nrider = 30\nbit = 3.175\n"
	base    = "[router]\nguide = \"base\"\nrider = 100\nbit = 3.175\n"
	inlay   = "[inlay]\ndepth = 3\nwidth = 5.08\n"
)

// paramsOf are a job's.
func paramsOf(j *job.Job) Params {
	return Params{Turn: j.Template.Turn, Flip: j.Template.Flip && j.Router.Guide.TurnsOver(), Prefer: j.Template.Prefer}
}
