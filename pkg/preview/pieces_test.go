package preview

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// strips are the pieces of the ring and the bar: the bar in three stretches of pear and
// holly, then the ring round in each.
func strips() Strips {
	s := Strips{Allowance: 1}
	butt := PieceEnd{"butt 90°", "butt, square"}
	add := func(q Piece, material string) {
		q.Material, q.Strip, q.Thickness, q.Cut, q.Formed = material, len(s.Pieces)%2+1, 2.54, q.Middle+1, q.Bend > 0
		s.Pieces = append(s.Pieces, q)
	}
	for i, x := range [][2]float64{{-80, -42.5}, {-37.5, 37.5}, {42.5, 80}} {
		for k, y := range []float64{0, -2.54} {
			l := x[1] - x[0]
			add(Piece{
				Stretch: i, Left: l, Middle: l, Right: l, Ends: [2]PieceEnd{{"mitre 45°", "mitre, 45° from the strip (45° from square), long point left"}, butt}, Kind: 2*(i%2) + k,
				Outline: []geom.Contour{geom.Rect(geom.Box{Min: geom.Pt(x[0], y), Max: geom.Pt(x[1], y+2.54)})},
				From:    x[0] + 80, To: x[1] + 80, At: geom.Pt((x[0]+x[1])/2, y+1.27), Along: geom.Pt(1, 0),
			}, []string{"pear", "holly"}[k])
		}
	}
	for k, r := range []float64{38.73, 41.27} {
		add(Piece{
			Strand: 1, Left: 2 * math.Pi * (r - 1.27), Middle: 2 * math.Pi * r, Right: 2 * math.Pi * (r + 1.27), Bend: r, Ends: [2]PieceEnd{{"square", "square"}, {"square", "square"}}, Kind: 4 + k,
			Outline: []geom.Contour{geom.Circle(geom.Pt(0, 0), r+1.27), geom.Circle(geom.Pt(0, 0), r-1.27).Reverse()},
			To:      2 * math.Pi * 40, At: geom.Pt(r, 0), Along: geom.Pt(0, 1),
		}, []string{"pear", "holly"}[k])
	}
	return s
}

// inlaySVG is a drawing as large as the pieces of strips, from the motif's origin, y down.
const inlaySVG = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="120mm" viewBox="-100 -60 200 120"><title>Inlay</title><path d="M -100 -60 L 100 -60 L 100 60 L -100 60 Z" fill="#fff"/></svg>`

func piecesPage(t testing.TB) Page {
	t.Helper()
	p := whole(t)
	p.Pictures[InlayPicture] = inlaySVG
	return p
}

// What the tests ask of the strips' view.
const (
	current = `[...document.querySelectorAll("#strips-list [aria-current]")].map((e) => Number(e.dataset.piece))`
	plated  = `[...document.querySelectorAll("#strip-holder .plates text")].map((e) => e.textContent)`
	facts   = `[...document.querySelectorAll("#piece-facts div")].map((e) => e.children[0].textContent + ": " + e.children[1].textContent)`
	marked  = `document.querySelector("#strip-holder .piece-line")?.getAttribute("d") || ""`
)

// TestPieces: each piece stands in the list by its number, and is marked on the inlay by
// whatever asks for it.
func TestPieces(t *testing.T) {
	b := open(t, piecesPage(t), 1400, 900)
	b.view("strips")
	if got := eval[[]string](b, `[...document.querySelectorAll("#strips-list summary")].map((e) => e.textContent)`); !slices.Equal(got, []string{"bar, 6 pieces, numbers 1 to 6", "ring, 2 pieces, numbers 7 to 8"}) {
		t.Errorf("the strands are %q", got)
	}
	rows := eval[[]string](b, `[...document.querySelectorAll("#strips-0 tbody tr")].map((e) => [...e.children].map((c) => c.textContent).join("|"))`)
	if len(rows) != 6 || rows[3] != "4|2 holly|75.0 / 75.0 / 75.0|mitre 45°, butt 90°|straight" {
		t.Errorf("the pieces are %q", rows)
	}

	// A number typed anywhere in the view finds its piece, and its strand is opened.
	eval[any](b, `document.getElementById("tab-strips").focus(), null`)
	b.press("7")
	want := []string{
		"Strand: ring", "Strip: 1 from the left, pear, 2.54 mm", "Left / middle / right: 235.4 / 243.3 / 251.3\u00a0mm", "Cut first to: 244.3\u00a0mm; trimmed once it is bent",
		"First end: square", "Second end: square", "Bend: R\u00a038.7\u00a0mm at its tightest", "Cut alike: no other",
	}
	if got := eval[[]string](b, facts); !slices.Equal(got, want) || b.text("piece-title") != "Piece 7" {
		t.Errorf("piece 7 is %q, want %q", got, want)
	}
	if got := eval[[]int](b, current); !slices.Equal(got, []int{7}) {
		t.Errorf("the rows of %v are marked", got)
	}
	outlined, err := geom.ParsePath(eval[string](b, marked))
	if err != nil || len(outlined) != 2 || math.Abs(math.Abs(outlined[0].Area())-40*40*math.Pi) > 0.01 {
		t.Errorf("the inlay has %v marked, %v", outlined, err)
	}
	b.press("7")
	if got := b.text("find-none"); got != "No piece has the number 77: they go from 1 to 8." || eval[bool](b, `document.getElementById("piece").checkVisibility()`) {
		t.Errorf("of 77 it says %q", got)
	}

	// A place of the inlay that is pressed is its piece's, and one beside it no piece's.
	place := func(x, y float64) (px, py float64) {
		p := eval[[]float64](b, fmt.Sprintf(`(() => { const p = new DOMPoint(%g, %g).matrixTransform(document.querySelector("#strip-holder svg").getScreenCTM()); return [p.x, p.y] })()`, x, -y))
		return p[0], p[1]
	}
	press := func(x, y float64) {
		px, py := place(x, y)
		b.Do(chromedp.MouseClickXY(px, py))
	}
	press(60, -1.27)
	if got := eval[[]int](b, current); !slices.Equal(got, []int{6}) || eval[string](b, `document.getElementById("find-piece").value`) != "6" {
		t.Errorf("a press on piece 6 marks the rows of %v", got)
	}
	if got := eval[[]string](b, facts); got[4] != "First end: mitre, 45° from the strip (45° from square), long point left" || got[7] != "Cut alike: 2 pieces: 26" {
		t.Errorf("piece 6 is %q", got)
	}
	press(0, 20)
	if got := eval[[]int](b, current); len(got) != 0 || eval[string](b, marked) != "" {
		t.Errorf("a press on the board marks the rows of %v", got)
	}

	// What is pointed at, in the list or on the inlay, is marked in both.
	over := `[...document.querySelectorAll("#strips-list .over")].map((e) => e.dataset.piece).join() + " " + [...document.querySelectorAll("#strip-holder .plates text.now")].map((e) => e.textContent).join()`
	px, py := place(0, 1.27)
	eval[any](b, fmt.Sprintf(`document.getElementById("strip-holder").dispatchEvent(new PointerEvent("pointermove", { pointerId: 1, clientX: %g, clientY: %g, button: -1 })), null`, px, py))
	b.Wait(over + ` === "3 3"`)
	eval[any](b, `document.querySelector('[data-piece="2"] button').focus(), null`)
	b.press(kb.ArrowDown)
	b.press(kb.ArrowDown)
	if got := eval[string](b, over); got != "4 4" {
		t.Errorf("pointed at by the keys are %q", got)
	}
	b.press(kb.Enter)
	if got := eval[[]int](b, current); !slices.Equal(got, []int{4}) {
		t.Errorf("the rows of %v are marked after Enter on piece 4", got)
	}
	eval[any](b, `document.getElementById("strip-holder").focus(), null`)
	b.press(kb.PageDown)
	if got := eval[[]int](b, current); !slices.Equal(got, []int{5}) {
		t.Errorf("the rows of %v are marked after the next was asked for", got)
	}
	b.press(kb.Escape)
	if got := eval[[]int](b, current); len(got) != 0 {
		t.Errorf("the rows of %v are marked after Escape", got)
	}
}

// TestPieceNumbers: where pieces side by side have no room for their numbers they share a
// plate, and nearer each has its own; of strips that aren't listed there is none.
func TestPieceNumbers(t *testing.T) {
	p := piecesPage(t)
	b := open(t, p, 1400, 900)
	b.view("strips")
	b.Wait(plated + `.length > 0`)
	if got := eval[[]string](b, plated); !slices.Equal(got, []string{"1–2", "3–4", "5–6", "7–8"}) {
		t.Errorf("the plates are %q", got)
	}
	for range 3 {
		b.click("strip-in") // about the middle
	}
	b.Wait(plated + `.includes("3")`)
	if got := eval[[]string](b, plated); !slices.Equal(got, []string{"3", "4"}) {
		t.Errorf("near the middle the plates are %q", got)
	}
	// Those whose middles aren't seen have theirs where they are.
	eval[any](b, `document.getElementById("strip-holder").focus(), null`)
	b.press(kb.ArrowRight, kb.ArrowRight, kb.ArrowRight, kb.ArrowRight)
	b.Wait(plated + `.length === 6`)
	if got := eval[[]string](b, plated); !slices.Equal(got, []string{"3", "4", "5", "6", "7", "8"}) {
		t.Errorf("where the ring crosses the bar the plates are %q", got)
	}
	b.click("strip-whole")
	if got := eval[[]string](b, `[...document.querySelectorAll("#strips-of option")].map((e) => e.textContent)`); !slices.Equal(got, []string{"all strips", "strip 1 pear", "strip 2 holly"}) {
		t.Errorf("may be shown: %q", got)
	}
	choose := func(of string) {
		eval[any](b, fmt.Sprintf(`(() => { const s = document.getElementById("strips-of"); s.value = %q; s.dispatchEvent(new Event("change")); return null })()`, of))
	}
	choose("strip 2")
	b.Wait(plated + `.length === 4`)
	if got := eval[[]string](b, plated); !slices.Equal(got, []string{"2", "4", "6", "8"}) {
		t.Errorf("of strip 2 the plates are %q", got)
	}
	if got := eval[[]string](b, `[...document.querySelectorAll("#strips-0 .piece")].map((e) => e.dataset.piece)`); !slices.Equal(got, []string{"2", "4", "6"}) {
		t.Errorf("of strip 2 are listed %q", got)
	}

	// Over another inlay, of a save whose pieces aren't known yet, nothing is drawn.
	eval[any](b, sprintf(`strapwork.live.inlay(%q), null`, motifSVG))
	if got := eval[[]string](b, plated); len(got) != 0 {
		t.Errorf("over another inlay stand %q", got)
	}

	// All that stays at the next save, in the units that the job has then.
	eval[any](b, `strapwork.piece(8), null`)
	p.Units = unit.Inch
	b.show(p)
	if got := eval[[]string](b, facts); len(got) != 8 || got[1] != "Strip: 2 from the left, holly, 1/10 in" && got[1] != "Strip: 2 from the left, holly, 0.1 in" || got[6] != "Bend: R\u00a01.62\u00a0in at its tightest" {
		t.Errorf("piece 8 is %q", got)
	}
	if got := eval[string](b, `document.getElementById("strips-of").value`); got != "strip 2" {
		t.Errorf("after a save %q is listed", got)
	}

	// A lay-up that is cut as one has no strips to choose from.
	p.Strips.Sandwich = true
	p.Strips.Pieces = p.Strips.Pieces[:1]
	p.Strips.Pieces[0].Strip, p.Strips.Pieces[0].Material = 0, "pear/holly"
	b.show(p)
	if got := eval[string](b, `document.querySelector("#strips-0 .piece").children[1].textContent`); got != "pear/holly" || eval[bool](b, `document.getElementById("strips-of-box").checkVisibility()`) || !strings.HasPrefix(b.text("strips-words"), "Laid as a sandwich") {
		t.Errorf("of a sandwich the list says %q", got)
	}
}

// TestManyPieces: the pieces of a large top are listed, found and pointed at without delay,
// their data weigh less than 40 bytes each in the page, and not all are printed.
func TestManyPieces(t *testing.T) {
	const strands, pieces = 40, 100
	p := Page{Title: "Many", Pictures: map[string]string{InlayPicture: inlaySVG}}
	for i := range strands {
		y := float64(3*i - 60)
		p.Strands = append(p.Strands, Strand{fmt.Sprint("s", i+1), geom.Chain(false, geom.Line(geom.Pt(-100, y), geom.Pt(100, y)))})
		for k := range pieces {
			x := 2*float64(k) - 100
			long := 1.5 + 0.1*math.Sin(float64(i*k))
			p.Strips.Pieces = append(p.Strips.Pieces, Piece{
				Strand: i, Stretch: k, Strip: 1, Thickness: 1, Left: long, Middle: long, Right: long, Cut: long + 1, Kind: i*pieces + k, Ends: [2]PieceEnd{{"free", "free"}, {"free", "free"}},
				Outline: []geom.Contour{geom.Rect(geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+long, y+1)})}, From: x + 100, To: x + 100 + long, At: geom.Pt(x+long/2, y+0.5), Along: geom.Pt(1, 0),
			})
		}
	}
	none := p
	none.Strips = Strips{}
	if weight := len(written(t, p)) - len(written(t, none)); weight > 40*strands*pieces {
		t.Errorf("%d pieces take %d bytes", strands*pieces, weight)
	}
	b := open(t, p, 1400, 900)
	b.view("strips")
	took := eval[float64](b, `(() => { const t = performance.now(); for (const n of [3987, 12, 2500]) strapwork.piece(n); return performance.now() - t })()`)
	if got := eval[[]int](b, current); !slices.Equal(got, []int{2500}) || took > 3000 {
		t.Errorf("the rows of %v are marked after %.0f ms", got, took)
	}
	eval[any](b, `dispatchEvent(new Event("beforeprint")), null`)
	if got := eval[int](b, `document.querySelectorAll("#strips-list details:not(.left-out) .piece").length`); got != 500 || eval[bool](b, `document.getElementById("strips-left-out").hidden`) {
		t.Errorf("%d pieces are printed", got)
	}
}

// TestPiecesPacked: what the page unpacks is what was packed, to a ten thousandth of a
// millimetre.
func TestPiecesPacked(t *testing.T) {
	p := whole(t)
	b := open(t, p, 800, 600)
	type read struct {
		Lengths []float64
		Cut     float64
		Bend    float64
		At      struct{ X, Y float64 }
		Along   float64
		Kind    int
		Stretch int
	}
	var got []read
	if err := json.Unmarshal([]byte(eval[string](b, `JSON.stringify(strapwork.pieces())`)), &got); err != nil || len(got) != len(p.Strips.Pieces) {
		t.Fatal(len(got), err)
	}
	for i, q := range p.Strips.Pieces {
		g := got[i]
		for _, v := range [][2]float64{{g.Lengths[0], q.Left}, {g.Lengths[1], q.Middle}, {g.Lengths[2], q.Right}, {g.Cut, q.Cut}, {g.Bend, q.Bend}, {g.At.X, q.At.X}, {g.At.Y, q.At.Y}} {
			if math.Abs(v[0]-v[1]) > 1e-4 {
				t.Errorf("piece %d: %g, want %g", i+1, v[0], v[1])
			}
		}
		if g.Kind != q.Kind || g.Stretch != q.Stretch || math.Abs(g.Along-math.Atan2(q.Along.Y, q.Along.X)) > 1e-3 {
			t.Errorf("piece %d is %+v, want %+v", i+1, g, q)
		}
	}
}
