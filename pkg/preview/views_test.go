package preview

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
)

// whole is page with all that the other views show.
func whole(t testing.TB) Page {
	t.Helper()
	p := page(t)
	p.Pictures = map[string]string{MotifPicture: motifSVG, InlayPicture: motifSVG}
	p.Findings.WarnAt(diag.Position{File: "box-lid.toml", Line: 4, Col: 1}, "w", "this comes near").SetAt(1, 2).Hintf("move it")
	p.Findings.NoteAt(diag.Position{File: "box-lid.toml", Line: 9, Col: 1}, "n", "defaults used")
	p.Origin = geom.Pt(110, 60)
	p.Strips = strips()
	for i := range p.SetUps {
		for k := range p.SetUps[i].Tracks {
			p.SetUps[i].Tracks[k].ID, p.SetUps[i].Tracks[k].Number = p.SetUps[i].PanelID+"1", i+1
		}
	}
	return p
}

var viewNames = []string{"motif", "inlay", "panels", "machine", "hand", "strips"}

// TestViews: the views are tabs, gone through with arrows, Home and End (W3C, WAI-ARIA
// Authoring Practices, tabs pattern); of a job with a program the board comes first, and
// what is pressed in one view leads to another.
func TestViews(t *testing.T) {
	b := open(t, whole(t), 1400, 900)
	seen := func() string {
		return eval[string](b, `[...document.querySelectorAll("[role=tabpanel]")].filter((e) => e.checkVisibility()).map((e) => e.id.slice(5)).join(" ")`)
	}
	if got := seen(); got != "machine" {
		t.Errorf("%q is seen first", got)
	}
	eval[any](b, `document.getElementById("tab-machine").focus(), null`)
	for _, k := range []struct{ key, want string }{
		{kb.ArrowRight, "hand"}, {kb.ArrowRight, "strips"}, {kb.ArrowRight, "motif"}, {kb.ArrowLeft, "strips"}, {kb.Home, "motif"}, {kb.End, "strips"}, {kb.ArrowLeft, "hand"},
	} {
		b.press(k.key)
		focus := eval[string](b, `document.activeElement.id + " " + [...document.querySelectorAll("[role=tab]")].filter((e) => e.tabIndex === 0 && e.ariaSelected === "true").map((e) => e.id)`)
		if got, want := seen(), "tab-"+k.want+" tab-"+k.want; got != k.want || focus != want {
			t.Errorf("after %q %q is seen, and %q has the focus and the place in the tab order", k.key, got, focus)
		}
	}
	eval[any](b, `document.querySelector("#faults .error button").click(), null`)
	if got := seen(); got != "machine" || b.state().Line != faultLine {
		t.Errorf("a fault leads to %q, line %d", got, b.state().Line)
	}
	b.view("panels")
	if got := eval[[]string](b, `[...document.querySelectorAll("#panel-list h3, #panel-list svg text")].map((e) => e.textContent)`); !slices.Equal(got, []string{"Panel A, 1 set-up", "1", "Panel B, 2 set-ups", "2", "3"}) {
		t.Errorf("the panels are %q", got)
	}
	eval[any](b, `document.querySelectorAll("#panel-list button")[2].click(), null`)
	if got := seen(); got != "hand" || b.state().Hand.Setup != 3 {
		t.Errorf("the third set-up leads to %q, set-up %d", got, b.state().Hand.Setup)
	}
}

// TestFirstScreen: verdict, board and player are seen without scrolling, the player beside
// the board at 1400 by 900; on a phone one below the other, and nothing to the side.
func TestFirstScreen(t *testing.T) {
	p := whole(t)
	p.Program.Report.Findings, p.Program.Report.Gouges, p.Program.Steps = nil, nil, steps(t, ringAndBar, 0)
	b := open(t, p, 1400, 900)
	boxes := func() (list [][4]float64) {
		return eval[[][4]float64](b, `["verdict", "views", "bench", "scrub", "play"].map((id) => { const r = document.getElementById(id).getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom] })`)
	}
	const left, top, right, bottom = 0, 1, 2, 3
	seen := boxes()
	for i, r := range seen {
		if r[bottom] > 900 || i > 0 && i < 3 && r[top] < seen[i-1][bottom]-1 || i > 2 && (r[left] < seen[2][right] || r[top] < seen[2][top]) {
			t.Errorf("1400 x 900: box %d is %v of %v", i, r, seen)
		}
	}
	b.Do(chromedp.EmulateViewport(390, 844))
	b.Wait(`innerWidth === 390`)
	seen = boxes()
	for i, r := range seen {
		if r[bottom] > 844 || r[right] > 390 || i > 0 && r[top] < seen[i-1][bottom]-1 {
			t.Errorf("390 x 844: box %d is %v of %v", i, r, seen)
		}
	}
	b.view("strips")
	if got := eval[bool](b, `(() => { const t = document.getElementById("tab-strips").getBoundingClientRect(); return t.left >= 0 && t.right <= innerWidth })()`); !got {
		t.Error("the tab of the view that is shown isn't seen on a phone")
	}
	// What is open, and closed, stays so at the next save.
	eval[any](b, `document.getElementById("weave-1").open = true, document.getElementById("strips-0").open = false, null`)
	b.show(p)
	if !eval[bool](b, `document.getElementById("weave-1").open && !document.getElementById("strips-0").open && strapwork.state().shown === "strips"`) {
		t.Error("another view, or other lists, are open after a save")
	}
}

// hostile is a word that does what a name can do: end an element, be long, turn the
// direction of writing, and be wide.
var hostile = "</script><b>&amp;" + "\u202eright to left\u202c" + strings.Repeat("🪵", 20) + strings.Repeat("W", 300)

// TestHostileNames: no name moves the page out of its window, in any view, on a screen and
// on a phone.
func TestHostileNames(t *testing.T) {
	p := whole(t)
	p.Title, p.Job, p.Revision, p.Program.Path = hostile, hostile, hostile, hostile
	p.Cautions = []string{hostile}
	for i := range p.Strands {
		p.Strands[i].Name = hostile
	}
	for i := range p.Crossings {
		p.Crossings[i].Over.Strand, p.Crossings[i].Under.Strand, p.Crossings[i].Over.Part = hostile, hostile, hostile
	}
	for i := range p.Strips.Pieces {
		p.Strips.Pieces[i].Material = hostile
	}
	for i := range p.SetUps {
		p.SetUps[i].PanelID, p.SetUps[i].Tracks[0].Cut.Name, p.SetUps[i].Tracks[0].ID = hostile, hostile, hostile
	}
	for _, fs := range []diag.Findings{p.Findings, p.Program.Report.Findings} {
		for i := range fs {
			fs[i].Message, fs[i].Hint = hostile, hostile
		}
	}
	p.Program.Facts = []Fact{{hostile, hostile}}
	b := open(t, p, 1400, 900)
	for _, size := range [][2]int64{{1400, 900}, {390, 844}} {
		b.Do(chromedp.EmulateViewport(size[0], size[1]))
		b.Wait(sprintf(`innerWidth === %d`, size[0]))
		for _, v := range viewNames {
			b.view(v)
			eval[any](b, `strapwork.piece(3), null`)
			out := eval[[]string](b, `(document.querySelectorAll("details").forEach((d) => { d.open = true }), document.documentElement.scrollWidth <= document.documentElement.clientWidth ? [] :
				[...document.querySelectorAll("body *")].filter((e) => e.checkVisibility() && e.getBoundingClientRect().right > innerWidth).map((e) => e.tagName + "#" + e.id + "." + e.className).slice(0, 8))`)
			if len(out) > 0 {
				t.Errorf("%d wide, %s: out of the window stand %q", size[0], v, out)
			}
		}
	}
}

// TestAxe: an independent judge finds nothing that keeps anybody from reading and working
// the page, all of its views, by day and in the dark, with a program, with faults, with
// neither, and with what isn't of the last save.
func TestAxe(t *testing.T) {
	script, err := os.ReadFile(witness.Package(t, "axe-core"))
	if err != nil {
		t.Fatal(err)
	}
	faulty, fine, none := whole(t), whole(t), whole(t)
	fine.Program.Report.Findings, fine.Program.Report.Gouges, fine.Program.Steps = nil, nil, steps(t, ringAndBar, 0)
	none.Program = Program{}
	b := open(t, faulty, 1400, 900)
	eval[any](b, string(script)+"; null")
	for _, scheme := range []string{"light", "dark"} {
		b.Do(media("", "prefers-color-scheme", scheme))
		for name, p := range map[string]Page{"faults": faulty, "no fault": fine, "no program": none} {
			b.show(p)
			b.judge(scheme + ", " + name)
		}
		eval[any](b, `strapwork.live.state({stage: "motif", working: "panels", stale: true, ended: true, wrong: [{severity: "error", line: 3, message: "no such bit", hint: "write one"}]}), null`)
		b.judge(scheme + ", stale")
	}
	// The judge itself: a button without a name and faint words are found.
	eval[any](b, `(() => { const c = document.getElementById("to-cautions"); c.innerHTML = "<button></button> <span style='color: #444'>faint</span>"; return null })()`)
	if got := strings.Join(b.judged(), "\n"); !strings.Contains(got, "button-name") || !strings.Contains(got, "color-contrast") {
		t.Errorf("of a spoilt page the judge says %q", got)
	}
}

// judge reports what axe finds.
func (b *browser) judge(what string) {
	b.Helper()
	for _, v := range b.judged() {
		b.Errorf("%s: %s", what, v)
	}
}

// judged is what axe finds, with all views seen and all that can be opened open.
func (b *browser) judged() []string {
	b.Helper()
	return eval[[]string](b, `(() => {
		document.querySelectorAll("details").forEach((d) => { d.open = true });
		document.querySelectorAll("[role=tab]:not([hidden])").forEach((t) => { document.getElementById(t.getAttribute("aria-controls")).hidden = false });
		return axe.run({ runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })
			.then((r) => r.violations.map((v) => v.id + ": " + v.help + ": " + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + " " + (n.any[0]?.message || "")).join("; ")));
	})()`)
}

// TestFindingsOf holds that what the page's scripts get is what was put in.
func TestFindingsOf(t *testing.T) {
	p := whole(t)
	data, err := json.Marshal(FindingsOf(p.Findings))
	if err != nil {
		t.Fatal(err)
	}
	want := `[{"severity":"warning","file":"box-lid.toml","line":4,"message":"this comes near","hint":"move it","at":[1,2]},` +
		`{"severity":"note","file":"box-lid.toml","line":9,"message":"defaults used","hint":"","at":null}]`
	if string(data) != want {
		t.Errorf("got %s, want %s", data, want)
	}
}
