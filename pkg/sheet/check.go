package sheet

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// MinEdge is the length in mm under which an edge counts as no edge. A
// hundredth is a tenth of the finest kerf: nothing can follow it, and machines
// stop or burn at such specks.
const MinEdge = 0.01

// A Rule is one thing that a machine asks of a drawing.
type Rule int

const (
	// BadNumber is a coordinate, bulge or radius that isn't finite or in range.
	BadNumber Rule = iota
	// OpenOutline is an opening or an edge that doesn't close.
	OpenOutline
	// ShortEdge is an edge shorter than MinEdge.
	ShortEdge
	// WrongForm is a contour where a hole belongs, or the other way round.
	WrongForm
	// OneEdge is a sheet that hasn't one edge for every part.
	OneEdge
	// Duplicate is a line that runs on top of another.
	Duplicate
	// Crossing is a line that crosses another or itself.
	Crossing
	// Touching is a line that touches another or itself.
	Touching
)

var ruleWords = [...]string{
	BadNumber:   "bad-number",
	OpenOutline: "open-outline",
	ShortEdge:   "short-edge",
	WrongForm:   "wrong-form",
	OneEdge:     "one-edge",
	Duplicate:   "duplicate",
	Crossing:    "crossing",
	Touching:    "touching",
}

// String is the rule's word for reports.
func (r Rule) String() string { return unit.Word(ruleWords[:], r, "rule") }

// A Fault is a place where a sheet breaks a rule.
type Fault struct {
	Rule    Rule
	Role    Role
	At      geom.Point // mm; the origin where no place can be named
	Message unit.Text  // says the place too
}

// Error is the message.
func (f Fault) Error() string { return f.Message.String() }

// Faults are all the faults of a sheet.
type Faults []Fault

// Err is nil when there is no fault; otherwise each Fault can be found in it
// with errors.As.
func (fs Faults) Err() error {
	errs := make([]error, len(fs))
	for i, f := range fs {
		errs[i] = f
	}
	return errors.Join(errs...)
}

func (fs *Faults) add(rule Rule, role Role, at geom.Point, format string, args ...any) {
	text := unit.Say(format, args...)
	if at.Finite() {
		text = unit.Say("%s at %s", text, unit.Place{X: at.X, Y: at.Y})
	}
	*fs = append(*fs, Fault{rule, role, at, text})
}

// Check holds a sheet of one part against what a shop's machine needs: see
// CheckParts.
func Check(s Sheet) Faults { return CheckParts(s, 1) }

// CheckParts holds s against what a shop's machine needs: numbers that are
// finite and bulges within 1; openings, and as many edges as there are parts,
// all closed, each a simple contour that neither crosses, touches nor runs
// along another or a pin's hole; pins that are holes; marks that are open lines, none drawn twice; no
// edge shorter than MinEdge. Notes need only be finite. The faults come in the
// order of the sheet's lines and holes, those between two of them last.
func CheckParts(s Sheet, parts int) Faults {
	var fs Faults
	sound := make([]bool, len(s.Lines)+len(s.Holes))
	edges := 0
	for i, l := range s.Lines {
		before := len(fs)
		checkLine(&fs, l)
		sound[i] = len(fs) == before
		if l.Role == Edge {
			edges++
		}
	}
	for i, h := range s.Holes {
		before := len(fs)
		checkHole(&fs, h)
		sound[len(s.Lines)+i] = len(fs) == before
	}
	if edges != parts {
		fs = append(fs, Fault{Rule: OneEdge, Role: Edge, Message: unit.Say("the sheet has %d edges where %d should be: draw one round each part", edges, parts)})
	}
	checkMeetings(&fs, s, sound)
	checkMarks(&fs, s, sound)
	return fs
}

// checkLine checks what can be seen in one line alone.
func checkLine(fs *Faults, l Line) {
	if !l.Role.Valid() {
		fs.add(BadNumber, l.Role, start(l.Contour), "a line has the role %d, which does not exist,", int(l.Role))
		return
	}
	if !checkNumbers(fs, l) || l.Role == Note {
		return
	}
	c := l.Contour
	switch {
	case l.Role == Pin:
		fs.add(WrongForm, l.Role, c.Start(), "%s holds a contour: draw a hole", l.Role)
	case l.Role == Mark && c.Closed:
		fs.add(WrongForm, l.Role, c.Start(), "%s holds a closed contour, which might be cut out: leave it open", l.Role)
	case (l.Role == Opening || l.Role == Edge) && !c.Closed:
		fs.add(OpenOutline, l.Role, c.Start(), "%s is not closed: the line that begins", l.Role)
	}
	for _, e := range c.Edges() {
		// A full turn can't be one edge, so that chord 0 is length 0.
		if n := e.Length(); !(n >= MinEdge) {
			fs.add(ShortEdge, l.Role, e.A, "%s has an edge of %s, shorter than %s,", l.Role, unit.Len(n), unit.Len(MinEdge))
		}
	}
}

func start(c geom.Contour) geom.Point {
	if len(c.Vertices) == 0 {
		return geom.Point{}
	}
	return c.Vertices[0].Point
}

// checkNumbers reports whether l's numbers are such that its geometry can be
// looked at.
func checkNumbers(fs *Faults, l Line) bool {
	before := len(*fs)
	if len(l.Contour.Vertices) < 2 {
		fs.add(BadNumber, l.Role, start(l.Contour), "%s has a contour of %d vertices", l.Role, len(l.Contour.Vertices))
	}
	for i, v := range l.Contour.Vertices {
		if !v.Finite() {
			fs.add(BadNumber, l.Role, v.Point, "%s has a vertex, number %d, that is not finite", l.Role, i+1)
		}
		if !(math.Abs(v.Bulge) <= 1) && (l.Contour.Closed || i < len(l.Contour.Vertices)-1) {
			fs.add(BadNumber, l.Role, v.Point, "%s has the bulge %g: split arcs of more than a half circle,", l.Role, v.Bulge)
		}
	}
	return len(*fs) == before
}

// checkHole checks what can be seen in one hole alone.
func checkHole(fs *Faults, h Hole) {
	switch {
	case !h.Role.Valid():
		fs.add(BadNumber, h.Role, h.Center, "a hole has the role %d, which does not exist,", int(h.Role))
	case !h.Center.Finite() || math.IsNaN(h.Radius) || math.IsInf(h.Radius, 0):
		fs.add(BadNumber, h.Role, h.Center, "%s has a hole that is not finite", h.Role)
	case h.Radius < MinEdge:
		fs.add(BadNumber, h.Role, h.Center, "%s has a hole of radius %s", h.Role, unit.Len(h.Radius))
	case h.Role != Pin && h.Role != Note:
		fs.add(WrongForm, h.Role, h.Center, "%s holds a hole: draw a contour", h.Role)
	}
}

// An item is a line or hole that is cut through, as a contour.
type item struct {
	role    Role
	contour geom.Contour
}

// A side is one edge of an item.
type side struct {
	item, index int
	edge        geom.Edge
}

// cutItems are the sound lines and holes whose cuts must keep apart.
func cutItems(s Sheet, sound []bool) []item {
	var items []item
	for i, l := range s.Lines {
		if sound[i] && (l.Role == Opening || l.Role == Edge) {
			items = append(items, item{l.Role, l.Contour})
		}
	}
	for i, h := range s.Holes {
		if sound[len(s.Lines)+i] && h.Role == Pin {
			items = append(items, item{h.Role, geom.Circle(h.Center, h.Radius)})
		}
	}
	return items
}

// checkMeetings reports one fault, the worst, for every item that meets itself
// and for every two that meet.
func checkMeetings(fs *Faults, s Sheet, sound []bool) {
	items := cutItems(s, sound)
	var sides []side
	var boxes []geom.Box
	for i, it := range items {
		for j, e := range it.contour.Edges() {
			sides = append(sides, side{i, j, e})
			boxes = append(boxes, e.Bounds())
		}
	}
	type pair struct{ a, b int }
	worst := map[pair]geom.Meeting{}
	geom.NewIndex(boxes).Pairs(geom.Coincident, func(i, j int) bool {
		e, f := sides[i], sides[j]
		for _, m := range geom.Crossings(e.edge, f.edge, geom.Coincident) {
			key := pair{e.item, f.item}
			if e.item == f.item && shares(e, f, len(items[e.item].contour.Vertices), m.At) {
				continue
			}
			if old, met := worst[key]; !met || worse(m, old) {
				worst[key] = m
			}
		}
		return true
	})
	keys := make([]pair, 0, len(worst))
	for k := range worst {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(p, q pair) int { return cmp.Or(cmp.Compare(p.a, q.a), cmp.Compare(p.b, q.b)) })
	for _, k := range keys {
		report(fs, items[k.a].role, items[k.b].role, k.a == k.b, worst[k])
	}
}

// shares reports whether at is the vertex that e and f, two edges of one
// contour of n edges, have in common. A joint that runs on smoothly is met
// within the square root of the tolerance, some micrometres; MinEdge is wider
// than that and no wider than any edge.
func shares(e, f side, n int, at geom.Point) bool {
	if (e.index+1)%n == f.index && at.Near(e.edge.B, MinEdge) {
		return true
	}
	return (f.index+1)%n == e.index && at.Near(f.edge.B, MinEdge)
}

// rank puts the kinds of meeting in order of harm.
func rank(k geom.Kind) int {
	switch k {
	case geom.Overlap:
		return 2
	case geom.Cross:
		return 1
	case geom.Touch:
		return 0
	}
	return 0
}

// worse orders meetings by harm and then by place, so that the order in which
// they are found doesn't matter.
func worse(m, old geom.Meeting) bool {
	return cmp.Or(cmp.Compare(rank(m.Kind), rank(old.Kind)), cmp.Compare(old.At.X, m.At.X), cmp.Compare(old.At.Y, m.At.Y)) > 0
}

func report(fs *Faults, a, b Role, self bool, m geom.Meeting) {
	other := "another " + b.String()
	if a != b {
		other = b.String()
	}
	if self {
		other = "itself"
	}
	switch m.Kind {
	case geom.Overlap:
		fs.add(Duplicate, a, m.At, "%s runs on top of %s", a, other)
	case geom.Cross:
		fs.add(Crossing, a, m.At, "%s crosses %s", a, other)
	case geom.Touch:
		fs.add(Touching, a, m.At, "%s touches %s", a, other)
	}
}

// checkMarks reports marks that are drawn twice, in either direction. Marks
// may cross: lettering does.
func checkMarks(fs *Faults, s Sheet, sound []bool) {
	var marks []geom.Contour
	var boxes []geom.Box
	for i, l := range s.Lines {
		if sound[i] && l.Role == Mark {
			marks = append(marks, l.Contour)
			boxes = append(boxes, l.Contour.Bounds())
		}
	}
	var twice []int
	geom.NewIndex(boxes).Pairs(geom.Coincident, func(i, j int) bool {
		if same(marks[i], marks[j]) || same(marks[i], marks[j].Reverse()) {
			twice = append(twice, j)
		}
		return true
	})
	slices.Sort(twice)
	for _, i := range slices.Compact(twice) {
		fs.add(Duplicate, Mark, marks[i].Start(), "%s is drawn twice", Mark)
	}
}

// same reports whether two open contours have the same vertices and bulges to
// within what is one point.
func same(c, d geom.Contour) bool {
	return slices.EqualFunc(c.Vertices, d.Vertices, func(v, w geom.Vertex) bool {
		return v.Near(w.Point, geom.Coincident)
	}) && slices.EqualFunc(c.Edges(), d.Edges(), func(e, f geom.Edge) bool {
		return math.Abs(e.Bulge-f.Bulge)*e.Chord()/2 <= geom.Coincident // how far their middles are apart
	})
}
