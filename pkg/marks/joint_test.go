package marks

import (
	"math"
	"os"
	"regexp"
	"testing"

	"strapwork/pkg/geom"
)

// headLines are a job's title and units, which prepared gives it.
var headLines = regexp.MustCompile(`(?m)^(title|units) = .*$`)

// jointed are jobs as if they lay on the joints of a table.
func jointed(t *testing.T, stops bool) (list []drawn) {
	t.Helper()
	for _, name := range []string{"looped-triangle", "hall-table"} {
		text, err := os.ReadFile("../../testdata/jobs/" + name + ".toml")
		if err != nil {
			t.Fatal(err)
		}
		m := prepared(t, headLines.ReplaceAllString(string(text), ""))
		p := paramsOf(m)
		p.Joint = Joint{On: true, Stops: stops}
		m.Name = name
		m.marked, m.found = On(m.set, p)
		list = append(list, m)
	}
	return list
}

// However a panel is laid, there are strokes on the work's y axis near both of its rims, and
// none of the marks that were there before is lost for them.
func TestJointLine(t *testing.T) {
	for _, m := range jointed(t, false) {
		for i, p := range m.marked.Panels {
			for _, u := range m.marked.Plan.SetUps {
				if u.Panel != i {
					continue
				}
				lies := u.Position.Similarity()
				var onAxis []float64
				for _, c := range p.Marks {
					c = lies.Contour(c)
					if a, b := c.Start(), c.End(); c.Len() == 1 && math.Abs(a.X) < 1e-6 && math.Abs(b.X) < 1e-6 && a.Dist(b) > 3 {
						onAxis = append(onAxis, a.Y, b.Y)
					}
				}
				box := lies.Contour(p.Outline).Bounds()
				high, low := math.Inf(-1), math.Inf(1)
				for _, y := range onAxis {
					high, low = max(high, y), min(low, y)
				}
				// The rim on the axis may be a corner of the box, or lower.
				const near = 40
				if high < box.Max.Y-near || low > box.Min.Y+near {
					t.Errorf("%s, panel %s, set-up %d: the joint's line goes from %v to %v, the panel from %v to %v", m.Name, p.ID, u.Number, low, high, box.Min.Y, box.Max.Y)
				}
			}
		}
		if len(m.found) > 0 {
			t.Errorf("%s: %v", m.Name, m.found)
		}
	}
}

// Where a bit stops at a mark, both sides of the groove have left the edge by half of its
// slot, seen along a straight track; on an arc they have left it. The mark is beside the
// place, on the wall that the rider touches there.
func TestStopMarks(t *testing.T) {
	n := 0
	for _, m := range jointed(t, true) {
		size := m.Groove.Size
		for i, p := range m.marked.Panels {
			ups := upperEdges(setUpsOf(m.marked, i))
			for _, c := range p.Marks {
				if c.Len() != 1 || math.Abs(c.Length()-stopTick) > 1e-9 {
					continue
				}
				o := p.Openings[nearest(p, c.Start())]
				at, s := o.Cut.Line.Nearest(c.Start())
				_, way := o.Cut.Line.At(s)
				if math.Abs(c.Start().Dist(at)-size.Reach()-jointOff) > 0.01 || math.Abs(c.End().Sub(c.Start()).Unit().Dot(way)) > 0.01 {
					continue // something else as long: a letter's stroke
				}
				// Clear of the joint's line in one of the ways that the panel is laid.
				clear, straight := false, o.Cut.Line.Edge(0).IsLine() && o.Cut.Line.Len() == 1
				for _, e := range ups {
					off := func(q geom.Point) float64 { return q.Cross(e.up) }
					a, b := off(at.Add(way.Left().Scale(size.Width/2))), off(at.Sub(way.Left().Scale(size.Width/2)))
					least := 0.0
					if straight {
						least = size.Bit / 2 * math.Abs(way.Cross(e.up))
					}
					clear = clear || a > least-1e-6 && b > least-1e-6 || a < -least+1e-6 && b < -least+1e-6
				}
				if !clear {
					t.Errorf("%s, panel %s: stopping at %v the groove is still in the edge", m.Name, p.ID, at)
				}
				n++
			}
		}
	}
	if n < 10 {
		t.Errorf("only %d stop marks are there", n)
	}
}
