package preview

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
)

// motifSVG is a picture with two marks, as pkg/sketch draws them: badges beside rings.
const motifSVG = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 -100 200 100" role="img"><title>A &lt;b&gt; motif</title>
<clipPath id="clip1"><path d="M 0 0 L 200 0 L 200 -100 Z"/></clipPath><g clip-path="url(#clip1)"><path d="M 10 -50 L 190 -50" stroke="#1a1a1a"/></g>
<path d="M 148 -30 A 2 2 0 0 1 152 -30 A 2 2 0 0 1 148 -30 Z" fill="none" stroke="#b3161d"><title>place of error 2</title></path>
<path d="M 20 -90 L 22 -90 L 22 -88 Z"><title>warning 1</title></path><path d="M 160 -30 L 162 -30 L 162 -28 Z"><title>error 2</title></path>
<script>window.ran = 1</script><image href="nowhere.png" onerror="window.ran = 1"/></svg>`

// TestBefore: what comes before the whole page, as while a job is watched, is shown as it
// comes: the motif with what was found on it, the inlay; what is of an earlier save is
// grey, with words that say so; and all of that goes on when the page comes.
func TestBefore(t *testing.T) {
	p := page(t)
	b := open(t, p, 1280, 900)
	var found diag.Findings
	found.WarnAt(diag.Position{File: "jobs/box-lid.toml", Line: 4, Col: 1}, "w", "this comes near").SetAt(1, 2).Hintf("move it")
	found.ErrorAt(diag.Position{File: "box-lid.toml", Line: 7, Col: 1}, "e", "this can't be cut").SetAt(3, 4)
	found.ErrorAt(diag.Position{File: "bits.toml", Line: 9, Col: 1}, "f", "no such bit")
	list, err := json.Marshal(FindingsOf(found))
	if err != nil {
		t.Fatal(err)
	}
	eval[any](b, sprintf(`strapwork.live.state({stage: "motif", working: "", stale: true}), strapwork.live.motif(%q, %s), null`, motifSVG, list))
	if got := eval[string](b, `strapwork.state().shown`); got != "motif" {
		t.Errorf("%q is shown of a job that has only a motif with errors", got)
	}
	if eval[bool](b, `"ran" in window || document.querySelector("#motif-holder script, #motif-holder image") !== null`) {
		t.Error("a picture brings in more than a drawing")
	}
	if eval[bool](b, `document.getElementById("clip1") !== null`) || !eval[bool](b, `/url\("?#drawing-\d+-clip1/.test(document.querySelector("#motif-holder g").getAttribute("clip-path"))`) {
		t.Error("a picture's ids are not its own")
	}
	if got := eval[[]string](b, `[...document.querySelectorAll("#motif-findings .label")].map((e) => e.textContent)`); strings.Join(got, "; ") != "warning, line 4; error, line 7; error, bits.toml line 9" {
		t.Errorf("got the findings %q", got)
	}
	eval[any](b, `document.querySelector("#motif-findings .error button").click(), null`)
	view := eval[[]float64](b, `document.querySelector("#motif-holder svg").getAttribute("viewBox").split(" ").map(Number)`)
	if x, y := view[0]+view[2]/2, view[1]+view[3]/2; math.Hypot(x-150, y+30) > 0.5 || view[2] > 60 {
		t.Errorf("the view is %v after a finding at 150, -30 was pressed", view)
	}
	grey := `[...document.querySelectorAll("#views .stale")].map((e) => e.id).join(" ")`
	if got := eval[string](b, grey); !strings.Contains(got, "tab-machine") || strings.Contains(got, "tab-motif") {
		t.Errorf("grey are %q", got)
	}
	if got := b.text("live-words"); !strings.Contains(got, "an earlier save") {
		t.Errorf("of what is grey it says %q", got)
	}

	const listed = `document.getElementById("motif-findings").checkVisibility()`
	eval[any](b, `strapwork.live.state({stage: "", stale: true, wrong: [{severity: "error", line: 3, message: "no value", hint: ""}]}), null`)
	if eval[bool](b, listed) {
		t.Error("findings on an earlier save stand beside those on this one")
	}
	eval[any](b, `strapwork.live.state({stage: "motif", stale: true}), null`)
	if !eval[bool](b, listed) {
		t.Error("the findings on this save are hidden")
	}

	eval[any](b, sprintf(`strapwork.live.motif(%q, []), strapwork.live.inlay(%q), strapwork.live.state({stage: "inlay", working: "panels"}), null`, motifSVG, motifSVG))
	if got := eval[string](b, `strapwork.state().shown`); got != "inlay" {
		t.Errorf("%q is shown once the inlay is there", got)
	}
	if got := b.text("live-words"); got != "Working on: panels." {
		t.Errorf("while it works it says %q", got)
	}
	p.Pictures = map[string]string{MotifPicture: motifSVG, InlayPicture: motifSVG}
	b.show(p)
	eval[any](b, `strapwork.live.state({stage: "done"}), null`)
	if got := eval[string](b, grey); got != "" || eval[bool](b, `document.getElementById("live").checkVisibility()`) {
		t.Errorf("all is done, and grey are %q", got)
	}
	if got := eval[string](b, `strapwork.state().shown`); got != "inlay" {
		t.Errorf("%q is shown when the page has come, where the inlay was", got)
	}
	b.click("tab-hand")
	eval[any](b, `document.getElementById("tab-hand").focus(), null`)
	b.show(p)
	if got := eval[string](b, `strapwork.state().shown + " " + document.activeElement.id`); got != "hand tab-hand" {
		t.Errorf("after a save %q is shown and has the focus, want the view that was chosen", got)
	}
}

// show shows a page in place of the one that is shown, as a save does.
func (b *browser) show(p Page) {
	b.Helper()
	packed := packed(p)
	head, err := json.Marshal(headOf(p, packed.Index))
	if err != nil {
		b.Fatal(err)
	}
	if !eval[bool](b, sprintf(`strapwork.show(%s, %q)`, head, packed.text())) {
		b.Fatal("the page isn't shown")
	}
}
