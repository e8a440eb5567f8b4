package walljudge

import (
	"math"

	"strapwork/pkg/geom"
)

// readStrands takes the strands' lines and arcs and their corners.
func (j *judge) readStrands() {
	const side = 2.0
	j.bands, j.kites = newGrid(side), newGrid(side)
	for _, line := range j.Strands {
		var chain []curve
		n := len(line.Vertices)
		for i := range n {
			if i == n-1 && !line.Closed {
				break
			}
			v, w := line.Vertices[i], line.Vertices[(i+1)%n]
			if c := bulged(v.Point, w.Point, v.Bulge); c.length > 0 {
				chain = append(chain, c)
			}
		}
		j.chains = append(j.chains, chain)
		for i, c := range chain {
			j.bands.putAlong(c, j.h+j.r, len(j.pieces))
			j.pieces = append(j.pieces, c)
			if i > 0 || line.Closed {
				j.readCorner(chain[(i+len(chain)-1)%len(chain)], c)
			}
		}
	}
}

// A corner is where one curve ends and another begins with another heading.
type corner struct {
	in, out curve
	at      geom.Point
	outer   float64    // the side outside the turn: +1 left, -1 right
	tip     geom.Point // where the outer walls meet
	middle  geom.Point // of the bit that touches both
	ok      bool       // they meet, as they do in every groove that can be made
}

func (j *judge) readCorner(in, out curve) {
	u, v := in.heading(in.length), out.heading(0)
	turn := math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y)
	if math.Abs(turn) <= sharp {
		return
	}
	c := corner{in: in, out: out, at: in.at(in.length, 0), outer: -math.Copysign(1, turn)}
	var okTip, okMiddle bool
	c.tip, okTip = meet(in, c.outer*j.h, out, c.outer*j.h, c.at)
	c.middle, okMiddle = c.at, true
	if j.k > 0 {
		c.middle, okMiddle = meet(in, c.outer*j.k, out, c.outer*j.k, c.at)
	}
	c.ok = okTip && okMiddle
	j.kites.put(c.at, j.h+apart(c.at, c.tip), len(j.corners))
	j.corners = append(j.corners, c)
}

// leftOf looks at all places of a strand's groove.
func (j *judge) leftOf(strand int) {
	chain, closed := j.chains[strand], j.Strands[strand].Closed
	if len(chain) == 0 {
		return
	}
	var ends []end
	if !closed {
		ends = []end{j.end(chain, false), j.end(chain, true)}
	}
	for i, c := range chain {
		look := func(s, off float64) {
			p := c.at(s, off)
			for _, e := range ends {
				if e.spares(j, p) {
					return
				}
			}
			j.ask(p, strand)
		}
		along(c.length, Step, func(s float64) { look(s, j.h); look(s, -j.h) })
		n := 0.0
		along(c.length, across, func(s float64) {
			n++
			_, shift := math.Modf(n * golden)
			for o := shift*across - j.h; o < j.h; o += across {
				look(s, o)
			}
		})
		if i > 0 || closed {
			j.leftOfCorner(chain[(i+len(chain)-1)%len(chain)], c, strand)
		}
	}
}

// along visits 0 to length in equal steps.
func along(length, step float64, visit func(s float64)) {
	n := int(math.Ceil(length/step)) + 1
	for i := range n + 1 {
		visit(length * float64(i) / float64(n))
	}
}

// ask says how far a place is from what is cut.
func (j *judge) ask(p geom.Point, strand int) {
	best := 0.75 * j.cut.side // further off nothing was looked for
	for _, i := range j.cut.near(p) {
		best = math.Min(best, j.cuts[i].far(p))
		if best <= j.r+Over {
			return
		}
	}
	j.add(Fault{Kind: Left, At: p, Amount: best - j.r, Strand: strand})
}

// leftOfCorner looks at the places outside a corner, between its two outer
// walls, as far as the bit that touches both of them.
func (j *judge) leftOfCorner(in, out curve, strand int) {
	var c *corner
	for i := range j.corners {
		if j.corners[i].in == in && j.corners[i].out == out {
			c = &j.corners[i]
		}
	}
	if c == nil || !c.ok {
		return
	}
	sIn, _ := in.foot(c.middle)
	sOut, _ := out.foot(c.middle)
	look := func(p geom.Point) {
		a, offA := in.foot(p)
		b, offB := out.foot(p)
		offA, offB = offA*c.outer, offB*c.outer
		switch {
		case offA > j.h+1e-9 || offB > j.h+1e-9 || a < in.length || b > 0:
			return // not in the mitre
		case a > sIn && b < sOut && apart(p, c.middle) > j.r:
			return // in the tip
		}
		j.ask(p, strand)
	}
	far := apart(c.at, c.tip)
	along(far, Step, func(s float64) {
		along(j.h, Step, func(o float64) {
			look(in.at(in.length+s, o*c.outer))
			look(out.at(-s, o*c.outer))
		})
	})
}

// An end is a strand's flat end.
type end struct {
	at, into geom.Point  // and the direction into the strand
	tee      bool        // it lies on a strand: nothing is left there
	blind    bool        // a corner is too near to say what is left
	corners  [2]inCorner // with the left wall and with the right one
}

// inCorner is the bit where it touches a flat and a wall.
type inCorner struct {
	middle geom.Point
	out    geom.Point // the unit direction from it to where it touches the wall
}

// end looks at one end of an open strand.
func (j *judge) end(chain []curve, last bool) end {
	c := chain[0]
	e := end{at: c.at(0, 0), into: c.heading(0)}
	if last {
		c = chain[len(chain)-1]
		h := c.heading(c.length)
		e = end{at: c.at(c.length, 0), into: geom.Pt(-h.X, -h.Y)}
	}
	e.tee = j.onStrand(e.at, c)
	for i, side := range [2]float64{1, -1} {
		var ok bool
		if e.corners[i], ok = j.clearOf(e, chain, last, side); !ok {
			e.blind = true
		}
	}
	return e
}

// onStrand reports whether an end lies on a strand other than by its own curve.
func (j *judge) onStrand(p geom.Point, own curve) bool {
	const joined = 0.01 // mm; tees are joined to far less
	for _, i := range j.bands.near(p) {
		if c := j.pieces[i]; c != own && c.far(p) < joined {
			return true
		}
	}
	return false
}

// clearOf follows a parallel of a strand from its end, on the left for a side of 1
// and on the right for -1, to where it is the bit's radius from the flat.
func (j *judge) clearOf(e end, chain []curve, last bool, side float64) (in inCorner, ok bool) {
	const step = 0.01
	heading := e.into
	for i := range chain {
		c := chain[i]
		if last {
			c = chain[len(chain)-1-i].back()
		}
		first := c.heading(0)
		if math.Abs(heading.X*first.Y-heading.Y*first.X) > math.Sin(sharp) || heading.X*first.X+heading.Y*first.Y < 0 {
			return in, false
		}
		for s := 0.0; s <= c.length; s += step {
			p := c.at(s, side*j.k)
			if (p.X-e.at.X)*e.into.X+(p.Y-e.at.Y)*e.into.Y >= j.r {
				d := c.heading(s)
				return inCorner{p, geom.Pt(-d.Y*side, d.X*side)}, true
			}
		}
		heading = c.heading(c.length)
	}
	return in, false
}

// spares reports whether a place is one that the bit leaves at an end, or one
// that can't be judged: beyond the bit that touches the flat and a wall, between
// the ways from its middle to where it touches them.
func (e end) spares(j *judge, p geom.Point) bool {
	switch {
	case e.tee || apart(p, e.at) > j.h+j.r:
		return false
	case e.blind:
		return true
	}
	for _, c := range e.corners {
		v := geom.Pt(p.X-c.middle.X, p.Y-c.middle.Y)
		flat := geom.Pt(-e.into.X, -e.into.Y)
		det := flat.X*c.out.Y - flat.Y*c.out.X
		a, b := (v.X*c.out.Y-v.Y*c.out.X)/det, (flat.X*v.Y-flat.Y*v.X)/det
		if a >= -Over && b >= -Over && apart(p, c.middle) > j.r {
			return true
		}
	}
	return false
}
