package report

// What was proved of the cut grooves, what is left for the chisel, and where a groove is
// made by two cuts.

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/proof"
	"strapwork/pkg/unit"
)

type proofJSON struct {
	By          string         `json:"by"`          // what was read back and judged: "templates" or, where there are none, "program"
	OvercutMax  num            `json:"overcut_max"` // beyond the groove
	OvercutArea num            `json:"overcut_area"`
	OvercutAt   *xy            `json:"overcut_at,omitempty"` // absent where nothing is cut beyond the groove
	UncutMax    num            `json:"uncut_max"`            // of the groove, from what is cut
	UncutArea   num            `json:"uncut_area"`
	MissedMax   num            `json:"missed_max"` // of that, what the bit could reach and the templates leave all the same
	MissedArea  num            `json:"missed_area"`
	MissedAt    *xy            `json:"missed_at,omitempty"` // absent where nothing is missed
	Tolerance   num            `json:"tolerance"`           // the overcut that counts as none
	Leftovers   []leftoverJSON `json:"leftovers"`

	Furthest xy        `json:"-"` // where MissedMax is
	Why      unit.Text `json:"-"` // no template leads the bit there
}

type leftoverJSON struct {
	Where string `json:"where"`
	At    xy     `json:"at"`
	Depth num    `json:"depth"` // in the plane: how far At is from what the bit cuts
	Area  num    `json:"area"`

	MissedDepth num `json:"missed_depth"` // of what the bit could reach
	MissedArea  num `json:"missed_area"`

	Name  string `json:"-"` // Where without lines of the job file
	After int    `json:"-"` // the set-up after which it is pared
	Guide string `json:"-"` // the chisel guide that serves it; "" for none
}

func newProof(r build.Result) proofJSON {
	p := r.Proof
	out := proofJSON{
		By:         "templates",
		OvercutMax: num(p.OvercutMax), OvercutArea: num(p.OvercutArea), UncutMax: num(p.UncutMax), UncutArea: num(p.UncutArea),
		MissedMax: num(p.MissedMax), MissedArea: num(p.MissedArea),
		Tolerance: groove.Overcut, Leftovers: newLeftovers(r),
		Furthest: toXY(p.MissedAt),
	}
	if !r.Job.Router.Guide.HasTemplates() {
		out.By = "program"
	}
	if p.OvercutMax > 0 {
		at := toXY(p.OvercutAt)
		out.OvercutAt = &at
	}
	if p.MissedMax > 0 {
		out.MissedAt, out.Why = &out.Furthest, r.WhyMissed()
	}
	return out
}

func newLeftovers(r build.Result) []leftoverJSON {
	guides := chiselGuides(r)
	return each(r.Proof.Leftovers, func(l proof.Leftover) leftoverJSON {
		return leftoverJSON{
			Where: l.Where, At: toXY(l.At), Depth: num(l.Depth), Area: num(l.Area), MissedDepth: num(l.MissedDepth), MissedArea: num(l.MissedArea),
			Name: withoutLines(l.Where), After: r.Set.Plan.LastAt(r.Motif, l.Strand, l.S), Guide: guides[l.At],
		}
	})
}

// leftFacts are places left for the chisel that are alike.
type leftFacts struct {
	Number      int
	Depth, Area num
	Missed      bool // the bit could reach some of them
	Guide       string
	Places      []xy // none where they are too many to look for: they are wherever it looks so
}

// newLeftAlike puts places together that look the same.
func newLeftAlike(all []leftoverJSON) (list []leftFacts) {
	for _, l := range all {
		i := slices.IndexFunc(list, func(f leftFacts) bool {
			return f.Guide == l.Guide && f.Missed == (l.MissedDepth > 0) &&
				math.Abs(float64(f.Depth-l.Depth)) < leftSame && math.Abs(float64(f.Area-l.Area)) < leftSame
		})
		if i < 0 {
			i = len(list)
			list = append(list, leftFacts{Depth: l.Depth, Area: l.Area, Missed: l.MissedDepth > 0, Guide: l.Guide})
		}
		list[i].Number, list[i].Places = list[i].Number+1, append(list[i].Places, l.At)
	}
	for i, f := range list {
		if f.Number > mostLeft {
			list[i].Places = nil
		}
	}
	return list
}

// leftSame is by how much what is left at two places may differ, in mm and mm², to be
// one entry: half of what a knife's edge shows.
const leftSame = 0.01

// withoutLines drops " (line 12)" from a text that names elements: on the
// bench nobody has the job file open.
func withoutLines(s string) string {
	const open, end = " (line ", ")"
	for from := 0; ; {
		i := strings.Index(s[from:], open)
		if i < 0 {
			return s
		}
		i += from
		j := i + len(open)
		for j < len(s) && s[j] >= '0' && s[j] <= '9' {
			j++
		}
		if j == i+len(open) || !strings.HasPrefix(s[j:], end) {
			from = i + 1
			continue
		}
		s = s[:i] + s[j+len(end):]
		from = i
	}
}

// splitFacts is a place where a smooth stretch of groove is made by two cuts.
type splitFacts struct {
	At      xy
	Cuts    []string // that meet there
	Numbers []int    // theirs
	Hidden  bool
	Under   string // the element that hides it
}

// newSplits lists the splits of all cuts once each, by strand and distance.
func newSplits(r build.Result) []splitFacts {
	numbers := cutNumbers(r)
	type place struct {
		strand int
		at     geom.Point
	}
	var list []splitFacts
	var places []place
	for _, c := range r.Cuts {
		for _, stop := range []groove.Stop{c.From, c.To} {
			if stop.Kind != groove.StopSplit {
				continue
			}
			i := slices.IndexFunc(places, func(p place) bool { return p.strand == c.Strand && p.at.Near(stop.At, motif.Same) })
			if i < 0 {
				i = len(list)
				places = append(places, place{c.Strand, stop.At})
				list = append(list, splitFacts{At: toXY(stop.At), Hidden: stop.Hidden, Under: hider(r, c.Strand, stop)})
			}
			if !slices.Contains(list[i].Cuts, c.Name) {
				list[i].Cuts, list[i].Numbers = append(list[i].Cuts, c.Name), append(list[i].Numbers, numbers[c.Name])
			}
		}
	}
	return list
}

// hider names the element that lies over a hidden stop; "" for a visible one.
func hider(r build.Result, strand int, stop groove.Stop) string {
	if !stop.Hidden {
		return ""
	}
	best, name := math.Inf(1), ""
	for _, x := range r.Weave.Crossings {
		if x.Lower().Strand != strand {
			continue
		}
		if d := x.At.Dist(stop.At); d < best {
			over, _ := passes(r.Motif, x)
			best, name = d, over
		}
	}
	return name
}
