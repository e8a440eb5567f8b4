package template

// Heights: whether bit, rider, template and board go together in the third
// dimension. Checked before anything is drawn. All heights are mm above the
// work's surface.

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
)

// Clearances in mm, common practice.
const (
	shankRoom   = 0.5 // between a shank and the sides of a slot, all round
	collarRoom  = 0.5 // between a collar's end and the work
	collarHold  = 2.0 // of collar against the wall
	bearingHold = 2.0 // of bearing against the wall
	boardEdge   = 3.0 // of wood between a groove and the board's edge
	leftUnder   = 3.0 // of board under the groove
)

// CheckHeights finds what doesn't go together, each with what would cure it.
func CheckHeights(j *job.Job, g groove.Groove) diag.Findings {
	c := heights{j: j, s: g.Size}
	switch j.Router.Guide {
	case job.GuideBase:
		c.base()
	case job.GuideBushing:
		c.bushing()
		c.rim()
	case job.GuideBearing:
		c.bearing()
		c.rim()
	case job.GuidePivot:
		c.pivot()
	}
	if j.Router.Guide != job.GuidePivot {
		c.margin()
	}
	c.board(g)
	return c.found
}

type heights struct {
	j     *job.Job
	s     groove.Size
	found diag.Findings
}

// shankInWork checks the shank against the groove itself.
func (c *heights) shankInWork() {
	r, depth := c.j.Router, c.j.Inlay.Depth
	if r.Flute == 0 || r.Flute >= depth {
		return
	}
	pos := c.j.Pos("router.flute")
	switch {
	case r.Shank == 0:
		c.found.Errorf(pos, "flute-short", "flutes of %.2f mm don't reach the groove's depth of %.2f mm, and the shank's size is not told", r.Flute, depth).
			Hintf("take a bit with flutes of at least %.2f mm, or add shank = its diameter", depth)
	case r.Shank > c.s.Width:
		c.found.Errorf(pos, "flute-short", "the shank of %.2f mm would rub in the groove of %.2f mm: the flutes are %.2f mm long, the groove %.2f mm deep",
			r.Shank, c.s.Width, r.Flute, depth).
			Hintf("take a bit with flutes of at least %.2f mm", depth)
	}
}

func (c *heights) base() {
	c.shankInWork()
	r, t, depth := c.j.Router, c.j.Template, c.j.Inlay.Depth
	if r.Flute == 0 {
		c.found.Notef(c.j.Pos("router"), "flute-unknown", "the flutes' length is not told: it must be more than %.2f mm, floor and depth together, or the shank narrower than the floor's slot of %.2f mm", t.Floor+depth, SlotWidth(c.s)).
			Hintf("add flute = ... and shank = ... to [router]")
		return
	}
	if t.Floor == 0 || r.Flute >= t.Floor+depth {
		return
	}
	pos := c.j.Pos("router.flute")
	slot := SlotWidth(c.s)
	switch {
	case r.Shank == 0:
		c.found.Errorf(pos, "flute-short", "flutes of %.2f mm are shorter than floor and depth together, %.2f mm, and the shank's size is not told", r.Flute, t.Floor+depth).
			Hintf("add shank = its diameter; or take flutes of at least %.2f mm, or a floor of at most %.2f mm", t.Floor+depth, math.Max(0, r.Flute-depth))
	case r.Shank+2*shankRoom > slot:
		c.found.Errorf(pos, "flute-short", "the shank of %.2f mm doesn't pass the floor's slot of %.2f mm, and flutes of %.2f mm are shorter than floor and depth together, %.2f mm",
			r.Shank, slot, r.Flute, t.Floor+depth).
			Hintf("take flutes of at least %.2f mm, or a floor of at most %.2f mm (0: the base stands on the work)", t.Floor+depth, math.Max(0, r.Flute-depth))
	}
}

func (c *heights) bushing() {
	c.shankInWork()
	r, t := c.j.Router, c.j.Template
	switch {
	case r.Collar == 0:
		c.found.Notef(c.j.Pos("router"), "collar-unknown", "the collar's length is not told: it must be less than the template's %.2f mm", t.Wall).
			Hintf("add collar = ... to [router]")
	case r.Collar > t.Wall-collarRoom:
		c.found.Errorf(c.j.Pos("router.collar"), "collar-long", "a collar of %.2f mm bottoms out on the work through a template of %.2f mm", r.Collar, t.Wall).
			Hintf("shorten the collar to at most %.2f mm, or make the template at least %.2f mm thick (wall)", t.Wall-collarRoom, r.Collar+collarRoom)
	case r.Collar < collarHold:
		c.found.Errorf(c.j.Pos("router.collar"), "collar-short", "a collar of %.2f mm has too little hold on the wall", r.Collar).
			Hintf("take a collar of at least %.2f mm", collarHold)
	}
	if r.Rider <= r.Bit {
		c.found.Errorf(c.j.Pos("router.rider"), "collar-thin", "a collar of %.3f mm leaves no room for the bit of %.3f mm inside it", r.Rider, r.Bit).
			Hintf("measure the collar's outside")
	}
}

func (c *heights) bearing() {
	r, t, depth := c.j.Router, c.j.Template, c.j.Inlay.Depth
	if r.Flute == 0 {
		c.found.Notef(c.j.Pos("router"), "flute-unknown", "the flutes' length is not told: it must be at least the depth, %.2f mm, and at the first pass the bearing above it must still touch the template's %.2f mm", depth, t.Wall).
			Hintf("add flute = ... to [router]")
		return
	}
	first := groove.Depths(depth, r.Bit)[0]
	pos := c.j.Pos("router.flute")
	if lowest := r.Flute - first; lowest > t.Wall-bearingHold {
		c.found.Errorf(pos, "bearing-high", "at the first depth of %.2f mm the bearing begins %.2f mm above the work, and the template is %.2f mm thick: the bit would eat the template", first, lowest, t.Wall).
			Hintf("take flutes of at most %.2f mm, or a template of at least %.2f mm (wall)", t.Wall-bearingHold+first, lowest+bearingHold)
	}
	if r.Flute < depth {
		c.found.Errorf(pos, "flute-short", "flutes of %.2f mm are shorter than the groove's depth of %.2f mm: the bearing would land on the work", r.Flute, depth).
			Hintf("take flutes of at least %.2f mm", depth)
	}
}

// pivot checks the reach through the bar, which is as thick as a wall would be,
// and whose hole is as wide as the bit.
func (c *heights) pivot() {
	c.shankInWork()
	r, t, depth := c.j.Router, c.j.Template, c.j.Inlay.Depth
	if r.Base == 0 {
		c.found.Notef(c.j.Pos("router"), "base-unknown", "the router's base is not told: the bar's end under it is drawn %.0f mm across", 2*padRadius).
			Hintf("add base = its diameter to [router]")
	}
	switch {
	case r.Flute == 0:
		c.found.Notef(c.j.Pos("router"), "flute-unknown", "the flutes' length is not told: it must be more than %.2f mm, bar and depth together, or the shank no wider than the bit", t.Wall+depth).
			Hintf("add flute = ... and shank = ... to [router]")
	case r.Flute < t.Wall+depth && (r.Shank == 0 || r.Shank > r.Bit):
		c.found.Errorf(c.j.Pos("router.flute"), "flute-short", "flutes of %.2f mm are shorter than bar and depth together, %.2f mm, and the shank doesn't pass the bar's hole of %.2f mm", r.Flute, t.Wall+depth, r.Bit).
			Hintf("take flutes of at least %.2f mm, or a bar of at most %.2f mm (template.wall)", t.Wall+depth, math.Max(0, r.Flute-depth))
	}
}

// rim checks that a base that stands on the template can't tip over its edge.
// The frame is of the wall's sheet and lies flush round the panel.
func (c *heights) rim() {
	r, t := c.j.Router, c.j.Template
	base := r.Base
	what, held := "panel's", c.s.Rider+t.Margin
	if t.Frame > 0 {
		what, held = "frame's", held+t.Frame
	}
	if base == 0 {
		c.found.Notef(c.j.Pos("router"), "base-unknown", "the router's base is not told: it must not hang over the %s rim, %.1f mm from the bit at the outermost opening", what, held).
			Hintf("add base = its diameter to [router]")
		return
	}
	if base/2 > held {
		c.found.Warnf(c.j.Pos("template.margin"), "base-tips", "the base of %.1f mm hangs over the %s rim by up to %.1f mm, and may tip", base, what, base/2-held).
			Hintf("make margin at least %.1f mm, or lay packing of the template's thickness flush round it", base/2-held+t.Margin)
	}
}

// margin checks the wood between the openings and the panel's edge.
func (c *heights) margin() {
	if t := c.j.Template; t.Margin < t.Web {
		c.found.Warnf(c.j.Pos("template.margin"), "margin-thin", "a margin of %.2f mm is less than the web of %.2f mm", t.Margin, t.Web).
			Hintf("make margin at least %.2f mm", t.Web)
	}
}

// board checks the groove against the work.
func (c *heights) board(g groove.Groove) {
	b := c.j.Board
	if b == nil {
		c.found.Notef(c.j.Pos("inlay.depth"), "board-unknown", "the board is not told: its size and thickness are not checked").
			Hintf("add [board] with size, thickness and origin")
		return
	}
	if left := b.Thickness - c.j.Inlay.Depth; left < leftUnder {
		c.found.Warnf(c.j.Pos("inlay.depth"), "board-thin", "only %.2f mm of the board are left under the groove", left).
			Hintf("make the groove at most %.2f mm deep, or take a thicker board", math.Max(0, b.Thickness-leftUnder))
	}
	lo, hi := b.Origin.Scale(-1), b.Size.Sub(b.Origin)
	told := map[int]bool{}
	for _, p := range g.Parts() {
		box := p.Bounds
		room := math.Min(math.Min(box.Min.X-lo.X, box.Min.Y-lo.Y), math.Min(hi.X-box.Max.X, hi.Y-box.Max.Y))
		if room >= boardEdge || told[p.Source.Element] {
			continue
		}
		told[p.Source.Element] = true
		at := box.Center()
		if room < 0 {
			c.found.Errorf(p.Source.Pos, "off-board", "the groove of %s near %s runs %.2f mm beyond the board's edge", p.Source.Name, motif.Place(at), -room).SetAt(at.X, at.Y).
				Hintf("move board.origin, make the motif smaller, or take a larger board")
		} else {
			c.found.Warnf(p.Source.Pos, "near-edge", "only %.2f mm of wood are left between the groove of %s near %s and the board's edge", room, p.Source.Name, motif.Place(at)).SetAt(at.X, at.Y).
				Hintf("keep at least %.0f mm: short grain at the edge breaks out", boardEdge)
		}
	}
}
