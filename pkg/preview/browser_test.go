package preview

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"strapwork/pkg/internal/witness"
)

// patience bounds how long is waited for what a page will show: a slow machine takes
// half of that.
const patience = 45 * time.Second

// A browser is a page in a real browser.
type browser struct{ *witness.Page }

// open opens a page in a browser with a profile of its own. When the test ends,
// the page must have asked for nothing but itself and told of no error.
func open(t testing.TB, p Page, width, height int) *browser {
	t.Helper()
	address := save(t, p)
	b := &browser{witness.NewPage(t, witness.Browser(t, width, height), patience, width, height)}
	b.Do(chromedp.Navigate(address))
	b.Wait(`document.documentElement.dataset.ready === "true"`)
	t.Cleanup(func() { b.quiet(address) })
	return b
}

// quiet holds that the page asked for its own file alone, and told no error.
func (b *browser) quiet(address string) {
	if asked := b.Asked(); len(asked) != 1 || asked[0] != address {
		b.Errorf("the page asked for %q, want itself alone", asked)
	}
	if wrong := b.Wrong(); len(wrong) != 0 {
		b.Errorf("the page tells of errors: %s", strings.Join(wrong, "\n"))
	}
}

// eval is the value of an expression in the page, or what it promises.
func eval[T any](b *browser, expression string) T {
	b.Helper()
	return witness.Eval[T](b.Page, expression)
}

func (b *browser) click(id string) {
	b.Helper()
	b.Do(chromedp.Click(chromedp.CSS("#" + id)))
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
