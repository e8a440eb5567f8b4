package byhand

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"strapwork/pkg/geom"
)

// A Text is a job file.
type Text struct{ Name, Job string }

// plannedMotifs is the number of seeded motifs among those that are Planned.
const plannedMotifs = 60

// Planned are jobs to be planned for every preference: those of testdata, those that
// package plan keeps, and seeded motifs of all kinds and tools. They say nothing
// of what is preferred; Preferring does. It is for tests, which run in pkg/NAME.
func Planned() ([]Text, error) {
	var list []Text
	for _, dir := range []string{"../../testdata/jobs", "../plan/testdata"} {
		files, err := filepath.Glob(dir + "/*.toml")
		if err != nil || len(files) == 0 {
			return nil, fmt.Errorf("no jobs in %s: %v", dir, err)
		}
		for _, path := range files {
			text, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			list = append(list, Text{strings.TrimSuffix(filepath.Base(path), ".toml"), string(text)})
		}
	}
	for n := range plannedMotifs {
		list = append(list, various(n))
	}
	return list, nil
}

// various is the n-th motif: a fifth of them are drawn so large that a router's base
// rides the template, every second of the others may be turned over, and a third are rounded to
// two decimals.
func various(n int) Text {
	seed := 100 + n // others than those whose cuts are kept
	kind, s := sketched(seed)
	if n%5 == 2 {
		s = s.onBase()
	}
	d := s.drawing(seed)
	if n%2 == 1 && !strings.Contains(s.tool.router, `guide = "base"`) { // whose panels have a floor
		d.Head += "flip = true\n"
	}
	hand := Hand{}
	if n%3 == 1 {
		hand.Decimals = 2
	}
	return Text{fmt.Sprintf("motif-%02d-%s", n, kind), d.Write(hand)}
}

// Preferring is the job with a preference, which it didn't have.
func (t Text) Preferring(what string) string {
	line := fmt.Sprintf("prefer = %q\n", what)
	const table = "[template]\n"
	if before, after, ok := strings.Cut(t.Job, table); ok {
		return before + table + line + after
	}
	return strings.TrimRight(t.Job, "\n") + "\n\n" + table + line
}

// onBase is a sketch drawn larger, so that a base of 90 mm follows all of its bends.
func (s sketch) onBase() sketch {
	const rider, spare = 90.0, 1.2
	scale := 4.0 // of what has no bends
	for _, e := range s.elements {
		if e.Kind != Line {
			scale = max(scale, spare*rider/2/e.Radius)
		}
	}
	s.tool = tool{fmt.Sprintf("guide = \"base\"\nrider = \"%g mm\"\nbit = \"1/8 in\"\nflute = \"20 mm\"\nshank = \"1/4 in\"", rider), 4.5}
	var large []Element
	for _, e := range s.elements {
		var pts []geom.Point
		for _, p := range e.Points {
			pts = append(pts, p.Scale(scale))
		}
		e.Points, e.Center, e.Radius = pts, e.Center.Scale(scale), math.Round(e.Radius*scale*1e6)/1e6
		large = append(large, e)
	}
	s.elements = large
	return s
}
