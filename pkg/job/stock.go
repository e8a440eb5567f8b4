package job

import (
	"fmt"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// defaultClearance between the bit and clamps is common practice: more
// than a clamp is put out of place by.
var defaultClearance = preset{mm: 3, inch: 1.0 / 8}

func (r *reader) readStock(t *node) *work.Clamping {
	if t == nil {
		return nil
	}
	if t.kind != nodeTable {
		r.wrongType(t, "stock", "a table", "write [stock] on a line of its own, or [[stock.clamp]] for each clamp")
		return nil
	}
	r.known("stock", t)
	s := &work.Clamping{}
	r.hinted("write what stays clear between bit and clamps: clearance = "+r.typed(unit.Len(defaultClearance.of(r.units))), func() {
		s.Clearance = r.presetOr(t, "clearance", notNegative, defaultClearance)
	})
	list := t.get("clamp")
	switch {
	case list == nil:
		r.noEffect(t, "clearance", "there are no clamps")
		return s
	case list.kind != nodeList:
		r.wrongType(list, "stock.clamp", "a list of tables", "write [[stock.clamp]], with double brackets")
		return s
	}
	r.atMost(list, "stock.clamp", mostListed)
	for i, c := range list.items {
		if c.kind != nodeTable {
			r.wrongType(c, "a clamp", "a table", "write [[stock.clamp]] and its keys below")
			continue
		}
		r.known("stock.clamp", c)
		s.Clamps = append(s.Clamps, r.clamp(c, diag.Key(fmt.Sprintf("stock.clamp.%d", i+1))))
	}
	r.assume("stock", t, "clearance", r.usual(defaultClearance))
	return s
}

func (r *reader) clamp(t *node, key diag.Key) work.Clamp {
	c := work.Clamp{Box: geom.EmptyBox(), Key: key}
	from, to := r.corner(t, "from", r.either("[-300, -200]", "[-12, -8]")), r.corner(t, "to", r.either("[-260, -150]", "[-10, -6]"))
	c.Box = c.Box.Include(from).Include(to)
	if w, h := c.Box.Max.X-c.Box.Min.X, c.Box.Max.Y-c.Box.Min.Y; w <= 0 || h <= 0 {
		r.errorf(ruleValue, t.get("to").off, "the clamp has no area: it is %s by %s", r.show(w), r.show(h)).
			Hintf("from and to are opposite corners, as [x, y]")
	}
	hint := "write how far it stands above the work: height = " + r.either("25", "1")
	r.hinted(hint, func() { c.Height = r.mustLength(t, "height", positive, hint) })
	return c
}

// corner is a corner of a clamp.
func (r *reader) corner(t *node, key, example string) geom.Point {
	hint := "write the corner's place: " + key + " = " + example
	p := geom.Pt(bad, bad)
	r.hinted(hint, func() {
		if n := r.required(t, key, hint); n != nil {
			p = r.point(n, key)
		}
	})
	return p
}
