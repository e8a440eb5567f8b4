// Package marks is what is engraved on panels and on the frame, so that they can be
// kept apart, laid right and worked in the right direction. Everything is single
// strokes, keeps clear of every cut and of other marks, and is left out, with a
// finding, where there is no room for it at a legible size. What is hardest to find
// room for, and matters most, is placed first: which edge is up, then the feed
// arrows, the tracks' names, and the title with the panel's letter.
//
// Lengths are mm; coordinates are those of the panels as drawn.
package marks

import (
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/lettering"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// leastLetter is the least height of capitals in mm: what can be read at arm's
// length with a burnt line a quarter millimetre wide (common practice).
const leastLetter = 4.0

// ruleNoRoom is the finding about marks that there is no place for.
const ruleNoRoom = "mark-no-room"

// Params are what marks say besides what panels and frame are.
type Params struct {
	Title    string      // of the job
	Units    unit.System // in which sizes are given
	Guide    work.Guide  // what rides the template
	Size     groove.Size // of that, and of the bit
	Revision string      // marks one state of the job; empty: none is given
	Joint    Joint       // of a table that comes apart
}

// labels are the words on every panel of a set.
type labels struct {
	title    string
	bit      string
	rider    string
	revision string
}

// short are the lines that stand with a panel's letter under the title.
func (l labels) short() []string {
	lines := []string{l.bit, l.rider}
	if l.revision != "" {
		lines = append(lines, l.revision)
	}
	return lines
}

func newLabels(p Params) labels {
	l := labels{
		title: strings.Join(strings.Fields(lettering.ASCII(p.Title)), " "),
		bit:   "bit " + unit.Len(p.Size.Bit).In(p.Units),
		rider: p.Guide.Rider() + " " + unit.Len(2*p.Size.RiderRadius).In(p.Units),
	}
	if r := strings.TrimSpace(lettering.ASCII(p.Revision)); r != "" {
		l.revision = "rev " + r
	}
	return l
}

// titleLines is the most lines that a title is broken into.
const titleLines = 3

// wrapped breaks s between words into as few lines of at most wide letters as
// it can, and those as even as it can. What three lines don't hold is cut off
// with dots.
func wrapped(s string, wide int) []string {
	for most := 1; most <= titleLines; most++ {
		for w := (len(s) + most - 1) / most; w <= wide; w++ {
			if lines := broken(s, w); len(lines) <= most && longest(lines) <= w {
				return lines
			}
		}
	}
	lines := broken(s, wide)
	if len(lines) > titleLines {
		lines = append(lines[:titleLines-1], strings.Join(lines[titleLines-1:], " "))
	}
	for i := range lines {
		lines[i] = cutOff(lines[i], wide)
	}
	return lines
}

// broken fills lines of wide letters with words; a longer word has a line to
// itself.
func broken(s string, wide int) []string {
	var lines []string
	for _, word := range strings.Fields(s) {
		if n := len(lines); n > 0 && len(lines[n-1])+1+len(word) <= wide {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines
}

func longest(lines []string) int {
	n := 0
	for _, l := range lines {
		n = max(n, len(l))
	}
	return n
}

// cutOff shortens a line to wide letters, the last ones dots.
func cutOff(s string, wide int) string {
	const dots = "..."
	if len(s) <= wide {
		return s
	}
	return strings.TrimRight(s[:max(wide-len(dots), 1)], " ,.") + dots
}

// On returns a set with the marks of every panel's layers and of the frame, all
// at least 1 mm from any cut and 5 mm from an edge. keepOut, in the coordinates of the panels as drawn,
// is what marks keep away from besides the panels' own cuts. What found no room is
// reported in a warning a panel.
func On(s template.Set, params Params, keepOut ...region.Region) (template.Set, diag.Findings) {
	var found diag.Findings
	words := newLabels(params)
	panels := make([]template.Panel, len(s.Panels))
	for i, p := range s.Panels {
		var missing []string
		panels[i], missing = onPanel(p, words, setUpsOf(s, i), keepOut, params)
		if len(missing) > 0 {
			found.Warnf("template.margin", ruleNoRoom, "panel %s has no room for %s", p.ID, strings.Join(missing, ", ")).
				Hintf("write it on the panel by hand as setup.md has it; a larger template.margin makes room")
		}
	}
	s.Panels = panels
	if s.Rail != nil {
		along, lacks := onRail(s, words)
		s = along
		found.Add(lacks...)
	}
	if s.Frame != nil {
		frame, lacks := onFrame(s.Frame, words)
		s.Frame = frame
		found.Add(lacks...)
	}
	return s, found
}

// setUpsOf are the set-ups that a panel is laid in.
func setUpsOf(s template.Set, panel int) []plan.SetUp {
	return slices.DeleteFunc(slices.Clone(s.Plan.SetUps), func(u plan.SetUp) bool { return u.Panel != panel })
}

// onPanel returns p with its marks, and what found no room. ups are the set-ups that
// it is laid in.
func onPanel(p template.Panel, words labels, ups []plan.SetUp, keepOut []region.Region, params Params) (template.Panel, []string) {
	keepOut = slices.Clip(append(p.Fixings(), keepOut...))
	wall, missing := markWall(p, words, ups, keepOut, params)
	p.Marks = wall.lines()
	if p.HasFloor() {
		floor, lacks := markFloor(p, keepOut)
		p.FloorMarks = floor.lines()
		missing = append(missing, lacks...)
	}
	return p, missing
}

// markWall places the wall's marks, the most needed first.
func markWall(p template.Panel, words labels, ups []plan.SetUp, keepOut []region.Region, params Params) (*room, []string) {
	for _, o := range p.Openings {
		keepOut = append(keepOut, o.Area)
	}
	r := newRoom(p.Outline, keepOut)
	return r, slices.Concat(r.markJoint(p, ups, params.Joint, params.Size), r.markEdges(p, ups), r.markFeed(p), r.markTracks(p), r.markTitle(p.ID, words), r.markParts(p))
}

// markFloor places the floor's letter.
func markFloor(p template.Panel, keepOut []region.Region) (*room, []string) {
	for _, o := range p.Openings {
		keepOut = append(keepOut, o.Slot)
	}
	r := newRoom(p.Outline, keepOut)
	var missing []string
	if !r.placeAnywhere(lettersOf(p.ID)) {
		missing = append(missing, "the floor's letter")
	}
	return r, append(missing, r.markParts(p)...)
}

// setUpsAt are the numbers of the set-ups whose upper edge lies in one
// direction, seen from the panel as drawn.
type setUpsAt struct {
	up    geom.Point
	label string
}

// overWord follows the number of a set-up in which the panel is turned over:
// its marks are then beneath.
const overWord = " over"

// sameUp is the distance of two unit vectors that are one direction: a
// thousandth of a degree, far finer than any two positions and far coarser
// than rounding.
const sameUp = 2e-5

// upperEdges lists a panel's directions of the upper edge in the order of its
// set-ups.
func upperEdges(ups []plan.SetUp) []setUpsAt {
	var list []setUpsAt
	for _, u := range ups {
		up, label := u.Position.Up(), strconv.Itoa(u.Number)
		if u.Position.Flip {
			label += overWord
		}
		found := false
		for k := range list {
			if list[k].up.Near(up, sameUp) {
				list[k].label += ", " + label
				found = true
			}
		}
		if !found {
			list = append(list, setUpsAt{up, label})
		}
	}
	return list
}
