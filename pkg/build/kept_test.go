package build

import (
	"os"
	"strings"
	"sync"
)

// keptGraphs are the graphs of whole jobs that several tests build, by the jobs' texts.
var keptGraphs sync.Map

// Slowest are the jobs of testdata that take judges and witnesses longest. JOBS=all asks for
// them too; what is built of every job in pkg/cli and pkg/report is built of them as well.
var Slowest = []string{"games-table.toml", "rosette.toml", "star-tray.toml"}

// Kept is a graph that all tests build a job with, whose profiles are built in: it
// forgets nothing, so that the job is planned once, and what differs by options alone
// is drawn anew. No test may change what it makes.
func Kept(text string) *Graph {
	g := NewGraph(os.ReadFile)
	g.keep = 1 << 30
	kept, _ := keptGraphs.LoadOrStore(strings.Clone(text), g)
	return kept.(*Graph)
}
