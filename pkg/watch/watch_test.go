package watch

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/preview"
)

// patience bounds how long is waited for what must come: a busy machine takes a tenth.
const patience = 30 * time.Second

// ring is a job that takes a few milliseconds from file to page; two are wrong, of which
// the second can't be drawn.
const (
	ring = `title = "A ring"
units = "mm"
[[motif.circle]]
center = [0, 0]
radius = 62
[inlay]
depth = 2
width = 3
[router]
guide = "none"
bit = 2.5
[board]
size = [150, 150]
thickness = 12
origin = [75, 75]
`
	crossed = `title = "Crossed"
units = "mm"
[[motif.line]]
from = [-30, 0]
to = [30, 0]
[[motif.line]]
from = [0, -30]
to = [0, 0]
[inlay]
depth = 2
width = 3
[router]
guide = "none"
bit = 3.5
`
	half = "title = \"A ring\"\nunits = \"mm\"\n[[motif.cir"
)

// A watched is a job that is being watched in a folder of its own.
type watched struct {
	testing.TB
	dir, path string
	address   string
	end       func()            // ends it, and waits until it has
	made      chan build.Result // what came of saves
}

// start begins to watch a job with this text.
func start(t testing.TB, text string) *watched {
	t.Helper()
	w := &watched{TB: t, dir: t.TempDir(), made: make(chan build.Result, 4000)}
	w.path = filepath.Join(w.dir, "job.toml")
	w.save(text)
	ctx, cancel := context.WithCancel(context.Background())
	opened, ended := make(chan string, 1), make(chan error, 1)
	go func() {
		ended <- Run(ctx, jobIn(w.path), Options{Opened: func(a string) { opened <- a }, Made: func(r build.Result) { w.made <- r }})
	}()
	select {
	case w.address = <-opened:
	case err := <-ended:
		t.Fatal(err)
	}
	done := false
	w.end = func() {
		if done {
			return
		}
		done = true
		cancel()
		if err := <-ended; err != nil {
			t.Errorf("it ends with %v", err)
		}
	}
	t.Cleanup(w.end)
	return w
}

// jobIn is the job in a file.
func jobIn(path string) Job {
	where := func(name string) string { return filepath.Join(filepath.Dir(path), name) }
	return Job{
		Name: filepath.Base(path), Path: path, Where: where,
		ReadFile: func(name string) ([]byte, error) { return os.ReadFile(where(name)) },
		Read: func() ([]byte, diag.Findings) {
			data, err := os.ReadFile(path)
			var found diag.Findings
			if err != nil {
				found.ErrorAt(diag.Position{File: filepath.Base(path)}, "unreadable", "it cannot be read")
			}
			return data, found
		},
	}
}

func (w *watched) save(text string) {
	w.Helper()
	if err := os.WriteFile(w.path, []byte(text), 0o600); err != nil {
		w.Fatal(err)
	}
}

// outcome is what came of the next save.
func (w *watched) outcome() build.Result {
	w.Helper()
	select {
	case r := <-w.made:
		return r
	case <-time.After(patience):
		w.Fatal("nothing came of a save")
		panic("unreachable")
	}
}

// ask asks for an address below the page's, as change makes of it.
func (w *watched) ask(what string, change func(*http.Request)) *http.Response {
	w.Helper()
	r, err := http.NewRequest(http.MethodGet, w.address+what, nil)
	if err != nil {
		w.Fatal(err)
	}
	if change != nil {
		change(r)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		w.Fatal(err)
	}
	w.Cleanup(func() { _ = answer.Body.Close() })
	return answer
}

// An event is one that the page got.
type event struct {
	about string
	data  string
}

// listen returns the events that a page gets; the channel is closed when they end.
func (w *watched) listen() <-chan event {
	w.Helper()
	answer := w.ask("events", nil)
	if got := answer.Header.Get("Content-Type"); got != "text/event-stream" || answer.StatusCode != http.StatusOK {
		w.Fatalf("the events are %s, %q", answer.Status, got)
	}
	events := make(chan event, 10000)
	go func() {
		defer close(events)
		var e event
		for lines := bufio.NewReader(answer.Body); ; {
			line, err := lines.ReadString('\n')
			if err != nil {
				return
			}
			name, rest, _ := strings.Cut(strings.TrimSuffix(line, "\n"), ":")
			switch rest = strings.TrimPrefix(rest, " "); name {
			case "event":
				e.about = rest
			case "data":
				e.data = rest
			case "":
				if e.about != "" {
					events <- e
				}
				e = event{}
			}
		}
	}()
	return events
}

// next waits for an event about something that is as it must be, and decodes it.
func next[T any](w *watched, events <-chan event, about string, is func(T) bool) T {
	w.Helper()
	for late := time.After(patience); ; {
		select {
		case e, more := <-events:
			if !more {
				w.Fatalf("the events end before one about the %s", about)
			}
			var v T
			if e.about != about {
				continue
			}
			if err := json.Unmarshal([]byte(e.data), &v); err != nil {
				w.Fatalf("%s: %v", e.data, err)
			}
			if is(v) {
				return v
			}
		case <-late:
			w.Fatalf("nothing comes about the %s", about)
		}
	}
}

// settled waits until nothing more is done for a save.
func (w *watched) settled(events <-chan event, save int) state {
	w.Helper()
	return next(w, events, "state", func(s state) bool { return s.Save == save && s.Working == "" && (s.Stage == "done" || s.Stale) })
}

// listing is all that lies in the folder: names, sizes and times.
func (w *watched) listing() (all []string) {
	w.Helper()
	err := filepath.WalkDir(w.dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		all = append(all, path+" "+strconv.FormatInt(info.Size(), 10)+" "+info.ModTime().String())
		return err
	})
	if err != nil {
		w.Fatal(err)
	}
	return all
}

// TestSaveErrorSave: what was good stays while something is wrong, findings come with
// their lines, and nothing is written.
func TestSaveErrorSave(t *testing.T) {
	w := start(t, ring)
	events := w.listen()
	if m := next(w, events, "motif", func(drawn) bool { return true }); m.Title != "A ring" || !strings.Contains(m.Picture, "<svg") {
		t.Errorf("the motif is %+v", m)
	}
	next(w, events, "inlay", func(l laid) bool { return strings.Contains(l.Picture, "<svg") })
	next(w, events, "page", func(save int) bool { return save == 1 })
	if s := w.settled(events, 1); s.Stage != "done" || s.Stale || len(s.Wrong) > 0 {
		t.Errorf("a good job is %+v", s)
	}
	page := func() (text, tag string) {
		answer := w.ask("page", nil)
		data, err := io.ReadAll(answer.Body)
		if err != nil {
			t.Fatal(err)
		}
		return string(data), answer.Header.Get("ETag")
	}
	good, tag := page()
	if !strings.Contains(good, "<title>A ring</title>") || tag != `"1"` {
		t.Errorf("the page has no title of the job, or is of save %s", tag)
	}
	if r := w.outcome(); !r.OK() {
		t.Error(r.Findings)
	}

	w.save(crossed)
	before := w.listing()
	m := next(w, events, "motif", func(m drawn) bool { return m.Save == 2 && len(m.Findings) > 0 })
	if !strings.Contains(m.Picture, "<svg") || !slices.ContainsFunc(m.Findings, func(f preview.Finding) bool { return f.Severity == "error" && f.Line > 0 }) {
		t.Errorf("the motif with an error is %+v", m)
	}
	if s := w.settled(events, 2); !s.Stale || s.Stage == "done" {
		t.Errorf("a job with an error is %+v", s)
	}
	if again, tag := page(); again != good || tag != `"1"` {
		t.Error("the last good page didn't stay")
	}
	if r := w.outcome(); r.OK() {
		t.Error("the error isn't reported")
	}
	if after := w.listing(); !slices.Equal(before, after) {
		t.Errorf("the folder was\n%q, is\n%q", before, after)
	}

	w.save(half)
	if s := w.settled(events, 3); !s.Stale || s.Stage != "" || len(s.Wrong) == 0 || s.Wrong[0].Line != 3 {
		t.Errorf("half a job is %+v", s)
	}
	w.save(strings.Replace(ring, "A ring", "A good ring", 1))
	next(w, events, "page", func(save int) bool { return save == 4 })
	if s := w.settled(events, 4); s.Stale || s.Stage != "done" {
		t.Errorf("the job that is good again is %+v", s)
	}
	if late := w.listen(); next(w, late, "motif", func(drawn) bool { return true }).Save != 4 || next(w, late, "page", func(int) bool { return true }) != 4 {
		t.Error("a page that is opened late doesn't get what is true now")
	}
}

// TestEditors: saves as editors do, by renaming a file that was written beside, by
// moving the old one away first, and by emptying it first; and a job that is gone, empty
// or a folder ends nothing.
func TestEditors(t *testing.T) {
	w := start(t, ring)
	events := w.listen()
	w.settled(events, 1)
	title := func(s string) string { return strings.Replace(ring, "A ring", s, 1) }
	shows := func(s string) {
		t.Helper()
		next(w, events, "motif", func(m drawn) bool { return m.Title == s })
	}
	do := func(errs ...error) {
		t.Helper()
		if err := errors.Join(errs...); err != nil {
			t.Fatal(err)
		}
	}
	beside := filepath.Join(w.dir, ".job.toml.swp")
	do(os.WriteFile(beside, []byte(title("renamed")), 0o600), os.Rename(beside, w.path))
	shows("renamed")
	do(os.Rename(w.path, w.path+"~"), os.WriteFile(w.path, []byte(title("moved away")), 0o600))
	shows("moved away")

	w.save("")
	next(w, events, "state", func(s state) bool { return s.Stale })
	w.save(title("was empty"))
	shows("was empty")
	do(os.Remove(w.path))
	unread := func(s state) bool { return len(s.Wrong) == 1 && s.Wrong[0].Message == "it cannot be read" }
	gone := next(w, events, "state", unread)
	do(os.Mkdir(w.path, 0o700), os.WriteFile(filepath.Join(w.dir, "other.toml"), []byte(ring), 0o600))
	do(os.Remove(w.path))
	w.save(title("was a folder"))
	if m := next(w, events, "motif", func(drawn) bool { return true }); m.Title != "was a folder" || m.Save != gone.Save+1 {
		t.Errorf("after save %d it shows %q of save %d", gone.Save, m.Title, m.Save)
	}
}

// TestNamed: a drawing that the job names is watched with it, in its own folder.
func TestNamed(t *testing.T) {
	w := start(t, ring)
	events := w.listen()
	w.settled(events, 1)
	drawing := filepath.Join(w.dir, "drawings", "d.svg")
	draw := func(to string) {
		t.Helper()
		svg := `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><path d="M 10 10 L ` + to + `" fill="none" stroke="black"/></svg>`
		if err := errors.Join(os.MkdirAll(filepath.Dir(drawing), 0o700), os.WriteFile(drawing, []byte(svg), 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	w.save(strings.Replace(ring, "[[motif.circle]]\ncenter = [0, 0]\nradius = 62\n", "[[motif.drawing]]\nfile = \"drawings/d.svg\"\n", 1))
	next(w, events, "state", func(s state) bool { return s.Save == 2 && s.Stale }) // there is none
	draw("90 90")
	first := next(w, events, "motif", func(m drawn) bool { return true })
	draw("90 50")
	if second := next(w, events, "motif", func(m drawn) bool { return m.Save > first.Save }); second.Picture == first.Picture {
		t.Error("the motif of another drawing is the same")
	}
}

// TestRefused: who isn't the page, and has not its address, gets nothing.
func TestRefused(t *testing.T) {
	w := start(t, ring)
	w.outcome()
	_, port, _ := net.SplitHostPort(strings.Split(w.address, "/")[2])
	token := strings.Split(w.address, "/")[3]
	path := func(p string) func(*http.Request) { return func(r *http.Request) { r.URL.Path = p } }
	host := func(h string) func(*http.Request) { return func(r *http.Request) { r.Host = h } }
	head := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	method := func(m string) func(*http.Request) { return func(r *http.Request) { r.Method = m } }
	for _, c := range []struct {
		name   string
		change func(*http.Request)
		want   int
	}{
		{"as it is opened", nil, http.StatusOK},
		{"by the machine's name for itself", host("localhost:" + port), http.StatusOK},
		{"opened by hand", head("Sec-Fetch-Site", "none"), http.StatusOK},
		{"asked for by the page", head("Sec-Fetch-Site", "same-origin"), http.StatusOK},
		{"asked for by the page, with its origin", head("Origin", "http://127.0.0.1:"+port), http.StatusOK},
		{"its head", method(http.MethodHead), http.StatusOK},
		{"a name that leads here", host("rebound.example:" + port), http.StatusForbidden},
		{"another machine's number", host("192.0.2.7:" + port), http.StatusForbidden},
		{"another port", host("127.0.0.1:1"), http.StatusForbidden},
		{"without a port", host("localhost"), http.StatusForbidden},
		{"another site", head("Origin", "https://site.example"), http.StatusForbidden},
		{"another site, hidden", head("Origin", "null"), http.StatusForbidden},
		{"another server of this machine", head("Origin", "http://127.0.0.1:1"), http.StatusForbidden},
		{"the other name's origin", head("Origin", "http://localhost:"+port), http.StatusForbidden},
		{"sent by another site", head("Sec-Fetch-Site", "cross-site"), http.StatusForbidden},
		{"sent by another port", head("Sec-Fetch-Site", "same-site"), http.StatusForbidden},
		{"without a token", path("/"), http.StatusForbidden},
		{"without one, but with a name", path("/page"), http.StatusForbidden},
		{"half a token", path("/" + token[:16] + "/"), http.StatusForbidden},
		{"a wrong token", path("/" + strings.Repeat("0", len(token)) + "/"), http.StatusForbidden},
		{"a wrong token, for the events", path("/" + strings.Repeat("0", len(token)) + "/events"), http.StatusForbidden},
		{"a token without its slash", path("/" + token), http.StatusForbidden},
		{"another name", path("/" + token + "/job.toml"), http.StatusNotFound},
		{"a way out", path("/" + token + "/../job.toml"), http.StatusNotFound},
		{"a post", method(http.MethodPost), http.StatusMethodNotAllowed},
		{"a deletion", method(http.MethodDelete), http.StatusMethodNotAllowed},
	} {
		answer := w.ask("", c.change)
		body, err := io.ReadAll(answer.Body)
		if answer.StatusCode != c.want || err != nil {
			t.Errorf("%s: got %s, %v, want %d", c.name, answer.Status, err, c.want)
		}
		if c.want != http.StatusOK && strings.Contains(string(body), "ring") {
			t.Errorf("%s: the answer has something of the job: %s", c.name, body)
		}
		for name, want := range map[string]string{
			"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Access-Control-Allow-Origin": "",
		} {
			if got := answer.Header.Get(name); got != want {
				t.Errorf("%s: %s is %q, want %q", c.name, name, got, want)
			}
		}
		if got := answer.Header.Get("Content-Security-Policy"); !strings.Contains(got, "default-src 'none'") || !strings.Contains(got, "frame-ancestors 'none'") {
			t.Errorf("%s: the policy is %q", c.name, got)
		}
	}
	if len(token) != 32 {
		t.Errorf("the token is %q, want 128 bits in hexadecimal", token)
	}
	for _, a := range addresses(t) {
		if c, err := net.DialTimeout("tcp", net.JoinHostPort(a, port), time.Second); err == nil {
			_ = c.Close()
			t.Errorf("it listens at %s too", a)
		}
	}
}

// addresses are those that this machine has for others.
func addresses(t *testing.T) (all []string) {
	list, err := net.InterfaceAddrs()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range list {
		if ip, ok := a.(*net.IPNet); ok && !ip.IP.IsLoopback() && !ip.IP.IsLinkLocalUnicast() {
			all = append(all, ip.IP.String())
		}
	}
	return all
}

// TestEnds: it ends at once, in the middle of a build too, and tells the page.
func TestEnds(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/games-table.toml") // its panels take seconds
	if err != nil {
		t.Fatal(err)
	}
	w := start(t, string(text))
	events := w.listen()
	next(w, events, "state", func(s state) bool { return strings.Contains(s.Working, "sharing out") })
	began := time.Now()
	w.end()
	if took := time.Since(began); took > time.Second {
		t.Errorf("it ends after %v", took)
	}
	next(w, events, "end", func(any) bool { return true })
	if _, err := http.Get(w.address); err == nil {
		t.Error("it still answers")
	}
}

// TestNewerSave: a save isn't waited for whose plan takes long, and nothing comes of it.
func TestNewerSave(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/games-table.toml")
	if err != nil {
		t.Fatal(err)
	}
	w := start(t, string(text))
	events := w.listen()
	next(w, events, "state", func(s state) bool { return strings.Contains(s.Working, "sharing out") })
	w.save(ring)
	next(w, events, "inlay", func(l laid) bool { return l.Save == 2 })
	if len(w.made) > 0 {
		t.Error("the inlay came after the older save's plan")
	}
	if r := w.outcome(); r.Job.Title != "A ring" {
		t.Errorf("there is an outcome of %q, which a newer save followed", r.Job.Title)
	}
}

// TestNothingGrows: after hundreds of saves, good and bad, as much is held as after some.
// SAVES is how many; they were a thousand when this was written.
func TestNothingGrows(t *testing.T) {
	saves := 60
	if n, err := strconv.Atoi(os.Getenv("SAVES")); err == nil {
		saves = n
	}
	w := start(t, ring)
	events := w.listen()
	held := func() (bytes uint64, routines int) {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc, runtime.NumGoroutine()
	}
	const warm = 20
	var first uint64
	var routines int
	for i := range saves + warm {
		if i == warm {
			first, routines = held()
		}
		text := strings.Replace(ring, "62", strconv.Itoa(30+i%40), 1)
		if i%10 == 5 {
			text = crossed + strings.Repeat("#", i)
		}
		w.save(text)
		w.settled(events, i+2)
		for len(w.made) > 0 {
			<-w.made
		}
	}
	last, after := held()
	t.Logf("%d saves: %d bytes were held, then %d", saves, first, last)
	const slack = 1 << 20 // a page is 300,000 bytes, and is held or isn't
	if last > first+slack || after > routines+2 {
		t.Errorf("after %d saves %d bytes and %d goroutines are held, before them %d and %d", saves, last, after, first, routines)
	}
}
