package preview

import (
	"context"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// TestUnread holds that a program that couldn't be read is no program that may
// be cut.
func TestUnread(t *testing.T) {
	whole, unread, silent, unblamed := page(t), page(t), page(t), page(t)
	unread.Program.Steps, unread.Program.Sections, unread.Program.Report.Gouges, unread.Program.Report.Left = nil, nil, nil, nil
	silent.Program = unread.Program
	silent.Program.Report.Findings = nil
	unblamed.Program.Report.Findings, unblamed.Program.Report.Gouges = nil, nil
	fine := unblamed
	fine.Program.Steps = steps(t, ringAndBar, 0)
	b := open(t, whole, 1280, 900)
	for _, c := range []struct {
		page Page
		want string
	}{
		{unread, "No. The dry run finds 1 fault."},
		{silent, "No. The program holds no move."},
		{unblamed, "No. The dry run finds fault with 1 move."},
		{fine, "No fault found in the program."},
	} {
		b.show(c.page)
		if got := b.text("verdict-words"); got != c.want {
			t.Errorf("got verdict %q, want %q", got, c.want)
		}
	}
}

// TestLooks holds that wheel, drag and two fingers change the view, and that
// the wheel alone scrolls the page until the picture has the focus.
func TestLooks(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	eval[any](b, `document.getElementById("bench").scrollIntoView({block: "start", behavior: "instant"}), null`)
	box := eval[[]float64](b, `(() => { const r = document.getElementById("board").getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2] })()`)
	x, y := box[0], box[1]
	mouse := func(p input.DispatchMouseEventParams) {
		b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, p)
			return err
		}))
	}
	wheel := func(by float64) {
		mouse(input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: x, Y: y, DeltaX: 0.01, DeltaY: by})
	}
	whole, top := b.state().View, eval[float64](b, `scrollY`)
	wheel(100)
	b.Wait(sprintf(`scrollY > %g`, top))
	if b.state().View != whole {
		t.Error("the wheel zooms though the picture has no focus")
	}
	eval[any](b, `document.getElementById("bench").scrollIntoView({block: "start", behavior: "instant"}), document.getElementById("bench").focus(), null`)
	wheel(-300)
	b.Wait(sprintf(`strapwork.state().view.k > %g`, whole.K*1.2))
	near := b.state().View
	const left = input.MouseButtonLeft
	mouse(input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMousePressed, X: x, Y: y, Button: left, Buttons: 1, ClickCount: 1})
	mouse(input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseMoved, X: x + 40, Y: y, Button: left, Buttons: 1})
	mouse(input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseReleased, X: x + 40, Y: y, Button: left, ClickCount: 1})
	b.Wait(sprintf(`Math.abs(strapwork.state().view.x - %.9f) < 1e-3`, near.X-40/near.K))
	touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
		b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
			return err
		}))
	}
	two := func(gap float64) []*input.TouchPoint {
		one, zero := 1.0, 0.0
		return []*input.TouchPoint{{X: x - gap, Y: y, ID: &zero}, {X: x + gap, Y: y, ID: &one}}
	}
	near = b.state().View
	touch(input.DispatchTouchEventTypeTouchStart, two(40)...)
	touch(input.DispatchTouchEventTypeTouchMove, two(80)...)
	touch(input.DispatchTouchEventTypeTouchEnd)
	b.Wait(sprintf(`Math.abs(strapwork.state().view.k / %.9f - 2) < 0.01`, near.K))
}
