package preview

import (
	"bytes"
	"strings"
	"testing"
)

// TestEscape holds that words from outside can't break out of the page.
func TestEscape(t *testing.T) {
	const evil = `</script><script>alert(1)</script>"'<!--` + "\u2028"
	var b bytes.Buffer
	if err := Write(&b, Page{Title: evil, Job: evil, Cautions: []string{evil}}); err != nil {
		t.Fatal(err)
	}
	if got := b.String(); strings.Contains(got, "alert(1)</script>") || strings.Contains(got, `"'<!--`) {
		t.Error("words from outside stand in the page as they are")
	}
	if got := strings.Count(b.String(), "</script>"); got != 3 {
		t.Errorf("got %d scripts, want 3", got)
	}
}
