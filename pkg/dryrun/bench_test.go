package dryrun

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/walls"
	"strapwork/pkg/work"
)

// interlace is a groove of bars and rings, about 3.5 m of it, and the closed
// walks of the bit along its walls.
func interlace() ([]walls.Strand, [][]geom.Edge) {
	var parts []walls.Strand
	var walks [][]geom.Edge
	rect := func(a, b geom.Point) []geom.Edge {
		return geom.Rect(geom.Box{Min: a, Max: b}).Edges()
	}
	for i := range 8 {
		y := float64(i) * 25
		parts = append(parts, bar(geom.Pt(-20, y), geom.Pt(220, y)), bar(geom.Pt(y, -20), geom.Pt(y, 220)))
		walks = append(walks, rect(geom.Pt(-20+bit/2, y-play), geom.Pt(220-bit/2, y+play)),
			rect(geom.Pt(y-play, -20+bit/2), geom.Pt(y+play, 220-bit/2)))
	}
	for _, r := range []float64{30, 50, 70} {
		c := geom.Pt(100, 100)
		parts = append(parts, ring(c, r))
		walks = append(walks, geom.Arc(c, r-play, 0, 2*math.Pi), geom.Arc(c, r+play, 0, 2*math.Pi))
	}
	return parts, walks
}

// passes is a program of about n blocks that cuts the interlace in as many
// depth steps as that takes.
func passes(b testing.TB, n int) (string, int) {
	_, walks := interlace()
	total := 0
	for _, w := range walks {
		total += len(w) + 4
	}
	steps := max(1, n/total)
	text := wrote(b, ngc.Options{}, func(w *ngc.Writer) {
		for i := range steps {
			for _, walk := range walks {
				cutChain(w, -deep*float64(i+1)/float64(steps), walk...)
			}
		}
	})
	return text, steps
}

// crumbs is a program of about n blocks that cuts the interlace once, in lines
// only, each as short as that takes.
func crumbs(b testing.TB, n int) string {
	_, walks := interlace()
	length := 0.0
	for _, w := range walks {
		for _, e := range w {
			length += e.Length()
		}
	}
	step := length / float64(n)
	return wrote(b, ngc.Options{}, func(w *ngc.Writer) {
		for _, walk := range walks {
			w.Rapid(ngc.XY(walk[0].A))
			w.Line(ngc.Z(-deep), 250)
			for _, e := range walk {
				k := max(1, int(e.Length()/step))
				for i := range k {
					w.Line(ngc.XY(e.At(float64(i+1)/float64(k))), 1200)
				}
			}
			w.Rapid(ngc.Z(10))
		}
	})
}

func benchJudge(b *testing.B, text string) {
	g, _ := interlace()
	w := against(g...)
	w.Machine = Machine{Feed: [2]float64{3000, 600}, Rapid: [2]float64{5000, 2000}, Accel: [2]float64{500, 200}, Travel: bed(600, 400, 80)}
	w.Clamps = []work.Clamp{{Box: geom.Box{Min: geom.Pt(-60, -60), Max: geom.Pt(-40, 0)}, Height: 20}}
	w.Step = deep
	blocks := bytes.Count([]byte(text), []byte{'\n'})
	b.SetBytes(int64(len(text)))
	var r Report
	for b.Loop() {
		r = Judge(bytes.NewReader([]byte(text)), ngc.Dialect{}, w, nil)
	}
	if !r.OK() || r.MissedArea > 0 {
		b.Fatal(r.Findings)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*blocks), "ns/block")
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.Sys)/(1<<20), "MB-sys")
}

// BenchmarkJudge: the time for a block must not grow with the program.
func BenchmarkJudge(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		b.Run(fmt.Sprintf("passes/%d", n), func(b *testing.B) {
			text, _ := passes(b, n)
			benchJudge(b, text)
		})
		b.Run(fmt.Sprintf("crumbs/%d", n), func(b *testing.B) { benchJudge(b, crumbs(b, n)) })
	}
}
