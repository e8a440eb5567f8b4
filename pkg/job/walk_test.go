package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
)

func walkJob(keys string) string {
	return "title = \"t\"\nunits = \"mm\"\n[let]\nL = 40\n[points]\nB = [40, 0]\nC = [60, 20]\nbehind = [-5, 0]\n[motif]\n[[motif.strand]]\n" + keys +
		"\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
}

func walked(t *testing.T, keys string) geom.Contour {
	t.Helper()
	return read(t, walkJob(keys)).Motif.Elements[0].Contour
}

// Two straights and two half turns make an oval of 2 l + 2 pi r; steps to points, arcs
// that end at one, corners (by hand).
func TestWalks(t *testing.T) {
	oval := walked(t, `start = [0, 0]
heading = 0
go = ["straight L", "left 180 radius 12", "straight L", "left 180 radius L * 0.3", "close"]`)
	if want := 80 + 24*math.Pi; !oval.Closed || math.Abs(oval.Length()-want) > 1e-9 || kink(oval) > 1e-9 {
		t.Errorf("the oval is closed: %t, %g long, want %g, with kinks of %g", oval.Closed, oval.Length(), want, kink(oval))
	}
	hook := walked(t, "start = [0, 0]\ngo = [\"straight to B\", \"tangent to C\", \"straight 5\"]")
	// The arc from (40, 0), level, to (60, 20) is a quarter of 20.
	if want := 45 + 10*math.Pi; math.Abs(hook.Length()-want) > 1e-9 || !hook.End().Near(geom.Pt(60, 25), 1e-9) || hook.Closed {
		t.Errorf("the hook is %g long and ends at %v, want %g", hook.Length(), hook.End(), want)
	}
	bent := walked(t, "start = \"B\"\nheading = 90\ngo = [\"straight 10\", \"corner 90\", \"straight 10\", \"right 90 radius 5\"]")
	if !bent.End().Near(geom.Pt(25, 15), 1e-9) || math.Abs(kink(bent)-math.Pi/2) > 1e-9 {
		t.Errorf("the bent one ends at %v with a kink of %g", bent.End(), kink(bent))
	}
}

// From wherever it is the strand comes home smoothly, by two arcs or a straight.
func TestComesHome(t *testing.T) {
	made := 0
	rapid.Check(t, func(rt *rapid.T) {
		var steps []string
		for range rapid.IntRange(1, 4).Draw(rt, "steps") {
			if rapid.Bool().Draw(rt, "straight") {
				steps = append(steps, fmt.Sprintf("%q", fmt.Sprintf("straight %.2f", rapid.Float64Range(5, 80).Draw(rt, "length"))))
				continue
			}
			side := rapid.SampledFrom([]string{"left", "right"}).Draw(rt, "side")
			steps = append(steps, fmt.Sprintf("%q", fmt.Sprintf("%s %.1f radius %.2f", side, rapid.Float64Range(20, 300).Draw(rt, "by"), rapid.Float64Range(5, 60).Draw(rt, "radius"))))
		}
		text := walkJob("start = [3, -7]\nheading = 20\ngo = [" + strings.Join(steps, ", ") + ", \"close\"]")
		j, found := job.Read("t.toml", []byte(text))
		if j == nil {
			for _, f := range found {
				if f.Rule != "bad-step" {
					rt.Errorf("%v", found)
				}
			}
			return
		}
		made++
		if c := j.Motif.Elements[0].Contour; !c.Closed || kink(c) > 1e-6 {
			rt.Errorf("closed: %t, with a kink of %g: %v", c.Closed, kink(c), steps)
		}
	})
	if made < 5 {
		t.Errorf("only %d came home", made)
	}
}

func TestStepsThatCantBe(t *testing.T) {
	for _, test := range []struct{ keys, want, hint string }{
		{`go = ["straight 10"]`, "the strand has no direction yet", "heading = 30"},
		{`go = ["straight to B", "straight to behind"]`, "behind lies behind", "turn there first"},
		{`go = ["straight to B", "straight to C"]`, "C is not straight ahead: the path passes it 20 mm to the left", `"tangent to C", or "corner 45" first`},
		{`go = ["straight to D"]`, `there is no point "D"`, ""},
		{`go = ["straight to B", "tangent to behind"]`, "no arc leads straight back", "left 180"},
		{`go = ["straight to B", "left 90"]`, "left needs an angle and a radius", "left 90 radius 25"},
		{`go = ["straight to B", "left -90 radius 5"]`, "left must be more than 0", "right"},
		{`go = ["straight to B", "left 90 radius 0"]`, "radius must be more than 0", "25"},
		{`go = ["straight to B", "left 90 radius q"]`, "", ""},
		{`go = ["straight to B", "wander"]`, `there is no step "wander"`, "straight 40"},
		{`go = ["straight to B", "left 360 radius 9", "left 90 radius 9", "close", "straight 3"]`, "closed before this step", "last"},
		{`go = []`, "go has no step", "straight 40"},
		{`go = [3]`, "a step of go must be text", "straight 40"},
		{``, "go is missing", "straight 40"},
	} {
		_, found := job.Read("job.toml", []byte(walkJob("start = [0, 0]\n"+test.keys)))
		text := ""
		for _, f := range found {
			text += f.Error() + "\nhint: " + f.Hint + "\n"
		}
		if len(found) != 1 || !strings.Contains(text, test.want) || !strings.Contains(text, test.hint) {
			t.Errorf("%s:\n%s\nwant %s (%s), once", test.keys, text, test.want, test.hint)
		}
	}
}
