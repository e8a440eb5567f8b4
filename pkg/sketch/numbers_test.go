package sketch_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/job"
	"strapwork/pkg/sheet"
	"strapwork/pkg/sketch"
)

// TestNumbers: every crossing has its number off the lines and off all others, as areas
// see it, or if they are crowded every column and row has a tick and some have numbers.
func TestNumbers(t *testing.T) {
	for _, p := range []struct {
		keys    string
		crowded bool
	}{
		{"[[motif.panel]]\nacross = 6\nup = 4\ncell = 24\nbreaks = [\"6,3 |\", \"5,4 -\"]", false},
		{"[[motif.border]]\nacross = 7\nup = 5\ncell = 24\nturn = 30\nbreaks = [\"4,1 -\"]", false},
		{"[[motif.panel]]\nacross = 20\nup = 20\ncell = 24\nturn = 30\nbreaks = [\"6,3 |\"]", true},
	} {
		j, found := job.ReadForDrawing("job.toml", []byte("units = \"mm\"\n[motif]\n"+p.keys), nil)
		if j == nil {
			t.Fatal(found)
		}
		const width = 3
		s := sketched(t, j.Motif, width)
		s.Numbers = j.Motif.Numbers
		pic := s.Picture()
		holdPage(t, pic)
		has := func(text string) bool {
			return slices.ContainsFunc(pic.Texts, func(s sheet.Text) bool { return s.String == text })
		}
		n := j.Motif.Numbers[0]
		if p.crowded {
			if !has("10") || !has("30") || has(n.Places[0].Text) {
				t.Errorf("%s: it isn't numbered along its rims", p.keys)
			}
			ticks := 0
			for _, f := range pic.Fills {
				if len(f.Loops) == len(n.Rims) {
					ticks++
				}
			}
			if ticks != 1 {
				t.Errorf("%s: there are no %d ticks", p.keys, len(n.Rims))
			}
			continue
		}
		var ink []region.Region
		for _, f := range pic.Fills {
			if f.Label == sketch.Drawn.String() {
				for _, c := range f.Loops {
					ink = append(ink, region.Stroke(c, f.StrokeWidth/2))
				}
			}
		}
		drawn := region.Union(ink...)
		for _, place := range n.Places {
			if !has(place.Text) {
				t.Errorf("%s: %s isn't shown", p.keys, place.Text)
			}
		}
		for _, text := range pic.Texts {
			if strings.Contains(text.String, ",") && text.Color != "" && text.Middle && !region.Intersect(region.New(geom.Rect(box(text))), drawn).Empty() {
				t.Errorf("%s: %s lies on a line", p.keys, fmt.Sprint(text))
			}
		}
	}
}
