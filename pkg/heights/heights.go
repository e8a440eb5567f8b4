// Package heights checks whether bit, rider, template and board go together in the
// third dimension, before anything is drawn. All heights are mm above the work's
// surface. What the shank has to pass is in shank.go.
package heights

import (
	"strapwork/pkg/aids"
	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Clearances in mm, common practice.
const (
	collarRoom  = 0.5 // between a collar's end and the work
	collarHold  = 2.0 // of collar against the wall
	bearingHold = 2.0 // of bearing against the wall
	boardEdge   = 3.0 // of wood between a groove and the board's edge
	leftUnder   = 3.0 // of board under the groove
)

// Params are what has heights.
type Params struct {
	Router   work.Router
	Template work.Template
	Depth    float64     // of the groove, mm
	Board    *work.Board // nil where nothing is said of it
	Apart    bool        // it is sections of a table, whose room for the motif is judged where they are cut
}

// Check finds what doesn't go together, each with what would cure it.
func Check(p Params, g groove.Groove) diag.Findings {
	c := heights{Params: p, s: g.Size}
	by := p.Router.Guide
	switch {
	case by.RidesBase():
		c.base()
	case by == work.GuideBushing:
		c.bushing()
	case by == work.GuideBearing:
		c.bearing()
	case by == work.GuidePivot:
		c.pivot()
	default:
		c.shank()
	}
	if c.stands() == work.OnTemplate {
		c.rim()
	}
	if by.HasPanels() {
		c.margin()
	}
	c.board(g)
	return c.found
}

type heights struct {
	Params
	s     groove.Size
	found diag.Findings
}

// stands is what the router's base stands on.
func (c *heights) stands() work.Stand { return c.Router.Guide.Stands(c.Template.Floor) }

func (c *heights) base() {
	t, depth := c.Template, c.Depth
	switch {
	case c.Router.Flute == 0 && c.stands() == work.OnWork:
		c.unknown("flute-unknown", unit.Say("the flutes' length is not stated in the job: it must be at least the groove's depth of %s, or the shank no wider than the groove", unit.AtLeast(depth)), "flute = ... and shank = ...")
	case c.Router.Flute == 0:
		c.unknown("flute-unknown", unit.Say("the flutes' length is not stated in the job: it must be at least %s, floor and depth together, or the shank must pass the floor's slot of %s", unit.AtLeast(t.Floor+depth), unit.Len(template.SlotWidth(c.s))), "flute = ... and shank = ...")
	default:
		c.shank()
	}
}

func (c *heights) bushing() {
	r, t := c.Router, c.Template
	switch {
	case r.Collar == 0:
		c.unknown("collar-unknown", unit.Say("the collar's length is not stated in the job: it must be at most %s, to stay clear of the work through a template of %s", unit.AtMost(t.Wall-collarRoom), unit.Len(t.Wall)), "collar = ...")
	case r.Collar > t.Wall-collarRoom+geom.Coincident:
		f := c.found.Errorf("router.collar", "collar-long", "a collar of %s bottoms out on the work through a template of %s", unit.Len(r.Collar), unit.Len(t.Wall))
		var ends cures
		if longest := t.Wall - collarRoom; longest >= collarHold {
			ends.add("router.collar", unit.AtMost(longest), "shorten the collar to at most %s")
		}
		ends.add("template.wall", unit.AtLeast(r.Collar+collarRoom), "make the template at least %s thick (wall)")
		ends.to(f, "")
	case r.Collar < collarHold:
		c.found.Errorf("router.collar", "collar-short", "a collar of %s is too short to bear on the template wall", unit.Len(r.Collar)).
			Hintf("take a collar of at least %s", unit.AtLeast(collarHold)).Propose("router.collar", unit.AtLeast(collarHold))
	}
	if r.RiderDiameter < r.Bit+2*collarWall-geom.Coincident {
		c.found.Errorf("router.rider", "collar-thin", "a collar of %s leaves no room for the bit of %s inside it", unit.Len(r.RiderDiameter), unit.Len(r.Bit)).
			Hintf("measure the collar's outside: a rider of at least %s leaves a wall of %s round the bit", unit.AtLeast(r.Bit+2*collarWall), unit.Len(collarWall)).
			Propose("router.rider", unit.AtLeast(r.Bit+2*collarWall))
	}
	c.shank()
}

func (c *heights) bearing() {
	c.bearingOnShank()
	r, t, depth := c.Router, c.Template, c.Depth
	if r.Flute == 0 {
		c.unknown("flute-unknown", unit.Say("the flutes' length is not stated in the job: it must be at least the depth, %s, and at the first pass the bearing above them must still touch the template of %s", unit.AtLeast(depth), unit.Len(t.Wall)), "flute = ...")
		return
	}
	first := groove.Depths(depth, r.Bit)[0]
	const key = "router.flute"
	if lowest := r.Flute - first; lowest > t.Wall-bearingHold+geom.Coincident {
		f := c.found.Errorf(key, "bearing-high", "at the first pass, %s deep, the bearing begins %s above the work, and the template is %s thick: the bit would cut the template", unit.Len(first), unit.Len(lowest), unit.Len(t.Wall))
		var ends cures
		if most := t.Wall - bearingHold + first; most >= depth {
			ends.add("router.flute", unit.AtMost(most), "flutes of at most %s")
		}
		ends.add("template.wall", unit.AtLeast(lowest+bearingHold), "a template of at least %s (wall)")
		ends.to(f, "take ")
	}
	if r.Flute < depth-geom.Coincident {
		short, deep := unit.Apart(r.Flute, depth)
		c.found.Errorf(key, "flute-short", "flutes of %s are shorter than the groove's depth of %s: the bearing would land on the work", short, deep).
			Hintf("take flutes of at least %s", unit.AtLeast(depth)).Propose("router.flute", unit.AtLeast(depth))
	}
}

// pivot checks the reach through the bar, which is as thick as a wall would be,
// and whose hole is as wide as the bit.
func (c *heights) pivot() {
	r, t, depth := c.Router, c.Template, c.Depth
	if r.BaseDiameter == 0 {
		c.unknown("base-unknown", unit.Say("the router's base is not stated in the job: the bar's end under it is drawn %s across", unit.Len(2*aids.PadRadius)), "base = its diameter")
	}
	if r.Flute == 0 {
		c.unknown("flute-unknown", unit.Say("the flutes' length is not stated in the job: it must be at least %s, bar and depth together, or the shank no wider than the bit", unit.AtLeast(t.Wall+depth)), "flute = ... and shank = ...")
		return
	}
	c.shank()
}

// unknown notes what the job doesn't state of the router, and what to add.
func (c *heights) unknown(rule string, what unit.Text, add string) {
	c.found.Notef("router", rule, "%s", what).Hintf("add %s to [router]", add)
}

// rim checks that a base that stands on the template can't tip over its edge.
// The frame is of the wall's sheet and lies flush round the panel.
func (c *heights) rim() {
	r, t := c.Router, c.Template
	base := r.BaseDiameter
	what, held := "panel's", c.s.RiderRadius+fixture.Margin(t)
	if t.Frame > 0 {
		what, held = "frame's", held+t.Frame
	}
	if base == 0 {
		c.unknown("base-unknown", unit.Say("the router's base is not stated in the job: it must not overhang the %s rim, %s from the bit at the outermost opening", what, unit.AtMost(held)), "base = its diameter")
		return
	}
	if over := base/2 - held; over > geom.Coincident {
		margin := unit.AtLeast(over + fixture.Margin(t))
		c.found.Warnf("template.margin", "base-tips", "the base of %s overhangs the %s rim by up to %s, and may tip", unit.Len(base), what, unit.Len(over)).
			Hintf("make margin at least %s, or pack round it, flush, with stock as thick as the template", margin).Propose("template.margin", margin)
	}
}

// margin checks the wood between the openings and the panel's edge.
func (c *heights) margin() {
	if t := c.Template; t.Margin < t.Web-geom.Coincident {
		margin, web := unit.Apart(t.Margin, t.Web)
		c.found.Warnf("template.margin", "margin-thin", "a margin of %s is less than the web of %s", margin, web).
			Hintf("make margin at least %s", unit.AtLeast(t.Web)).Propose("template.margin", unit.AtLeast(t.Web))
	}
}

// board checks the groove against the work.
func (c *heights) board(g groove.Groove) {
	b := c.Board
	if b == nil {
		c.found.Notef("inlay.depth", "board-unknown", "no [board] in the job: the board's size and thickness are not checked").
			Hintf("add [board] with size, thickness and origin")
		return
	}
	depth := c.Depth
	if left := b.Thickness - depth; left < leftUnder-geom.Coincident {
		f := c.found.Warnf("inlay.depth", "board-thin", "only %s of the board is left under the groove", unit.Len(left))
		var ends cures
		if most := b.Thickness - leftUnder; most >= leastDepth {
			ends.add("inlay.depth", unit.AtMost(most), "make the groove at most %s deep")
		}
		thickness := "board.thickness"
		if c.Apart {
			thickness = "table.thickness"
		}
		ends.add(thickness, unit.AtLeast(depth+leftUnder), "take a board at least %s thick")
		ends.to(f, "")
	}
	if !c.Apart {
		c.edges(g, b)
	}
}

// leastDepth is the depth in mm of groove under which no strip holds (common
// practice), so that no hint leads there.
const leastDepth = 0.5

// edges checks the groove against the board's edges, each element once.
func (c *heights) edges(g groove.Groove, b *work.Board) {
	lo, hi := b.Origin.Scale(-1), b.Size.Sub(b.Origin)
	said := map[int]bool{}
	for _, p := range g.Parts() {
		box := p.Bounds
		room := min(box.Min.X-lo.X, box.Min.Y-lo.Y, hi.X-box.Max.X, hi.Y-box.Max.Y)
		if room >= boardEdge-geom.Coincident || said[p.Source.Element] {
			continue
		}
		said[p.Source.Element] = true
		at := box.Center()
		near := unit.Place{X: at.X, Y: at.Y}
		switch {
		case room < -geom.Coincident:
			c.found.Errorf(p.Source.Key, "off-board", "the groove of %s near %s runs %s beyond the board's edge", p.Source.Name, near, unit.Len(-room)).SetAt(at.X, at.Y).
				Hintf("move board.origin, make the motif smaller, or take a larger board")
		default:
			c.found.Warnf(p.Source.Key, "near-edge", "%s is left between the groove of %s near %s and the board's edge", wood(room), p.Source.Name, near).SetAt(at.X, at.Y).
				Hintf("keep at least %s: short grain at the edge breaks out", unit.AtLeast(boardEdge))
		}
	}
}

// wood is so much of it, in words.
func wood(mm float64) unit.Text {
	if mm <= geom.Coincident {
		return unit.Say("no wood")
	}
	return unit.Say("only %s of wood", unit.Len(mm))
}
