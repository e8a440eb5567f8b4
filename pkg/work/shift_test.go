package work_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

// Closed values: a board of 300 by 200, the motif's origin in its middle and the
// program's zero at its lower left corner.
func TestShift(t *testing.T) {
	board := &work.Board{Size: geom.Pt(300, 200), Thickness: 18, Origin: geom.Pt(150, 100)}
	if got, want := board.Box(), (geom.Box{Min: geom.Pt(-150, -100), Max: geom.Pt(150, 100)}); got != want {
		t.Errorf("the motif's: %v, want %v", got, want)
	}
	s := work.Shift(board.Origin)
	moved := s.Board(board)
	if got, want := moved.Box(), (geom.Box{Max: geom.Pt(300, 200)}); got != want || moved.Thickness != 18 {
		t.Errorf("the program's: %v, want %v", got, want)
	}
	if s.Board(nil) != nil {
		t.Error("no board becomes one")
	}
	if board.Origin != geom.Pt(150, 100) {
		t.Error("the board itself was moved")
	}
	clamps := []work.Clamp{{Box: geom.Box{Min: geom.Pt(-150, 0), Max: geom.Pt(-130, 20)}, Height: 25, Key: "stock.clamp.1"}}
	want := []work.Clamp{{Box: geom.Box{Min: geom.Pt(0, 100), Max: geom.Pt(20, 120)}, Height: 25, Key: "stock.clamp.1"}}
	if diff := cmp.Diff(want, s.Clamps(clamps)); diff != "" {
		t.Error(diff)
	}
	if p := geom.Pt(3, -4); s.Back(s.Point(p)) != p || s.Similarity().Apply(p) != s.Point(p) || s.Point(p) != geom.Pt(153, 96) {
		t.Errorf("%v becomes %v", p, s.Point(p))
	}
	line := geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(10, 0)))
	if got := s.Contours([]geom.Contour{line})[0]; got.Edge(0).A != geom.Pt(150, 100) || got.Edge(0).B != geom.Pt(160, 100) {
		t.Errorf("a line becomes %v", got)
	}
}
