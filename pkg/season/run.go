package season

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/wood"
)

// The movements in mm beyond which a piece is reported. None has a source but common practice:
// a gap of a tenth at either end is what the eye begins to see, and metal gives nothing; wood
// strips are crushed a little, and glue gives with them. At a joint nothing holds a strip's end,
// of whatever it is: it stands out of the edge, or leaves it open.
const (
	MetalLimit = 0.2
	WoodLimit  = 0.5
	JointLimit = 0.2
)

// A Run is a stretch of strip without a break: from a corner, an end or the strand that it
// butts against to the next.
type Run struct {
	Number    int    // of its piece
	Strand    string // the name of what it is part of
	Strip     int    // from 1 at the left; 0 for a lay-up that is laid as one
	Materials []string
	Joint     bool        // it ends at a joint of two sections of a table
	Line      []geom.Edge // its middle
}

// A Moved is a run that the board moves under.
type Moved struct {
	Run
	Rigid    bool         // it is of metal, or of what isn't known to give
	Across   float64      // how much of the grain it crosses
	Movement float64      // of the wood under it, positive where it swells
	Parts    int          // in how many it stays within its limit
	Breaks   []geom.Point // where these part
	At       geom.Point   // the middle of the run
}

// Limit is how far the board may move under the run.
func (m Moved) Limit() float64 {
	switch {
	case m.Joint:
		return JointLimit
	case m.Rigid:
		return MetalLimit
	}
	return WoodLimit
}

// Shy is how much is to be left free at each end of the run, and of one that ends at a joint all
// of it there; 0 where the wood swells.
func (m Moved) Shy() float64 {
	if m.Joint {
		return max(0, -m.Movement)
	}
	return max(0, -m.Movement/2)
}

// group is the order in which runs are reported: those that end at joints, those of metal, others.
func (m Moved) group() int {
	switch {
	case m.Joint:
		return 0
	case m.Rigid:
		return 1
	}
	return 2
}

// Move returns the runs under which the board moves by more than their limit, those that end at
// joints first, then those of metal, then by how far.
func Move(c Change, grain float64, runs []Run) (over []Moved) {
	for _, r := range runs {
		m := move(c, grain, r)
		if math.Abs(m.Movement) > m.Limit() {
			over = append(over, m)
		}
	}
	slices.SortStableFunc(over, func(a, b Moved) int {
		return cmp.Or(cmp.Compare(a.group(), b.group()), cmp.Compare(b.Across, a.Across))
	})
	return over
}

// Known is a movement's size in mm as well as anybody knows it, rounded up: trees differ by
// more than that.
func Known(movement float64) float64 {
	const step, slack = 0.05, 1e-9
	return math.Ceil(math.Abs(movement)/step-slack) * step
}

// move works out one run.
func move(c Change, grain float64, r Run) Moved {
	along := geom.Turning(-grain)
	box := geom.EmptyBox()
	for _, e := range r.Line {
		box = box.Join(along.Edge(e).Bounds())
	}
	m := Moved{Run: r, Rigid: slices.ContainsFunc(r.Materials, rigid)}
	if box.Empty() {
		return m
	}
	m.Across, m.At = box.Max.Y-box.Min.Y, middle(r.Line)
	m.Movement = Movement(m.Across, c.Coefficient, c.Moisture[1]-c.Moisture[0])
	m.Parts = 1
	if most, ok := c.Across(m.Limit()); ok {
		const slack = 1e-9 // a run that is just as long as allowed needs no break
		for float64(m.Parts)*most < m.Across-slack {
			m.Parts++
		}
	}
	m.Breaks = m.breaks(grain, box)
	return m
}

// middle is the place half-way along a line.
func middle(line []geom.Edge) geom.Point {
	c := geom.Chain(false, line...)
	at, _ := c.At(c.Length() / 2)
	return at
}

// rigid reports whether a material gives nothing: all but wood.
func rigid(name string) bool {
	m, ok := wood.Find(name)
	return !ok || m.Kind != wood.Timber
}

// breaks are the places where a run crosses the lines, along the grain, that part it into
// equal widths.
func (m Moved) breaks(grain float64, box geom.Box) (at []geom.Point) {
	along, back := geom.Turning(-grain), geom.Turning(grain)
	for _, e := range m.Line {
		e := along.Edge(e)
		for k := 1; k < m.Parts; k++ {
			y := box.Min.Y + (box.Max.Y-box.Min.Y)*float64(k)/float64(m.Parts)
			level := geom.Line(geom.Pt(box.Min.X-1, y), geom.Pt(box.Max.X+1, y))
			for _, x := range geom.Crossings(e, level, geom.Coincident) {
				if p := back.Apply(x.At); len(at) == 0 || !at[len(at)-1].Near(p, sameBreak) {
					at = append(at, p)
				}
			}
		}
	}
	return at
}

// sameBreak is how near in mm two breaks are one: where two edges of a run meet.
const sameBreak = 0.01

// Report says which pieces the wood moves too far under: one finding for those that end at
// joints, one for metal, and one for wood, about the worst of each.
func Report(c Change, over []Moved) (found diag.Findings) {
	var groups [3][]Moved
	for _, m := range over {
		groups[m.group()] = append(groups[m.group()], m)
	}
	if list := groups[0]; len(list) > 0 {
		reportJoint(found.Warnf(c.Key, "joint-across-grain", "%s", c.sayJoint(list)), c, list[0])
	}
	if metal := groups[1]; len(metal) > 0 {
		reportOne(found.Warnf(c.Key, "metal-across-grain", "%s", c.say(metal)), c, metal)
	}
	if timber := groups[2]; len(timber) > 0 {
		reportOne(found.Notef(c.Key, "wood-across-grain", "%s", c.say(timber)), c, timber)
	}
	return found
}

// sayJoint is what happens at the joint where the worst of some pieces ends.
func (c Change) sayJoint(over []Moved) unit.Text {
	worst := over[0]
	across, near := unit.Len(worst.Across).Rough(), placed(worst.At)
	of := unit.Say("%s, near %s, ends at a joint and crosses %s of the grain without a break", worst.called(), near, across)
	if n := len(over); n > 1 {
		of = unit.Say("%d pieces end at joints and cross too much of the grain without a break, %s near %s most, %s", n, worst.called(), near, across)
	}
	does := "grows, and up to %s stays open at the joint"
	if worst.Movement < 0 {
		does = "shrinks, and the strip stands out of the joint by up to %s"
	}
	return unit.Say("%s: from %s to %s %% of moisture the %s "+does, of, percent(c.Moisture[0]), percent(c.Moisture[1]), c.Species, unit.AtLeast(Known(worst.Movement)))
}

// reportJoint adds what helps there.
func reportJoint(f *diag.Finding, c Change, worst Moved) {
	f.SetAt(worst.At.X, worst.At.Y)
	most, _ := c.Across(worst.Limit())
	shy := unit.Say("")
	if s := worst.Shy(); s > 0 {
		shy = unit.Say(" leave its end %s shy of the joint,", unit.AtLeast(Known(s)))
	}
	f.Hintf("break it under a crossing so that the piece at the joint crosses no more than %s,%s or veneer the top on a core that doesn't move, and write core = \"stable\" into [table]", unit.AtMost(most).Rough(), shy)
}

// say is what the board does under the worst of some pieces.
func (c Change) say(over []Moved) unit.Text {
	worst := over[0]
	does, moves := "grows", "they don't"
	if worst.Movement < 0 {
		does = "shrinks"
	}
	if len(over) == 1 {
		moves = "it doesn't"
	}
	across, near := unit.Len(worst.Across).Rough(), placed(worst.At)
	of := unit.Say("%s crosses %s of the grain without a break, near %s", worst.called(), across, near)
	if n := len(over); n > 1 {
		of = unit.Say("%d pieces cross too much of the grain without a break, %s near %s most, %s", n, worst.called(), near, across)
	}
	return unit.Say("%s: from %s to %s %% of moisture the %s %s by %s there, and %s", of, percent(c.Moisture[0]), percent(c.Moisture[1]), c.Species, does, unit.AtLeast(Known(worst.Movement)), moves)
}

// reportOne adds what helps.
func reportOne(f *diag.Finding, c Change, over []Moved) {
	const mostPlaces = 3
	worst := over[0]
	f.SetAt(worst.At.X, worst.At.Y)
	most, _ := c.Across(worst.Limit())
	where := unit.Say("break it at a corner, or where it goes under another")
	switch n := len(worst.Breaks); {
	case n == 1:
		where = unit.Say("break it near %s", placed(worst.Breaks[0]))
	case n > 1 && n <= mostPlaces:
		places := make([]unit.Text, n)
		for i, p := range worst.Breaks {
			places[i] = unit.Say("%s", placed(p))
		}
		where = unit.Say("break it near %s", unit.List(places))
	case n > mostPlaces:
		where = unit.Say("break it into %d pieces", worst.Parts)
	}
	shy := unit.Say("")
	if s := worst.Shy(); s > 0 {
		shy = unit.Say(" or leave each end %s shy;", unit.AtLeast(Known(s)))
	}
	f.Hintf("%s, for no more than %s across the grain in one piece;%s or keep the board where it will be used until its moisture no longer changes, and inlay it then", where, unit.AtMost(most).Rough(), shy)
}

func placed(p geom.Point) unit.Place { return unit.Place{X: p.X, Y: p.Y} }

// called is what a finding calls the run: "piece 12 (bronze, in bar)".
func (r Run) called() string {
	of := "the filling"
	switch list := slices.DeleteFunc(slices.Clone(r.Materials), func(m string) bool { return m == "" }); len(list) {
	case 0:
	case 1:
		of = list[0]
	default:
		of = "the lay-up"
	}
	return fmt.Sprintf("piece %d (%s, in %s)", r.Number, of, r.Strand)
}
