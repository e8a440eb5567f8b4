package witness

import (
	"context"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// hang bounds what a browser does in a test: a slow machine takes half a minute, more is
// a hang.
const hang = 90 * time.Second

// Browser starts chromium without a window, with a profile of its own, and returns what
// chromedp steers it by; or skips or fails the test like Python. It is closed when the
// test ends.
func Browser(t testing.TB, width, height int) context.Context {
	t.Helper()
	return BrowserWithin(t, hang, width, height)
}

// BrowserWithin is Browser for what may take longer or shorter.
func BrowserWithin(t testing.TB, bound time.Duration, width, height int) context.Context {
	t.Helper()
	path := Program(t, "chromium", "chromium")
	ctx, cancel := context.WithTimeout(context.Background(), bound)
	t.Cleanup(cancel)
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()), chromedp.WindowSize(width, height),
		chromedp.Flag("disable-gpu", true), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
	)
	ctx, stop := chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(stop)
	ctx, closeTab := chromedp.NewContext(ctx)
	t.Cleanup(closeTab)
	return ctx
}
