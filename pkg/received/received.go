// Package received judges template panels by what calipers say when they come
// from the shop, before they are near a router: what width of groove each track
// will make, and what mends it.
//
// The groove is as wide as the track, less the rider, plus the slot that the
// bit cuts. Tape of thickness t along one wall makes it t narrower; nothing but
// a file or a wider bit makes it wider. Lengths are mm.
package received

import (
	"fmt"
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
)

const (
	// Tolerance is by how much in mm a groove may be out and need no mending:
	// what makers work to.
	Tolerance = 0.02
	// uneven is by how much in mm one track's width may vary before it is told:
	// tape, which goes along a whole wall, doesn't mend it.
	uneven = 0.05
	// mostTape is the thickness in mm beyond which tape is too soft a wall.
	mostTape = 0.5
)

// An Opening is one track of a panel, and where its width is measured.
type Opening struct {
	ID      string // the panel's letter and a number from 1, in the panel's order: "A1"
	Panel   string
	Cut     string     // the cut that it makes with the panel unturned
	Nominal float64    // from wall to wall
	At      geom.Point // on the unturned panel: in the middle of its longest straight, or else of its longest arc
	Across  geom.Point // unit vector from wall to wall at At
	Curved  bool       // At is on an arc, so that the width is measured towards its centre
}

// Openings lists the tracks of all panels. A pivot's set has none.
func Openings(set template.Set, size groove.Size) []Opening {
	var list []Opening
	for _, p := range set.Panels {
		for i, o := range p.Openings {
			at, across, curved := place(o.Cut.Line)
			list = append(list, Opening{
				ID: template.TrackID(p.ID, i), Panel: p.ID, Cut: o.Cut.Name,
				Nominal: 2 * size.Reach(), At: at, Across: across, Curved: curved,
			})
		}
	}
	return list
}

// place is where calipers lie best.
func place(line geom.Contour) (at, across geom.Point, curved bool) {
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
		return geom.Point{}, geom.Pt(0, 1), false
	}
	t := best.Tangent(0.5)
	return best.Mid(), geom.Pt(-t.Y, t.X), !straight
}

// A Verdict is what becomes of a track.
type Verdict int

// The verdicts.
const (
	// Unknown: it was not measured.
	Unknown Verdict = iota
	// Good: it makes the groove that is wanted.
	Good
	// Tape: the groove comes out too wide, and tape mends it.
	Tape
	// Narrow: the groove comes out too narrow.
	Narrow
	// NoEntry: the rider doesn't go in.
	NoEntry
	// Wide: the groove comes out wider than tape can mend.
	Wide
	// BitWide: the bit alone cuts wider than the groove.
	BitWide
)

// String is the verdict's word in JSON.
func (v Verdict) String() string {
	switch v {
	case Unknown:
		return "unknown"
	case Good:
		return "good"
	case Tape:
		return "tape"
	case Narrow:
		return "narrow"
	case NoEntry:
		return "no-entry"
	case Wide:
		return "wide"
	case BitWide:
		return "bit-wide"
	}
	return fmt.Sprintf("verdict(%d)", int(v))
}

// A Groove is what a track will make. Widths mean nothing with the verdict
// Unknown.
type Groove struct {
	Opening
	Verdict Verdict
	Track   float64   // the narrowest reading
	Width   float64   // of the groove there: what tape is chosen by, so that none gets too narrow
	Widest  float64   // of the groove where the track is widest
	Off     float64   // Width less what is wanted
	Layers  []float64 // of the usual tapes, thickest first, within Tolerance of Off together; none where they don't come near
}

// Judge tells what every opening will make. Findings with errors say that
// something can't be mended, or is not known; warnings that something should
// be looked at.
func Judge(j *job.Job, c Card, openings []Opening) ([]Groove, diag.Findings) {
	g := judge{units: j.Units, card: c, wanted: j.Inlay.Width}
	g.tools()
	list := make([]Groove, 0, len(openings))
	for _, o := range openings {
		list = append(list, g.opening(o))
	}
	g.found.Sort()
	return list, g.found
}

type judge struct {
	units      unit.System
	card       Card
	wanted     float64
	rider, bit float64 // NaN where they were not measured
	found      diag.Findings
}

func (g *judge) say(mm float64) string { return unit.Format(mm, g.units) }

// tools takes the mean of the rider's and the bit's readings.
func (g *judge) tools() {
	g.rider, g.bit = g.card.Rider.Mean(), g.card.Bit.Mean()
	if math.IsNaN(g.rider) {
		g.card.errorf(&g.found, g.card.Rider, ruleUnmeasured, "the rider is not measured").
			Hintf("measure across it in three directions and write rider = [.., .., ..]")
	}
	if math.IsNaN(g.bit) {
		g.card.errorf(&g.found, g.card.Bit, ruleUnmeasured, "the bit is not measured").
			Hintf("cut a slot in scrap, measure the slot and write bit = ..")
	}
	if lo, hi := g.card.Rider.Span(); hi-lo > Tolerance+rounding {
		g.card.warnf(&g.found, g.card.Rider, "rider-not-round", "the rider's diameters differ by %s", g.say(hi-lo)).
			Hintf("a base with flats is no rider: turn it round, or take another")
	}
	if g.bit > g.wanted+Tolerance {
		g.card.errorf(&g.found, g.card.Bit, "bit-wide", "the bit cuts a slot of %s, and the groove is to be %s", g.say(g.bit), g.say(g.wanted)).
			Hintf("take a bit whose slot is at most %s", g.say(g.wanted))
	}
}

// rounding in mm is far under a caliper's last digit, and over the noise of
// arithmetic with its readings.
const rounding = 1e-6

// opening judges one track.
func (g *judge) opening(o Opening) Groove {
	out := Groove{Opening: o}
	r := g.card.Tracks[o.ID]
	lo, hi := r.Span()
	if len(r.Values) == 0 {
		g.card.errorf(&g.found, r, ruleUnmeasured, "the track %s is not measured", o.ID).
			Hintf("write %s = its width from wall to wall, below [track]", o.ID)
		return out
	}
	out.Track = lo
	if math.IsNaN(g.rider) || math.IsNaN(g.bit) {
		return out
	}
	out.Width, out.Widest = lo-g.rider+g.bit, hi-g.rider+g.bit
	out.Off = out.Width - g.wanted
	out.Verdict = g.verdict(out)
	if out.Verdict == Tape {
		out.Layers = layers(out.Off)
	}
	g.tell(out, r)
	if hi-lo > uneven+rounding {
		g.card.warnf(&g.found, r, "track-uneven", "the track %s varies by %s in width", o.ID, g.say(hi-lo)).
			Hintf("look for a bump or a burr on the walls, and measure again")
	}
	return out
}

func (g *judge) verdict(o Groove) Verdict {
	slack := Tolerance + rounding
	switch {
	case g.bit > g.wanted+slack:
		return BitWide // told once, with the bit
	case o.Track < g.rider-rounding && o.Off < -slack:
		return NoEntry
	case o.Off < -slack:
		return Narrow
	case o.Off <= slack:
		return Good
	case o.Off > mostTape:
		return Wide
	}
	return Tape
}

// tell writes the finding of a track that tape doesn't mend.
func (g *judge) tell(o Groove, r Reading) {
	short := g.say(-o.Off)
	switch o.Verdict {
	case NoEntry:
		g.card.errorf(&g.found, r, "no-entry", "the rider of %s doesn't go into the track %s of %s", g.say(g.rider), o.ID, g.say(o.Track)).
			Hintf("take %s off the walls with a file and a flat block, or have the panel cut again", short)
	case Narrow:
		g.card.errorf(&g.found, r, "narrow", "the track %s of %s makes a groove that is too narrow by %s", o.ID, g.say(o.Track), short).
			Hintf("take %s off a wall with a file and a flat block, or a bit that cuts a slot of %s", short, g.say(g.bit-o.Off))
	case Wide:
		g.card.errorf(&g.found, r, "wide", "the track %s of %s makes a groove that is too wide by %s, more than tape can mend", o.ID, g.say(o.Track), g.say(o.Off)).
			Hintf("take a bit that cuts a slot of %s, or have the panel cut again; was the kerf allowed for?", g.say(g.bit-o.Off))
	case Unknown, Good, Tape, BitWide:
	}
}
