package region

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"strapwork/pkg/geom"
)

// deviation is how far in mm a peer's chords may leave the arcs.
const deviation = 0.001

// agreement is the share of an area by which a peer may be off: its chords leave a micrometre
// on either side of what is half a millimetre wide, the narrowest that is left of the cases.
const agreement = 4 * deviation

// TestPeers grows and shrinks areas beside the libraries of testdata/peers, and prints a table:
// the best of three times of the operation alone, vertices, and how far a peer's area is off, as
// a share of ours. PEERS names the folder in which "make bench-peers" has put them.
func TestPeers(t *testing.T) {
	bin := os.Getenv("PEERS")
	if bin == "" {
		t.Skip("make bench-peers asks for it")
	}
	peers := []struct {
		name string
		run  []string
	}{
		{"GEOS", []string{filepath.Join(bin, "geos")}},
		{"shapely", []string{"/usr/bin/python3", filepath.Join("..", "..", "..", "testdata", "peers", "geos.py")}},
	}
	fmt.Println("| case | edges | ms | vertices |", "GEOS ms (ours/theirs) | vertices | area off |", "shapely ms (ours/theirs) | vertices | area off |")
	fmt.Println("|---|---|---|---|---|---|---|---|---|---|")
	for _, c := range []struct {
		name string
		r    Region
		by   []float64
	}{
		{"star", star(10_000), []float64{3, -3}},
		{"spiral", spiral(10_000), []float64{3, -1.5}},
		{"groove of 967 crossings", plaited(22), []float64{3, -0.75}},
		{"star", star(100_000), []float64{3, -3}},
		{"spiral", spiral(100_000), []float64{3, -1.5}},
		{"2,000 bands along arcs", arcBands(2000), []float64{3, -0.75}},
	} {
		path := filepath.Join(t.TempDir(), "area.txt")
		if err := os.WriteFile(path, chords(c.r), 0o644); err != nil {
			t.Fatal(err)
		}
		for _, d := range c.by {
			ms := math.Inf(1)
			var made Region
			for range 3 {
				from := time.Now()
				made = c.r.Grow(d)
				ms = min(ms, time.Since(from).Seconds()*1e3)
			}
			line := fmt.Sprintf("| %s by %g | %d | %.1f | %d |", c.name, d, c.r.Len(), ms, made.Len())
			quadrant := math.Ceil(math.Pi / 4 / math.Acos(1-deviation/math.Abs(d)))
			for _, p := range peers {
				out, err := exec.Command(p.run[0], append(slices.Clone(p.run[1:]), path, fmt.Sprint(d), fmt.Sprint(quadrant))...).Output()
				var theirs, area float64
				var n int
				if err == nil {
					_, err = fmt.Sscan(string(out), &theirs, &area, &n)
				}
				if err != nil {
					line += fmt.Sprintf(" no %s | | |", p.name)
					continue
				}
				off := (area - made.Area()) / made.Area()
				if math.Abs(off) > agreement {
					t.Errorf("%s by %g: the area of %s is off by %.1e of ours", c.name, d, p.name, off)
				}
				line += fmt.Sprintf(" %.1f (%.2g) | %d | %.1e |", theirs, ms/theirs, n, off)
			}
			fmt.Println(line)
		}
	}
}

// chords is an area as peers read it: arcs in chords that leave them by at most deviation.
func chords(r Region) []byte {
	var b bytes.Buffer
	for _, p := range r.Pieces() {
		fmt.Fprintln(&b, "P", len(p.loops))
		for _, c := range p.loops {
			var pts []geom.Point
			for _, e := range c.Edges() {
				n := 1
				if e.Bulge != 0 {
					n = int(math.Ceil(math.Abs(e.Sweep()) / 2 / math.Acos(max(-1, 1-deviation/e.Radius()))))
				}
				for i := range n {
					pts = append(pts, e.At(float64(i)/float64(n)))
				}
			}
			fmt.Fprintln(&b, len(pts))
			for _, p := range pts {
				fmt.Fprintf(&b, "%.17g %.17g\n", p.X, p.Y)
			}
		}
	}
	return b.Bytes()
}
