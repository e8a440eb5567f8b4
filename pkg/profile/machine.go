package profile

import (
	"fmt"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

const (
	// maxRate in mm a minute is beyond any router's feeds and rapids.
	maxRate = 100_000
	// maxAcceleration in mm/s2 is two g: beyond any router.
	maxAcceleration = 20_000
	// maxTurns a minute is beyond any spindle for wood.
	maxTurns = 100_000
	// usualSpinUp in seconds is a small spindle's (common practice).
	usualSpinUp = 5
	// leastSpinUp: a bit that goes in before the spindle turns breaks, so there
	// is always a wait. maxSpinUp is a slip of milliseconds for seconds.
	leastSpinUp, maxSpinUp = 1, 60
	// maxBody in mm is beyond the size of any spindle for wood.
	maxBody = 400
	// leastDecimals and mostDecimals are what programs are written with.
	leastDecimals, mostDecimals = 3, 6
	// leastChord is a step and a half of the coarsest decimals allowed, the fourth
	// of an inch, which lines for arcs must leave to rounding. maxChord and the
	// rounding of three decimals, 0.0007 mm, stay within the hundredth of a
	// millimetre that makers work to: more is a gouge, or wood that is left.
	leastChord, maxChord = 0.004, 0.008
	// leastInchDecimals: the third decimal of an inch is 0.025 mm, coarser than
	// what makers work to.
	leastInchDecimals = 4
)

// A Machine is a machine that grooves the board itself. What is 0 isn't known,
// where nothing else is said.
type Machine struct {
	Name  string // of a built-in one, or the path it was read from
	About string
	Units unit.System // of its programs
	// Travel is from where to where x, y and z go in the machine's own
	// coordinates, mm; an axis that goes nowhere isn't known.
	Travel  [3][2]float64
	Feed    [2]float64 // greatest across and vertically, mm a minute
	Rapid   [2]float64 // across (x and y each) and vertically, mm a minute
	Accel   [2]float64 // across and vertically, mm/s2
	Spindle [2]float64 // least and greatest, turns a minute
	SpinUp  float64    // seconds until the spindle is at speed; never 0
	Body    Body
	// DwellAgain is the wait in seconds where a program starts a strand with the
	// spindle turning already; at most SpinUp.
	DwellAgain float64
	// Decimals of its programs' lengths; 0: as many as its units want.
	Decimals    int
	DwellMillis bool // G4 has milliseconds
	Repeat      bool // every word must be in every block
	Rewind      bool // programs end with M30
	Percent     bool // programs stand between two lines of a percent sign
	LineNumbers bool // blocks begin with N and their line in the file
	NoHelix     bool // arcs are level
	Path        Path
	// Park, if Parks, is where programs end, x and y in their own coordinates, mm.
	Park  [2]float64
	Parks bool
	// StartsWith are the modes that the machine starts every program in, as a block
	// such as "G17 G90"; what isn't among them isn't known.
	StartsWith string
	// Chord, if more than 0: no arcs, but lines that leave them by this much at
	// most, mm.
	Chord float64
}

// Body is what turns above the bit, in mm.
type Body struct {
	Stickout  float64 // from the collet nut's face down to the bit's tip
	Nut       float64 // diameter of the collet nut
	NutLength float64 // how far it reaches up from its face
	Nose      float64 // diameter of the spindle above the nut
}

// Path is how a machine treats the corners of a path (NISTIR 6556, 2.1.2.16: path
// control modes).
type Path int

const (
	// PathExact goes through every programmed place: programs state G61.
	PathExact Path = iota
	// PathNone has no path modes, and goes through every place because it can't do
	// otherwise: programs state none.
	PathNone
)

// String is the path's word in a profile.
func (p Path) String() string {
	switch p {
	case PathExact:
		return "exact"
	case PathNone:
		return "none"
	}
	return fmt.Sprintf("path(%d)", int(p))
}

// Known reports whether it is known how far an axis goes: 0 to 2 for x, y and z.
func (m Machine) Known(axis int) bool { return m.Span(axis) > 0 }

// Span is how far an axis goes in all, mm; 0 where that isn't known.
func (m Machine) Span(axis int) float64 { return m.Travel[axis][1] - m.Travel[axis][0] }

// PlainMachine is the machine that a job gets which names none: millimetres,
// arcs, and nothing known of what it can.
func PlainMachine() Machine {
	return Machine{About: "a machine of which nothing is known", Units: unit.MM, SpinUp: usualSpinUp, DwellAgain: usualSpinUp}
}

// writtenMachine is a machine's profile as TOML has it.
type writtenMachine struct {
	Kind    string    `toml:"kind"`
	About   string    `toml:"about"`
	Units   string    `toml:"units"`
	Travel  []any     `toml:"travel"` // of numbers, or pairs of them
	Feed    []float64 `toml:"feed"`
	Rapid   []float64 `toml:"rapid"`
	Accel   []float64 `toml:"acceleration"`
	Spindle []float64 `toml:"spindle"`
	SpinUp  *float64  `toml:"spin_up"`
	// Decimals is a pointer since 0 is no number of decimals to write.
	Decimals *int     `toml:"decimals"`
	Dwell    any      `toml:"dwell"` // a word, but seconds are a likely slip
	Again    *float64 `toml:"dwell_again"`
	Repeat   bool     `toml:"repeat"`
	Rewind   bool     `toml:"rewind"`
	Arcs     *bool    `toml:"arcs"`
	Helix    *bool    `toml:"helix"`
	Chord    *float64 `toml:"chord"`
	Percent  bool     `toml:"percent"`
	Numbers  bool     `toml:"line_numbers"`
	Path     string   `toml:"path"`
	Park     any      `toml:"park"` // a word, or two numbers
	Starts   []string `toml:"starts_with"`
	Stickout *float64 `toml:"stickout"`
	Nut      *float64 `toml:"nut"`
	NutLong  *float64 `toml:"nut_length"`
	Nose     *float64 `toml:"nose"`
}

var machineKeys = []string{
	"kind", "about", "units", "travel", "feed", "rapid", "acceleration", "spindle", "spin_up", "decimals", "dwell", "dwell_again",
	"repeat", "rewind", "arcs", "helix", "chord", "percent", "line_numbers", "path", "park",
	"starts_with", "stickout", "nut", "nut_length", "nose",
}

// MachineKeys are the keys of a machine's profile.
func MachineKeys() []string { return slices.Clone(machineKeys) }

// ParseMachine reads a machine's profile; file is where it says its mistakes
// are. What a profile leaves out isn't known of the machine. The error is a
// diag.Findings.
func ParseMachine(name, file string, data []byte) (Machine, error) {
	p := parser{file: file, data: data, rule: RuleProfile, what: "a machine's profile", keys: machineKeys}
	var w writtenMachine
	if !p.open(kindMachine, &w) {
		return Machine{}, p.found
	}
	m := Machine{Name: name, About: w.About, Units: p.units(w.Units)}
	p.travel(w.Travel, &m)
	p.list("feed", w.Feed, m.Feed[:], span{most: maxRate}, "[3000, 1000], in mm a minute: across, up and down")
	p.list("rapid", w.Rapid, m.Rapid[:], span{most: maxRate}, "[5000, 1500], in mm a minute: across, up and down")
	p.list("acceleration", w.Accel, m.Accel[:], span{most: maxAcceleration}, "[300, 150], in mm/s2: across, up and down")
	p.rising("spindle", w.Spindle, m.Spindle[:], span{most: maxTurns}, "[8000, 24000], in turns a minute: least, greatest")
	p.waits(w, &m)
	p.writing(w, &m)
	p.shapes(w, &m)
	p.park(w.Park, &m)
	p.starts(w.Starts, &m)
	p.body(w, &m)
	return m, p.done()
}

// body reads what turns above the bit.
func (p *parser) body(w writtenMachine, m *Machine) {
	in := span{most: maxBody}
	m.Body = Body{
		Stickout:  p.number("stickout", w.Stickout, 0, in, "from the collet nut's face to the bit's tip, in mm: stickout = 32"),
		Nut:       p.number("nut", w.Nut, 0, in, "the collet nut's diameter in mm: nut = 19"),
		NutLength: p.number("nut_length", w.NutLong, 0, in, "how far the nut reaches up from its face, in mm: nut_length = 18"),
		Nose:      p.number("nose", w.Nose, 0, in, "the spindle's diameter above the nut in mm: nose = 43"),
	}
}

// waits reads how long programs wait for the spindle.
func (p *parser) waits(w writtenMachine, m *Machine) {
	m.SpinUp = p.number("spin_up", w.SpinUp, usualSpinUp, span{leastSpinUp, maxSpinUp}, "the seconds until the spindle is at speed: spin_up = 4")
	m.DwellAgain = m.SpinUp
	if w.Again == nil {
		return
	}
	m.DwellAgain = *w.Again
	if most := max(m.SpinUp, leastSpinUp); !(m.DwellAgain >= 0 && m.DwellAgain <= most) {
		p.errorf("dwell_again", "dwell_again must be 0 to %g, which is spin_up, not %g", most, m.DwellAgain).
			Hintf("write the seconds to wait at later strands, where the spindle turns already: dwell_again = 0")
	}
}

// writing reads how the machine wants its programs.
func (p *parser) writing(w writtenMachine, m *Machine) {
	m.Repeat, m.Rewind, m.Percent, m.LineNumbers = w.Repeat, w.Rewind, w.Percent, w.Numbers
	switch w.Dwell {
	case nil, "", "seconds":
	case "milliseconds":
		m.DwellMillis = true
	default:
		f := p.errorf("dwell", "dwell cannot be %s", quoted(w.Dwell)).
			Hintf(`write dwell = "seconds" or "milliseconds", as the manual has it for P of G4`)
		if _, word := w.Dwell.(string); !word {
			f.Hintf(`dwell is the unit of P in G4, "seconds" or "milliseconds"; how long to wait is spin_up, and dwell_again at later strands`)
		}
	}
	switch w.Path {
	case "", "exact":
	case "none":
		m.Path = PathNone
	default:
		p.errorf("path", "path cannot be %q", w.Path).
			Hintf(`write path = "exact", so that programs state G61, or "none" for a machine without path modes`)
	}
	if w.Decimals != nil {
		m.Decimals = *w.Decimals
		least := leastDecimals
		if m.Units == unit.Inch {
			least = leastInchDecimals
		}
		if m.Decimals < least || m.Decimals > mostDecimals {
			p.errorf("decimals", "decimals must be %d to %d where units are %q, not %d", least, mostDecimals, m.Units, m.Decimals).
				Hintf("write decimals = 4, or take the line out")
		}
	}
}

// quoted is a value as TOML has it.
func quoted(v any) string {
	if word, ok := v.(string); ok {
		return fmt.Sprintf("%q", word)
	}
	return fmt.Sprint(v)
}

// shapes reads which paths the machine takes besides lines.
func (p *parser) shapes(w writtenMachine, m *Machine) {
	lines := w.Arcs != nil && !*w.Arcs
	switch {
	case lines && w.Chord == nil:
		p.errorf("arcs", "a machine without arcs needs a chord error").Hintf("write by how much lines may leave an arc, in mm: chord = 0.005")
	case !lines && w.Chord != nil:
		p.errorf("chord", "chord is for machines without arcs").Hintf("write arcs = false as well, or take the line out")
	case lines:
		m.Chord = p.number("chord", w.Chord, 0, span{leastChord, maxChord}, "by how much lines may leave an arc, in mm: chord = 0.005")
	}
	m.NoHelix = lines || w.Helix != nil && !*w.Helix
	if lines && w.Helix != nil && *w.Helix {
		p.errorf("helix", "a machine without arcs has no helix").Hintf("write helix = false, or take the line out")
	}
}

// OpenMachine finds a machine's profile: a built-in one by its name, or a file
// if name holds a slash or ends in .toml, read with readFile, which takes a
// path as it is written in the job. The error is a diag.Findings. Findings
// about the name itself carry no position, for the caller to say where it was
// written.
func OpenMachine(name string, readFile func(path string) ([]byte, error)) (Machine, error) {
	data, file, err := open(kindMachine, name, readFile)
	if err != nil {
		return Machine{}, err
	}
	return ParseMachine(name, file, data)
}

// Machines is all built-in machines, by name.
func Machines() []Machine {
	var list []Machine
	for _, n := range namesOf(kindMachine) {
		if m, err := OpenMachine(n, nil); err == nil { // a test reads every one of them
			list = append(list, m)
		}
	}
	return list
}

// span is the range of a number: from least to most, both allowed; a least of
// 0 means more than 0.
type span struct{ least, most float64 }

func (s span) holds(v float64) bool {
	return v <= s.most && v >= s.least && v > 0
}

// number reads one number.
func (p *parser) number(key string, v *float64, otherwise float64, s span, hint string) float64 {
	switch {
	case v == nil:
		return otherwise
	case !s.holds(*v):
		p.outside(key, *v, s).Hintf("write %s", hint)
	}
	return *v
}

func (p *parser) outside(key string, v float64, s span) *diag.Finding {
	if s.least == 0 {
		return p.errorf(key, "%s must be more than 0 and at most %g, not %g", key, s.most, v)
	}
	return p.errorf(key, "%s must be %g to %g, not %g", key, s.least, s.most, v)
}

// list reads as many numbers as into has; none at all are left 0.
func (p *parser) list(key string, vs, into []float64, s span, hint string) {
	switch {
	case vs == nil:
		return
	case len(vs) != len(into):
		p.errorf(key, "%s must be %d numbers, not %d", key, len(into), len(vs)).Hintf("write %s = %s", key, hint)
		return
	}
	for i, v := range vs {
		if !s.holds(v) {
			p.outside(key, v, s).Hintf("write %s = %s", key, hint)
			return
		}
		into[i] = v
	}
}

// rising reads two numbers, the lesser first.
func (p *parser) rising(key string, vs, into []float64, s span, hint string) {
	p.list(key, vs, into, s, hint)
	if into[0] > into[1] && into[1] > 0 {
		p.errorf(key, "%s goes from %g down to %g", key, into[0], into[1]).Hintf("write the lesser first: %s = %s", key, hint)
	}
}
