package preview

import (
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// at is where a label stands at a scale, as the page has it; false for nowhere.
func at(places []headPlace, scale float64) (geom.Point, bool) {
	var p geom.Point
	found := false
	for _, q := range places {
		if float64(q.From) > scale {
			break
		}
		if found = q.At != nil; found {
			p = geom.Pt(float64(q.At[0])+float64(q.Off[0])/scale, float64(q.At[1])+float64(q.Off[1])/scale)
		}
	}
	return p, found
}

// TestLabels: at every scale, also between those for which places are found, names
// cover no groove, no flag and one another, and at a larger one there are no fewer.
func TestLabels(t *testing.T) {
	p := page(t)
	h := labelsOf(p)
	var lines []region.Region
	for _, s := range p.Strands {
		lines = append(lines, region.Stroke(s.Line, p.Width/2-1e-3))
	}
	grooves := region.Union(lines...)
	if len(h.Names) != len(p.Strands) || len(h.Start) == 0 || len(h.Spots) != 3 {
		t.Fatalf("%d names of %d strands, %d places for the start, %d kinds of spots", len(h.Names), len(p.Strands), len(h.Start), len(h.Spots))
	}
	before := 0
	for scale := newPicture(p).least; scale < 200; scale *= 1.13 {
		var taken []region.Region
		for _, f := range faults(p.Program) {
			taken = append(taken, region.New(flagAt(f, scale)))
		}
		named := 0
		words := []string{startWord}
		places := [][]headPlace{h.Start}
		for i, s := range p.Strands {
			words, places = append(words, s.Name), append(places, h.Names[i])
		}
		for i, word := range words {
			middle, ok := at(places[i], scale)
			if !ok {
				continue
			}
			named++
			half := geom.Pt(letterWide*float64(len(word))/2, lineHigh/2).Scale(1 / scale)
			box := region.New(geom.Rect(geom.Box{Min: middle.Sub(half), Max: middle.Add(half)}))
			if !region.Intersect(box, grooves).Empty() {
				t.Errorf("at %.3g pixels to a mm %q covers a groove", scale, word)
			}
			for _, other := range taken {
				if !region.Intersect(box, other).Empty() {
					t.Errorf("at %.3g pixels to a mm %q covers a flag or another word", scale, word)
				}
			}
			taken = append(taken, box)
		}
		if named < before {
			t.Errorf("at %.3g pixels to a mm %d words have room, %d before", scale, named, before)
		}
		before = named
	}
	if want := len(p.Strands) + 1; before != want {
		t.Errorf("%d words of %d have room at the largest scale", before, want)
	}
}

// TestSpotLabels: the greatest of each kind has a place at every scale, outside its
// disc of at most 22 pixels.
func TestSpotLabels(t *testing.T) {
	p := page(t)
	for i, places := range labelsOf(p).Spots {
		list := p.Program.Report.Gouges
		if i > 0 {
			list = nil
			for _, s := range p.Program.Report.Left {
				if s.Chisel == (i == 2) {
					list = append(list, s)
				}
			}
		}
		if (len(places) > 0) != (len(list) > 0) || len(list) > 0 && places[0].From != 0 {
			t.Errorf("kind %d: %d spots, places %v", i, len(list), places)
		}
		for _, q := range places {
			if math.Hypot(float64(q.Off[0]), float64(q.Off[1])) < 22+lineHigh/2 {
				t.Errorf("kind %d stands on its disc: %v", i, q.Off)
			}
		}
	}
	if h := labelsOf(Page{}); len(h.Names) != 0 || len(h.Start) != 0 {
		t.Errorf("a page of nothing has the labels %+v", h)
	}
}
