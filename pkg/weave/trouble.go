package weave

import (
	"fmt"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
)

// fault is one way in which strands may not meet.
type fault int

const (
	touching fault = iota
	overlapping
	crowded
	teeAtCorner
	teeNear
)

// words are a fault's rule, what is wrong, and what to do about it.
func (f fault) words() (rule, text string, hint unit.Text) {
	switch f {
	case touching:
		return "strands-touch", "strands touch without crossing",
			unit.Say("move one of them: let them cross cleanly, or keep them more than a groove's width apart")
	case overlapping:
		return "strands-overlap", "strands run on top of each other",
			unit.Say("draw the common stretch once")
	case crowded:
		return "strands-crowded", "three strands or more pass through one point",
			unit.Say("move one of them, so that they cross two at a time")
	case teeAtCorner:
		return "tee-corner", "a strand ends on a corner of another",
			unit.Say("let it end on a straight or an arc, or make the corner one strand with it")
	case teeNear:
		return "tee-near", "a strand ends near the middle of another, but not on it",
			unit.Say("let it end on the other's centre line, to %s, or well away from it; or write open = true in its element", unit.AtMost(motif.Joint))
	}
	return "unknown", "", unit.Text{}
}

func (f fault) severity() diag.Severity {
	switch f {
	case touching, overlapping, crowded, teeAtCorner:
		return diag.Error
	case teeNear:
		return diag.Warning
	}
	return diag.Error
}

// A trouble is a fault at a place, with the elements that take part in it.
type trouble struct {
	fault   fault
	at      geom.Point
	sources []int // into Motif.Sources
}

// report reports all troubles; those of the same elements and their copies
// are one finding, at the first place.
func report(m motif.Motif, all []trouble, found *diag.Findings) {
	like := map[string][]trouble{}
	key := func(t trouble) string {
		var elements []int
		for _, s := range t.sources {
			elements = append(elements, m.Sources[s].Element)
		}
		slices.Sort(elements)
		return fmt.Sprint(int(t.fault), slices.Compact(elements))
	}
	for _, t := range all {
		like[key(t)] = append(like[key(t)], t)
	}
	for _, t := range all {
		alike := like[key(t)]
		if len(alike) == 0 {
			continue // reported already
		}
		delete(like, key(t))
		more := ""
		if n := len(alike); n > 1 {
			more = fmt.Sprintf("; %d such places", n)
		}
		rule, text, hint := t.fault.words()
		f := diag.New(t.fault.severity(), m.Sources[slices.Min(t.sources)].Key, rule,
			"%s at %s: %s%s", text, motif.Place(t.at), names(m, t.sources), more)
		f.SetAt(t.at.X, t.at.Y).Hintf("%s", hint)
		for _, o := range alike[1:] {
			f.AlsoAt(o.at.X, o.at.Y)
		}
		found.Add(f)
	}
}

// names lists sources with their lines, each once.
func names(m motif.Motif, sources []int) string {
	sorted := slices.Sorted(slices.Values(sources))
	sorted = slices.Compact(sorted)
	var list []string
	for _, s := range sorted {
		list = append(list, m.Sources[s].String())
	}
	if len(list) == 1 {
		return list[0] + " with itself"
	}
	return strings.Join(list, ", ")
}

// sources lists the elements of a cluster's edges.
func (c cluster) sources() []int {
	var list []int
	for _, m := range c {
		list = append(list, m.sources[:]...)
	}
	return list
}
