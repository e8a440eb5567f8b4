package preview

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// state is what the page tells of itself.
type state struct {
	Playing, Painted bool
	Time, Total      float64
	Done, Line       int
	Strand, Told     string
	X, Y             *float64
	View             struct{ X, Y, K float64 }
	Frames           []float64
	Shown            string
	Hand             struct {
		Playing    bool
		Along, Way float64
		Setup      int
		Track      string
		X, Y       float64
	}
}

func (b *browser) state() state {
	b.Helper()
	return eval[state](b, `strapwork.state()`)
}

// pixel is the colour of a canvas at a place of the work.
func (b *browser) pixel(p geom.Point) [3]int {
	b.Helper()
	b.Wait(`strapwork.state().painted`)
	c := eval[[]int](b, pixelAt(p))
	return [3]int{c[0], c[1], c[2]}
}

func pixelAt(p geom.Point) string {
	return sprintf(`(() => { const [x, y] = strapwork.pixel(%g, %g);
		return Array.from(document.getElementById("board").getContext("2d").getImageData(Math.round(x), Math.round(y), 1, 1).data); })()`, p.X, p.Y)
}

// bright is the lightness of a colour, 0 to 255 (ITU-R BT.601's weights).
func bright(c [3]int) float64 {
	return 0.299*float64(c[0]) + 0.587*float64(c[1]) + 0.114*float64(c[2])
}

// reddish reports whether a colour can only be that of a fault.
func reddish(c [3]int) bool { return c[0] > 2*c[1] && c[0] > 2*c[2] }

func (b *browser) text(id string) string {
	b.Helper()
	return eval[string](b, `document.getElementById("`+id+`").textContent`)
}

// view shows one of the page's views.
func (b *browser) view(name string) {
	b.Helper()
	eval[any](b, `strapwork.view("`+name+`"), null`)
}

func TestPlays(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	quiet := b.text("said")
	b.click("play")
	b.Wait(`strapwork.state().time > 6`)
	if got := b.text("said"); got != quiet {
		t.Errorf("the live region speaks while the program plays: %q", got)
	}
	b.click("play")
	s := b.state()
	if s.Playing || s.Time <= 6 || s.Done == 0 {
		t.Errorf("got %+v after a pause", s)
	}
	if got := b.text("said"); !strings.Contains(got, "Line ") {
		t.Errorf("got live text %q after a pause", got)
	}
	eval[any](b, `strapwork.seek(strapwork.state().total - 1), null`)
	b.click("play")
	b.Wait(`!strapwork.state().playing && strapwork.state().time === strapwork.state().total`)
}

// TestScrubs holds that the wood is gone where the program has been, and back
// again after a seek to the beginning.
func TestScrubs(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	middle := geom.Pt(100, 60)
	whole := bright(b.pixel(middle))
	set := func(part string) {
		eval[any](b, `(() => { const s = document.getElementById("scrub"); s.value = s.max * `+part+`;
			s.dispatchEvent(new Event("input", {bubbles: true})); s.dispatchEvent(new Event("change", {bubbles: true})); return null })()`)
	}
	set("1")
	s := b.state()
	if math.Abs(s.Time-s.Total) > s.Total/500 {
		t.Errorf("got time %g of %g", s.Time, s.Total)
	}
	if cut := bright(b.pixel(middle)); cut > whole-80 {
		t.Errorf("got lightness %g of a groove at full depth, of %g before", cut, whole)
	}
	set("0")
	if again := bright(b.pixel(middle)); math.Abs(again-whole) > 1 {
		t.Errorf("got lightness %g back at the beginning, want %g", again, whole)
	}
	if got := eval[string](b, `document.getElementById("scrub").getAttribute("aria-valuetext")`); !strings.Contains(got, "before the first move") {
		t.Errorf("got value text %q", got)
	}
}

// TestDeeperShows holds that where a shallow cut crosses a deep one, the deep
// one is still seen: the ring's first depth over the bar's last.
func TestDeeperShows(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	crossing := geom.Pt(69.6, 60)
	eval[any](b, `document.getElementById("next-strand").click(), document.getElementById("next-strand").click(), null`)
	if got := b.state().Told; !strings.Contains(got, "rapid to Z") {
		t.Errorf("got %q at the start of ring", got)
	}
	before := bright(b.pixel(crossing))
	eval[any](b, `strapwork.seek(90), null`)
	if got := b.state(); got.Strand != "ring" {
		t.Fatalf("got strand %q", got.Strand)
	}
	if after := bright(b.pixel(crossing)); after > before+1 {
		t.Errorf("got lightness %g at the crossing, %g before the shallow cut", after, before)
	}
}

func TestSteps(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	for _, step := range []struct {
		id         string
		done, line int
	}{
		{"next-move", 1, 3},
		{"next-move", 2, 4},
		{"prev-move", 1, 3},
		{"next-strand", 5, 7}, // the bit stands where bar begins, line 8 comes next
		{"next-move", 6, 8},
		{"next-strand", 26, 28},
		{"prev-strand", 5, 7},
		{"prev-strand", 0, 3},
	} {
		b.click(step.id)
		if s := b.state(); s.Done != step.done || s.Line != step.line {
			t.Errorf("%s: got %d moves done and line %d, want %d and %d", step.id, s.Done, s.Line, step.done, step.line)
		}
	}
	b.click("next-strand")
	b.click("next-move")
	b.click("next-move")
	b.click("next-move")
	if got, want := b.state().Told, "bar, depth pass 1, 1.2 mm, back, wall on the left, before the crossing where ring goes under"; strings.ReplaceAll(got, "\u00a0", " ") != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestFindsFault holds that the fault's button leads to its line and place, and
// that the place is marked.
func TestFindsFault(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	b.Do(chromedp.Click(chromedp.CSS(`#faults .error button`)))
	s := b.state()
	if s.Line != faultLine || s.X == nil || math.Abs(*s.X-faultPlace.X) > 0.01 {
		t.Errorf("got line %d, x %v, want %d, %g", s.Line, s.X, faultLine, faultPlace.X)
	}
	if math.Hypot(s.View.X-faultPlace.X, s.View.Y-faultPlace.Y) > 0.01 {
		t.Errorf("got a view of %g %g, want %v", s.View.X, s.View.Y, faultPlace)
	}
	if c := b.pixel(faultPlace); !reddish(c) {
		t.Errorf("got colour %v at the fault", c)
	}
	if got := eval[string](b, `document.activeElement.id`); got != "bench" {
		t.Errorf("got focus on %q", got)
	}
	eval[any](b, `document.getElementById("lines-open").open = true, null`)
	b.Wait(`document.querySelector("#lines [aria-current]")`)
	if got := eval[string](b, `document.querySelector("#lines [aria-current] code").textContent`); got != "X110 Y58.9975" {
		t.Errorf("got line %q", got)
	}
}

// TestKeyboard goes through the page with keys alone.
func TestKeyboard(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	want := eval[[]string](b, `[...document.querySelectorAll("a[href], button:not([disabled]), select, input, summary, [tabindex='0']")]
		.filter((e) => e.checkVisibility() && e.tabIndex === 0).map((e, i) => e.id || (e.id = "it-" + i))`)
	var reached []string
	for range len(want) {
		b.Do(chromedp.KeyEvent(kb.Tab))
		reached = append(reached, eval[string](b, `document.activeElement.id`))
		if eval[bool](b, `getComputedStyle(document.activeElement).outlineStyle === "none"`) {
			t.Errorf("the focus on %q isn't seen", reached[len(reached)-1])
		}
	}
	if !slices.Equal(reached, want) {
		t.Errorf("Tab reaches\n%q, want\n%q", reached, want)
	}
	focus := func(id string) { eval[any](b, `document.getElementById("`+id+`").focus(), null`) }
	focus("bench")
	b.Do(chromedp.KeyEvent(" "))
	b.Wait(`strapwork.state().time > 2`)
	b.Do(chromedp.KeyEvent(" "))
	press := func(key string) { b.press(key) }
	for _, k := range []struct{ key, holds string }{
		{kb.Home, `s.done === 0 && !s.playing`},
		{kb.ArrowRight, `s.done === 1`},
		{kb.ArrowLeft, `s.done === 0`},
		{kb.ArrowUp, `s.done === 1`},
		{kb.ArrowDown, `s.done === 0`},
		{kb.PageUp, `s.done === 5`},
		{kb.PageUp, `s.done === 26`},
		{kb.PageDown, `s.done === 5`},
		{kb.End, `s.time === s.total`},
		{kb.Home, `s.done === 0`},
		{"0", `s.view.k < 10`},
		{"+", `s.view.k > 4`},
		{"shift " + kb.ArrowRight, `s.view.x > 111 && s.done === 0`},
		{"shift " + kb.ArrowUp, `s.view.y > 66 && s.done === 0`},
		{"0", `s.view.k < 4`},
		{"-", `s.view.k < 4`},
	} {
		press(k.key)
		if !eval[bool](b, `(() => { const s = strapwork.state(); return `+k.holds+` })()`) {
			t.Errorf("after %q: got %+v, want %s", k.key, b.state(), k.holds)
		}
	}
	// No letter or mark does anything: browsers and screen readers have their own.
	const seen = `(() => { const s = strapwork.state(); return JSON.stringify([s.done, s.playing, s.view]) })()`
	still := eval[string](b, seen)
	for key := '!'; key <= '~'; key++ {
		if !strings.ContainsRune("+-=0", key) {
			press(string(key))
		}
	}
	if got := eval[string](b, seen); got != still {
		t.Errorf("got %s after letters, want %s", got, still)
	}
	// The page's hand run has the same keys.
	b.view("hand")
	eval[any](b, `document.querySelector("#by-hand .holder").focus(), null`)
	for _, k := range []struct {
		key   string
		setup int
	}{{kb.Home, 1}, {kb.PageUp, 2}, {kb.PageDown, 1}, {kb.End, 3}, {kb.Home, 1}} {
		press(k.key)
		if got := b.state().Hand.Setup; got != k.setup {
			t.Errorf("got set-up %d after %q, want %d", got, k.key, k.setup)
		}
	}
	b.view("machine")
	focus("bench")
	press(kb.End)
	focus("scrub")
	before := b.state().Time
	b.Do(chromedp.KeyEvent(kb.ArrowLeft))
	if after := b.state().Time; !(after < before) {
		t.Errorf("got time %g after an arrow to the left from %g", after, before)
	}
	b.view("hand")
	eval[any](b, `document.querySelector("#setups li:nth-child(2) button").focus(), null`)
	b.Do(chromedp.KeyEvent(kb.Enter))
	if got := b.state().Hand.Setup; got != 2 {
		t.Errorf("got set-up %d", got)
	}
}

func TestPhoneWidth(t *testing.T) {
	b := open(t, page(t), 360, 740)
	eval[any](b, `document.querySelectorAll("details").forEach((d) => { d.open = true }), null`)
	if got := eval[int](b, `document.documentElement.scrollWidth`); got > 360 {
		t.Errorf("the page is %d pixels wide on a phone of 360", got)
	}
	small := eval[[]string](b, `[...document.querySelectorAll("button, select, input, summary")].filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 24)
		.map((e) => e.outerHTML)`)
	if len(small) > 0 { // WCAG 2.2, 2.5.8: 24 by 24 CSS pixels
		t.Errorf("too small for a finger: %q", small)
	}
}

// TestNames walks the accessibility tree: whatever can be worked has a name.
func TestNames(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	for view, least := range map[string]int{"machine": 30, "hand": 15} {
		b.view(view)
		found := b.named()
		if found["button"] < least || found["slider"] != 1 || found["combobox"] != 1 || found["tab"] < 2 || found["image"]+found["img"] < 1 {
			t.Errorf("%s: got %v", view, found)
		}
	}
	b.view("machine")
	eval[any](b, `strapwork.seek(90), null`)
	if got := eval[string](b, `document.getElementById("board").getAttribute("aria-label")`); !strings.Contains(got, "ring, depth pass 1") {
		t.Errorf("got the picture's text %q", got)
	}
}

// named counts by role what can be worked, or seen, all of which must have a name.
func (b *browser) named() map[string]int {
	b.Helper()
	tree, err := chromedp.Run(b.Context, func(ctx context.Context, t *chromedp.Target) (accessibility.GetFullAXTreeResult, error) {
		return cdp.Call(ctx, t, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	})
	if err != nil {
		b.Fatal(err)
	}
	found := map[string]int{}
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil {
			continue
		}
		role := strings.Trim(string(n.Role.Value), `"`)
		switch role {
		case "button", "slider", "combobox", "link", "image", "img", "DisclosureTriangle", "region", "checkbox", "textbox", "tab", "tabpanel":
			found[role]++
			if n.Name == nil || strings.Trim(string(n.Name.Value), `" `) == "" {
				b.Errorf("a %s has no name: %v", role, n)
			}
		}
	}
	return found
}

// TestHand holds that the set-ups follow each other, that the base goes along
// its ride with the wall on its left, and that earlier grooves stay.
func TestHand(t *testing.T) {
	p := page(t)
	b := open(t, p, 1280, 900)
	b.view("hand")
	if got := eval[int](b, `document.querySelectorAll("#setups button").length`); got != len(p.SetUps) {
		t.Errorf("got %d set-ups, want %d", got, len(p.SetUps))
	}
	from := 0.0
	for _, s := range p.SetUps {
		for i, track := range s.Tracks {
			name, way := track.Cut.Name, s.Ways[i]
			for _, part := range []float64{0.1, 0.4, 0.9} {
				along := part * way.Path.Length()
				eval[any](b, sprintf(`strapwork.seekHand(%.9f), null`, from+along))
				h := b.state().Hand
				want, tangent := way.Path.At(along)
				if h.Setup != s.Number || h.Track != name || math.Hypot(h.X-want.X, h.Y-want.Y) > 1e-3 {
					t.Errorf("%g of %s: got %+v, want %v", part, name, h, want)
				}
				wall := want.Add(tangent.Left().Scale(p.Rider / 2))
				if q, _ := way.Opening.Nearest(wall); q.Dist(wall) > 1e-6 {
					t.Errorf("%g of %s: the wall isn't on the left: off by %g", part, name, q.Dist(wall))
				}
			}
			from += way.Path.Length()
		}
	}
	b.click("prev-setup")
	b.click("prev-setup")
	if h := b.state().Hand; h.Setup != 2 || h.Along != p.SetUps[0].Ways[0].Path.Length() {
		if math.Abs(h.Along-p.SetUps[0].Ways[0].Path.Length()) > 1e-2 {
			t.Errorf("got %+v after two set-ups back", h)
		}
	}
	at := b.state().Hand.Along
	b.click("hand-play")
	b.Wait(sprintf(`strapwork.state().hand.along > %g`, at+20))
	b.click("hand-play")
	if b.state().Hand.Playing {
		t.Error("the hand run goes on after a pause")
	}
}

// TestThemes holds that the page and its pictures follow light and dark, and
// that paper has the verdict, all views, their lists whole, and no controls.
func TestThemes(t *testing.T) {
	b := open(t, whole(t), 1280, 900)
	page := func() float64 {
		c := eval[[]int](b, `getComputedStyle(document.documentElement).backgroundColor.match(/\d+/g).map(Number)`)
		return bright([3]int{c[0], c[1], c[2]})
	}
	corner := geom.Pt(215, 125)
	light, before := page(), b.pixel(corner)
	b.Do(media("", "prefers-color-scheme", "dark"))
	b.Wait(sprintf(`%s[0] < %d`, pixelAt(corner), before[0])) // the picture turns dark a little after the page
	if got := page(); light < 200 || got > 60 {
		t.Errorf("got a page of lightness %g, and %g in the dark", light, got)
	}
	if got := bright(b.pixel(corner)); got >= bright(before) {
		t.Errorf("got wood of lightness %g in the dark, %g in the light", got, bright(before))
	}
	dark := b.pixel(corner)
	if _, err := chromedp.Run(b.Context, chromedp.PrintToPDF()); err != nil {
		t.Fatal(err)
	}
	if got := b.pixel(corner); got != dark {
		t.Errorf("got colour %v after printing, %v before", got, dark)
	}
	b.Do(media("print", "prefers-color-scheme", "light"))
	eval[any](b, `window.dispatchEvent(new Event("beforeprint")), null`)
	for id, want := range map[string]bool{
		"verdict-words": true, "faults": true, "cautions": true, "map": true, "numbers": true, "spots": true, "board": true, "inlay-holder": true, "panel-list": true, "strips-1": true,
		"motif-holder": true, "play": false, "scrub": false, "keys": false, "views": false, "hand": false,
	} {
		if got := eval[bool](b, `document.getElementById("`+id+`").checkVisibility()`); got != want {
			t.Errorf("on paper: is %s seen: got %t, want %t", id, got, want)
		}
	}
	if !eval[bool](b, `document.querySelector("#strips-1 tbody").checkVisibility()`) {
		t.Error("a list is folded on paper")
	}
	eval[any](b, `window.dispatchEvent(new Event("afterprint")), null`)
	if eval[bool](b, `document.getElementById("view-inlay").checkVisibility() || document.getElementById("strips-1").open`) {
		t.Error("after printing all views are seen")
	}
}

func media(kind, feature, value string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Media: kind, Features: []*emulation.MediaFeature{{Name: feature, Value: value}},
		})
		return err
	})
}

// TestStill holds that nothing glides for who wants less motion.
func TestStill(t *testing.T) {
	b := open(t, page(t), 1280, 900)
	eval[any](b, `(() => { const was = Element.prototype.scrollIntoView; window.glides = [];
		Element.prototype.scrollIntoView = function (o) { window.glides.push(o.behavior); was.call(this, o) }; return null })()`)
	for _, value := range []string{"no-preference", "reduce"} {
		b.Do(media("", "prefers-reduced-motion", value))
		b.Wait(`matchMedia("(prefers-reduced-motion: ` + value + `)").matches`)
		eval[any](b, `document.querySelector("#faults .error button").click(), null`)
	}
	got := eval[[]string](b, `window.glides.filter(Boolean)`)
	if !slices.Equal(got, []string{"smooth", "auto"}) {
		t.Errorf("got %q, want a glide and then none", got)
	}
}

func TestInches(t *testing.T) {
	p := page(t)
	p.Units = unit.Inch
	b := open(t, p, 1280, 900)
	if got := b.text("greatest"); !strings.Contains(got, "0.002\u00a0in") {
		t.Errorf("got %q, want 0.05 mm as 0.002 in", got)
	}
	eval[any](b, `strapwork.seek(strapwork.state().total), null`)
	if got := b.text("out-x"); got != "4.3307" { // 110 mm / 25.4
		t.Errorf("got x %q", got)
	}
}

// TestNothingRuns holds that words from outside stay words.
func TestNothingRuns(t *testing.T) {
	const evil = `</script><img src=x onerror="window.ran=1"><script>window.ran=1</script>`
	p := page(t)
	p.Title, p.Job, p.Revision, p.Cautions = evil, evil, evil, []string{evil}
	p.Strands[0].Name, p.Program.Path = evil, evil
	p.Program.Report.Findings[0].Message, p.Program.Report.Findings[0].Hint = evil, evil
	p.Program.Text = append([]byte("("+evil+")\n"), p.Program.Text...)
	p.SetUps[0].PanelID, p.SetUps[0].Tracks[0].Cut.Name = evil, evil
	b := open(t, p, 1280, 900)
	if eval[bool](b, `"ran" in window || document.querySelector("img") !== null`) {
		t.Error("words from outside run")
	}
	if got := b.text("title"); got != evil {
		t.Errorf("got title %q", got)
	}
}

// TestStrandOverItself: the weave of a strand that crosses itself names its parts, over
// and under by which way the bit goes there.
func TestStrandOverItself(t *testing.T) {
	p := page(t)
	straight, round := geom.Pt(1, 0), geom.Pt(0, 1)
	p.Strands = []Strand{{"s1", bar}}
	for i := range p.Program.Sections {
		p.Program.Sections[i].Strand = 0
	}
	p.Crossings = []Crossing{
		{geom.Pt(70, 60), Passage{"s1", "ring", round}, Passage{"s1", "bar", straight}},
		{geom.Pt(150, 60), Passage{"s1", "bar", straight}, Passage{"s1", "ring", round}},
	}
	b := open(t, p, 1280, 900)
	eval[any](b, `document.getElementById("weave-0").open = true, null`)
	b.Wait(`document.querySelector("#weave-0 li")`)
	got := eval[[]string](b, `[...document.querySelectorAll("#weave-0 button")].map((e) => e.textContent)`)
	want := []string{"under ring (same strand)", "over ring (same strand)", "over bar (same strand)", "under bar (same strand)"}
	if slices.Sort(got[2:]); !slices.Equal(got, want) { // the bar's, in its order, then the ring's
		t.Errorf("the weave says %q, want %q", got, want)
	}
}
