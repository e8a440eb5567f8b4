package job

import (
	"fmt"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

func (r *reader) readStock(top conf.Section) *work.Clamping {
	t, ok := top.Sub("stock")
	if !ok {
		return nil
	}
	s := &work.Clamping{Clearance: t.Length("clearance")}
	if !t.Given("clamp") {
		t.NoEffect("clearance", "there are no clamps")
		return s
	}
	for i, c := range t.List("clamp", mostListed) {
		s.Clamps = append(s.Clamps, r.clamp(c, diag.Key(fmt.Sprintf("stock.clamp.%d", i+1))))
	}
	t.Assume("")
	return s
}

func (r *reader) clamp(t conf.Section, key diag.Key) work.Clamp {
	c := work.Clamp{Box: geom.EmptyBox(), Key: key}
	c.Box = c.Box.Include(point(t, "from")).Include(point(t, "to"))
	if w, h := c.Box.Max.X-c.Box.Min.X, c.Box.Max.Y-c.Box.Min.Y; w <= 0 || h <= 0 {
		r.Faultf(t.Get("to"), conf.BadValue, "the clamp's corners make no rectangle: it is %s by %s", r.show(w), r.show(h)).
			Hintf("from and to are opposite corners, as [x, y]")
	}
	c.Height = t.Length("height")
	return c
}
