package joint

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const (
	// Bridge is the least wood in mm between a groove and what lies under it, and between
	// that and a face: less breaks through, or shows later (common practice).
	Bridge = 2.0
	// deeper is how much deeper in mm than the pin's half a hole is bored (common practice).
	deeper = 2.0
	// paired is how far in mm two places may be out and be one.
	paired = 0.05
)

// reachOf is how far a pin and its hole reach from the joint on either side of it: a pin stands
// half in the one edge and half in the other, whichever it is glued into, and both were bored.
func reachOf(d work.Dowel) float64 { return d.Length/2 + deeper }

// checkDowels holds the pins to the grooves over them, to the wood round them, and to leaves
// that are turned.
func (p Params) checkDowels(found *diag.Findings) {
	for _, d := range p.Table.Dowels {
		if p.throughFaces(d.Key, "pin", d.Below, d.Diameter, found) {
			continue
		}
		all := p.overJoint(reachOf(d))
		for k, y := range d.At {
			if !p.offEnds(d, k, found) {
				p.underGroove(d, k, y, all, found)
			}
		}
		if p.Table.TurnLeaves {
			p.turns(d, found)
		}
	}
}

// throughFaces reports what comes through a face of the table, or too near to it.
func (p Params) throughFaces(key diag.Key, what string, below, thick float64, found *diag.Findings) bool {
	top, bottom := below-thick/2, p.Table.Thickness-below-thick/2
	least := math.Min(top, bottom)
	if least >= Bridge {
		return false
	}
	face, severity := "top", diag.Warning
	if bottom < top {
		face = "underside"
	}
	said := unit.Say("the %s leaves only %s of wood to the %s", what, unit.Len(least), face)
	if least <= 0 {
		severity, said = diag.Error, unit.Say("the %s comes through the %s", what, face)
	}
	f := diag.New(severity, key, "joint-thin", "%s: %s thick, with its middle %s under the top of a table of %s", said, unit.Len(thick), unit.Len(below), unit.Len(p.Table.Thickness))
	if middle := p.Table.Thickness / 2; middle-thick/2 >= Bridge {
		f.Hintf("put its middle %s under the top", unit.Len(middle)).Propose(key+".below", unit.Len(middle))
	} else if most := p.Table.Thickness - 2*Bridge; most > 0 {
		size := diag.Key("diameter")
		if what == "tongue" {
			size = "thickness"
		}
		f.Hintf("make %s at most %s, and put its middle half-way down", size, unit.AtMost(most))
	}
	found.Add(f)
	return severity == diag.Error
}

// offEnds reports a pin that stands off the joint's ends.
func (p Params) offEnds(d work.Dowel, k int, found *diag.Findings) bool {
	least, most := d.Diameter, p.Table.Width-d.Diameter
	y := d.At[k]
	if y-d.Diameter/2 > 0 && y+d.Diameter/2 < p.Table.Width {
		return false
	}
	key := diag.Key(fmt.Sprintf("%s.at.%d", d.Key, k+1))
	f := found.Errorf(key, "joint-off-end", "the pin of %s, %s, is not within the joint's length of %s", unit.Len(d.Diameter), fromFront(y), unit.Len(p.Table.Width))
	to := unit.AtLeast(least)
	if y > least {
		to = unit.AtMost(most)
	}
	f.Hintf("put it at %s, or further in", to).Propose(key, to)
	return true
}

// underGroove reports a pin that lies under a groove with too little wood between.
func (p Params) underGroove(d work.Dowel, k int, y float64, all []over, found *diag.Findings) {
	upper := d.Below - d.Diameter/2
	if upper >= p.Depth+Bridge {
		return
	}
	i := slices.IndexFunc(all, func(o over) bool { return o.meets(y, d.Diameter) })
	if i < 0 {
		return
	}
	severity := diag.Warning
	if upper <= p.Depth {
		severity = diag.Error
	}
	key := diag.Key(fmt.Sprintf("%s.at.%d", d.Key, k+1))
	f := diag.New(severity, key, "joint-dowel", "the groove of %s passes over the pin %s, in %s: %s deep, it %s",
		all[i].strand, fromFront(y), all[i].edge, unit.Len(p.Depth), p.bridgeOver(upper))
	p.setAt(&f, y)
	deep := p.Depth + Bridge + d.Diameter/2
	at, ok := p.clear(all, y, d.Diameter)
	lower := deep+d.Diameter/2+Bridge <= p.Table.Thickness
	where := unit.Say("move it along to %s from the front", unit.Len(at))
	if p.Table.TurnLeaves {
		where = unit.Say("%s, and the hole that mirrors it likewise", where)
	}
	down := unit.Say("put its middle %s under the top", unit.AtLeast(deep))
	switch {
	case ok && lower:
		f.Hintf("%s, or %s", where, down)
	case ok:
		f.Hintf("%s: this wood is too thin for it to lie deeper", where)
	case lower:
		f.Hintf("%s: grooves lie over the joint everywhere", down)
	default:
		f.Hintf("take a thinner pin: %s under the groove leave no room for this one", unit.AtMost(p.Table.Thickness-p.Depth))
	}
	if ok && !p.Table.TurnLeaves {
		f.Propose(key, unit.Len(at))
	}
	if lower {
		f.Propose(d.Key+".below", unit.AtLeast(deep))
	}
	found.Add(f)
}

// turns reports pins that don't meet holes where a leaf is put in end for end: what is at y of
// one edge is then at width - y of the other, and meets an edge that isn't turned.
func (p Params) turns(d work.Dowel, found *diag.Findings) {
	for k, y := range d.At {
		key := diag.Key(fmt.Sprintf("%s.at.%d", d.Key, k+1))
		mirror := p.Table.Width - y
		if math.Abs(mirror-y) < paired {
			found.Errorf(key, "joint-turned", "put in end for end, a leaf meets the pin in the middle of the joint with a pin").
				Hintf("take two off the middle, as far from it on either side: one in the left edge, one in the right")
			return
		}
		pin, hole := p.faces(mirror, d)
		if hole {
			continue
		}
		lacks := "has no hole"
		if pin {
			lacks = "has a pin too"
		}
		f := found.Errorf(key, "joint-turned", "put in end for end, a leaf has the pin %s at %s: the %s edge that it meets %s there", fromFront(y), unit.Len(mirror).Rough(), d.In, lacks)
		f.Hintf(`mirror pins and holes about the middle: a [[table.dowel]] with at = [%s] and in = "%s", alike but for that; or leave turn_leaves out`, unit.Len(mirror).Typed(), d.In.Other()).
			Propose("table.turn_leaves", unit.Say("false"))
		return
	}
}

// faces is what edges of the side that d stands in have at a place that is as thick and as far
// down as d: a pin, or the hole of one in the other side.
func (p Params) faces(y float64, d work.Dowel) (pin, hole bool) {
	for _, o := range p.Table.Dowels {
		if math.Abs(o.Diameter-d.Diameter) > paired || math.Abs(o.Below-d.Below) > paired {
			continue
		}
		if slices.ContainsFunc(o.At, func(at float64) bool { return math.Abs(at-y) < paired }) {
			pin, hole = pin || o.In == d.In, hole || o.In != d.In
		}
	}
	return pin, hole
}
