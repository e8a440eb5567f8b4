package toolpath

// A strand's passes.
//
// The bit's centre runs along lanes: parallel curves of the strand's centre
// line, the outermost at the play k to either side. Lanes are even in number,
// and every other one is run back, so that the last ends where the first began.
// A lane turns outside corners at the meeting of its edges, which is the point
// T to which the bit may run (the groove's outer sides are b/2 further out),
// and inside corners at theirs.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
)

// A course is one strand to be cut, in the direction in which it is run.
type course struct {
	g       *groove.Groove // nil in scrap
	strand  int
	name    string
	line    geom.Contour
	tee     [2]bool // whether its start and end run into another strand
	cramped [2]bool // whether its start and end must be looked at closely
	plain   [2]bool // whether a straight way leads across all lanes at its start and end
	gap     float64 // how far apart lanes may be
	back    bool    // it is run against the strand's direction
	play    float64 // k: how far the bit's centre may go to either side
	slack   float64 // by which k is more than the groove's: that of a recut
	bit     float64
	single  bool // the centre line is the only lane
	bare    bool // though the bit has play: no lane can follow the walls
}

// prepare fills in what follows from the rest.
func (c course) prepare() course {
	c.gap = c.spacing()
	if !c.line.Closed {
		c.plain = c.findPlain()
	}
	return c
}

// reverse is the course run the other way.
func (c course) reverse() course {
	c.line = c.line.Reverse()
	c.tee[0], c.tee[1] = c.tee[1], c.tee[0]
	c.cramped[0], c.cramped[1] = c.cramped[1], c.cramped[0]
	c.plain[0], c.plain[1] = c.plain[1], c.plain[0]
	c.back = !c.back
	return c
}

// overlap is by how much in mm neighbouring lanes' cuts overlap at least: more
// than the wander of a slender bit, so that no ridge is left between them.
const overlap = 0.05

// overlap is by how much this bit's cuts overlap: a quarter of its own width at
// most.
func (c course) overlap() float64 { return min(overlap, c.bit/4) }

// spacing is how far apart two lanes may be along smooth stretches; what that
// leaves at corners is cut there (see tip.go).
func (c course) spacing() float64 { return c.bit - c.overlap() }

// smooth is the turn in radians that is no corner: the motif's limit for a smooth
// joint, half a degree, and room for rounding. At such a joint lanes b apart leave
// nothing that is worth a cut: b/2 (1 - cos(1/4 degree)) is b / 200,000.
const smooth = 0.51 * math.Pi / 180

// turn is the angle by which the direction changes from the end of e to the
// start of f.
func turn(e, f geom.Edge) float64 {
	u, v := e.Tangent(1), f.Tangent(0)
	return math.Atan2(u.Cross(v), u.Dot(v))
}

// thinnest is the distance in mm from the centre line under which lanes are one:
// half a step of a program's third decimal, which can't distinguish them. In the
// mitre of the sharpest corner, of 15 degrees, the bit then stops 1 / sin 7.5
// times that too early at most, 0.004 mm.
const thinnest = 0.0005

// lanes are the distances of lanes to the left of the course, in the order in
// which they are run, the outermost at k: the first has its wall on the left of
// a forward way, or on the right when climbing.
func (c course) lanes(k float64, climb bool) []float64 {
	if k < thinnest {
		return []float64{0}
	}
	n := int(math.Ceil(2*k/c.gap)) + 1
	n += n % 2
	if climb {
		k = -k
	}
	offsets := make([]float64, n)
	for i := range offsets {
		offsets[i] = k * (1 - 2*float64(i)/float64(n-1))
	}
	return offsets
}

// A layer is what is cut at one depth with one kind of passes.
type layer struct {
	depth   float64
	offsets []float64 // of the lanes
	rough   float64   // what is left at the sides and flat ends; 0: nothing
	role    Role      // Rough; else Forward
	cleared bool      // what is between its lanes is cut already
}

// layers are the course's layers from the top down.
func (c course) layers(o Params) []layer {
	walls := c.lanes(c.play, o.Climb)
	switch {
	case o.Widen > 0 && !c.single:
		return []layer{{depth: o.Depth, offsets: []float64{walls[0], -walls[0]}, role: Forward, cleared: true}}
	case c.single:
		walls = []float64{0}
	}
	inner, rough, role := walls, 0.0, Forward
	if o.Rough > 0 && !c.single {
		rough, role = o.Rough, Rough
		inner = c.lanes(c.play-o.Rough, o.Climb)
	}
	var list []layer
	for _, d := range o.depths(c.bit) {
		list = append(list, layer{depth: d, offsets: inner, rough: rough, role: role})
	}
	if role == Rough {
		list = append(list, layer{depth: o.Depth, offsets: []float64{walls[0], -walls[0]}, role: Forward, cleared: true})
	}
	return list
}

// passRole is the role of the way along the i-th lane of a layer.
func (c course) passRole(l layer, i int) Role {
	switch {
	case l.role == Rough:
		return Rough
	case len(l.offsets) == 1 && c.back:
		return Back
	case i == 0:
		return Forward
	case i == len(l.offsets)-1:
		return Back
	}
	return Between
}

// run is the course from its start, or for a ring from the distance s along it.
func (c course) run(o Params, s float64) (Run, error) {
	var r Run
	var err error
	if c.line.Closed {
		r, err = c.runRing(o, s)
	} else {
		r, err = c.runOpen(o)
	}
	if err != nil {
		return Run{}, err
	}
	return c.withTips(r, o), nil
}

// runOpen is the run of a strand with two ends. A layer of one lane ends at the
// far end: the next one is run back from there.
func (c course) runOpen(o Params) (Run, error) {
	if err := c.checkLanes(c.line); err != nil {
		return Run{}, err
	}
	var t tracer
	ways := map[layerKey][]geom.Contour{}
	for i, l := range c.layers(o) {
		key := layerKey{l.role, c.back}
		if ways[key] == nil {
			w, err := c.ways(l)
			if err != nil {
				return Run{}, err
			}
			ways[key] = w
		}
		w := ways[key]
		if i == 0 {
			t.at = w[0].Start()
		}
		t.begin(l.depth, c.passRole(l, 0))
		t.across(c.route(0, t.at, w[0].Start()))
		t.zigzag(w[0], -l.depth, o.Ramp)
		for j, way := range w {
			if j > 0 {
				t.begin(l.depth, c.passRole(l, j))
				if j == 1 {
					// The whole flat at the far end: that of the start comes last.
					t.across(c.route(1, t.at, w[len(w)-1].Start()))
				}
				t.across(c.route(j%2, t.at, way.Start()))
			}
			t.follow(way, -l.depth, c.passRole(l, j))
		}
		if len(w) > 1 {
			t.across(c.route(0, t.at, w[0].Start())) // along the flat where it began
		} else {
			c = c.reverse()
		}
	}
	return t.run(c), nil
}

// A layerKey identifies layers that are run along the same ways.
type layerKey struct {
	role Role
	back bool
}
