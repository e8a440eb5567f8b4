package preview

import (
	"fmt"
	"slices"
	"testing"

	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
)

func sprintf(format string, args ...any) string { return fmt.Sprintf(format, args...) }

// TestLong holds that a page of 200,000 moves opens, and that going to and fro
// in it ends with all painted.
func TestLong(t *testing.T) {
	p := longPage(t)
	b := open(t, p, 1280, 900)
	for _, part := range []float64{0.5, 1, 0.25, 0} {
		eval[any](b, sprintf(`strapwork.seek(%g * strapwork.state().total), null`, part))
		b.Wait(`strapwork.state().painted`)
		s := b.state()
		if want := part * s.Total; s.Time < want-0.01 || s.Time > want+0.01 {
			t.Errorf("got time %g, want %g", s.Time, want)
		}
	}
	// back over a checkpoint: what is before it is cut again, what is behind it is whole
	eval[any](b, `strapwork.seek(strapwork.state().total), null`)
	b.Wait(`strapwork.state().painted`)
	early, late := geom.Pt(60, 15), geom.Pt(60, 90)
	cut := bright(b.pixel(late))
	eval[any](b, `strapwork.seek(0.3 * strapwork.state().total), null`)
	if a, z := bright(b.pixel(early)), bright(b.pixel(late)); a > cut+60 || z < cut+60 {
		t.Errorf("got lightness %g early and %g late in the program at 0.3 of it, %g where it has cut", a, z, cut)
	}
	i := slices.IndexFunc(p.Program.Steps, func(s dryrun.Step) bool { return s.Fault })
	move := p.Program.Steps[i].Move
	if s := b.state(); s.View.K*move.To.Point().Dist(move.From.Point()) > 1 {
		t.Fatalf("the fault is %g pixels long: too long for the test", s.View.K*move.To.Point().Dist(move.From.Point()))
	}
	if c := b.pixel(geom.Pt(move.To.X, move.To.Y)); !reddish(c) {
		t.Errorf("got colour %v at the fault's place, seen as a whole", c)
	}
	eval[any](b, `document.querySelector("#faults button").click(), null`)
	if s := b.state(); s.Line != longFault {
		t.Errorf("got line %d, want %d", s.Line, longFault)
	}
}

// BenchmarkFrames reports how long a frame takes to paint while a program of
// 200,000 moves plays fast.
func BenchmarkFrames(b *testing.B) {
	page := open(b, longPage(b), 1280, 900)
	eval[any](page, `(() => { const s = document.getElementById("speed"); s.value = "100"; s.dispatchEvent(new Event("change")); return null })()`)
	for b.Loop() {
		eval[any](page, `strapwork.seek(0), document.getElementById("play").click(), null`)
		page.Wait(`strapwork.state().time > 0.3 * strapwork.state().total`)
		page.click("play")
	}
	frames := page.state().Frames
	slices.Sort(frames)
	b.ReportMetric(frames[len(frames)/2], "ms/frame-median")
	b.ReportMetric(frames[len(frames)-1], "ms/frame-worst")
}
