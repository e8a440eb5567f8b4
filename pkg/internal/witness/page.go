package witness

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// A Page is a page in a real browser, and what it was seen to do.
type Page struct {
	testing.TB
	Context  context.Context // what chromedp steers it by
	Patience time.Duration   // bounds how long Wait waits

	mu    sync.Mutex
	asked []string // addresses that it asked for
	wrong []string // errors of the console, exceptions
}

// NewPage is the page in a browser of Browser's, before it goes anywhere, in a window of so
// many pixels.
func NewPage(t testing.TB, ctx context.Context, patience time.Duration, width, height int) *Page {
	t.Helper()
	p := &Page{TB: t, Context: ctx, Patience: patience}
	p.Do(chromedp.EmulateViewport(int64(width), int64(height)))
	if err := chromedp.Listen(ctx, p.note); err != nil {
		t.Fatal(err)
	}
	p.Do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		if _, err := cdp.Call(ctx, target, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, target, log.Enable, cdp.Empty{})
		return err
	}))
	return p
}

func (p *Page) note(event any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		p.asked = append(p.asked, e.Request.URL)
	case *runtime.EventExceptionThrown:
		p.wrong = append(p.wrong, fmt.Sprintf("exception: %s %v", e.ExceptionDetails.Text, e.ExceptionDetails.Exception))
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			p.wrong = append(p.wrong, fmt.Sprintf("console: %v", e.Args))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			p.wrong = append(p.wrong, "log: "+e.Entry.Text)
		}
	}
}

// Asked are the addresses that the page asked for.
func (p *Page) Asked() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.asked)
}

// Wrong are the page's exceptions, and the errors in its console.
func (p *Page) Wrong() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.wrong)
}

// Forgive forgets those of Wrong that hold some words, which a test has brought about.
func (p *Page) Forgive(words string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.wrong = slices.DeleteFunc(p.wrong, func(s string) bool { return strings.Contains(s, words) })
}

// Do does steps, and ends the test if one fails.
func (p *Page) Do(steps ...chromedp.Action[chromedp.Void]) {
	p.Helper()
	if err := chromedp.Do(p.Context, steps...); err != nil {
		p.Fatalf("%v\n%s", err, strings.Join(p.Wrong(), "\n"))
	}
}

// Eval is the value of an expression in the page, or of what it promises.
func Eval[T any](p *Page, expression string) T {
	p.Helper()
	v, err := chromedp.Run(p.Context, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatalf("%s: %v", expression, err)
	}
	return v
}

// Wait waits until an expression is true in the page.
func (p *Page) Wait(expression string) {
	p.Helper()
	if _, err := chromedp.Run(p.Context, chromedp.Poll[bool]("!!("+expression+")", chromedp.WithPollingTimeout(p.Patience))); err != nil {
		p.Fatalf("waiting for %s: %v\n%s", expression, err, strings.Join(p.Wrong(), "\n"))
	}
}
