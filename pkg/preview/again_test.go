package preview

import (
	"encoding/json"
	"testing"
)

// A page that is shown anew with other data shows these alone, keeps time and view,
// and leaves nothing of the one before.
func TestShownAgain(t *testing.T) {
	p := page(t)
	b := open(t, p, 1280, 900)
	eval[any](b, `(strapwork.seek(3), null)`)
	before, children := b.state(), eval[int](b, `document.querySelectorAll("*").length`)
	p.Title = "Another title"
	packed := moves(p.Program.Steps)
	head, err := json.Marshal(headOf(p, packed.Index))
	if err != nil {
		t.Fatal(err)
	}
	eval[any](b, sprintf(`(() => { for (let i = 0; i < 20; i++) strapwork.show(%s, %q); return null; })()`, head, packed.text()))
	after := b.state()
	if after.Time != before.Time || after.View != before.View || after.Strand != before.Strand {
		t.Errorf("shown again it is %+v, was %+v", after, before)
	}
	if got := eval[string](b, `document.querySelector("h1").textContent`); got != p.Title {
		t.Errorf("the title is %q", got)
	}
	if got := eval[int](b, `document.querySelectorAll("*").length`); got != children {
		t.Errorf("%d elements, had %d", got, children)
	}
}
