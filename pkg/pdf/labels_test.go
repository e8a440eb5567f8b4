package pdf_test

import (
	"encoding/xml"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/paper"
	"strapwork/pkg/sheet"
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
// those of scales, crosses, bars, hatching and leaders have other widths, or are
// solid where the drawing's are dashed.
func (s stroke) outline() bool {
	for _, pen := range []struct {
		width  float64
		dashed bool
	}{
		{cutWidth, false}, {cutWidth, true}, // cutting lines, and the floor's
		{0.25, false}, {0.1, true}, {0.2, true}, // the groove's edges and centre lines, places for the chisel
		{0.2, false}, {0.3, false}, // marks, and the upper strand
	} {
		if pen.dashed == s.dashed && math.Abs(s.width-pen.width) < 0.001 {
			return true
		}
	}
	return false
}

// holdLabels finds lettering that overlaps, and on the sheets of patterns
// lettering that covers an outline.
func holdLabels(t *testing.T, name string, r traceReader, pages map[string][]int) {
	t.Helper()
	sheets := map[int]bool{}
	for _, list := range pages {
		for _, n := range list {
			sheets[n] = true
		}
	}
	for page, texts := range r.letters {
		for i, l := range texts {
			for _, o := range texts[:i] {
				if l.overlaps(o) {
					t.Errorf("%s, page %d: %q overlaps %q", name, page+1, l.text, o.text)
				}
			}
		}
		if !sheets[page+1] {
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
// roll, no two pieces of lettering overlap, and none covers an outline; every page
// that a part is said to be on names it; and every part that is laid over sheets
// is true to size: all as MuPDF interprets the files.
func TestPatternsOfJobs(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	jobs, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("no jobs: %v", err)
	}
	for _, path := range jobs {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			g := build.NewGraph(os.ReadFile) // which plans once for all papers
			for _, name := range []string{"A4", "A3", "roll 610 mm"} {
				r := g.Build(path, data, build.Options{Only: build.PaperPatterns, Paper: name})
				i := slices.IndexFunc(r.Files, func(f build.File) bool { return f.Path == build.PatternsPath })
				if i < 0 || len(r.Files[i].Pages) < 2 {
					t.Fatalf("no patterns on %s: %v", name, r.Findings)
				}
				file := filepath.Join(t.TempDir(), "patterns.pdf")
				if err := os.WriteFile(file, r.Files[i].Data, 0o600); err != nil {
					t.Fatal(err)
				}
				read, pages := trace(t, file), r.Files[i].Pages
				holdLabels(t, name, read, pages)
				holdNames(t, name, read, r.Parts, pages)
				if r.Kerf() == 0 { // or else r.Parts aren't as they come out of the cut
					holdParts(t, r, read, pages)
				}
				// Under 90 pages in all, with 7 of the set-up sheet and the client's one.
				const most = 90 - 7 - 1
				if filepath.Base(path) == "hall-table.toml" && name == "A4" && len(read.pages) >= most {
					t.Errorf("the hall table has %d pages of patterns", len(read.pages))
				}
			}
		})
	}
}

// holdNames finds pages that don't name a part that is said to be on them, and
// parts that are on no page.
func holdNames(t *testing.T, paper string, r traceReader, parts []sheet.Part, pages map[string][]int) {
	t.Helper()
	for _, p := range parts {
		if len(pages[p.Sheet.Name]) == 0 {
			t.Errorf("%s: %s is on no page", paper, p.Sheet.Name)
		}
		for _, n := range pages[p.Sheet.Name] {
			var all []string
			for _, l := range r.letters[n-1] {
				all = append(all, l.text)
			}
			said := strings.Join(all, "\n")
			onWall := strings.Contains(said, "panel "+p.Panel+", wall (solid) and floor (dashed)")
			if !strings.Contains(said, p.Sheet.Title) && !strings.Contains(said, p.Sheet.Name) && !(p.Ply == sheet.Floor && onWall) {
				t.Errorf("%s: page %d doesn't name %s", paper, n, p.Sheet.Name)
			}
		}
	}
}

// holdParts lays every part's pages together again and compares them with the
// part; of small ones it measures the outlines.
func holdParts(t *testing.T, r build.Result, read traceReader, pages map[string][]int) {
	t.Helper()
	floors := map[string]sheet.Part{}
	for _, p := range r.Parts {
		if p.Ply == sheet.Floor {
			floors[p.Panel] = p
		}
	}
	for _, p := range r.Parts {
		switch p.Ply {
		case sheet.Key, sheet.Wedge, sheet.Aid, sheet.Form, sheet.Holder:
			holdSmall(t, p, r.Parts, read, pages[p.Sheet.Name])
			continue
		case sheet.Floor:
			continue // with its wall
		case sheet.Wall, sheet.Frame, sheet.PivotBar:
		}
		d := paper.FromSheet(p.Sheet)
		if f, ok := floors[p.Panel]; ok && p.Ply == sheet.Wall && !d.WithFloor(paper.FromSheet(f.Sheet)) {
			t.Fatalf("%s doesn't share its sheets", f.Sheet.Name)
		}
		l := paper.Lay(d, r.Paper, r.Job.Units)
		if list := pages[p.Sheet.Name]; len(list) != l.Count() {
			t.Errorf("%s: %d pages for %d sheets", p.Sheet.Name, len(list), l.Count())
			continue
		}
		holdTiles(t, d, l, r.Paper, read.pages, pages[p.Sheet.Name][0]-1)
	}
}

// holdSmall looks for outlines of a part's size on its pages: of all that are to
// be made of that size, or of one at least.
func holdSmall(t *testing.T, p sheet.Part, parts []sheet.Part, read traceReader, pages []int) {
	t.Helper()
	want := p.Sheet.BoundsOf(sheet.Edge).Size()
	n, most := 0, 0
	for _, o := range parts {
		if size := o.Sheet.BoundsOf(sheet.Edge).Size(); size.Near(want, tolerance) || size.Near(geom.Pt(want.Y, want.X), tolerance) {
			most += o.Quantity
		}
	}
	for _, page := range pages {
		for _, s := range read.pages[page-1] {
			if s.dashed || math.Abs(s.width-cutWidth) > 0.001 {
				continue
			}
			for _, size := range s.outlines() {
				if size.Near(want, tolerance) || size.Near(geom.Pt(want.Y, want.X), tolerance) {
					n++
				}
			}
		}
	}
	if n < 1 || n > most {
		t.Errorf("%s: %d outlines of %v, %d to make", p.Sheet.Name, n, want, most)
	}
}

// outlines are the sizes of the contours that a stroke is of.
func (s stroke) outlines() []geom.Point {
	var list []geom.Point
	box := geom.EmptyBox()
	for i, c := range s.curves {
		if i > 0 && c[0] != s.curves[i-1][3] {
			list = append(list, box.Size())
			box = geom.EmptyBox()
		}
		for _, p := range samples(c, 0.02) {
			box = box.Include(p)
		}
	}
	return append(list, box.Size())
}
