package heights

// What the shank meets. A bit is fluted from its tip upwards; above the flutes is
// the shank. At the last depth it begins (flutes - depth) above the work, and from
// there up it must fit whatever it stands in: the groove, the floor's slot, a
// collar, a bar's hole. A bearing sits on the shank, just above the flutes.

import (
	"math"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Clearances in mm, common practice.
const (
	shankRoom   = 0.5 // between a shank and the sides of a slot, all round
	collarWall  = 0.5 // of a collar round what turns in it: less is no collar
	bearingRing = 1.0 // of a bearing round its shank, balls and all
	thinSheet   = 1.0 // no sheet for a floor, a wall or a bar is thinner
	thinShank   = 1.0 // no bit has a thinner shank
)

// A passage is what a bit stands in at the last depth.
type passage struct {
	what unit.Text
	top  float64 // how high above the work it ends
	room float64 // diameter of the thickest shank that turns in it
}

// passages are those of the job's guide, from the groove upwards.
func (c *heights) passages() []passage {
	r, t := c.Router, c.Template
	all := []passage{{unit.Say("the groove of %s", unit.Len(c.s.Width)), 0, c.s.Width}}
	switch {
	case c.stands() == work.OnFloor:
		slot := template.SlotWidth(c.s)
		all = append(all, passage{unit.Say("the floor's slot of %s", unit.Len(slot)), t.Floor, slot - 2*shankRoom})
	case r.Guide == work.GuideBushing:
		all = append(all, passage{unit.Say("the collar of %s", unit.Len(r.RiderDiameter)), t.Wall, r.RiderDiameter - 2*collarWall})
	case r.Guide == work.GuidePivot:
		all = append(all, passage{unit.Say("the bar's hole of %s", unit.Len(r.Bit)), t.Wall, r.Bit})
	}
	// A bearing stops the bit at the work, and keeps the shank off the wall.
	return all
}

// A blocked shank is what short flutes come to.
type blocked struct {
	by   []unit.Text // the passages it doesn't fit
	need float64     // flutes that keep the shank out of all of them
	room float64     // and a shank that fits all of them
}

// block adds a passage.
func (b *blocked) block(p passage, depth float64) {
	b.by = append(b.by, p.what)
	b.need, b.room = max(b.need, depth+p.top), min(b.room, p.room)
}

// shank checks the shank against all that it stands in.
func (c *heights) shank() {
	r, depth := c.Router, c.Depth
	if r.Flute == 0 {
		return
	}
	met := blocked{room: math.Inf(1)}
	for _, p := range c.passages() {
		switch {
		case r.Flute >= depth+p.top-geom.Coincident, r.ShankDiameter > 0 && r.ShankDiameter <= p.room+geom.Coincident:
		case r.ShankDiameter == 0 && r.Guide == work.GuideBushing && p.top > 0:
			// A collar is made for its router's shanks more often than not.
			if len(met.by) == 0 {
				c.unknown("shank-unknown", unit.Say("the shank's size is not stated in the job: it must be at most %s, to turn in the collar of %s", unit.AtMost(p.room), unit.Len(r.RiderDiameter)), "shank = its diameter")
			}
		default:
			met.block(p, depth)
		}
	}
	if len(met.by) == 0 {
		return
	}
	short, need := unit.Apart(r.Flute, met.need)
	var f *diag.Finding
	if r.ShankDiameter == 0 {
		f = c.found.Errorf("router.flute", "flute-short", "flutes of %s don't reach through %s, which takes %s, and the shank's size is not stated in the job", short, unit.List(met.by), need)
	} else {
		f = c.found.Errorf("router.flute", "flute-short", "the shank of %s doesn't fit %s, and flutes of %s don't keep it out: that takes %s", unit.Len(r.ShankDiameter), unit.List(met.by), short, need)
	}
	c.cureShank(f, met)
}

// cureShank says what each by itself ends a finding about the shank.
func (c *heights) cureShank(f *diag.Finding, met blocked) {
	r, depth := c.Router, c.Depth
	var ends cures
	ends.add("router.flute", unit.AtLeast(met.need), "flutes of at least %s")
	if r.ShankDiameter > 0 && met.room >= thinShank {
		ends.add("router.shank", unit.AtMost(met.room), "a shank of at most %s")
	}
	left := r.Flute - depth // what flutes and depth leave for what is above the work
	inGroove := left < -geom.Coincident
	switch {
	case inGroove:
	case c.stands() == work.OnFloor && left >= thinSheet:
		ends.add("template.floor", unit.AtMost(left), "a floor of at most %s")
	case c.stands() == work.OnFloor:
		ends.add("template.floor", unit.Len(0), "floor = %s, so that the base stands on the work")
	case r.Guide == work.GuidePivot && left >= thinSheet:
		ends.add("template.wall", unit.AtMost(left), "a bar of at most %s (template.wall)")
	case r.Guide == work.GuideBushing && r.ShankDiameter > 0:
		ends.add("router.rider", unit.AtLeast(r.ShankDiameter+2*collarWall), "a collar of at least %s (rider)")
	}
	lead := "take "
	if r.ShankDiameter == 0 {
		lead = "add shank = its diameter; or take "
	}
	ends.to(f, lead)
}

// bearingOnShank checks that the bearing is what rides, and not the shank.
func (c *heights) bearingOnShank() {
	r := c.Router
	switch {
	case r.ShankDiameter == 0:
		c.unknown("shank-unknown", unit.Say("the shank's size is not stated in the job: the bearing of %s sits on it, and must be larger", unit.Len(r.RiderDiameter)), "shank = its diameter")
	case r.RiderDiameter <= r.ShankDiameter+geom.Coincident:
		f := c.found.Errorf("router.shank", "bearing-shank", "a bearing of %s is no larger than the shank of %s that it sits on: the shank would ride the wall", unit.Len(r.RiderDiameter), unit.Len(r.ShankDiameter))
		var ends cures
		ends.add("router.rider", unit.AtLeast(r.ShankDiameter+2*bearingRing), "a bearing of at least %s (rider)")
		if thinner := r.RiderDiameter - 2*bearingRing; thinner >= thinShank {
			ends.add("router.shank", unit.AtMost(thinner), "a bit with a shank of at most %s")
		}
		ends.to(f, "take ")
	}
}

// cures are ways to end a finding, of which each does so by itself.
type cures struct {
	words  []unit.Text
	keys   []string
	values []unit.Quantity
}

// add is one way: to write a value for a key, or as the words have it, whose %s is
// the value.
func (c *cures) add(key string, value unit.Quantity, words string) {
	said := value
	if strings.Contains(words, "= %s") {
		said = value.Typed()
	}
	c.words, c.keys, c.values = append(c.words, unit.Say(words, said)), append(c.keys, key), append(c.values, value)
}

// to makes them the hint of a finding, behind what leads them in.
func (c *cures) to(f *diag.Finding, lead string) {
	f.Hintf("%s%s", lead, unit.Join(c.words, ", or "))
	for i, key := range c.keys {
		f.Propose(diag.Key(key), c.values[i])
	}
}
