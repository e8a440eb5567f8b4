package pdf_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// tolerance in mm is what the patterns promise.
const tolerance = 0.01

// cutWidth is the width in mm of lines that are cut, which no others have. The
// floor's are dashed.
const cutWidth = 0.4

// part is a template part of the given length, with arcs of R 500 and small
// ones, and a hole.
func part(long, wide float64) paper.Drawing {
	d := paper.Drawing{Title: "panel A, wall"}
	add := func(u paper.Use, c geom.Contour) { d.Lines = append(d.Lines, paper.Drawn{Use: u, Contour: c}) }
	add(paper.Edge, geom.Rect(geom.Box{Min: geom.Pt(-long/2, -wide/2), Max: geom.Pt(long/2, wide/2)}))
	const r, half = 500.0, 40.0
	a := math.Asin(math.Min(0.8, (long/2-60)/(r+half)))
	center := geom.Pt(0, -r+wide/4)
	var edges []geom.Edge
	edges = append(edges, geom.Arc(center, r+half, math.Pi/2+a, -2*a)...)
	edges = append(edges, geom.Arc(center.Add(geom.Polar(r, math.Pi/2-a)), half, math.Pi/2-a, -math.Pi)...)
	edges = append(edges, geom.Arc(center, r-half, math.Pi/2-a, 2*a)...)
	edges = append(edges, geom.Arc(center.Add(geom.Polar(r, math.Pi/2+a)), half, -math.Pi/2+a, -math.Pi)...)
	add(paper.Cut, geom.Chain(true, edges...).Reverse())
	add(paper.Cut, geom.Circle(center.Add(geom.Pt(0, r-half-30)), 500-480))
	add(paper.Cut, geom.Polygon(geom.Pt(-long/2+20, -wide/2+20), geom.Pt(long/2-20, -wide/2+30), geom.Pt(long/2-20, -wide/2+60), geom.Pt(-long/2+20, -wide/2+50)))
	return d
}

func open(t testing.TB, name string) profile.Paper {
	t.Helper()
	p, err := profile.OpenPaper(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// pattern is a drawing as a file of its own.
func pattern(t testing.TB, d paper.Drawing, o paper.Options) paper.Book {
	t.Helper()
	if o.Block.Job == "" {
		o.Block = paper.Block{Job: "Walnut hall table", Revision: "B", Bit: "bit 3.175 mm", Rider: "base \u00d8 100 mm"}
	}
	if len(d.Pieces) == 0 {
		d.Pieces = []paper.Piece{{Name: "A-wall", Make: 1, Drawn: 1, Thickness: 9}}
	}
	p, err := paper.NewPattern(d, o)
	if err != nil {
		t.Fatal(err)
	}
	return paper.Bind(d.Title, []paper.Pattern{p}, o)
}

// tileOne is the index of the first tile's page.
func tileOne(b paper.Book) int { return b.Pages["A-wall"][0] - 1 }

// nearest is the distance from a point to the contours that are cut.
func nearest(d paper.Drawing, p geom.Point) float64 {
	best := math.Inf(1)
	for _, l := range d.Lines {
		if l.Use == paper.Cut || l.Use == paper.Edge {
			q, _ := l.Contour.Nearest(p)
			best = math.Min(best, p.Dist(q))
		}
	}
	return best
}

// tileOf are a layout's cells that have a page, in the order of the pages.
func tiles(l paper.Layout) [][2]int {
	var list [][2]int
	for row := range l.Rows {
		for col := range l.Cols {
			if l.Has(row, col) {
				list = append(list, [2]int{row, col})
			}
		}
	}
	return list
}

// holdTiles compares what was read of the tiles with the drawing: every line
// that is read lies on it, and all of it is read, each place on its own cell's
// page.
func holdTiles(t *testing.T, d paper.Drawing, l paper.Layout, p profile.Paper, pages [][]stroke, first int) {
	t.Helper()
	worst := 0.0
	seen := map[[2]int][]geom.Point{}
	const step = 0.5
	for i, cell := range tiles(l) {
		back := l.Window(cell[0], cell[1]).Min.Sub(l.At(p.Margin))
		for _, s := range pages[first+i] {
			if s.dashed || math.Abs(s.width-cutWidth) > 0.001 {
				continue
			}
			for _, c := range s.curves {
				for _, q := range samples(c, step) {
					q = geom.Pt(q.X/l.ScaleX, q.Y/l.ScaleY).Add(back)
					worst = math.Max(worst, nearest(d, q))
					seen[cell] = append(seen[cell], q)
				}
			}
		}
	}
	if worst > tolerance {
		t.Errorf("a line that was read is %.4f mm off the plan", worst)
	}
	missing := 0.0
	for _, line := range d.Lines {
		if line.Use != paper.Cut && line.Use != paper.Edge {
			continue
		}
		for s := 0.0; s < line.Contour.Length(); s += 1 {
			q, _ := line.Contour.At(s)
			missing = math.Max(missing, gap(seen, l, q))
		}
	}
	// Samples are half a millimetre apart, so the nearest is within a quarter.
	if missing > step/2+tolerance {
		t.Errorf("the nearest line that was read is %.4f mm from a place of the plan, on its cell's own page", missing)
	}
}

// gap is the distance from a place to what was read on its cell's page.
func gap(seen map[[2]int][]geom.Point, l paper.Layout, q geom.Point) float64 {
	col := int(math.Floor((q.X - l.Origin.X) / l.Pitch.X))
	row := l.Rows - 1 - int(math.Floor((q.Y-l.Origin.Y)/l.Pitch.Y))
	best := math.Inf(1)
	for _, p := range seen[[2]int{row, col}] {
		best = math.Min(best, p.Dist(q))
	}
	return best
}

// A part of 1.2 m, read back by MuPDF and laid together again, is the plan to
// 0.01 mm, arcs of R 500 among it, on every paper.
func TestTilesGiveBackTheWhole(t *testing.T) {
	d := part(1200, 500)
	for _, name := range append(profile.Papers(), "roll 610 mm") {
		t.Run(name, func(t *testing.T) {
			p := open(t, name)
			book := pattern(t, d, paper.Options{Paper: p})
			pages, _ := traced(t, written(t, book.Document))
			holdTiles(t, d, paper.Lay(d, p, unit.MM), p, pages, tileOne(book))
		})
	}
}

// The same by Poppler and Cairo, which share no code with MuPDF.
func TestTilesBySecondReader(t *testing.T) {
	d := part(1200, 500)
	p := open(t, "A3")
	book := pattern(t, d, paper.Options{Paper: p})
	path := written(t, book.Document)
	l := paper.Lay(d, p, unit.MM)
	first := tileOne(book)
	pages := make([][]stroke, first+l.Count())
	for i := first; i < len(pages); i++ {
		pages[i] = drawn(t, path, i+1)
	}
	holdTiles(t, d, l, p, pages, first)
}

var pageSize = regexp.MustCompile(`Page +\d+ size:`)

// Page boxes are those of ISO 216 and of ANSI/ASME Y14.1 (Letter 8.5 x 11 in,
// Tabloid 11 x 17 in) and US Legal, 8.5 x 14 in.
func TestPageBoxes(t *testing.T) {
	sizes := map[string]geom.Point{
		"A4": geom.Pt(210, 297), "A3": geom.Pt(297, 420), "Letter": geom.Pt(215.9, 279.4),
		"Tabloid": geom.Pt(279.4, 431.8), "Legal": geom.Pt(215.9, 355.6),
	}
	for _, name := range profile.Papers() {
		doc := pattern(t, part(500, 300), paper.Options{Paper: open(t, name)}).Document
		path := written(t, doc)
		_, read := traced(t, path)
		out, err := witness.Run(witness.Program(t, "pdfinfo", "poppler-utils"), "-f", "1", "-l", fmt.Sprint(len(doc.Pages)), path)
		if err != nil {
			t.Fatal(err)
		}
		if len(read) != len(doc.Pages) || len(pageSize.FindAll(out, -1)) != len(doc.Pages) {
			t.Fatalf("%s: %d pages read, %d written", name, len(read), len(doc.Pages))
		}
		for i, got := range read {
			want := sizes[name]
			if got.X > got.Y {
				want = geom.Pt(want.Y, want.X)
			}
			if !got.Near(want, tolerance) {
				t.Errorf("%s, page %d: %v, want %v", name, i+1, got, want)
			}
		}
		if name == "A4" && !strings.Contains(string(out), "(A4)") {
			t.Errorf("Poppler takes it for no A4:\n%s", out)
		}
	}
}

// The bars and the square on page one: 150 mm, 6 in and diagonals, to 0.01 mm,
// by both readers.
func TestProofPageIsTrue(t *testing.T) {
	for _, name := range append(profile.Papers(), "roll 610 mm") {
		path := written(t, pattern(t, part(300, 200), paper.Options{Paper: open(t, name)}).Document)
		pages, _ := traced(t, path)
		for reader, lines := range map[string][]stroke{"MuPDF": pages[0], "Poppler": drawn(t, path, 1)} {
			for say, want := range map[string]geom.Point{
				"x bar": geom.Pt(150, 0), "y bar": geom.Pt(0, 150), "x bar of 6 in": geom.Pt(152.4, 0), "y bar of 6 in": geom.Pt(0, 152.4),
				"first diagonal": geom.Pt(150, 150), "second diagonal": geom.Pt(-150, 150),
			} {
				if !hasLine(lines, want) {
					t.Errorf("%s, %s: no %s of %v mm", name, reader, say, want)
				}
			}
		}
	}
}

// hasLine reports whether a straight line with the given extent was read.
func hasLine(lines []stroke, want geom.Point) bool {
	for _, s := range lines {
		for _, c := range s.curves {
			d := c[3].Sub(c[0])
			if d.Near(want, tolerance) || d.Scale(-1).Near(want, tolerance) {
				return true
			}
		}
	}
	return false
}

// On a printer that made the bars 148.9 and 150.3 mm long, the corrected pages
// come out true: what is read, shrunk as the printer does, is the plan.
func TestCorrectedPagesPrintTrue(t *testing.T) {
	d := part(700, 400)
	p := open(t, "A4")
	p.Measured = [2]float64{148.9, 150.3}
	book := pattern(t, d, paper.Options{Paper: p})
	path := written(t, book.Document)
	pages, sizes := traced(t, path)
	printer := geom.Pt(148.9/150, 150.3/150) // across the sheet's short side, along its long one
	for i := range pages {
		by := printer
		if sizes[i].X > sizes[i].Y {
			by = geom.Pt(printer.Y, printer.X)
		}
		for k := range pages[i] {
			for m := range pages[i][k].curves {
				for n, q := range pages[i][k].curves[m] {
					pages[i][k].curves[m][n] = geom.Pt(q.X*by.X, q.Y*by.Y)
				}
			}
		}
	}
	for _, want := range []geom.Point{geom.Pt(150, 0), geom.Pt(0, 150)} {
		if !hasLine(pages[0], want) {
			t.Errorf("no bar of %v mm comes out of the printer", want)
		}
	}
	l := paper.Lay(d, p, unit.MM)
	back := l // as printed: nothing is to be undone
	back.ScaleX, back.ScaleY = 1, 1
	holdPrinted(t, d, l, back, p, pages[tileOne(book):])
	text := words(t, path, 1, len(pages))
	if n := strings.Count(text, "printer correction: width x"); n != len(pages) {
		t.Errorf("the correction is on %d of %d pages", n, len(pages))
	}
}

func holdPrinted(t *testing.T, d paper.Drawing, l, printed paper.Layout, p profile.Paper, pages [][]stroke) {
	t.Helper()
	worst, n := 0.0, 0
	for i, cell := range tiles(l) {
		back := l.Window(cell[0], cell[1]).Min.Sub(l.At(p.Margin))
		for _, s := range pages[i] {
			if s.dashed || math.Abs(s.width-cutWidth) > 0.001 {
				continue
			}
			for _, c := range s.curves {
				for _, q := range samples(c, 1) {
					worst = math.Max(worst, nearest(d, geom.Pt(q.X/printed.ScaleX, q.Y/printed.ScaleY).Add(back)))
					n++
				}
			}
		}
	}
	if n == 0 || worst > tolerance {
		t.Errorf("of %d places that were read one is printed %.4f mm off the plan", n, worst)
	}
}

// words is the text of pages as Poppler finds it.
func words(t testing.TB, path string, first, last int) string {
	t.Helper()
	out, err := witness.Run(witness.Program(t, "pdftotext", "poppler-utils"), "-layout", "-f", fmt.Sprint(first), "-l", fmt.Sprint(last), path, "-")
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// Titles, labels, fractions and diameter marks are found as text.
func TestTextIsSearchable(t *testing.T) {
	d := part(700, 400)
	d.Texts = append(d.Texts, paper.Text{At: geom.Pt(-100, 0), Size: 2.6, String: "slot 9/64 in, \u2300 5 mm, \u00bd in, 45\u00b0"})
	var lines []geom.Contour
	for _, l := range d.Lines {
		lines = append(lines, l.Contour)
	}
	d.Measure(d.Title, lines, unit.MM)
	p := open(t, "A4")
	doc := pattern(t, d, paper.Options{Paper: p}).Document
	path := written(t, doc)
	text := words(t, path, 1, len(doc.Pages))
	for _, want := range []string{
		"Print at actual size", "Walnut hall table: panel A, wall", "tile 1-1, page 3 of", "revision B", "bit 3.175 mm", "base \u00d8 100 mm", "scale 1:1",
		"Joining sheets", "cut on the line's centre", "glue under 2-1", "trim here, lay over 1-1", "assembly check:", "Scale check: 50 mm",
		"R 540 mm", "slot 9/64 in, \u00d8 5 mm, \u00bd in, 45\u00b0", "0.1 to 0.3 %",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("pdftotext doesn't find %q", want)
		}
	}
	out, err := witness.Run(witness.Program(t, "pdffonts", "poppler-utils"), path)
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(out)), "\n")[2:]
	if len(rows) != 2 {
		t.Fatalf("%d fonts, want 2:\n%s", len(rows), out)
	}
	for _, row := range rows {
		// name, type, encoding, embedded
		if f := strings.Fields(row); f[1] != "TrueType" || f[2] != "WinAnsi" || f[3] != "yes" {
			t.Errorf("font not embedded: %s", row)
		}
	}
}

// The file is sound, asks viewers not to scale, and is the same twice.
func TestFileIsSound(t *testing.T) {
	doc := pattern(t, part(700, 400), paper.Options{Paper: open(t, "A4")}).Document
	path := written(t, doc)
	qpdf := witness.Program(t, "qpdf", "qpdf")
	out, err := exec.Command(qpdf, "--check", path).CombinedOutput()
	if err != nil || !bytes.Contains(out, []byte("No syntax or stream encoding errors found")) || bytes.Contains(out, []byte("WARNING")) {
		t.Errorf("qpdf --check: %v\n%s", err, out)
	}
	catalog, err := witness.Run(qpdf, "--show-object=1", path)
	if err != nil || !strings.Contains(string(catalog), "/PrintScaling /None") {
		t.Errorf("catalogue: %v\n%s", err, catalog)
	}
	info, err := witness.Run(witness.Program(t, "pdfinfo", "poppler-utils"), path)
	if err != nil || strings.Contains(string(info), "Date") || !strings.Contains(string(info), "Walnut hall table - panel A, wall") {
		t.Errorf("information: %v\n%s", err, info)
	}
	first, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	time.Sleep(1100 * time.Millisecond) // a time stamp would have changed
	var again bytes.Buffer
	if err := pdf.Write(&again, doc); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, again.Bytes()) {
		t.Error("the same pages gave other bytes")
	}
}

// A roll's page is split where it would be longer than 14,400 units, 200 in,
// and never scaled (PDF Reference, appendix C).
func TestLongPagesAreSplit(t *testing.T) {
	const longest = 14400 * pointMM
	d := part(12000, 400)
	p := open(t, "roll 610 mm")
	path := written(t, pattern(t, d, paper.Options{Paper: p}).Document)
	_, sizes := traced(t, path)
	tall := 0.0
	for _, s := range sizes {
		tall = math.Max(tall, math.Max(s.X, s.Y))
	}
	if tall > longest+tolerance || tall < longest/2 {
		t.Errorf("the longest page is %.1f mm, the limit %.1f", tall, longest)
	}
	if l := paper.Lay(d, p, unit.MM); l.Count() != 3 {
		t.Errorf("12 m make %d pages of at most 5.08 m, want 3", l.Count())
	}
	raw, err := os.ReadFile(path)
	if err != nil || bytes.Contains(raw, []byte("UserUnit")) {
		t.Errorf("the file has a unit of its own: %v", err)
	}
}

// A part of 2 m x 1 m on A4 takes less than 20 MB; BenchmarkLargePart has the time.
func TestLargePart(t *testing.T) {
	doc := pattern(t, part(2000, 1000), paper.Options{Paper: open(t, "A4")}).Document
	var b bytes.Buffer
	if err := pdf.Write(&b, doc); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 20<<20 {
		t.Errorf("%d bytes", b.Len())
	}
	t.Logf("%d pages, %d bytes", len(doc.Pages), b.Len())
}

// The aim is 2 s.
func BenchmarkLargePart(b *testing.B) {
	d, p := part(2000, 1000), open(b, "A4")
	for b.Loop() {
		var out bytes.Buffer
		if err := pdf.Write(&out, pattern(b, d, paper.Options{Paper: p}).Document); err != nil {
			b.Fatal(err)
		}
	}
}

// A page in print: every paper is rendered in grey at 150 dots to the inch, and
// the bars are measured in the picture, to two dots.
func TestPrintedSizeInGrey(t *testing.T) {
	const dpi = 150
	ppm := witness.Program(t, "pdftoppm", "poppler-utils")
	for _, name := range profile.Papers() {
		path := written(t, pattern(t, part(300, 200), paper.Options{Paper: open(t, name)}).Document)
		base := filepath.Join(t.TempDir(), "page")
		if _, err := witness.Run(ppm, "-gray", "-r", fmt.Sprint(dpi), "-f", "1", "-l", "1", "-singlefile", path, base); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(base + ".pgm")
		if err != nil {
			t.Fatal(err)
		}
		across, up := longestDark(t, data)
		if want := int(math.Round(152.4 / 25.4 * dpi)); math.Abs(float64(across-want)) > 2 || math.Abs(float64(up-want)) > 2 {
			t.Errorf("%s: the longest bars are %d x %d dots in print, want %d", name, across, up, want)
		}
	}
}

// longestDark is the longest run of dark dots in a row and in a column of a
// grey picture (Netpbm, PGM), within the upper three quarters of it, which
// hold no frame.
func longestDark(t *testing.T, data []byte) (across, up int) {
	t.Helper()
	var w, h, most int
	if _, err := fmt.Sscanf(string(data[:20]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil {
		t.Fatal(err)
	}
	dots := data[len(data)-w*h:]
	const dark = 160 // a line of 0.13 mm covers three quarters of a dot, or two halves
	h = h * 3 / 4
	run := func(n int, at func(i int) byte) int {
		best, k := 0, 0
		for i := range n {
			if at(i) < dark {
				k++
			} else {
				k = 0
			}
			best = max(best, k)
		}
		return best
	}
	for y := range h {
		across = max(across, run(w, func(x int) byte { return dots[y*w+x] }))
	}
	for x := range w {
		up = max(up, run(h, func(y int) byte { return dots[y*w+x] }))
	}
	return across, up
}
