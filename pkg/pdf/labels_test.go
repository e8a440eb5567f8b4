package pdf_test

import (
	"encoding/xml"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
)

// A lettering is a line of text as MuPDF interprets it: the corners of its box
// from the base line to the height of capitals, 0.72 of the body (the Go fonts'
// own OS/2 table).
type lettering struct {
	text    string
	corners [4]geom.Point
}

// letter takes in the start of a text, of its letters' matrix, or a letter.
func (r *traceReader) letter(e xml.StartElement) {
	page := &r.letters[len(r.letters)-1]
	switch e.Name.Local {
	case "fill_text":
		copy(r.m[:], numbers(r.t, attr(e, "transform")))
		*page = append(*page, lettering{})
	case "span":
		copy(r.trm[:], numbers(r.t, attr(e, "trm")))
	case "g":
		const capitals = 0.72
		l := &(*page)[len(*page)-1]
		x, y, adv := r.number(e, "x"), r.number(e, "y"), r.number(e, "adv")
		on := func(u, v float64) geom.Point {
			return r.place(x+u*r.trm[0]+v*r.trm[2], y+u*r.trm[1]+v*r.trm[3])
		}
		if l.text == "" {
			l.corners[0], l.corners[3] = on(0, 0), on(0, capitals)
		}
		l.corners[1], l.corners[2] = on(adv, 0), on(adv, capitals)
		l.text += attr(e, "unicode")
	}
}

// overlaps reports whether two boxes have an area in common: no side of either
// has all of the other beyond it.
func (l lettering) overlaps(o lettering) bool {
	// A PDF's widths are thousandths of the body: of a line of a hundred letters
	// they may be out by 0.13 mm.
	const touch = 0.15
	apart := func(a, b [4]geom.Point) bool {
		for i := range a {
			side := a[(i+1)%4].Sub(a[i]).Unit()
			beyond := true
			for _, p := range b {
				beyond = beyond && side.Cross(p.Sub(a[i])) <= touch
			}
			if beyond {
				return true
			}
		}
		return false
	}
	return !apart(l.corners, o.corners) && !apart(o.corners, l.corners)
}

func (l lettering) holds(p geom.Point) bool {
	for i, c := range l.corners {
		if l.corners[(i+1)%4].Sub(c).Cross(p.Sub(c)) < 0 {
			return false
		}
	}
	return true
}

// outline reports whether a stroke of a tile is one of the drawing, by its pen:
// those of scales, crosses, bars and leaders have other widths, or are solid
// where the drawing's are dashed.
func (s stroke) outline() bool {
	for _, pen := range []struct {
		width  float64
		dashed bool
	}{
		{cutWidth, false}, {cutWidth, true}, // cutting and centre lines
		{0.15, true}, {0.2, true}, // the groove's edges, the part's edge and places for the chisel
		{0.25, false}, {0.35, false}, // marks, and the upper strand
	} {
		if pen.dashed == s.dashed && math.Abs(s.width-pen.width) < 0.001 {
			return true
		}
	}
	return false
}

// holdLabels finds lettering that overlaps, and on tiles lettering that covers
// an outline.
func holdLabels(t *testing.T, name string, r traceReader) {
	t.Helper()
	for page, texts := range r.letters {
		tile := false
		for i, l := range texts {
			tile = tile || strings.HasPrefix(l.text, "tile ")
			for _, o := range texts[:i] {
				if l.overlaps(o) {
					t.Errorf("%s, page %d: %q overlaps %q", name, page+1, l.text, o.text)
				}
			}
		}
		if !tile {
			continue
		}
		for _, s := range r.pages[page] {
			if !s.outline() {
				continue
			}
			for _, l := range texts {
				if p, ok := s.through(l); ok {
					t.Errorf("%s, page %d: %q covers an outline at %v", name, page+1, l.text, p)
				}
			}
		}
	}
}

// through is a place of a line within a piece of lettering.
func (s stroke) through(l lettering) (geom.Point, bool) {
	const step = 0.2 // mm
	for _, c := range s.curves {
		hull, box := geom.EmptyBox(), geom.EmptyBox()
		for i := range c {
			hull, box = hull.Include(c[i]), box.Include(l.corners[i])
		}
		if !hull.Meets(box) {
			continue
		}
		for _, p := range samples(c, step) {
			if l.holds(p) {
				return p, true
			}
		}
	}
	return geom.Point{}, false
}

// On the patterns of all demonstration jobs, on small and large sheets and a
// roll, no two pieces of lettering overlap, and none covers an outline, as MuPDF
// interprets the files.
func TestLabelsOfJobsKeepApart(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	jobs, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("no jobs: %v", err)
	}
	for _, path := range jobs {
		for _, name := range []string{"A4", "A3", "roll 610 mm"} {
			t.Run(filepath.Base(path)+" on "+name, func(t *testing.T) {
				t.Parallel()
				data, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				r := build.Build(path, data, os.ReadFile, build.Options{Only: build.PaperPatterns, Paper: name})
				n := 0
				for _, f := range r.Files {
					if f.Kind != build.PDF {
						continue
					}
					n++
					file := filepath.Join(t.TempDir(), "pattern.pdf")
					if err := os.WriteFile(file, f.Data, 0o600); err != nil {
						t.Fatal(err)
					}
					holdLabels(t, f.Path, trace(t, file))
				}
				if n < 2 {
					t.Errorf("%d patterns, %v", n, r.Findings)
				}
			})
		}
	}
}
