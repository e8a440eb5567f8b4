package preview

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"strapwork/pkg/internal/witness"
)

// patience bounds how long is waited for what a page will show: a slow machine takes
// half of that.
const patience = 45 * time.Second

// A browser is a page in a real browser, and what it was seen to do.
type browser struct {
	testing.TB
	ctx  context.Context
	mu   sync.Mutex
	seen []string // addresses asked for
	told []string // errors of the console, exceptions
}

// open opens a page in a browser with a profile of its own. When the test ends,
// the page must have asked for nothing but itself and told of no error.
func open(t testing.TB, p Page, width, height int) *browser {
	t.Helper()
	address := save(t, p)
	ctx := witness.Browser(t, width, height)
	b := &browser{TB: t, ctx: ctx}
	b.do(chromedp.EmulateViewport(int64(width), int64(height)))
	if err := chromedp.Listen(ctx, b.note); err != nil {
		t.Fatal(err)
	}
	b.do(enable, chromedp.Navigate(address))
	wait(b, `document.documentElement.dataset.ready === "true"`)
	t.Cleanup(func() { b.quiet(address) })
	return b
}

var enable = chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
	if _, err := cdp.Call(ctx, t, network.Enable, network.EnableParams{}); err != nil {
		return err
	}
	_, err := cdp.Call(ctx, t, log.Enable, cdp.Empty{})
	return err
})

func (b *browser) note(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.seen = append(b.seen, e.Request.URL)
	case *runtime.EventExceptionThrown:
		b.told = append(b.told, fmt.Sprintf("exception: %s %v", e.ExceptionDetails.Text, e.ExceptionDetails.Exception))
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			b.told = append(b.told, fmt.Sprintf("console: %v", e.Args))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			b.told = append(b.told, "log: "+e.Entry.Text)
		}
	}
}

// quiet holds that the page asked for its own file alone, and told no error.
func (b *browser) quiet(address string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.seen) != 1 || b.seen[0] != address {
		b.Errorf("the page asked for %q, want itself alone", b.seen)
	}
	if len(b.told) != 0 {
		b.Errorf("the page tells of errors: %s", strings.Join(b.told, "\n"))
	}
}

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.Fatalf("%v\n%s", err, strings.Join(b.told, "\n"))
	}
}

// eval is the value of an expression in the page, or what it promises.
func eval[T any](b *browser, expression string) T {
	b.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.Fatalf("%s: %v", expression, err)
	}
	return v
}

// wait waits until an expression is true in the page.
func wait(b *browser, expression string) {
	b.Helper()
	_, err := chromedp.Run(b.ctx, chromedp.Poll[bool]("!!("+expression+")", chromedp.WithPollingTimeout(patience)))
	if err != nil {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.Fatalf("waiting for %s: %v\n%s", expression, err, strings.Join(b.told, "\n"))
	}
}

func (b *browser) click(id string) {
	b.Helper()
	b.do(chromedp.Click(chromedp.CSS("#" + id)))
}

// TestOpens holds that a page opens from disk with its verdict, also the empty
// one.
func TestOpens(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	if got := eval[string](b, `document.getElementById("verdict-words").textContent`); got != "No. The dry run finds 1 fault." {
		t.Errorf("got verdict %q", got)
	}
	b.show(Page{Title: "Nothing yet"})
	if got := eval[string](b, `document.getElementById("verdict-words").textContent`); got != "There is no program in this job." {
		t.Errorf("got verdict %q", got)
	}
}
