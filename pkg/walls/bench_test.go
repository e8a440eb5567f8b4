package walls_test

import (
	"fmt"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
	"strapwork/pkg/walls"
)

// BenchmarkPlait makes the groove of a plait and finds what a bit leaves in it: the
// time for a crossing must not grow with their number.
func BenchmarkPlait(b *testing.B) {
	for _, size := range []int{22, 71} {
		crossings := 2*size*(size+1) - size - (size + 1)
		b.Run(fmt.Sprint(crossings, " crossings"), func(b *testing.B) {
			var strands []walls.Strand
			for _, line := range plait.Lines(size, size+1, 20) {
				strands = append(strands, walls.Strand{Line: line, Width: wide})
			}
			// Open ends among them, each near another strand.
			strands = append(strands, walls.Strand{Line: geom.Chain(false, geom.Line(geom.Pt(0, 1), geom.Pt(300, 1))), Width: wide})
			for b.Loop() {
				g := walls.Of(strands...)
				if len(g.Tips(bit)) < size {
					b.Fatal("no corners")
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*crossings), "us/crossing")
		})
	}
}
