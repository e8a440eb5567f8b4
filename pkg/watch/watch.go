// Package watch shows the page of a job in a browser of this machine, anew at each
// save: the motif and the inlay at once, all that has to be planned as soon as it is.
// What is wrong is shown in its place, and what was good before stays until it is good
// again. Nothing is written.
//
// A lookout notices saves; of each the quick answers are given first, then those that
// take long, by two who work side by side and each drop what a newer save has made
// useless; a hub holds what is to be seen, and a server sends it to the page.
package watch

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log"
	"net"
	"strconv"
	"sync/atomic"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/preview"
)

// A Job is the one that is watched.
type Job struct {
	Name     string                          // what findings call its file
	Path     string                          // of its file
	Read     func() ([]byte, diag.Findings)  // reads it, and says why it can't be read
	ReadFile build.ReadFile                  // reads a file that it names
	Where    func(name string) (path string) // where such a file is
}

// Options say how a job is watched.
type Options struct {
	Port   int                  // where to listen; 0: a port that is free
	Opened func(address string) // is given the page's address once it can be opened
	Made   func(r build.Result) // is given what came of a save that no newer one followed
}

// Run watches a job until the context ends, which is no error. Opened and Made are
// called by whoever called Run.
func Run(ctx context.Context, j Job, o Options) error {
	ctx, end := context.WithCancel(ctx)
	defer end()
	l, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(o.Port)))
	if err != nil {
		return err
	}
	hub := newHub()
	s, err := newServer(hub, l.Addr().(*net.TCPAddr), j.Name)
	if err != nil {
		_ = l.Close()
		return err
	}
	failed := make(chan error, 1)
	go func() { failed <- s.serve(ctx, l) }()
	o.Opened(s.address())

	f := newFollower(ctx, j, hub)
	go newLookout(j, f.used).run(ctx, f.save)
	for {
		select {
		case r := <-f.made:
			o.Made(r)
		case err := <-failed:
			return err
		case <-ctx.Done():
			return <-failed
		}
	}
}

// A follower answers saves.
type follower struct {
	Job
	ctx    context.Context
	hub    *hub
	used   *used
	newest atomic.Int64      // the newest save's number
	quick  chan save         // for the one that draws what can be seen at once
	slow   chan save         // for the one that builds
	made   chan build.Result // what came of a save
}

func newFollower(ctx context.Context, j Job, h *hub) *follower {
	f := &follower{
		Job: j, ctx: ctx, hub: h, used: newUsed(j.ReadFile),
		quick: make(chan save, 1), slow: make(chan save, 1), made: make(chan build.Result, 1),
	}
	go each(ctx, f.quick, f.glance(build.NewGraph(f.used.read)))
	go each(ctx, f.slow, f.build(build.NewGraph(f.used.read)))
	return f
}

// each does something with all that comes until the context ends.
func each[T any](ctx context.Context, box <-chan T, do func(T)) {
	for {
		select {
		case <-ctx.Done():
			return
		case v := <-box:
			do(v)
		}
	}
}

// put puts something in a box for one, in place of what nobody has taken yet. Only one
// may put into a box.
func put[T any](box chan T, v T) {
	select {
	case <-box:
	default:
	}
	box <- v
}

// save is a newer save.
func (f *follower) save(s save) {
	f.newest.Store(int64(s.number))
	put(f.quick, s)
}

// dropped reports whether nobody waits for what comes of a save any more.
func (f *follower) dropped(s save) bool {
	return f.ctx.Err() != nil || f.newest.Load() != int64(s.number)
}

// A state is what the page says of itself, as showState in package preview reads it.
type state struct {
	Save    int               `json:"save"`
	Stage   string            `json:"stage"`   // what is of this save: "motif", "inlay" and "done"; empty: nothing yet
	Working string            `json:"working"` // what is being done; empty: nothing
	Stale   bool              `json:"stale"`   // something is wrong: what isn't of this save is of one that could be made
	Wrong   []preview.Finding `json:"wrong"`   // what is, where there is no motif to show it in
}

// drawn is the message about the motif: what was found, in its picture.
type drawn struct {
	Save     int               `json:"save"`
	Title    string            `json:"title"`
	Picture  string            `json:"picture"`
	Findings []preview.Finding `json:"findings"`
}

// laid is the message about the inlay.
type laid struct {
	Save    int    `json:"save"`
	Picture string `json:"picture"`
}

// say says something of a save to the page.
func (f *follower) say(s save, about subject, v any) {
	var b bytes.Buffer
	out := json.NewEncoder(&b)
	out.SetEscapeHTML(false) // no markup is about it
	if err := out.Encode(v); err != nil {
		panic(fmt.Sprintf("a message of %T can't be written: %v", v, err)) // they are plain
	}
	f.hub.say(s.number, about, bytes.TrimSpace(b.Bytes()))
}

// state says how far a save came. While a motif can be drawn, that has what was found.
func (f *follower) state(s save, working string) {
	now := state{Save: s.number, Stage: s.stage, Working: working, Stale: s.found.HasErrors(), Wrong: []preview.Finding{}}
	if s.stage == "" {
		now.Wrong = preview.FindingsOf(s.found)
	}
	f.say(s, aboutState, now)
}

// motif shows a motif and what was found. Where there is none to be drawn, the one
// before it stays.
func (f *follower) motif(s *save, k build.Sketch) {
	s.found = k.Findings
	if k.Picture == nil {
		return
	}
	if s.stage == "" {
		s.stage = "motif"
	}
	f.say(*s, aboutMotif, drawn{s.number, k.Job.Title, string(k.Picture), preview.FindingsOf(k.Findings)})
}

// glance draws what can be seen at once.
func (f *follower) glance(g *build.Graph) func(save) {
	return func(s save) {
		f.hub.begin(s.number)
		if !s.unread {
			picture, found := g.Glance(f.Name, s.data, func(k build.Sketch) {
				f.motif(&s, k)
				f.state(s, "")
			})
			if s.found = found; picture != nil {
				s.stage = "inlay"
				f.say(s, aboutInlay, laid{s.number, string(picture)})
			}
			f.state(s, "what comes after the inlay")
		} else {
			f.state(s, "")
		}
		put(f.slow, s)
	}
}

// build plans and builds the whole page.
func (f *follower) build(g *build.Graph) func(save) {
	return func(s save) {
		k := build.Sketch{Result: build.Result{File: f.Name, Findings: s.found}}
		if !s.unread {
			k = g.BuildDrawn(f.Name, s.data, build.Options{
				Only:    build.Preview,
				Step:    func(what string) { f.state(s, what) },
				Dropped: func() bool { return f.dropped(s) },
			})
		}
		if f.dropped(s) {
			return
		}
		f.motif(&s, k)
		for _, file := range k.Files {
			if file.Path == build.PreviewPath {
				f.hub.show(s.number, file.Data)
				s.stage = "done"
			}
		}
		f.state(s, "")
		put(f.made, k.Result)
	}
}

// silent is a log that nobody reads: what clients do wrong is of no interest.
func silent() *log.Logger { return log.New(io.Discard, "", 0) }
