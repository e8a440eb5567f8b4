package ngc_test

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// long is a program of about n blocks of lines and arcs in the mix of a
// grooving: waves of two arcs and a line, a rapid now and then.
func long(n int) []byte {
	var b bytes.Buffer
	w := ngc.NewWriter(&b, ngc.Options{})
	w.Preamble()
	w.Rapid(ngc.XYZ(geom.Pt(0, 0), 5))
	for i := 0; i < n; i += 4 {
		x, y := float64(i%4000)/10, float64(i/4000)*1.2345
		if i%4000 == 0 {
			w.Rapid(ngc.XY(geom.Pt(x, y)))
		}
		up := geom.Edge{A: geom.Pt(x, y), B: geom.Pt(x+0.1373, y), Bulge: math.Tan(math.Pi / 8)}
		down := geom.Edge{A: up.B, B: geom.Pt(x+0.2746, y), Bulge: -up.Bulge}
		w.Cut(up, -1, 1200)
		w.Cut(down, -1, 1200)
		w.Line(ngc.XY(geom.Pt(x+0.3, y)), 1200)
		w.Line(ngc.XY(geom.Pt(x+0.4, y)), 1200)
	}
	w.End()
	if err := w.Close(); err != nil {
		panic(err) // the generator itself is wrong
	}
	return b.Bytes()
}

// BenchmarkRead: the time for a block must not grow with the program.
func BenchmarkRead(b *testing.B) {
	for _, n := range []int{10_000, 1_000_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			text := long(n)
			blocks := bytes.Count(text, []byte{'\n'})
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if err := ngc.Read(bytes.NewReader(text), func(ngc.Move) error { return nil }); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*blocks), "ns/block")
		})
	}
}

// BenchmarkReadAll reports the memory that a program takes as a list.
func BenchmarkReadAll(b *testing.B) {
	text := long(1_000_000)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ngc.ReadAll(bytes.NewReader(text)); err != nil {
			b.Fatal(err)
		}
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.Sys)/(1<<20), "MB-sys")
}

// A block costs as much in a long program as in a short one, in memory too:
// reading move by move takes no more for a hundred times the blocks.
func TestReadIsLean(t *testing.T) {
	allocated := func(text []byte) uint64 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if err := ngc.Read(bytes.NewReader(text), func(ngc.Move) error { return nil }); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	short, tall := long(1000), long(100_000)
	const slack = 64 << 10 // what the runtime itself may allocate meanwhile
	if a, b := allocated(short), allocated(tall); b > a+slack {
		t.Errorf("%d bytes for %d, %d for %d", a, len(short), b, len(tall))
	}
}
