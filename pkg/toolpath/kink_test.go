package toolpath

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// mostKink is the greatest turn in degrees of a smooth joint: the job file's
// promise.
const mostKink = 0.5

// ofContours is the groove of contours as they are: nothing joins or straightens
// them. Joints that turn by no more than mostKink are no corners.
func ofContours(t testing.TB, width, bit float64, lines ...geom.Contour) (groove.Groove, bool) {
	t.Helper()
	var paths []string
	for i := range lines {
		paths = append(paths, fmt.Sprintf("M 0 %d L 10 %d", 20*i, 20*i))
	}
	j, found := job.Read("test.toml", []byte(text(width, bit, paths...)))
	if found.HasErrors() {
		t.Fatal(found)
	}
	m, found := motif.Build(j.Motif)
	if found.HasErrors() || len(m.Strands) != len(lines) {
		t.Fatal(found)
	}
	for i, line := range lines {
		sources, corner := make([]int, line.Len()), make([]bool, len(line.Vertices))
		for k := range line.Len() {
			sources[k] = m.Strands[i].Sources[0]
			if k > 0 || line.Closed {
				a := math.Abs(turn(line.Edge((k+line.Len()-1)%line.Len()), line.Edge(k)))
				corner[k] = a > mostKink*degree
			}
		}
		m.Strands[i] = motif.NewStrand(m.Strands[i].ID, line, sources, corner)
	}
	wv, found := weave.Build(m, j.Weave)
	if found.HasErrors() {
		return groove.Groove{}, false
	}
	g, found := groove.Build(groove.SizeOf(j.Inlay, j.Router, j.Template), m, wv)
	if found.HasErrors() && testing.Verbose() {
		t.Log(found)
	}
	return g, !found.HasErrors()
}

// anyKink is a turn in radians of 1e-7 to 0.5 degrees, to either side, each
// magnitude as likely as any other.
func anyKink(rng *rand.Rand) float64 {
	const least = 1e-7
	deg := least * math.Pow(mostKink/least, rng.Float64())
	return math.Copysign(deg, rng.Float64()-0.5) * degree
}

// kinked is a smooth open chain of edges, and the same with a kink at each joint.
// Some edges are short.
func kinked(rng *rand.Rand) (smooth, bent geom.Contour) {
	start, heading := geom.Pt(100*rng.Float64(), 100*rng.Float64()), 2*math.Pi*rng.Float64()
	at := [2]geom.Point{start, start}
	angle := [2]float64{heading, heading}
	var edges [2][]geom.Edge
	for n := range 2 + rng.IntN(5) {
		length := 3 + 50*rng.Float64()
		if rng.IntN(4) == 0 {
			length = math.Pow(10, 2*rng.Float64()-1)
		}
		sweep := 0.0
		if rng.IntN(2) == 0 {
			sweep = math.Copysign(min(length/(8+100*rng.Float64()), 3), rng.Float64()-0.5)
		}
		kink := anyKink(rng)
		if n == 0 {
			kink = 0
		}
		angle[1] += kink
		for i := range at {
			chord := length
			if sweep != 0 {
				chord *= math.Sin(sweep/2) / (sweep / 2)
			}
			to := at[i].Add(geom.Polar(chord, angle[i]+sweep/2))
			edges[i] = append(edges[i], geom.Edge{A: at[i], B: to, Bulge: math.Tan(sweep / 4)})
			at[i], angle[i] = to, angle[i]+sweep
		}
	}
	return geom.Chain(false, edges[0]...), geom.Chain(false, edges[1]...)
}

// rounded is a smooth ring: the outline of a polygon round a point, its corners
// rounded.
func rounded(rng *rand.Rand) geom.Contour {
	n := 3 + rng.IntN(5)
	corners := make([]geom.Point, n)
	for i := range corners {
		corners[i] = geom.Polar(35+35*rng.Float64(), 2*math.Pi*(float64(i)+0.5*rng.Float64())/float64(n))
	}
	var edges []geom.Edge
	at := func(i int) geom.Point { return corners[(i+n)%n] }
	for i := range corners {
		p, in, out := at(i), at(i).Sub(at(i-1)), at(i+1).Sub(at(i))
		a := math.Atan2(in.Cross(out), in.Dot(out))
		cutOff := min(in.Norm(), out.Norm()) * (0.1 + 0.35*rng.Float64())
		from, to := p.Sub(in.Unit().Scale(cutOff)), p.Add(out.Unit().Scale(cutOff))
		if len(edges) > 0 {
			edges = append(edges, geom.Line(edges[len(edges)-1].B, from))
		}
		edges = append(edges, geom.Edge{A: from, B: to, Bulge: math.Tan(a / 4)})
	}
	edges = append(edges, geom.Line(edges[len(edges)-1].B, edges[0].A))
	c := geom.Chain(true, edges...)
	if rng.IntN(2) == 0 {
		c = c.Reverse()
	}
	return c.Rotate(rng.IntN(c.Len()))
}

// shaken is c with its vertices moved by as much as d and rounded.
func shaken(rng *rand.Rand, c geom.Contour, d float64, decimals int) geom.Contour {
	unit := math.Pow(10, float64(-decimals))
	r := geom.Contour{Closed: c.Closed}
	for _, v := range c.Vertices {
		v.Point = v.Add(geom.Polar(d*rng.Float64(), 2*math.Pi*rng.Float64()))
		v.X, v.Y = math.Round(v.X/unit)*unit, math.Round(v.Y/unit)*unit
		r.Vertices = append(r.Vertices, v)
	}
	return r
}

// moves is how many moves a plan has.
func moves(p Plan) int {
	n := 0
	for _, r := range p.Runs {
		for _, pass := range r.Passes {
			n += len(pass.Moves)
		}
	}
	return n
}

// notation is contours as the edges that make them, for a test's log.
func notation(lines ...geom.Contour) string {
	var s strings.Builder
	for _, c := range lines {
		fmt.Fprintf(&s, "closed %v:", c.Closed)
		for _, v := range c.Vertices {
			fmt.Fprintf(&s, " %v %v (%v)", v.X, v.Y, v.Bulge)
		}
		s.WriteString("; ")
	}
	return s.String()
}

// sameAsSmooth holds the plan of kinked lines to what every plan must keep and
// to the plan of smooth lines: as many moves but for a few, and the same area cut
// but for what the lines themselves are off, in mm on average.
func sameAsSmooth(t *testing.T, name string, width, bit float64, o Params, smooth, bent []geom.Contour, off float64) bool {
	t.Helper()
	g, ok := ofContours(t, width, bit, smooth...)
	h, alike := ofContours(t, width, bit, bent...)
	if !ok || !alike || len(g.Weave.Crossings) != len(h.Weave.Crossings) {
		return false
	}
	p, err := Make(&g, o)
	if err != nil {
		return false // shorter than the bit
	}
	if !checkPlan(t, name, h, o) {
		t.Log(notation(bent...))
		return true
	}
	q := plan(t, h, o)
	for _, fault := range secondOpinion(h, q) {
		t.Errorf("%s: the second judge: %v (%s)", name, fault, around(h, fault.At))
		t.Log(notation(bent...))
		break
	}
	if a, b := moves(p), moves(q); math.Abs(float64(a-b)) > 4+0.05*float64(a) {
		t.Errorf("%s: %d moves, where the smooth motif has %d", name, b, a)
		t.Log(notation(bent...))
	}
	if len(bent) == 1 && len(g.Weave.Crossings) == 0 {
		near(t, name+": area", cut(q).Area(), cut(p).Area(), 0.02+2*bent[0].Length()*off)
	}
	return true
}

// runs is how many random motifs a test takes: n, or as many as the variable MOTIFS
// says, for a long look; -short takes a tenth.
func runs(t *testing.T, n int) int {
	if testing.Short() {
		n = max(2, n/10)
	}
	if s := os.Getenv("MOTIFS"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil {
			t.Fatal(err)
		}
	}
	return n
}

// sizes are a groove's width, a bit for it and a way to cut.
func sizes(rng *rand.Rand) (width, bit float64, o Params) {
	width = 2 + 4*rng.Float64()
	bit = width * (0.3 + 0.7*rng.Float64())
	o = usual()
	o.Depth, o.Step = 2, 1
	o.Climb = rng.IntN(2) == 0
	o.Rough = float64(rng.IntN(2)) * 0.15
	if rng.IntN(3) == 0 {
		o.Ramp = 0
	}
	return width, bit, o
}

// Chains with kinks at every joint are cut as the same chains without.
func TestKinks(t *testing.T) {
	rng := rand.New(rand.NewPCG(71, 72))
	judged := 0
	for n := range runs(t, 100) {
		var lines [2][]geom.Contour
		for range 1 + rng.IntN(2) {
			a, b := kinked(rng)
			lines[0], lines[1] = append(lines[0], a), append(lines[1], b)
		}
		width, bit, o := sizes(rng)
		if sameAsSmooth(t, fmt.Sprintf("%d: width %.3f, bit %.3f", n, width, bit), width, bit, o, lines[0], lines[1], 0) {
			judged++
		}
	}
	if judged < 50 && !testing.Short() {
		t.Errorf("only %d chains were judged", judged)
	}
}

// Rings rounded to a few decimals, and shaken, are cut as the rings themselves.
func TestRoundedRings(t *testing.T) {
	rng := rand.New(rand.NewPCG(73, 74))
	judged := 0
	for n := range runs(t, 40) {
		ring := rounded(rng)
		decimals, shake := 2+rng.IntN(5), math.Pow(10, -9+7*rng.Float64())
		width, bit, o := sizes(rng)
		name := fmt.Sprintf("%d: %d decimals, shaken by %.1e, width %.3f, bit %.3f", n, decimals, shake, width, bit)
		bent := shaken(rng, ring, shake, decimals)
		if sameAsSmooth(t, name, width, bit, o, []geom.Contour{ring}, []geom.Contour{bent}, shake+math.Pow(10, float64(-decimals))) {
			judged++
		}
	}
	if judged < 20 && !testing.Short() {
		t.Errorf("only %d rings were judged", judged)
	}
}
