package marks

// Marks on the rail and its index plates: at every hole a tick and the number of its
// set-up, the end that all holes are measured from, and where the motif's axis crosses.

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/lettering"
	"strapwork/pkg/template"
)

// Measures of the marks on rails, mm; choices.
const (
	tickFrom = 1.5 // behind the edge: what is nearer is lost when the edge is eased
	tickTo   = 7.0
	oneTick  = 0.3  // between ticks that would be one: holes of two rows beside one another
	zeroLong = 20.0 // of the arrow that points at the zero end
)

// numberHeights are the heights in mm of the numbers beside holes.
var numberHeights = []float64{6, 5, leastLetter}

// onRail returns a set with the marks of its rail and index plates, and reports the numbers
// that found no room.
func onRail(s template.Set, words labels) (template.Set, diag.Findings) {
	var found diag.Findings
	rail := *s.Rail
	rail.Marks = make([][]geom.Contour, rail.Pieces())
	var missing []string
	for i := range rail.Marks {
		lines, lacks := railPiece(&rail, i, words)
		rail.Marks[i], missing = lines, append(missing, lacks...)
	}
	if len(missing) > 0 {
		found.Warnf("template.frame", ruleNoRoom, "the rail has no room for %s", strings.Join(missing, ", ")).
			Hintf("write it beside the hole by hand, as stations.md has it")
	}
	s.Rail = &rail
	panels := slices.Clone(s.Panels)
	for i := range panels {
		panels[i].Plates = slices.Clone(panels[i].Plates)
		for k, p := range panels[i].Plates {
			panels[i].Plates[k].Marks = onPlate(&rail, p)
		}
	}
	s.Panels = panels
	return s, found
}

// railPiece is what is engraved on a piece of the rail, in its drawing.
func railPiece(r *fixture.Rail, piece int, words labels) (lines []geom.Contour, missing []string) {
	var holes []region.Region
	for _, h := range r.Pinholes() {
		if r.PieceOf(h.At) == piece {
			holes = append(holes, region.Disc(r.HoleAt(h), r.Pin/2))
		}
	}
	on := roomOn(region.New(r.PieceOutline(piece)), holes)
	for i, h := range r.Holes {
		if r.PieceOf(h.At) != piece {
			continue
		}
		edge, back := r.Edge(h.At)
		tick := geom.Chain(false, geom.Line(edge.Add(back.Scale(tickFrom)), edge.Add(back.Scale(tickTo))))
		if !slices.ContainsFunc(r.Holes[:i], func(o fixture.RailHole) bool { return math.Abs(o.At-h.At) < oneTick }) {
			lines = append(lines, tick)
			on.Take(0, tick)
		}
		if !on.best(func() bool { return on.numberHole(r, i) }) {
			missing = append(missing, fmt.Sprintf("the number %d of a hole", h.SetUp))
		}
	}
	if piece == 0 {
		on.markZero(r)
	}
	name := "rail"
	if r.Pieces() > 1 {
		name = fmt.Sprintf("rail-%d of %d", piece+1, r.Pieces())
	}
	var choices []mark
	for _, said := range [][]string{{name + "  " + words.title, words.revision}, {name + "  " + words.revision}, {name}} {
		choices = append(choices, textBlock(said, 5).centred(), textBlock(said, leastLetter).centred())
	}
	if !on.placeAnywhere(choices) {
		missing = append(missing, "its name")
	}
	return append(lines, on.lines()...), missing
}

// numberHole writes a set-up's number beside its hole, or behind it.
func (r *room) numberHole(rail *fixture.Rail, i int) bool {
	h := rail.Holes[i]
	at := rail.HoleAt(fixture.Pinhole{At: h.At, Behind: rail.Rows[h.Row]})
	_, back := rail.Edge(h.At)
	said := strconv.Itoa(h.SetUp)
	for _, high := range numberHeights {
		aside := rail.Pin/2 + markEdge + lettering.Width(said, high)/2
		behind := rail.Pin/2 + markEdge + high/2
		for _, off := range []geom.Point{{X: aside}, {X: -aside}, back.Scale(behind)} {
			if r.place(textMark(said, at.Add(off), high, 0)) {
				return true
			}
		}
	}
	return false
}

// markZero points at the end that all holes are measured from.
func (r *room) markZero(rail *fixture.Rail) {
	for _, high := range numberHeights {
		tail, tip := geom.Pt(zeroLong/2, 0), geom.Pt(-zeroLong/2, 0)
		arrow := arrowMark(lettering.Arrow(tail, tip, edgeHead*high))
		words := "0: measure from this end"
		m := arrow.with(textMark(words, geom.Pt(zeroLong/2+high+lettering.Width(words, high)/2, 0), high, 0)).boxed(0)
		box := m.bounds()
		for behind := high; behind < rail.Width; behind += 2 {
			edge, back := rail.Edge(markEdge)
			if r.place(m.moved(geom.Shifting(edge.Add(back.Scale(behind)).Sub(geom.Pt(box.Min.X, box.Center().Y)).Add(geom.Pt(tipClear, 0))))) {
				return
			}
		}
	}
}

// onPlate is what is engraved on an index plate: which panel's it is, and in which set-ups
// it is pinned.
func onPlate(r *fixture.Rail, p fixture.Plate) []geom.Contour {
	on := roomOn(region.New(r.PlateOutline(p)), r.PlateHoles(p))
	list := ranges(p.SetUps)
	var choices []mark
	for _, said := range [][]string{append([]string{p.Panel}, wrapped(list, 12)...), {p.Panel}} {
		for _, high := range []float64{6, 5, leastLetter} {
			choices = append(choices, textBlock(said, high).centred())
		}
	}
	on.placeAnywhere(choices)
	return on.lines()
}

// ranges are numbers of set-ups as they are engraved, in rising order: "1-4, 7".
func ranges(setUps []int) string {
	var said []string
	for i := 0; i < len(setUps); {
		n := i + 1
		for n < len(setUps) && setUps[n] == setUps[n-1]+1 {
			n++
		}
		one := strconv.Itoa(setUps[i])
		if n-i > 1 {
			one += "-" + strconv.Itoa(setUps[n-1])
		}
		said = append(said, one)
		i = n
	}
	return strings.Join(said, ", ")
}
