package job

// Corners of lines, rounded by arcs that are tangent to both sides.

import (
	"math"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A bend is a corner that may be rounded.
type bend struct {
	at     geom.Point
	in, on geom.Point // unit vectors along the sides
	turn   float64    // radians that the line turns through, to the left positive
	radius float64    // mm; 0: it stays sharp
}

// takes is how much of each side the arc takes, for a radius of 1 mm.
func (b bend) takes() float64 { return math.Tan(math.Abs(b.turn) / 2) }

// rounded is a line with its corners rounded as the table asks.
func (r *reader) rounded(t conf.Section, c geom.Contour) geom.Contour {
	given := t.Get("round")
	if given == nil || c.Len() == 0 {
		return c
	}
	bends, ok := r.bends(t, given, c)
	if !ok {
		return geom.Contour{}
	}
	if !r.roundsFit(given, bends, c) {
		return geom.Contour{}
	}
	radii := make([]float64, len(bends))
	for i, b := range bends {
		if b.turn != 0 {
			radii[i] = b.radius
		}
	}
	return c.Filleted(radii)
}

// bends are a line's points with how it turns there, and how they are to be rounded.
func (r *reader) bends(t conf.Section, given *conf.Value, c geom.Contour) ([]bend, bool) {
	n := len(c.Vertices)
	radii := make([]float64, n)
	if given.Kind == conf.KindList {
		items := t.Items("round", n)
		for i, v := range items {
			radii[i] = r.Length(v, "round", conf.NotNegative, "a length for each point, 0 where it stays sharp")
		}
		if len(items) != n {
			return nil, false
		}
	} else {
		for i := range radii {
			radii[i] = r.Length(given, "round", conf.Positive, t.Hint("round"))
		}
	}
	bends := make([]bend, n)
	for i, v := range c.Vertices {
		b := bend{at: v.Point}
		if !v.Finite() || math.IsNaN(radii[i]) {
			return nil, false // reported
		}
		if i > 0 || c.Closed {
			b.in = v.Sub(c.Vertices[(i+n-1)%n].Point).Unit()
		}
		if i < n-1 || c.Closed {
			b.on = c.Vertices[(i+1)%n].Sub(v.Point).Unit()
		}
		if corner := c.Closed || i > 0 && i < n-1; corner {
			b.turn, b.radius = math.Atan2(b.in.Cross(b.on), b.in.Dot(b.on)), radii[i]
		}
		if math.Pi-math.Abs(b.turn) < backSlack && b.radius > 0 {
			r.Faultf(given, conf.BadValue, "round: the line turns straight back at its point %d", i+1).Hintf("remove the point, or give its round as 0 in a list")
			return nil, false
		}
		bends[i] = b
	}
	return bends, true
}

// backSlack in radians is a line that turns straight back, and no corner that could be
// rounded.
const backSlack = 1e-3

// roundsFit makes rounds that are too large by a hair as large as they can be, and says
// those that are by more.
func (r *reader) roundsFit(given *conf.Value, bends []bend, c geom.Contour) bool {
	share := 1.0 // of what is asked for there is room for
	worst := 0
	for i := range c.Len() {
		a, b := bends[i], bends[(i+1)%len(bends)]
		side, want := a.at.Dist(b.at), a.radius*a.takes()+b.radius*b.takes()
		if want > 0 && side/want < share {
			share, worst = side/want, i
		}
	}
	if share == 1 {
		return true
	}
	a, b := bends[worst], bends[(worst+1)%len(bends)]
	point := (worst+1)%len(bends) + 1
	side := a.at.Dist(b.at)
	if (1/share-1)*side <= radiusShort {
		for i := range bends {
			bends[i].radius *= share
		}
		r.NoteAt(given.Off, ruleScaled, "round is a little too large for the side to point %d: taken as %s of it", point, percent(share))
		return true
	}
	f := r.Faultf(given, conf.BadValue, "round: the side of %s to point %d is too short for it", r.show(side), point)
	if given.Kind == conf.KindList {
		// Both give way alike, and what they are then is together as long as the side.
		var most []string
		for _, b := range []bend{a, b} {
			if b.radius > 0 {
				most = append(most, r.typed(unit.AtMost(b.radius*share)))
			}
		}
		f.Hintf("at most %s there", strings.Join(most, " and "))
	} else {
		f.Hintf("at most %s", r.typed(unit.AtMost(max(a.radius, b.radius)*share)))
	}
	return false
}

// percent is a share as a note has it.
func percent(share float64) string { return decimal(math.Floor(share*1e4)/100) + " %" }
