package fromdxf_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
)

// A seen is what testdata/witness/dxf_curves.py prints: for each file the parts of its
// curves, of points.
type seen struct {
	Files  [][][][2]float64
	Colors []string
}

// splinesInR12 is a file of release 12 with splines, which that release doesn't have:
// ezdxf looks for their degree where later ones have it. See TestArcsAsSplines.
const splinesInR12 = "arcs-as-splines.dxf"

// ask has ezdxf write a drawing in each release, and say where the curves run in these
// and in the drawings of others.
func ask(t *testing.T) (files []string, answer seen) {
	t.Helper()
	python, script := witness.Python(t, "ezdxf"), witness.Script(t, "dxf_curves.py")
	dir := t.TempDir()
	if out, err := witness.Run(python, script, "make", dir); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	made, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
	if err != nil || len(made) != 4 {
		t.Fatal(made, err)
	}
	files = made
	for _, file := range others(t) {
		if filepath.Base(file) != splinesInR12 {
			files = append(files, file)
		}
	}
	out, err := witness.Run(python, append([]string{script}, files...)...)
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if err := json.Unmarshal(out, &answer); err != nil || len(answer.Files) != len(files) {
		t.Fatal(len(answer.Files), err)
	}
	return files, answer
}

// TestWitnessSeesTheSameCurves: ezdxf 0.18 finds the same curves in each file, in the same order:
// its points lie on ours, and ours along its chords from end to end.
func TestWitnessSeesTheSameCurves(t *testing.T) {
	t.Parallel()
	files, answer := ask(t)
	for i, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d := read(t, file, data)
		parts := answer.Files[i]
		for _, c := range d.Curves {
			for _, piece := range pieces(c) {
				if len(parts) == 0 {
					t.Fatalf("%s: ezdxf finds nothing at %v", file, c.Pos)
				}
				compare(t, c, piece, parts[0])
				parts = parts[1:]
			}
		}
		if len(parts) != 0 {
			t.Errorf("%s: ezdxf finds %d parts more", file, len(parts))
		}
	}
	checkColors(t, answer.Colors)
}

// pieces are the segments of each part of a curve: one for each edge of a polyline, all
// of a spline.
func pieces(c drawing.Curve) [][]drawing.Segment {
	switch c.Segments[0].(type) {
	case drawing.Line, drawing.Ellipse:
		return slices.Collect(slices.Chunk(c.Segments, 1))
	}
	return [][]drawing.Segment{c.Segments}
}

// Shares of a curve's size.
const (
	onCurve = 1e-7 // the witness's points are on ours
	chords  = 2e-2 // its chords are 5e-3 off, some of a circle's radius
)

// compare holds segments of a curve against the witness's points on them.
func compare(t *testing.T, c drawing.Curve, ours []drawing.Segment, part [][2]float64) {
	t.Helper()
	size := drawing.Curve{Segments: ours}.Bounds().Size().Norm()
	points := make([]geom.Point, len(part))
	for i, xy := range part {
		points[i] = geom.Pt(xy[0], xy[1])
		if d := distance(points[i], ours); d > onCurve*size {
			t.Errorf("%v: ezdxf's %v is %g off the curve, of size %g", c.Pos, points[i], d, size)
			return
		}
	}
	for _, s := range ours {
		for k := range 17 {
			p, near := s.At(float64(k)/16), math.Inf(1)
			for i := 1; i < len(points); i++ {
				near = min(near, geom.Line(points[i-1], points[i]).Dist(p))
			}
			if near > chords*size {
				t.Errorf("%v: %v is %g off ezdxf's chords, of size %g", c.Pos, p, near, size)
				return
			}
		}
	}
	a, b := drawing.Start(ours[0]), drawing.End(ours[len(ours)-1])
	p, q := points[0], points[len(points)-1]
	if off := min(max(a.Dist(p), b.Dist(q)), max(a.Dist(q), b.Dist(p))); off > onCurve*size && !a.Near(b, onCurve*size) {
		t.Errorf("%v: from %v to %v, ezdxf from %v to %v", c.Pos, a, b, p, q)
	}
}

// distance is how far a point is from the nearest of some segments.
func distance(p geom.Point, segments []drawing.Segment) float64 {
	const places = 64
	least := math.Inf(1)
	for _, s := range segments {
		dist := func(t float64) float64 { return s.At(t).Dist(p) }
		d := [places + 3]float64{math.Inf(1), places + 2: math.Inf(1)}
		for i := range places + 1 {
			d[i+1] = dist(float64(i) / places)
		}
		for i := range places + 1 {
			if d[i+1] <= d[i] && d[i+1] <= d[i+2] {
				least = min(least, lowest(dist, max(0, float64(i-1)/places), min(1, float64(i+1)/places)))
			}
		}
	}
	return least
}

// lowest is the least value of a function with one dip.
func lowest(f func(float64) float64, from, to float64) float64 {
	for range 40 { // to a ten-millionth of the stretch
		third := (to - from) / 3
		if f(from+third) < f(to-third) {
			to -= third
		} else {
			from += third
		}
	}
	return min(f(from), f(to))
}

// checkColors: ezdxf's table is ours from 1 to 249, but for what stands out from the
// ground, white there and black here, and for 21 of the darkest, whose brightest channel is
// there by 50 brighter than that of their neighbours of the same shade. (Its greys, 250
// to 255, are other ones than those of most tables.)
func checkColors(t *testing.T, table []string) {
	t.Helper()
	others := 0
	for i := 1; i < 250; i++ {
		got, want := colored(t, i), table[i]
		switch {
		case i == 7:
			want = "#000000"
		case i > 100 && (strings.Contains(want[1:], "58") || strings.Contains(want[1:], "7e")):
			others++
			continue
		}
		if got != want {
			t.Errorf("colour %d is %s, want %s", i, got, want)
		}
	}
	if others != 21 {
		t.Errorf("%d colours differ from the rule", others)
	}
}

// colored is the colour of a line with a number of the table.
func colored(t *testing.T, number int) string {
	t.Helper()
	d := read(t, "", entities("LINE", 62, number, 10, 0, 20, 0, 11, 1, 21, 0))
	return d.Curves[0].Color
}
