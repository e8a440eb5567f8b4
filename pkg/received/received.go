// Package received judges template panels by what calipers say when they come
// from the shop, before they are near a router: what width of groove each track
// will make, and what repairs it.
//
// The groove is as wide as the track, less the rider, plus the slot that the
// bit cuts. Tape on the walls makes it narrower, half of it on each so that the
// middle stays where it is; nothing but a file or a wider bit makes it wider.
// Lengths are mm.
package received

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
)

const (
	// Tolerance is by how much in mm a groove may be out and need no repairing:
	// what makers work to.
	Tolerance = 0.02
	// Uneven is by how much in mm one track's width may vary before it is reported:
	// tape, which goes along a whole wall, doesn't repair it.
	Uneven = 0.05
	// MostTape is the thickness in mm, of both walls' together, beyond which tape is
	// too soft a wall.
	MostTape = 0.5
	// Small is by how much in mm a groove may be out and be left alone for a reason:
	// the thinnest tape would make it narrower than it is to be.
	Small = 0.05
)

// An Opening is one track of a panel, and where its width is measured.
type Opening struct {
	ID       string // the panel's letter and a number from 1, in the panel's order: "A1"
	Panel    string
	Cut      string     // the cut that it makes with the panel unturned
	Cuts     []Made     // all that it makes, in the order of work
	Nominal  float64    // from wall to wall
	EndToEnd float64    // over all, along the line from one end of its cut to the other; for a track that ends where it begins, along the x axis
	At       geom.Point // on the unturned panel: in the middle of its longest straight, or else of its longest arc
	Across   geom.Point // unit vector at At from the right wall to the left one, facing along the cut
	Curved   bool       // At is on an arc, so that the width is measured towards its centre
	Inner    bool       // and then the wall that lies along Across is the inner one
}

// Made is a cut that a track makes, by its number through the job, and the set-up in which
// it does.
type Made struct{ Number, SetUp int }

// Openings lists the tracks of all panels. A pivot's set has none.
func Openings(set template.Set, size groove.Size) []Opening {
	var list []Opening
	made := cutsOf(set.Plan)
	for _, p := range set.Panels {
		for _, o := range p.Openings {
			t := place(o.Cut.Line)
			t.Cuts = made[o.ID]
			t.ID, t.Panel, t.Cut, t.Nominal, t.EndToEnd = o.ID, p.ID, o.Cut.Name, 2*size.Reach(), endToEnd(o)
			list = append(list, t)
		}
	}
	return list
}

// cutsOf are the cuts that a plan's tracks make, by track.
func cutsOf(p plan.Plan) map[string][]Made {
	all := map[string][]Made{}
	for _, s := range p.SetUps {
		for _, t := range s.Made() {
			all[t.ID] = append(all[t.ID], Made{t.Number, s.Number})
		}
	}
	return all
}

// endToEnd is how long a track is over all.
func endToEnd(o template.Opening) float64 {
	var d geom.Point
	if o.Cut.Line.Len() > 0 {
		d = o.Cut.Line.End().Sub(o.Cut.Line.Start())
	}
	box := geom.EmptyBox()
	for _, c := range o.Area.Loops() {
		box = box.Join(geom.Turning(-math.Atan2(d.Y, d.X)).Contour(c).Bounds())
	}
	return box.Size().X
}

// place is where calipers lie best.
func place(line geom.Contour) Opening {
	var best geom.Edge
	straight, longest := false, 0.0
	for i := range line.Len() {
		e := line.Edge(i)
		s := e.Bulge == 0
		if s == straight && e.Length() > longest || s && !straight {
			best, straight, longest = e, s, e.Length()
		}
	}
	if longest == 0 {
		return Opening{Across: geom.Pt(0, 1)}
	}
	t := best.Tangent(0.5)
	return Opening{At: best.Mid(), Across: geom.Pt(-t.Y, t.X), Curved: !straight, Inner: best.Bulge > 0}
}

// A Verdict is what becomes of a track.
type Verdict int

// The verdicts.
const (
	// Unknown: it was not measured.
	Unknown Verdict = iota
	// Good: it makes the groove that is wanted, or one so near that it is left.
	Good
	// Tape: the groove comes out too wide, and tape brings it back to size.
	Tape
	// Narrow: the groove comes out too narrow.
	Narrow
	// NoEntry: the rider doesn't go in.
	NoEntry
	// Wide: the groove comes out wider than tape can fix.
	Wide
	// BitWide: the bit alone cuts wider than the groove.
	BitWide
)

var verdictWords = [...]string{
	Unknown: "unknown",
	Good:    "good",
	Tape:    "tape",
	Narrow:  "narrow",
	NoEntry: "no-entry",
	Wide:    "wide",
	BitWide: "bit-wide",
}

// String is the verdict's word in JSON.
func (v Verdict) String() string { return unit.Word(verdictWords[:], v, "verdict") }

// A Groove is what a track will make. Widths mean nothing with the verdict
// Unknown.
type Groove struct {
	Opening
	Verdict Verdict
	Asked   bool      // a reading of it is a slip of the pen, and none is used
	Track   float64   // the narrowest reading, which decides whether the rider goes in
	Broad   float64   // and the widest
	Width   float64   // of the groove where the track is narrowest: what tape is chosen by, so that none gets too narrow
	Widest  float64   // of the groove where the track is widest
	Off     float64   // Width less what is wanted
	Tape    Taping    // with the verdict Tape: of the usual tapes, within Tolerance of Off together; none where they don't come near
	Why     unit.Text // with the verdict Good, why a groove that is out by more than Tolerance is left as it is
}
