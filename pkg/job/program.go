package job

import (
	"strapwork/pkg/conf"
	"strapwork/pkg/unit"
)

const (
	// maxRamp in degrees is what a bit without centre cutting edges stands.
	maxRamp = 3
	// maxFeed in mm/min is beyond what a bit for grooves is fed with; more
	// is a slip of the unit.
	maxFeed = 20_000
	// The spindle's speeds, in rpm, that routers and spindles have.
	leastSpeed    = 500
	greatestSpeed = 100_000
)

// SplitKind says which parts of the groove get programs of their own, besides
// the one that cuts it all.
type SplitKind int

const (
	// SplitNone writes the whole program alone.
	SplitNone SplitKind = iota
	// SplitStrand writes one more for each strand.
	SplitStrand
	// SplitDepth writes one more for each depth.
	SplitDepth
)

var splitKindWords = [...]string{
	SplitNone:   "none",
	SplitStrand: "strand",
	SplitDepth:  "depth",
}

// String is the word in the job file.
func (k SplitKind) String() string { return unit.Word(splitKindWords[:], k, "split") }

// The rules of Program.Order.
const (
	OrderShort = "short" // least way between the strands
	OrderDrawn = "drawn" // as listed in the file
)

// Program is how a machine grooves the board itself. The names of the machine
// and of the bit's profile are understood by package profile, those of strands
// by the planner.
type Program struct {
	Machine    string     // name or path; empty: a generic machine, whose limits aren't known
	Cutter     string     // name or path of the bit's profile; empty: none
	ZeroBoard  bool       // x0 y0 is the board's lower left corner, else the motif's origin
	At         [3]float64 // where x0 y0 and the top of the work lie in the machine's coordinates, mm
	AtGiven    bool
	Feed       float64 // mm/min; 0 when not given
	Plunge     float64 // straight down, mm/min; 0 when not given
	Speed      float64 // of the spindle, rpm; 0 when not given
	Climb      bool    // climb cut, else conventional
	Rough      float64 // what a roughing pass leaves a side, mm; 0: no such slot
	Ramp       float64 // of the entry, radians; 0: straight down
	Step       float64 // deepest depth step, mm; 0: by the bit
	Safe       float64 // height above the work for moving across, mm
	Widen      float64 // whole width by which a recut is wider, mm; 0: no recut
	Order      string  // OrderShort or OrderDrawn
	OrderNames []string
	Split      SplitKind
	Comments   bool
}

// DefaultProgram is what a job without [program] gets, round in its units.
func DefaultProgram(u unit.System) Program {
	in, _ := conf.Open(&format, "", nil)
	in.Units = u
	t, _ := in.Whole().Sub("program")
	return (&reader{Reader: in}).program(t)
}

func (r *reader) readProgram(top conf.Section) *Program {
	t, ok := top.Sub("program")
	if !ok {
		return nil
	}
	p := r.program(t)
	if v := t.Get("zero"); v != nil && p.ZeroBoard && !top.Given("board") && !top.Given("table") {
		r.Errorf(v, ruleConflict, `zero = "board", but there is no [board]`).
			Hintf(`add [board] with its size and thickness, or write zero = "motif"`)
	}
	t.Assume("")
	if !t.Given("machine") {
		t.NoEffect("at", "no machine is named, so its travel isn't known")
	}
	return &p
}

func (r *reader) program(t conf.Section) Program {
	p := Program{
		Machine: t.Name("machine"), Cutter: t.Name("cutter"), ZeroBoard: t.Word("zero") == 1,
		Feed: t.Feed("feed"), Plunge: t.Feed("plunge"), Speed: t.Number("speed"), Climb: t.Flag("climb"),
		Rough: t.Length("rough"), Ramp: t.Angle("ramp"), Step: t.Length("step"), Safe: t.Length("safe"), Widen: t.Length("widen"),
		Split: SplitKind(max(0, t.Word("split"))), Comments: t.Flag("comments"),
	}
	p.AtGiven = t.Fill("at", p.At[:])
	r.order(t, &p)
	return p
}

// order reads a rule, or the names of what is cut first.
func (r *reader) order(t conf.Section, p *Program) {
	v := t.Get("order")
	switch {
	case v == nil || v.Kind == conf.KindString:
		p.Order = [...]string{OrderShort, OrderDrawn}[max(0, t.Word("order"))]
		return
	case v.Kind != conf.KindList:
		t.WrongType("order", "a word or a list of names")
		return
	case len(v.Items) == 0:
		r.Faultf(v, conf.BadValue, "order is empty").Hintf("%s", t.Hint("order"))
	}
	p.Order = OrderShort
	r.AtMost(v, "order", mostListed)
	lines := map[string]int{}
	for _, item := range v.Items {
		name := r.Text(item, "a name of order")
		switch line, double := lines[name]; {
		case name == "" && item.Kind == conf.KindString && item.Text == "":
			r.Faultf(item, conf.BadValue, "order contains an empty name").Hintf("%s", t.Hint("order"))
		case name == "": // reported
		case double:
			r.Faultf(item, conf.Duplicate, "%q is named twice in order", name).Hintf("it is named on line %d already: remove one of the two", line)
		default:
			lines[name] = r.Line(item.Off)
			p.OrderNames = append(p.OrderNames, name)
		}
	}
}
