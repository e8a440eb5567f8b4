package preview

import (
	"bytes"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// A part of a line of the program, and what is cut there then.
var cuts = []struct {
	line int
	part float64
	want string
}{
	// one slot is as wide as the bit; two of them, each half of 5.08 - 3.175 from the
	// centre line, are 5.08
	{9, 0.5, "1.2 of 3 mm deep, 3.175 of 5.08 mm wide, no wall done"},
	{11, 0.5, "1.2 of 3 mm deep, 5.08 of 5.08 mm wide, no wall done"},
	{24, 0.49, "3 of 3 mm deep, 5.08 of 5.08 mm wide, both walls done"},
	// back in time, sinking: halfway between 1.2 and 2.4
	{14, 0.5, "1.8 of 3 mm deep, 3.175 of 5.08 mm wide, no wall done"},
	{22, 0.75, "3 of 3 mm deep, 3.175 of 5.08 mm wide, left wall done"},
	{17, 1, "2.4 of 3 mm deep, 3.175 of 5.08 mm wide, no wall done"},
	// the ring over the bar, which is done: what another strand has cut doesn't count
	{30, 0.25, "1.2 of 3 mm deep, 3.175 of 5.08 mm wide, no wall done"},
	// the ring runs counter-clockwise, so its outer wall is on the right
	{40, 0.6, "3 of 3 mm deep, 3.175 of 5.08 mm wide, right wall done"},
	{42, 0.6, "3 of 3 mm deep, 5.08 of 5.08 mm wide, both walls done"},
	{27, 0.3, "The bit is over no groove"},
	{7, 1, "Nothing of 3 mm depth and 5.08 mm width is cut here yet"},
}

// TestSection holds the section across the groove against widths and depths that follow
// from the program's figures, and that lines and distances keep in step.
func TestSection(t *testing.T) {
	p := page(t)
	text := bytes.Replace(ringAndBar, []byte("Z-2.4 F250\nG1 X190"), []byte("Z-1.2 F250\nG1 X190 Z-2.4"), 1)
	p.Program.Text, p.Program.Steps = text, steps(t, text, faultLine)
	b := open(t, p, 1280, 900)
	eval[any](b, `document.getElementById("lines-open").open = true, null`)
	b.Wait(`document.querySelector("#lines [aria-current]")`)
	source := strings.Split(string(text), "\n")
	for _, c := range cuts {
		eval[any](b, sprintf(`(() => { for (let i = 0, from = 0; ; from = strapwork.move(i++).end) {
			const m = strapwork.move(i);
			if (m.line !== %d) continue;
			strapwork.seek(%g === 1 ? m.end : from + (m.end - from) * %[2]g);
			return null;
		} })()`, c.line, c.part))
		if got := spaced(eval[string](b, `strapwork.state().across`)); got != c.want {
			t.Errorf("line %d, %g of it: got %q, want %q", c.line, c.part, got, c.want)
		}
		if c.part == 1 {
			continue // moves that take no time may follow
		}
		if got, want := eval[string](b, `document.querySelector("#lines [aria-current] code").textContent`), source[c.line-1]; got != want {
			t.Errorf("the current line is %q, want %q", got, want)
		}
	}
	if got := eval[string](b, `document.getElementById("across-words").textContent`); !strings.HasPrefix(got, "Nothing of") {
		t.Errorf("beside the section stands %q", got)
	}
	// pressing a line goes there: two before the current one
	eval[any](b, `strapwork.seek(strapwork.state().total), document.querySelector("#lines [aria-current]").previousElementSibling.previousElementSibling.firstChild.click(), null`)
	s := b.state()
	if got := eval[string](b, `document.querySelector("#lines [aria-current] .n").textContent`); got != sprintf("%d", s.Line) || s.Done < 30 {
		t.Errorf("line %d is done, %q is the current one", s.Line, got)
	}
	// how far it has gone, at the end: 6 times round 160 by 1.905 mm and 3 rings twice
	eval[any](b, `strapwork.seek(strapwork.state().total), null`)
	if got := spaced(b.text("gone-cut")); got != "2.5 of 2.5 m" {
		t.Errorf("got a cutting distance of %q", got)
	}
	if got := spaced(b.text("gone-rapid")); got != "0.1 of 0.1 m" { // 9 + 13 + 89.4 + 9 + 13 mm
		t.Errorf("got a rapid distance of %q", got)
	}
	// the scrubber's keys, and what it says
	eval[any](b, `document.getElementById("scrub").focus(), null`)
	b.press(kb.Home)
	if got := b.state().Time; got != 0 {
		t.Errorf("got time %g at Home", got)
	}
	b.press(kb.PageUp, kb.ArrowRight)
	value := spaced(eval[string](b, `document.getElementById("scrub").getAttribute("aria-valuetext")`))
	if !strings.Contains(value, " s of 2 min ") || !strings.HasSuffix(value, ", bar, 1.2 mm deep") {
		t.Errorf("the scrubber says %q", value)
	}
}
