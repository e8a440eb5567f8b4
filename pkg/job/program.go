package job

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/unit"
)

// Feeds in mm a minute and a speed in turns a minute that hints have as examples:
// gentle ones for a small bit in hardwood (common practice). What is taken where a
// job gives none depends on the bit.
const (
	exampleFeed   = 1000
	examplePlunge = 250
	exampleSpeed  = 16000
)

// The other defaults of [program], common practice: a finishing pass that is
// thick enough to cut and not to rub, and a height over clamps' lower parts.
var (
	defaultRough = preset{mm: 0.15, inch: 0.006}
	defaultSafe  = preset{mm: 10, inch: 0.4}
)

const (
	// maxRamp in degrees is what a bit without centre cutting edges stands.
	maxRamp = 3
	// maxFeed in mm a minute is beyond what a bit for grooves is fed with; more
	// is a slip of the unit.
	maxFeed = 20_000
	// The spindle's speeds, in turns a minute, that routers and spindles have.
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

// String is the word in the job file.
func (k SplitKind) String() string {
	switch k {
	case SplitNone:
		return "none"
	case SplitStrand:
		return "strand"
	case SplitDepth:
		return "depth"
	}
	return fmt.Sprintf("split(%d)", int(k))
}

// The rules of Program.Order.
const (
	OrderShort = "short" // least way between the strands
	OrderDrawn = "drawn" // as listed in the file
)

// Program is how a machine grooves the board itself. The names of the machine
// and of the bit's profile are understood by package profile, those of strands
// by the planner.
type Program struct {
	Machine    string     // name or path; empty: a machine of which nothing is known
	Cutter     string     // name or path of the bit's profile; empty: none
	ZeroBoard  bool       // x0 y0 is the board's lower left corner, else the motif's origin
	At         [3]float64 // where x0 y0 and the top of the work lie in the machine's coordinates, mm
	AtGiven    bool
	Feed       float64 // mm a minute; 0 when not given
	Plunge     float64 // straight down, mm a minute; 0 when not given
	Speed      float64 // of the spindle, turns a minute; 0 when not given
	Climb      bool    // climb cut, else conventional
	Rough      float64 // what a slot down the middle leaves a side, mm; 0: no such slot
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
	return Program{
		Rough: defaultRough.of(u), Ramp: maxRamp * math.Pi / 180, Safe: defaultSafe.of(u), Order: OrderShort, Comments: true,
	}
}

func (r *reader) readProgram(root *node) *Program {
	t := root.get("program")
	if t == nil {
		return nil
	}
	if t.kind != nodeTable {
		r.wrongType(t, "program", "a table", "write [program] on a line of its own, and its keys below")
		return nil
	}
	r.known("program", t)
	p := DefaultProgram(r.units)
	p.Machine = r.profileName(t, "machine", `write machine = "machine-600x400", or take the key away`)
	p.Cutter = r.profileName(t, "cutter", `write cutter = "straight-3.175", or take the key away`)
	r.programZero(t, root, &p)
	r.programFeeds(t, &p)
	r.programCut(t, &p)
	if n := t.get("order"); n != nil {
		r.order(n, &p)
	}
	if n := t.get("split"); n != nil {
		p.Split = SplitKind(max(0, r.choice(n, "split", "none", "strand", "depth")))
	}
	p.Comments = r.flagOr(t, "comments", true)
	r.assumeProgram(t)
	return &p
}

// assumeProgram tells what was not given, but for what is worked out from the bit.
func (r *reader) assumeProgram(t *node) {
	r.assume("program", t,
		"machine", "one of which nothing is known", "zero", `"motif"`,
		"climb", "false", "rough", r.usual(defaultRough), "ramp", itoa(maxRamp)+" degrees", "safe", r.usual(defaultSafe), "order", `"`+OrderShort+`"`)
	if t.get("machine") == nil {
		r.noEffect(t, "at", "no machine is named, so its travel isn't known")
	}
}

// profileName is the name or path of a profile; "" if there is none.
func (r *reader) profileName(t *node, key, hint string) string {
	n := t.get(key)
	if n == nil {
		return ""
	}
	name := strings.TrimSpace(r.text(n, key))
	if n.kind == nodeString && strings.TrimSpace(n.text) == "" {
		r.errorf(ruleValue, n.off, "%s is empty", key).Hintf("%s", hint)
	}
	return name
}

func (r *reader) programZero(t, root *node, p *Program) {
	if n := t.get("zero"); n != nil {
		p.ZeroBoard = r.choice(n, "zero", "motif", "board") == 1
		if p.ZeroBoard && root.get("board") == nil {
			r.errorf(ruleConflict, n.off, `zero = "board", but nothing is said of the board`).
				Hintf(`add [board] with its size and thickness, or write zero = "motif"`)
		}
	}
	n := t.get("at")
	if n == nil {
		return
	}
	hint := "write at = " + r.either("[310, 205, -62]", "[12, 8, -2.5]") + ": x, y and z of the program's zero in the machine's own coordinates"
	switch {
	case n.kind != nodeList:
		r.wrongType(n, "at", "a list of three lengths", hint)
	case len(n.items) != len(p.At):
		r.errorf(ruleType, n.off, "at must have three lengths, not %d", len(n.items)).Hintf("%s", hint)
	default:
		p.AtGiven = true
		for i, item := range n.items {
			r.hinted(hint, func() { p.At[i] = r.length(item, "at: "+string(rune('x'+i)), anywhere) })
		}
	}
}

func (r *reader) programFeeds(t *node, p *Program) {
	p.Feed = r.feed(t, "feed", exampleFeed)
	p.Plunge = r.feed(t, "plunge", examplePlunge)
	n := t.get("speed")
	if n == nil {
		return
	}
	hint := "write the spindle's turns a minute: speed = " + itoa(exampleSpeed)
	if n.kind != nodeInteger && n.kind != nodeFloat {
		r.wrongType(n, "speed", "a number", hint)
		return
	}
	r.hinted(hint, func() {
		if p.Speed = r.plain(n, "speed"); p.Speed < leastSpeed || p.Speed > greatestSpeed {
			r.errorf(ruleValue, n.off, "a speed of %s turns a minute is no router's: they have %d to %d", n.text, leastSpeed, greatestSpeed)
		}
	})
}

// feed is a length a minute; 0 when it isn't given.
func (r *reader) feed(t *node, key string, usual float64) (v float64) {
	n := t.get(key)
	if n == nil {
		return 0
	}
	hint := fmt.Sprintf("it is a length a minute: %s = %.0f", key, usual/r.units.InMM())
	r.hinted(hint, func() {
		if v = r.length(n, key, positive); v > maxFeed {
			r.errorf(ruleValue, n.off, "a %s of %s is beyond %s", key, unit.Rate(v).In(r.units), unit.Rate(maxFeed).Down().In(r.units)).
				Hintf("is the unit right? a bare number means %s a minute here; %s", r.units.Name(), hint)
		}
	})
	return v
}

func (r *reader) programCut(t *node, p *Program) {
	p.Climb = r.flagOr(t, "climb", false)
	for _, k := range []struct {
		key  string
		b    bound
		into *float64
		hint string
	}{
		{"rough", notNegative, &p.Rough, "write what is left a side for the finishing passes: rough = " + r.typed(unit.Len(defaultRough.of(r.units))) + ", or 0 for no slot before them"},
		{"step", positive, &p.Step, "write the deepest step: step = " + r.either("1.5", "0.06") + ", or take the key away"},
		{"safe", positive, &p.Safe, "write the height over the work for moving across: safe = " + r.typed(unit.Len(defaultSafe.of(r.units)))},
		{"widen", notNegative, &p.Widen, "write by how much the groove gets wider: widen = " + r.either("0.1", "0.004") + ", or take the key away"},
	} {
		r.hinted(k.hint, func() { *k.into = r.lengthOr(t, k.key, k.b, *k.into) })
	}
	n := t.get("ramp")
	if n == nil {
		return
	}
	const hint = "write the entry's angle in degrees: ramp = 3, or 0 to go straight down"
	r.hinted(hint, func() {
		p.Ramp = r.angle(n, "ramp")
		if deg := p.Ramp * 180 / math.Pi; deg < 0 || deg > maxRamp+rampSlack || deg > 0 && deg < leastRamp-rampSlack {
			r.errorf(ruleValue, n.off, "ramp must be 0, or %g to %d degrees, not %.4g", leastRamp, maxRamp, deg).Hintf(hint)
		}
	})
}

// rampSlack in degrees lets 3 degrees be 3 degrees after their way through
// radians.
const rampSlack = 1e-9

// order reads a rule, or the names of what is cut first.
func (r *reader) order(n *node, p *Program) {
	const hint = `write order = "short" or "drawn", or what is cut first: order = ["ring", "bar.2"]`
	switch {
	case n.kind == nodeString:
		if r.choice(n, "order", OrderShort, OrderDrawn) == 1 {
			p.Order = OrderDrawn
		}
		return
	case n.kind != nodeList:
		r.wrongType(n, "order", "a word or a list of names", hint)
		return
	case len(n.items) == 0:
		r.errorf(ruleValue, n.off, "order is empty").Hintf(hint)
	}
	r.atMost(n, "order", mostListed)
	lines := map[string]int{}
	for _, item := range n.items {
		name := r.text(item, "a name of order")
		switch line, double := lines[name]; {
		case name == "" && item.kind == nodeString && item.text == "":
			r.errorf(ruleValue, item.off, "a name of order is empty").Hintf(hint)
		case name == "": // told
		case double:
			r.errorf(ruleDuplicate, item.off, "%q is named twice in order", name).Hintf("it is named on line %d already: take one of the two away", line)
		default:
			lines[name] = r.src.line(item.off)
			p.OrderNames = append(p.OrderNames, name)
		}
	}
}

// hinted gives what read tells a hint, where it has none.
func (r *reader) hinted(hint string, read func()) {
	before := len(r.findings)
	read()
	for i := range r.findings[before:] {
		if f := &r.findings[before+i]; f.Hint == "" {
			f.Hint = hint
		}
	}
}
