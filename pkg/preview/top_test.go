package preview

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"strapwork/pkg/geom"
)

// topPage has the ring and the bar in a top of three sections, whose leaf can be turned.
func topPage(t testing.TB) Page {
	t.Helper()
	p := piecesPage(t)
	section := func(name string, left, length float64) TopSection {
		return TopSection{name, left, length, geom.Rect(geom.Box{Max: geom.Pt(length, 60)})}
	}
	p.Top = &Top{
		Width:    60,
		Sections: []TopSection{section("left", -100, 60), section("leaf", -40, 80), section("right", 40, 60)},
		Arrangements: []Arrangement{
			{"no leaf", 120, []Placed{{Section: 0}, {Section: 2, X: 60}}},
			{"leaf turned", 200, []Placed{{Section: 0}, {Section: 1, X: 60, Turned: true}, {Section: 2, X: 140}}},
			{"1 leaf", 200, []Placed{{Section: 0}, {Section: 1, X: 60}, {Section: 2, X: 140}}},
		},
	}
	for i, s := range p.Strands {
		s.Name = fmt.Sprintf("s%d of top", i+1)
		p.Along = append(p.Along, s)
	}
	return p
}

// TestTop: leaves are taken out and put in, by buttons and by keys, and a piece is found where
// its section lies.
func TestTop(t *testing.T) {
	b := open(t, topPage(t), 1400, 900)
	b.view("top")
	placed := `[...document.querySelectorAll(".top-section")].map((g) => (g.classList.contains("out") ? "out" : g.style.transform))`
	press := func(x, y float64) string {
		p := eval[[]float64](b, fmt.Sprintf(`(() => { const p = new DOMPoint(%g, %g).matrixTransform(document.querySelector("#top-holder svg").getScreenCTM()); return [p.x, p.y] })()`, x, -y))
		b.Do(chromedp.MouseClickXY(p[0], p[1]))
		piece, _, _ := strings.Cut(b.text("top-piece-words"), ",")
		return piece
	}
	for _, c := range []struct {
		do    func()
		want  []string
		words string
		at    geom.Point // of a piece
		piece string
	}{
		{func() {}, []string{"translate(0px)", "translate(60px)", "translate(140px)"}, "200 × 60 mm: left, leaf and right", geom.Pt(100, 1.27), "Piece 3"},
		{func() { eval[any](b, `document.querySelector("#arrangements input").click(), null`) }, []string{"translate(40px)", "out", "translate(100px)"}, "120 × 60 mm: left and right", geom.Pt(120, 1.27), "Piece 5"},
		{func() {
			eval[any](b, `document.getElementById("top-holder").focus(), null`)
			b.press(kb.PageDown)
		}, []string{"translate(0px)", "translate(60px)", "translate(140px)"}, "200 × 60 mm: left, leaf (turned) and right", geom.Pt(100, 58.73), "Piece 3"},
	} {
		c.do()
		got := eval[[]string](b, placed)
		for i := range got {
			got[i] = strings.ReplaceAll(got[i], ", 0px", "")
		}
		if words := strings.ReplaceAll(b.text("top-words"), "\u00a0", " "); !slices.Equal(got, c.want) || words != c.words {
			t.Errorf("sections lie at %q, %q; want %q, %q", got, words, c.want, c.words)
		}
		if got := press(c.at.X, c.at.Y); got != c.piece {
			t.Errorf("%s: at %v is %q, want %q", c.words, c.at, got, c.piece)
		}
	}
	b.click("top-piece-go")
	if got := eval[[]int](b, current); !slices.Equal(got, []int{3}) || b.state().Shown != "strips" {
		t.Errorf("how it is cut leads to pieces %v in %q", got, b.state().Shown)
	}
	if got := b.text("piece-facts"); !strings.Contains(got, "s1 of top") {
		t.Errorf("its strand isn't the one that strips are laid along: %q", got)
	}
}

// TestSections: the program of another section is watched where one asks for it, with the same
// pieces.
func TestSections(t *testing.T) {
	p := topPage(t)
	p.Of, p.Program.Path = "left", "program/section-left.nc"
	other := whole(t)
	other.Of, other.Program.Path = "leaf (2 alike)", "program/section-leaf.nc"
	other.Program.Steps = other.Program.Steps[:len(other.Program.Steps)/2]
	for n, q := range []*Page{&p, &other} { // panels are laid on the whole groove, whichever program is watched
		corner := float64(777 + n)
		q.Station = &Station{Board: q.Board, Groove: []geom.Contour{geom.Rect(geom.Box{Max: geom.Pt(corner, corner)})}}
	}
	p.Others = []Page{other}
	b := open(t, p, 1400, 900)
	b.view("machine")
	under := func(corner string) {
		t.Helper()
		if got := eval[string](b, `document.querySelector("#panel-list .groove-line").getAttribute("d")`); !strings.Contains(got, corner) {
			t.Errorf("panels lie on %q, which lacks %s", got, corner)
		}
	}
	under("777")
	moves := `strapwork.state().moves`
	if got := eval[int](b, moves); got != len(p.Program.Steps) || !strings.Contains(b.text("origin"), "section-left.nc") {
		t.Errorf("at first %d moves of %q", got, b.text("origin"))
	}
	eval[any](b, `(() => { const s = document.getElementById("program-of"); s.selectedIndex = 1; s.dispatchEvent(new Event("change")); return null })()`)
	b.Wait(`document.getElementById("origin").textContent.includes("section-leaf.nc")`)
	if got := eval[int](b, moves); got != len(other.Program.Steps) || eval[int](b, `document.getElementById("program-of").selectedIndex`) != 1 {
		t.Errorf("then %d moves, want %d", got, len(other.Program.Steps))
	}
	under("778")
	if got := eval[int](b, `strapwork.pieces().length`); got != len(p.Strips.Pieces) || b.state().Shown != "machine" {
		t.Errorf("%d pieces, in %q", got, b.state().Shown)
	}
	if got := eval[[]string](b, `[...document.getElementById("program-of").options].map((o) => o.textContent)`); !slices.Equal(got, []string{"left", "leaf (2 alike)"}) {
		t.Errorf("there are programs of %q", got)
	}
}
