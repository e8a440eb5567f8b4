package cutlist

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// tabled lists the pieces of a table of an end and two leaves, each with one straight at 30
// degrees from its left to its right joint, and two bars over it in the end. The strands are not
// in the order of the sections.
func tabled(t *testing.T) List {
	t.Helper()
	slope := math.Tan(30 * math.Pi / 180)
	d := work.Drawing{Copies: 1}
	sections := []Section{{Name: "left", From: 0, To: 100}, {Name: "leaf", Nth: 1, From: 200, To: 260}, {Name: "leaf", Nth: 2, From: 360, To: 420}}
	line := func(x0, y0, x1, y1 float64) {
		d.Elements = append(d.Elements, work.Element{Name: fmt.Sprint(len(d.Elements)), Contour: geom.Chain(false, geom.Line(geom.Pt(x0, y0), geom.Pt(x1, y1)))})
	}
	line(340, 0, 440, 100*slope)
	line(20, 0, 120, 100*slope)
	line(180, 0, 280, 100*slope)
	line(40, -30, 40, 60)
	line(60, -30, 60, 60)
	m, found := motif.Build(d)
	w, more := weave.Build(m, work.Weaving{FirstOver: true})
	if found.Add(more...); found.HasErrors() {
		t.Fatal(found)
	}
	p := inlay.Params{Strips: layup, Width: 3}
	for _, s := range m.Strands {
		x := s.Contour.Bounds().Center().X
		for k, q := range sections {
			if q.From < x && x < q.To {
				p.Spans = append(p.Spans, inlay.Span{From: [3]float64{math.Inf(-1), 200, 360}[k], To: q.To})
			}
		}
	}
	in, found := inlay.Build(p, m, w)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return New(Params{Inlay: work.Inlay{Depth: 3, Proud: 0.3, Width: 3, Strips: layup}, Sections: sections}, in, m)
}

// Pieces are numbered section by section, alike leaves share their kinds, and the counts add up.
func TestSections(t *testing.T) {
	l := tabled(t)
	last := ""
	order := []string{}
	for i, p := range l.Pieces {
		if p.Number != i+1 || p.Section == "" {
			t.Errorf("piece %d in %q", p.Number, p.Section)
		}
		if p.Section != last {
			last = p.Section
			order = append(order, last)
		}
	}
	if got := strings.Join(order, ", "); got != "left, leaf 1, leaf 2" {
		t.Errorf("sections %s", got)
	}
	leaf := map[int][]string{}
	for _, k := range l.Kinds() {
		for _, n := range k.Numbers {
			if p := l.Pieces[n-1]; strings.HasPrefix(p.Section, "leaf") {
				leaf[k.Number] = append(leaf[k.Number], p.Section)
				if !p.AtJoint() || p.Where() != p.Name+" of "+p.Section {
					t.Errorf("%+v", p)
				}
			}
		}
	}
	if len(leaf) != 3 { // one of each strip
		t.Errorf("the leaves' pieces are of %d kinds", len(leaf))
	}
	for k, where := range leaf {
		if strings.Join(where, ", ") != "leaf 1, leaf 2" {
			t.Errorf("kind %d is in %v", k, where)
		}
	}
	pieces, cut := 0, 0.0
	for i, s := range l.BySection() {
		if want := []int{5, 1, 1}[i]; len(s.Strips) != 3 || s.Strips[0] != want || s.Pieces != 3*want || len(s.Numbers) != s.Pieces || s.Section != order[i] {
			t.Errorf("%+v, want %d of each strip", s, want)
		}
		pieces, cut = pieces+s.Pieces, cut+s.Cut
	}
	want := 0.0
	for _, p := range l.Pieces {
		want += l.Cut(p)
	}
	if pieces != len(l.Pieces) || math.Abs(cut-want) > 1e-9 {
		t.Errorf("together %d pieces, %g mm; want %d, %g", pieces, cut, len(l.Pieces), want)
	}
	if row := strings.Split(string(l.CSV()), "\n")[16]; !strings.HasPrefix(row, "16,s3,1,holly,") || !strings.HasSuffix(row, ",joint,60.000000,joint,60.000000,0.000000,leaf 1") {
		t.Errorf("row %q", row)
	}
}

// Where strips run across a joint that is sawn afterwards, their pieces are of both sections, and
// those that lie side by side stay together.
func TestAcrossAJoint(t *testing.T) {
	l := listOf(t, work.LaidStrips, geom.Chain(false, geom.Line(geom.Pt(-50, -20), geom.Pt(50, 20))), geom.Chain(false, geom.Line(geom.Pt(1, -20), geom.Pt(1, 20))))
	whole := New(Params{Inlay: work.Inlay{Strips: layup}, Sections: []Section{{Name: "left", From: -60, To: 0}, {Name: "right", From: 0, To: 60}}}, inlay.Inlay{}, motif.Motif{})
	whole.Pieces = l.Pieces
	whole.sectioned()
	got := map[string]int{}
	for _, p := range whole.Pieces {
		got[p.Section]++
	}
	// The line goes over and is of both; the bar of 3 mm about x = 1 is, in its first strip.
	if got["left/right"] != 3+2 || got["right"] != 4 || len(got) != 2 {
		t.Errorf("%v", got)
	}
}
