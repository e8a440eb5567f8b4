package preview

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// spaced is a text with its spaces that don't break made such that do.
func spaced(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

// press sends keys to what has the focus.
func (b *browser) press(keys ...string) {
	b.Helper()
	for _, key := range keys {
		if rest, ok := strings.CutPrefix(key, "shift "); ok {
			b.Do(chromedp.KeyEvent(rest, chromedp.KeyModifiers(chromedp.ModifierShift)))
			continue
		}
		b.Do(chromedp.KeyEvent(key))
	}
}

// tap presses a place of the work with a mouse or a finger.
func (b *browser) tap(kind string, x, y float64) {
	b.Helper()
	eval[any](b, sprintf(`(() => {
		const c = document.getElementById("board"), r = c.getBoundingClientRect(), [px, py] = strapwork.pixel(%g, %g), q = c.width / c.clientWidth;
		for (const name of ["pointermove", "pointerdown", "pointerup"]) {
			const e = new PointerEvent(name, { pointerId: 1, pointerType: %q, clientX: r.x + px / q, clientY: r.y + py / q, button: name === "pointermove" ? -1 : 0, bubbles: true });
			c.setPointerCapture = () => {};
			c.dispatchEvent(e);
		}
		return null })()`, x, y, kind))
}

// TestBoard measures, zooms and reads axes on one page.
func TestBoard(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	t.Run("scale", func(t *testing.T) { hasScale(t, b) })
	t.Run("measures", func(t *testing.T) { measures(t, b) })
	t.Run("zooms", func(t *testing.T) { zooms(t, b) })
}

// hasScale: the zero's mark is dark in two quarters and light in two, and the axes have
// ticks at round places and none between.
func hasScale(t *testing.T, b *browser) {
	b.Wait(`strapwork.state().painted`)
	// lightness of the canvas so many CSS pixels from a place of the work; y null: as far from the lower edge
	light := func(x, y string, dx, dy float64) float64 {
		c := eval[[]int](b, sprintf(`(() => { const c = document.getElementById("board"), q = c.width / c.clientWidth, [x, y] = strapwork.pixel(%s, %s ?? 0);
			return Array.from(c.getContext("2d").getImageData(Math.round(x + %g * q), Math.round((%[2]s === null ? c.height : y) + %[4]g * q), 1, 1).data) })()`, x, y, dx, dy))
		return bright([3]int{c[0], c[1], c[2]})
	}
	for _, q := range []struct {
		dx, dy float64
		dark   bool
	}{{3, 3, true}, {-3, -3, true}, {-3, 3, false}, {3, -3, false}} {
		if got := light("0", "0", q.dx, q.dy); (got < 128) != q.dark {
			t.Errorf("the zero's mark has lightness %g at %g, %g", got, q.dx, q.dy)
		}
	}
	for at, dark := range map[string]bool{"50": true, "100": true, "150": true, "52": false, "148": false} {
		// a line of one pixel may lie on two
		if got := min(light(at, "null", -1, -18), light(at, "null", 0, -18), light(at, "null", 1, -18)); (got < 160) != dark {
			t.Errorf("the axis has lightness %g at %s mm", got, at)
		}
	}
}

// measures: places take hold of what is near, by pointer, finger and keys; what is
// between two of them is said in words.
func measures(t *testing.T, b *browser) {
	said := func(id, want string) {
		t.Helper()
		if got := spaced(b.text(id)); got != want {
			t.Errorf("%s: got %q, want %q", id, got, want)
		}
	}
	b.tap("mouse", 100, 90)
	said("measured", "") // nothing is measured before one asks for it
	if got := spaced(b.text("cursor")); !strings.HasPrefix(got, "X 1") || !strings.HasSuffix(got, " mm") {
		t.Errorf("got the pointer at %q", got)
	}
	b.click("measure")
	b.tap("mouse", 30.4, 60.6)
	said("cursor", "X 30, Y 60 mm, end of bar")
	said("measured", "From X 30, Y 60 mm (end of bar): set the other point")
	b.tap("touch", 70.5, 59.5)
	said("cursor", "X 70, Y 60 mm, crossing of ring over bar")
	said("measured", "Distance 40 mm, dx 40 mm, dy 0 mm")
	said("said", "Distance 40 mm, dx 40 mm, dy 0 mm.")
	// a third point begins anew: the top of the ring's centre line, radius 40 about 110, 60
	b.tap("mouse", 110, 100.3)
	said("cursor", "X 110, Y 100 mm, centre line of ring")
	b.tap("mouse", 100, 62.54-0.2)
	said("cursor", "X 100, Y 62.54 mm, wall of the groove")
	b.press(kb.Escape)
	said("measured", "Set the first point")
	// keys: nothing is near of what is round
	eval[any](b, `document.getElementById("whole").click(), document.getElementById("bench").focus(), null`)
	b.tap("mouse", 40, 95)
	b.press(kb.Escape, kb.ArrowRight, kb.ArrowUp, "shift "+kb.ArrowUp, kb.Enter)
	first := spaced(b.text("cursor"))
	b.press(kb.ArrowLeft, kb.ArrowLeft, " ")
	step := eval[float64](b, `(() => { const [a] = strapwork.pixel(0, 0), [c] = strapwork.pixel(1, 0); return [1, 2, 5, 10, 20].find((s) => s * (c - a) >= 12 * devicePixelRatio); })()`)
	said("measured", sprintf("Distance %g mm, dx −%g mm, dy 0 mm", 2*step, 2*step))
	if b.state().Playing || first == "" {
		t.Error("Space plays while one measures")
	}
	b.press(kb.Escape, kb.Escape)
	said("measured", "")
	b.press(kb.ArrowRight)
	if got := b.state().Done; got != 1 {
		t.Errorf("%d moves are done: the arrows aren't the player's again", got)
	}
}

// zooms: keys zoom about the bit, which stays where it is seen; where it isn't,
// it comes into the middle.
func zooms(t *testing.T, b *browser) {
	eval[any](b, `strapwork.seek(20), document.getElementById("bench").focus(), null`)
	spot := func() []float64 {
		return eval[[]float64](b, `strapwork.pixel(strapwork.state().x, strapwork.state().y)`)
	}
	before, whole := spot(), b.state().View
	b.press("+", "+")
	eval[any](b, `document.getElementById("zoom-in").click(), document.getElementById("bench").focus(), null`)
	after := spot()
	if d := max(after[0]-before[0], before[0]-after[0], after[1]-before[1], before[1]-after[1]); d > 1 {
		t.Errorf("the bit went %g pixels while zooming in on it", d)
	}
	if k := b.state().View.K / whole.K; k < 3.3 || k > 3.4 { // 1.5^3
		t.Errorf("zoomed %g times", k)
	}
	eval[any](b, `strapwork.seek(strapwork.state().total / 2), null`)
	b.press("shift "+kb.ArrowLeft, "shift "+kb.ArrowLeft, "shift "+kb.ArrowLeft, "shift "+kb.ArrowLeft, "+")
	s := b.state()
	if got := spot(); got[0] < 0 || got[1] < 0 {
		t.Errorf("the bit is out of sight at %v, the view is %+v", got, s.View)
	}
	b.press("0")
	if got := b.state().View; got != whole {
		t.Errorf("got the view %+v, want %+v", got, whole)
	}
}
