package job_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"strapwork/pkg/job"
)

// TestBounds: what is beyond a bound is one error at its key, at once; what is
// at it is read.
func TestBounds(t *testing.T) {
	list := func(n int, item string) string { return "[" + strings.Repeat(item+",", n) + "]" }
	names := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "\"n%d\",", i)
		}
		return "[" + b.String() + "]"
	}
	const motif = "[motif]\n[[motif.line]]\nfrom = [0, 0]\nto = [100, 0]\n"
	build := func(motif, inlay, bit, more string) string {
		return "units = \"mm\"\n" + motif + "[inlay]\n" + inlay + "\n[router]\nguide = \"bearing\"\nbit = " + bit + "\n" + more
	}
	lines := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "[%d, %d],", i, i%2)
		}
		return "[motif]\ncopies = 5\n[[motif.line]]\npoints = [" + b.String() + "]\n"
	}
	const inlay = "depth = 2\nwidth = 3"
	strip := `{material = "m", thickness = 0.03}`
	for name, c := range map[string]struct{ within, beyond, says string }{
		"bit":      {build(motif, "depth = 0.5\nwidth = 0.2", "0.1", ""), build(motif, inlay, "1e-300", ""), "bit must be at least 0.1 mm, not 0 mm"},
		"step":     {build(motif, inlay, "2", "[program]\nstep = 0.004\n"), build(motif, inlay, "2", "[program]\nstep = 0.0039\n"), "2 passes beside one another at 513 depths: more than 1000"},
		"depth":    {build(motif, "depth = 300\nwidth = 3", "2", ""), build(motif, "depth = 90000\nwidth = 3", "2", ""), "90000 depths"},
		"passes":   {build(motif, inlay, "0.2", ""), build(motif, "depth = 2\nwidth = 30", "0.1", ""), "300 passes beside one another at 60"},
		"ramp":     {build(motif, inlay, "2", "[program]\nramp = 0.1\n"), build(motif, inlay, "2", "[program]\nramp = 1e-9\n"), "ramp must be 0, or 0.1 to 3 degrees"},
		"strips":   {build(motif, "depth = 2\nstrips = "+list(100, strip), "2", ""), build(motif, "depth = 2\nstrips = "+list(101, strip), "2", ""), "strips has 101 entries"},
		"flips":    {build(motif, inlay, "2", "[weave]\nflip = "+list(1000, "[0, 0]")), build(motif, inlay, "2", "[weave]\nflip = "+list(100_000, "[0, 0]")), "flip has 100000 entries"},
		"order":    {build(motif, inlay, "2", "[program]\norder = "+names(1000)), build(motif, inlay, "2", "[program]\norder = "+names(100_000)), "order has 100000 entries"},
		"legs":     {build(lines(1001), inlay, "2", ""), build(lines(1002), inlay, "2", ""), "5005 lines and arcs, copies included: more than 5000"},
		"all legs": {build(motif, inlay, "2", ""), build(lines(90_000), inlay, "2", ""), "449,995 lines and arcs"},
		"moves":    {build(lines(1001), inlay, "2", ""), build(lines(1001), inlay, "2", "[program]\nstep = 0.01\n"), "more than 1,000,000 moves"},
		"clamps": {
			build(motif, inlay, "2", "[stock]\n"+strings.Repeat("[[stock.clamp]]\nfrom = [0, 0]\nto = [1, 1]\nheight = 2\n", 1000)),
			build(motif, inlay, "2", "[stock]\n"+strings.Repeat("[[stock.clamp]]\nfrom = [0, 0]\nto = [1, 1]\nheight = 2\n", 1001)),
			"stock.clamp has 1001 entries",
		},
	} {
		if j, found := job.Read("j.toml", []byte(c.within)); j == nil {
			t.Errorf("%s: within the bound: %s", name, found.Error())
		}
		began := time.Now()
		j, found := job.Read("j.toml", []byte(c.beyond))
		if took := time.Since(began); took > time.Minute { // a fraction of a second on an idle machine
			t.Errorf("%s took %v", name, took)
		}
		if j != nil || len(found) != 1 || !strings.Contains(found.Error(), c.says) || found[0].Pos.Line == 0 {
			t.Errorf("%s: want %q, got %s", name, c.says, found.Error())
		}
	}
}
