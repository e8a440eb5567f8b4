package watch

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/memory"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"strapwork/pkg/internal/witness"
)

// long bounds what a browser does in a test or in the benchmark: a thousand saves take a
// minute, on a busy machine some.
const long = 10 * time.Minute

// A browser has a watched job's page open.
type browser struct{ *witness.Page }

// open opens the page in a browser of its own. When the test ends, it must have asked
// for nothing but its own three addresses and have told no error.
func (w *watched) open(width, height int) *browser {
	w.Helper()
	b := &browser{witness.NewPage(w, witness.BrowserWithin(w, long, width, height), long, width, height)}
	b.Do(chromedp.Navigate(w.address))
	w.Cleanup(func() {
		for _, a := range b.Asked() {
			if !slices.Contains([]string{w.address, w.address + "events", w.address + "page"}, a) {
				w.Errorf("the page asks for %q", a)
			}
		}
		if wrong := b.Wrong(); len(wrong) > 0 {
			w.Errorf("the page tells of errors: %s", strings.Join(wrong, "\n"))
		}
	})
	return b
}

// eval is the value of an expression in the page, or of its promise.
func eval[T any](b *browser, expression string) T {
	b.Helper()
	return witness.Eval[T](b.Page, expression)
}

// shot saves what is to be seen as a picture, if the environment has SHOTS, a folder.
func (b *browser) shot(name string) {
	dir := os.Getenv("SHOTS")
	if dir == "" {
		return
	}
	data, err := chromedp.Run(b.Context, chromedp.CaptureScreenshot())
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, name+".png"), data, 0o600)
	}
	if err != nil {
		b.Fatal(err)
	}
}

// What the page says of itself.
const (
	grey  = `[...document.querySelectorAll(".view.stale")].map((e) => e.id).join(" ")`
	words = `document.getElementById("live").hidden ? "" : document.getElementById("live-words").textContent`
)

// now is the save of which all is to be seen that there will be; empty before.
const now = `document.getElementById("live-words").textContent.includes("Working") ? "" : document.documentElement.dataset.state || ""`

// of is true once all about a save is to be seen that there will be.
func of(save int) string {
	return fmt.Sprintf(`document.documentElement.dataset.state === "%d" && !document.getElementById("live-words").textContent.includes("Working")`, save)
}

// TestPage drives the page as a maker does: a good job, one with an error, half a job, a
// good one again.
func TestPage(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	good := string(text)
	w := start(t, good)
	b := w.open(1400, 900)
	b.Wait(`document.documentElement.dataset.motif === "1"`)
	b.shot("first")
	b.Wait(`document.documentElement.dataset.page === "1"`)
	b.Wait(of(1))
	if g, s := eval[string](b, grey), eval[string](b, words); g != "" || s != "" {
		t.Errorf("of a good job %q is grey, and it says %q", g, s)
	}
	b.shot("good")
	moves := eval[int](b, `strapwork.state().moves`)
	if title := eval[string](b, `document.title + "; " + document.querySelector("h1").textContent`); moves == 0 || strings.Count(title, "Looped triangle") != 2 {
		t.Errorf("it has %d moves and the titles %q", moves, title)
	}

	// Far too small a rider: the motif is as before, what is found is shown, the last
	// program stays.
	w.save(strings.Replace(good, "rider = 90", "rider = 400", 1))
	b.Wait(of(2))
	found := eval[string](b, `document.getElementById("motif-findings").textContent`)
	if g, s := eval[string](b, grey), eval[string](b, words); !strings.Contains(g, "view-machine") || !strings.Contains(s, "can’t be made") || !strings.Contains(found, "error, line") {
		t.Errorf("of a job with an error %q is grey, it says %q and has the findings %q", g, s, found)
	}
	if got := eval[int](b, `strapwork.state().moves`); got != moves {
		t.Errorf("the last good program has %d moves, had %d", got, moves)
	}
	time.Sleep(500 * time.Millisecond) // what is old turns grey after a while
	if got := eval[string](b, `getComputedStyle(document.getElementById("view-machine")).filter + getComputedStyle(document.getElementById("verdict-words"), "::before").content`); got != `grayscale(1)"Last good save: "` {
		t.Errorf("what is old is shown as %s", got)
	}
	b.shot("error")

	w.save(good[:len(good)/3] + "\nfrom = [")
	b.Wait(of(3))
	if s := eval[string](b, `document.getElementById("live").textContent`); !strings.Contains(s, "can’t be made") || !strings.Contains(s, "line") {
		t.Errorf("of half a job it says %q", s)
	}
	b.shot("half")

	w.save(strings.Replace(good, "Looped", "Knotted", 1))
	b.Wait(`document.documentElement.dataset.page === "4"`)
	b.Wait(of(4))
	if g, title := eval[string](b, grey), eval[string](b, `document.querySelector("h1").textContent`); g != "" || !strings.Contains(title, "Knotted") {
		t.Errorf("of a job that is good again %q is grey, with the title %q", g, title)
	}
	w.end()
	b.Wait(`document.documentElement.dataset.state === "ended"`)
	if s := eval[string](b, words); !strings.Contains(s, "has ended") {
		t.Errorf("when it has ended it says %q", s)
	}
	b.shot("ended")
	b.Forgive("ERR_CONNECTION_REFUSED")
}

// TestPageDoesNotGrow: after saves without number the page holds what it held. SAVES is
// how many; they were a thousand when this was written. Bytes aren't compared, since the
// browser compiles more of what runs often.
func TestPageDoesNotGrow(t *testing.T) {
	saves := 30
	if n, err := strconv.Atoi(os.Getenv("SAVES")); err == nil {
		saves = n
	}
	w := start(t, ring)
	b := w.open(1400, 900)
	held := func() (objects, nodes, listeners int64) {
		time.Sleep(time.Second) // until all is painted, for which there are objects too
		b.Do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			of, err := cdp.Call(ctx, target, runtime.Evaluate, runtime.EvaluateParams{Expression: "Object.prototype", ObjectGroup: "held"})
			if err != nil {
				return err
			}
			for range 2 { // what was let go of while one was under way is taken by the next
				if _, err := cdp.Call(ctx, target, heapprofiler.CollectGarbage, cdp.Empty{}); err != nil {
					return err
				}
			}
			all, err := cdp.Call(ctx, target, runtime.QueryObjects, runtime.QueryObjectsParams{PrototypeObjectID: of.Result.ObjectID, ObjectGroup: "held"})
			if err != nil {
				return err
			}
			if _, err := fmt.Sscanf(all.Objects.Description, "Array(%d)", &objects); err != nil {
				return err
			}
			if _, err := cdp.Call(ctx, target, runtime.ReleaseObjectGroup, runtime.ReleaseObjectGroupParams{ObjectGroup: "held"}); err != nil {
				return err
			}
			m, err := cdp.Call(ctx, target, memory.GetDOMCounters, cdp.Empty{})
			nodes, listeners = m.Nodes, m.JsEventListeners
			return err
		}))
		return objects, nodes, listeners
	}
	const warm = 32 // what the browser makes once, of a page with errors too, is made by then
	var objects, nodes, listeners int64
	for i := range saves + warm {
		if i == warm {
			for before := int64(-1); objects != before; { // until the last page is whole
				before = objects
				objects, nodes, listeners = held()
			}
		}
		text := strings.Replace(ring, "62", strconv.Itoa(30+i%40), 1)
		if i%10 == 5 {
			text = crossed + strings.Repeat("#", i)
		}
		w.save(text)
		// The same question each time, since the browser keeps each that is new.
		for want := strconv.Itoa(i + 2); eval[string](b, now) != want; {
			time.Sleep(2 * time.Millisecond)
		}
		for len(w.made) > 0 {
			<-w.made
		}
	}
	after, nodesAfter, listenersAfter := held()
	t.Logf("%d saves: %d objects, %d nodes and %d listeners were held, then %d, %d and %d", saves, objects, nodes, listeners, after, nodesAfter, listenersAfter)
	most := func(n int64) int64 { return n + n/50 }
	if after > most(objects) || nodesAfter > most(nodes) || listenersAfter > most(listeners) {
		t.Errorf("after %d saves the page holds %d objects, %d nodes and %d listeners, before them %d, %d and %d", saves, after, nodesAfter, listenersAfter, objects, nodes, listeners)
	}
}

// painted watches for the motif, the inlay and the whole page of each save, and keeps
// when the frame with it was painted: two frames on, it has been.
const painted = `(() => {
	window.seen = {};
	const at = (kind) => {
		const key = kind + document.documentElement.dataset[kind];
		if (!(key in seen)) { seen[key] = 0; requestAnimationFrame(() => requestAnimationFrame(() => { seen[key] = performance.timeOrigin + performance.now(); })); }
	};
	new MutationObserver((all) => all.forEach((m) => at(m.attributeName.slice(5)))).observe(document.documentElement, { attributes: true, attributeFilter: ["data-motif", "data-inlay", "data-page"] });
	return true;
})()`

// BenchmarkSaveToPicture takes the time from a save to the motif and the inlay in the
// browser, each of a job that isn't known yet: the demo jobs are saved in turn, while the
// one before is still being built.
func BenchmarkSaveToPicture(b *testing.B) { saveToBrowser(b, "motif", "inlay") }

// BenchmarkSaveToPage takes the time to the whole page too, with nothing else to be done.
func BenchmarkSaveToPage(b *testing.B) { saveToBrowser(b, "motif", "inlay", "page") }

func saveToBrowser(b *testing.B, kinds ...string) {
	jobs, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(jobs) == 0 {
		b.Fatal("there are no jobs")
	}
	w := start(b, ring)
	page := w.open(1400, 900)
	page.Wait(of(1))
	eval[bool](page, painted)
	save := 1
	times := map[string]map[string][]float64{}
	for b.Loop() {
		for _, j := range jobs {
			text, err := os.ReadFile(j)
			if err != nil {
				b.Fatal(err)
			}
			name := strings.TrimSuffix(filepath.Base(j), ".toml")
			if times[name] == nil {
				times[name] = map[string][]float64{}
			}
			save++
			began := time.Now()
			w.save(string(text))
			for _, kind := range kinds {
				seen := fmt.Sprintf("seen[%q]", fmt.Sprint(kind, save))
				page.Wait(seen + " > 0")
				took := eval[float64](page, seen) - float64(began.UnixMicro())/1000
				times[name][kind] = append(times[name][kind], took)
			}
			for len(w.made) > 0 {
				<-w.made
			}
		}
	}
	var table strings.Builder
	worst := map[string]float64{}
	for _, name := range slices.Sorted(maps.Keys(times)) {
		fmt.Fprintf(&table, "\n%-16s", name)
		for _, kind := range kinds {
			all := slices.Sorted(slices.Values(times[name][kind]))
			median := all[len(all)/2]
			fmt.Fprintf(&table, " | %s %.0f (%.0f to %.0f)", kind, median, all[0], all[len(all)-1])
			worst[kind] = max(worst[kind], median)
		}
	}
	b.Logf("milliseconds from a save, median (least to most):%s", &table)
	for kind, ms := range worst {
		b.ReportMetric(ms, "ms-to-"+kind)
	}
}
