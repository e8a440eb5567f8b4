package dryrun

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/walls"
)

// sectionWork is a section from x = -50 to 90 whose straight groove runs on past its right
// edge to x = 100.
func sectionWork(meets bool) Work {
	w := against(straight())
	box := geom.Box{Min: geom.Pt(-50, -50), Max: geom.Pt(90, 50)}
	w.Section = &Section{
		Name: "left", Outline: geom.Rect(box),
		Ends: []geom.Edge{geom.Line(geom.Pt(long, wide/2), geom.Pt(long, -wide/2))},
	}
	if meets {
		w.Section.Edges = []Edge{{Name: "right", From: geom.Pt(90, -50), To: geom.Pt(90, 50)}}
	}
	return w
}

// found are the rules of a report's errors, each once.
func found(r Report) (list []string) {
	for _, f := range r.Findings {
		if f.Severity == diag.Error && !slices.Contains(list, f.Rule) {
			list = append(list, f.Rule)
		}
	}
	slices.Sort(list)
	return list
}

// A groove square to the edge runs on as far as the bit's middle goes past it: its whole
// width so far, its rim half the slot further. Wood that is thinner than leftOver beside the
// end's round is nothing, which is a chord of the bit's circle of about sqrt(2 r leftOver).
func TestRunOnIsMeasured(t *testing.T) {
	thinEnd := math.Sqrt(2*bit/2*leftOver) + 2*leftOver
	for _, c := range []struct {
		to     string // where the bit's middle turns
		past   float64
		faults []string
	}{
		{"98.4125", 8.4125, nil},
		{"90.5", 0.5, nil},
		{"89.5", 0, []string{"missed", "run-on"}},
		{"88", 0, []string{"missed", "run-on"}},
		{"101", 11, []string{"gouge"}}, // past the end of the run-on
	} {
		r := judged(t, strings.ReplaceAll(good, "98.4125", c.to), sectionWork(true))
		if got := found(r); !slices.Equal(got, c.faults) {
			t.Errorf("to x %s: faults %v, want %v", c.to, got, c.faults)
		}
		if len(r.RunOns) != 1 || r.Section != "left" {
			t.Fatalf("to x %s: run-ons %v of section %q", c.to, r.RunOns, r.Section)
		}
		o := r.RunOns[0]
		if c.to == "101" {
			c.past = 10 - bit/2 // the groove has no more
		}
		if !o.At.Near(geom.Pt(90, 0), tiny) || o.Edge != "right" || o.Whole < c.past-tiny || o.Whole > c.past+thinEnd && c.to != "101" {
			t.Errorf("to x %s: %+v, want a whole width of %g", c.to, o, c.past)
		}
	}
	r := judged(t, good, sectionWork(true))
	if far := r.RunOns[0].Far; math.Abs(far-10) > tiny {
		t.Errorf("the rim goes %g past the edge, want 10", far)
	}
}

// Off an edge at which nothing meets the section nothing may be cut, and what lies beyond an
// edge need not be: the program's other end is the section's own.
func TestSectionIsCutWithinItsOutline(t *testing.T) {
	if got := found(judged(t, good, sectionWork(false))); !slices.Equal(got, []string{"gouge"}) {
		t.Errorf("off a closed edge: %v", got)
	}
	if got := found(judged(t, strings.ReplaceAll(good, "X1.5875", "X3"), sectionWork(true))); !slices.Equal(got, []string{"missed"}) {
		t.Errorf("cut short at its own end: %v", got)
	}
	shifted := strings.NewReplacer("Y0.9525", "Y1.1525", "Y-0.9525", "Y-0.7525").Replace(good)
	if got := found(judged(t, shifted, sectionWork(true))); !slices.Equal(got, []string{"gouge", "missed", "run-on"}) {
		t.Errorf("shifted by 0.2 mm: %v", got)
	}
}

// A groove whose own run-on is too short for the bit is found though nothing of it is missed
// that a bit could reach; a corner on the edge that no bit reaches is for the chisel.
func TestRunOnTooShortForTheBit(t *testing.T) {
	w := sectionWork(true)
	end := 90.5
	w.Groove = walls.Of(bar(geom.Pt(0, 0), geom.Pt(end, 0)))
	w.Section.Ends = []geom.Edge{geom.Line(geom.Pt(end, wide/2), geom.Pt(end, -wide/2))}
	r := judged(t, strings.ReplaceAll(good, "98.4125", "88.9125"), w)
	if got := found(r); !slices.Equal(got, []string{"run-on"}) {
		t.Errorf("faults %v", got)
	}
}
