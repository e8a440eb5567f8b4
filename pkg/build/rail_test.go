package build

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/dxf"
	"strapwork/pkg/sheet"
)

// The rail's holes as a machine reads them: in the drawings' files every set-up has a circle
// of the pin's size whose x is the distance from the rail's zero end, and those of one panel
// that lies one way round are apart by what the plan shifts it. Panels have the holes of
// their plates.
func TestRailAsWritten(t *testing.T) {
	r := Build("edging.toml", edging("step = 3", "laser-900x600"), nil, Options{Only: Templates})
	if !r.OK() || r.Set.Rail == nil {
		t.Fatal(r.Findings)
	}
	rail := r.Set.Rail
	var holes []sheet.Hole
	pieces, panelHoles := 0, 0
	for _, f := range r.Files {
		if f.Kind != DXF || f.Role != "rail" && f.Role != "wall" {
			continue
		}
		d, err := dxf.Read(bytes.NewReader(f.Data))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range d.Circles {
			if c.Layer != layerOf(layout(r.Shop, Options{}), sheet.Pin) {
				continue
			}
			if f.Role == "wall" {
				panelHoles++
				continue
			}
			holes = append(holes, sheet.Hole{Center: c.Center, Radius: c.Radius})
		}
		if f.Role == "rail" {
			pieces++
			if !strings.HasPrefix(f.Path, "templates/rail-") {
				t.Errorf("a piece of the rail is %s", f.Path)
			}
		}
	}
	if pieces != rail.Pieces() || pieces < 2 || len(holes) != len(rail.Holes)+4*len(rail.Joints) {
		t.Fatalf("%d pieces with %d holes", pieces, len(holes))
	}
	plates := 0
	for _, p := range r.Set.Panels {
		plates += len(p.Plates)
	}
	if panelHoles != 2*plates {
		t.Errorf("%d holes in panels for %d plates", panelHoles, plates)
	}
	for _, u := range r.Set.Plan.SetUps {
		h := rail.Holes[u.Number-1]
		i := slices.IndexFunc(holes, func(c sheet.Hole) bool {
			return math.Abs(c.Center.X-h.At) < 1e-6 && math.Abs(math.Abs(c.Center.Y)-rail.Rows[h.Row]) < 1e-6 && math.Abs(c.Radius-rail.Pin/2) < 1e-6
		})
		if i < 0 {
			t.Errorf("the rail has no hole for set-up %d at %g", u.Number, h.At)
		}
		for _, o := range r.Set.Plan.SetUps[:u.Number-1] {
			if o.Panel != u.Panel || o.Position.TurnDeg != u.Position.TurnDeg || o.Position.Flip != u.Position.Flip {
				continue
			}
			if apart, shift := h.At-rail.Holes[o.Number-1].At, u.Position.Shift.X-o.Position.Shift.X; math.Abs(apart-shift) > 1e-6 {
				t.Errorf("set-ups %d and %d are shifted by %g and their holes are %g apart", o.Number, u.Number, shift, apart)
			}
		}
	}
}
