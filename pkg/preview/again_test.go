package preview

import (
	"encoding/json"
	"slices"
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
	packed := packed(p)
	head, err := json.Marshal(headOf(p, packed.Index))
	if err != nil {
		t.Fatal(err)
	}
	shown := eval[[]bool](b, sprintf(`(async () => {
		const again = () => strapwork.show(%s, %q), list = [];
		for (let i = 0; i < 20; i++) list.push(await again());
		return [...list, ...await Promise.all([again(), again()])];
	})()`, head, packed.text()))
	if n := len(shown); n != 22 || !slices.Equal(shown[n-2:], []bool{false, true}) || slices.Contains(shown[:n-2], false) {
		t.Errorf("shown are %t, want all but the one that another overtook", shown)
	}
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
