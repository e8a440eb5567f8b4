package preview

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"strapwork/pkg/internal/witness"
)

// A browser that can't unpack the page's data says so, instead of showing an empty page.
func TestOldBrowser(t *testing.T) {
	address := save(t, Page{Title: "Old"})
	b := &browser{witness.NewPage(t, witness.Browser(t, 800, 600), patience, 800, 600)}
	b.Do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, cdppage.AddScriptToEvaluateOnNewDocument, cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: "delete window.DecompressionStream"})
		return err
	}), chromedp.Navigate(address))
	b.Wait(`document.querySelector("[role=alert]")`)
	if got := eval[string](b, `document.querySelector("[role=alert]").textContent`); !strings.Contains(got, "2023 or later") {
		t.Errorf("it says %q", got)
	}
}
