package build

import (
	"errors"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"

	"strapwork/pkg/diag"
)

// A Graph answers what is asked of jobs, Check, Build and DryRun, and keeps what
// every stage made by the values that it was made from: a stage whose inputs are
// those of before isn't run again. A job whose title alone is changed has its
// drawings engraved anew, and keeps its grooves, cuts, panels and passes.
//
// What is kept is what the asking under way and the one before it asked for: so a
// check and a build can take turns, and an edit that is undone costs nothing,
// while what one job needs is held twice at most.
//
// Nobody may change what a Result holds: the next one may hold the same.
type Graph struct {
	readFile ReadFile
	turn     sync.Mutex // one asking after another

	mu    sync.Mutex
	nodes map[digest]*node
	now   int            // counts the askings
	keep  int            // of how many of them, the one under way among them, is kept
	ran   map[string]int // how often each stage was run, by its name
}

// A node is one run of a stage.
type node struct {
	done  chan struct{} // is closed when it is
	made  any           // the made[V] of its stage
	fault *Fault        // why there is none
	asked int           // the last asking that wanted it
}

// NewGraph returns a graph that keeps nothing yet. readFile is asked for the
// profiles that jobs give by path, anew at each asking.
func NewGraph(readFile ReadFile) *Graph {
	return &Graph{readFile: readFile, keep: 2, nodes: map[digest]*node{}, ran: map[string]int{}}
}

// What is made: a stage's output, what it found, and the name of its inputs, which
// stands for it where it is an input of another stage.
type made[V any] struct {
	Value V
	Found diag.Findings
	key   digest
}

// ask returns what a stage makes of its input, from before if it is kept; else it
// runs the stage, which must make the same of the same input and look at nothing
// else: a function with a name, not one that sees variables about it. Several may
// ask for the same at once: one runs it and the others wait.
func ask[In, V any](g *Graph, stage string, in In, run func(In) (V, diag.Findings)) made[V] {
	return askAny(g, stage, in, run)
}

// askUntil does the same with a stage that takes long. All that it sees besides its input
// is goOn, to be called now and then, which ends it where nobody waits any more: it
// changes nothing of what is made.
func askUntil[In, V any](g *Graph, stage string, in In, goOn func(), run func(in In, goOn func()) (V, diag.Findings)) made[V] {
	return askAny(g, stage, in, func(in In) (V, diag.Findings) { return run(in, goOn) })
}

// askShown does the same with one that shows, besides, how far it has come.
func askShown[In, V any](g *Graph, stage string, in In, goOn func(), show func(what string), run func(in In, goOn func(), show func(what string)) (V, diag.Findings)) made[V] {
	return askAny(g, stage, in, func(in In) (V, diag.Findings) { return run(in, goOn, show) })
}

func askAny[In, V any](g *Graph, stage string, in In, run func(In) (V, diag.Findings)) made[V] {
	key := digestOf(stage, in)
	n, isNew := g.node(key, stage)
	if isNew {
		n.fault = catch(func() {
			v, found := run(in)
			n.made = made[V]{v, found, key}
		})
		close(n.done)
	}
	<-n.done
	if n.fault != nil {
		panic(n.fault)
	}
	return n.made.(made[V])
}

// node is the node of a key; it is new if whoever asks has to run it.
func (g *Graph) node(key digest, stage string) (n *node, isNew bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	n, kept := g.nodes[key]
	if !kept {
		n = &node{done: make(chan struct{})}
		g.nodes[key] = n
		g.ran[stage]++
	}
	n.asked = g.now
	return n, !kept
}

// errDropped is what goes through an asking that nobody waits for any more.
var errDropped = errors.New("dropped")

// answer is one asking. A fault of our own in it is all that it finds.
func (g *Graph) answer(file string, do func() Result) (r Result) {
	g.turn.Lock()
	defer g.turn.Unlock()
	g.now++
	defer g.forget()
	if fault := catch(func() { r = do() }); fault != nil {
		if r = (Result{File: file, Dropped: fault.What == errDropped}); !r.Dropped {
			r.Findings.Add(fault.Finding(file))
		}
	}
	r.tidy()
	return r
}

// forget drops what none of the last askings asked for, and what failed.
func (g *Graph) forget() {
	for key, n := range g.nodes {
		if n.asked <= g.now-g.keep || n.fault != nil {
			delete(g.nodes, key)
		}
	}
}

// together does several things side by side, on as many processors as there are,
// and comes back when all are done. A fault in one, the first of the list if there
// are several, goes on in who called.
func together(do ...func()) {
	faults := make([]*Fault, len(do))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, f := range do {
		g.Go(func() error {
			faults[i] = catch(f)
			return nil
		})
	}
	_ = g.Wait() // faults has them, in the order of the list and not of time
	for _, f := range faults {
		if f != nil {
			panic(f)
		}
	}
}

// each does the same for all of a list, side by side, and returns what came of it
// in the order of the list.
func each[A, B any](list []A, do func(A) B) []B {
	out := make([]B, len(list))
	all := make([]func(), len(list))
	for i, a := range list {
		all[i] = func() { out[i] = do(a) }
	}
	together(all...)
	return out
}
