package dryrun

// Does the bit stay within the groove? The path of its middle must keep the
// bit's radius, less gougeOver, from the groove's boundary, on the inside. Nearly
// every path does and is done with; paths met before are known. Where one comes
// nearer, what counts is how far beyond the groove the bit's rim gets, which at
// an inner corner of the groove is less than how far its middle is too near: if
// one point of the rim doesn't settle it, the areas do.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/ngc"
)

const (
	// patch is the side in mm of the squares of the board within which gouges
	// are one place, and next to one another too: about as near as the eye
	// takes two marks for one.
	patch = 4.0

	// mostPatches bounds the places that are kept apart; the rest is one.
	mostPatches = 1 << 14

	// mostExact bounds the paths whose gouge is decided by areas, a
	// tenth of a millisecond each. A path beyond that is at fault if its middle is too
	// close to the boundary, which is the stricter rule.
	mostExact = 10000

	// mostSearched bounds the paths that gouge which are searched for their
	// worst place. Of more, the first place that gouges is enough.
	mostSearched = 2000

	// finest is the length in mm of the steps in which a long path is searched
	// for its worst point, and the most of them.
	finest    = 0.5
	mostSteps = 16
)

// over is how far a path goes beyond the groove: at least, as found at one
// point.
type over struct {
	amount float64
	at     geom.Point // of the cut
	from   geom.Point // where the bit's middle is then
}

// gouged is what one patch of the board suffers.
type gouged struct {
	first, firstCol int32
	moves           int
	depth           float64 // the deepest
	worst           over
	place           *gougePlace // that the patch belongs to, once they are made out
}

type gouger struct {
	wall    *wall
	grown   map[float64]*wall // for bits that are wider by some blend
	table   table
	bad     []over // of the strokes that gouge, by their number
	patches map[[2]int32]*gouged
	last    geom.Point // where the last path ended
	inside  bool       // and whether it was a good one
	exact   int

	bitten over // the last gouge that a point of the rim reported

	once  atOnce
	bites []bite // of the last move
}

func newGouger(w *Work) gouger {
	return gouger{wall: newWall(w.Groove.Area, w.Bit.Slot/2), grown: map[float64]*wall{}, patches: map[[2]int32]*gouged{}, once: newAtOnce(w)}
}

// bite is a place where too much is taken at once.
type bite struct {
	depth float64
	at    geom.Point
}

// takes keeps where a move takes too much at once. Rapids, and what is deeper than
// the groove, are at fault anyhow.
func (g *gouger) takes(m *ngc.Move, low leg, number int, before float64) {
	if depth, at, tooMuch := g.once.take(low, number, before, &g.table); tooMuch && cuts(m.Kind) && -low.lowest() <= g.once.most {
		g.bites = append(g.bites, bite{depth, at})
	}
}

// blendOf is what counts of how far a machine may leave a move's path. What may be
// left farther is a fault of its own.
func blendOf(m *ngc.Move) float64 {
	if m.Blend <= 0 {
		return 0
	}
	return blendStep * math.Ceil(math.Min(m.Blend, mostBlend)/blendStep-roundSlack)
}

// roundSlack takes a blend as being on a step, in steps.
const roundSlack = 1e-6

// wallFor is the wall for a bit that may be off its path by a blend: one that is
// wider by as much on its path reaches as far.
func (g *gouger) wallFor(blend float64) *wall {
	if blend <= 0 {
		return g.wall
	}
	w := g.grown[blend]
	if w == nil {
		w = newWall(g.wall.area, g.wall.bit+blend)
		g.grown[blend] = w
	}
	return w
}

// gouges holds the legs of a move against the groove and keeps what they cut.
func (g *gouger) gouges(m *ngc.Move, ls []leg) bool {
	g.bites = g.bites[:0]
	if straightUp(m) {
		return false // what it goes through is cut already
	}
	fault := false
	blend := blendOf(m)
	for _, l := range ls {
		low, ok := l.below(-surface)
		if !ok {
			continue
		}
		if low.point() {
			low.z0, low.z1 = low.lowest(), low.lowest()
		}
		number, before := g.table.find(low)
		s := g.table.at(number)
		if g.once.limit > 0 {
			g.takes(m, low, number, before)
		}
		if before == 0 || float64(s.blend) < blend {
			s.blend = float32(blend)
			g.look(s, low.Edge, g.wallFor(blend))
		}
		if s.gouge > 0 {
			g.note(m, low, g.bad[s.gouge-1])
			fault = true
		}
		g.last, g.inside = low.B, s.gouge == 0
	}
	return fault
}

// look judges a stroke and keeps how it gouges.
func (g *gouger) look(s *stroke, e geom.Edge, w *wall) {
	o, bad := g.judge(e, w)
	switch {
	case !bad:
	case s.gouge > 0: // it was found with less of a blend
		g.bad[s.gouge-1] = o
	default:
		g.bad = append(g.bad, o)
		s.gouge = int32(len(g.bad))
	}
}

// judge decides whether a path gouges.
func (g *gouger) judge(e geom.Edge, w *wall) (over, bool) {
	if o, ok := g.still(e, e.Mid()); ok {
		return o, true
	}
	if w.clear(e) && (g.inside && e.A == g.last || w.area.Contains(e.A)) {
		return over{}, false
	}
	if w.area.Empty() {
		return over{2 * w.bit, e.A, e.A}, true
	}
	rim := w.over(e, len(g.bad) < mostSearched)
	if rim.amount > gougeOver {
		g.bitten = rim
		return rim, true
	}
	if g.exact++; g.exact > mostExact {
		return over{gougeOver, e.Mid(), e.Mid()}, true
	}
	return w.beyond(e)
}

// still reports whether a short path gouges because the last one just by it did:
// a point of the rim gets no nearer to the groove than the bit moves. It makes
// long programs of crumbs that are all at fault as quick as good ones.
func (g *gouger) still(e geom.Edge, middle geom.Point) (over, bool) {
	by := middle.Sub(g.bitten.from)
	amount := g.bitten.amount - by.Norm()
	if e.Chord() > finest || by.Norm() > finest || amount < max(gougeOver, g.bitten.amount/2) {
		return over{}, false
	}
	return over{amount, g.bitten.at.Add(by), middle}, true
}

// note counts a gouge at its patch of the board.
func (g *gouger) note(m *ngc.Move, l leg, o over) {
	key := g.patch(o.at)
	p := g.patches[key]
	if p == nil {
		p = &gouged{first: m.Line, firstCol: m.Col}
		g.patches[key] = p
	}
	p.moves++
	p.depth = math.Max(p.depth, -l.lowest())
	if o.amount > p.worst.amount {
		p.worst = o
	}
}

// patch is the patch of a place; one beyond all others once there are too many.
func (g *gouger) patch(at geom.Point) [2]int32 {
	key := [2]int32{patchOf(at.X), patchOf(at.Y)}
	if g.patches[key] == nil && len(g.patches) >= mostPatches {
		return [2]int32{math.MaxInt32, math.MaxInt32}
	}
	return key
}

// patchOf is the patch along one axis; far off ones are one.
func patchOf(mm float64) int32 {
	const far = 1 << 30
	return int32(math.Max(-far, math.Min(far, math.Floor(mm/patch))))
}

// beyond decides by areas whether a path gouges, and says by how much at least.
func (w *wall) beyond(e geom.Edge) (over, bool) {
	cut := region.Subtract(stroked([]geom.Edge{e}, w.bit), w.allowedNear(e))
	if cut.Empty() {
		return over{}, false
	}
	o := over{amount: gougeOver, at: cut.Loops()[0].Start(), from: e.Mid()}
	for _, c := range cut.Loops() {
		for _, v := range c.Vertices {
			if d := w.area.Dist(v.Point); d > o.amount {
				o.amount, o.at = d, v.Point
			}
		}
	}
	return o, true
}

// allowedNear is the allowed area, or of a short path the part of it that lies
// about the path: a square of the board, grown by what the bit and the path reach
// beyond it.
func (w *wall) allowedNear(e geom.Edge) region.Region {
	if e.Length() > patch {
		return w.allowed
	}
	mid := e.Mid()
	key := [2]int32{patchOf(mid.X), patchOf(mid.Y)}
	part, ok := w.parts[key]
	if !ok {
		corner := geom.Pt(float64(key[0]), float64(key[1])).Scale(patch)
		box := geom.Box{Min: corner, Max: corner.Add(geom.Pt(patch, patch))}.Expand(w.bit + patch)
		part = region.Intersect(w.allowed, region.New(geom.Rect(box)))
		w.parts[key] = part
	}
	return part
}

// measure returns how far the bit goes beyond the groove along paths, and what
// it cuts there.
func (w *wall) measure(paths ...geom.Edge) (over, region.Region) {
	cut := region.Subtract(region.Union(strokes(paths, w.bit)...), w.area)
	if w.area.Empty() {
		return over{}, cut
	}
	d, at := furthest(cut, w.area.Dist)
	return over{amount: d, at: at}, cut
}
