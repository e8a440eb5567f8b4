package profile

import (
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
	Name    string // of a built-in one, or the path it was read from
	About   string
	Units   unit.System // of its programs
	Travel  [3]float64  // in x, y and z, mm
	Feed    [2]float64  // greatest across and vertically, mm a minute
	Rapid   [2]float64  // across (x and y each) and vertically, mm a minute
	Accel   [2]float64  // across and vertically, mm/s2
	Spindle [2]float64  // least and greatest, turns a minute
	SpinUp  float64     // seconds until the spindle is at speed; never 0
	// Decimals of its programs' lengths; 0: as many as its units want.
	Decimals    int
	DwellMillis bool // G4 has milliseconds
	Repeat      bool // every word must be in every block
	Rewind      bool // programs end with M30
	// Chord, if more than 0: no arcs, but lines that leave them by this much at
	// most, mm.
	Chord float64
}

// PlainMachine is the machine that a job gets which names none: millimetres,
// arcs, and nothing known of what it can.
func PlainMachine() Machine {
	return Machine{About: "a machine of which nothing is known", Units: unit.MM, SpinUp: usualSpinUp}
}

// writtenMachine is a machine's profile as TOML has it.
type writtenMachine struct {
	Kind    string    `toml:"kind"`
	About   string    `toml:"about"`
	Units   string    `toml:"units"`
	Travel  []float64 `toml:"travel"`
	Feed    []float64 `toml:"feed"`
	Rapid   []float64 `toml:"rapid"`
	Accel   []float64 `toml:"acceleration"`
	Spindle []float64 `toml:"spindle"`
	SpinUp  *float64  `toml:"spin_up"`
	// Decimals is a pointer since 0 is no number of decimals to write.
	Decimals *int     `toml:"decimals"`
	Dwell    string   `toml:"dwell"`
	Repeat   bool     `toml:"repeat"`
	Rewind   bool     `toml:"rewind"`
	Arcs     *bool    `toml:"arcs"`
	Chord    *float64 `toml:"chord"`
}

var machineKeys = []string{
	"kind", "about", "units", "travel", "feed", "rapid", "acceleration", "spindle", "spin_up", "decimals", "dwell", "repeat", "rewind", "arcs", "chord",
}

// ParseMachine reads a machine's profile; file is where it says its mistakes
// are. What a profile leaves out isn't known of the machine. The error is a
// diag.Findings.
func ParseMachine(name, file string, data []byte) (Machine, error) {
	p := parser{file: file, data: data, rule: RuleProfile, what: "a machine's profile", keys: machineKeys}
	var w writtenMachine
	if !p.open(kindMachine, &w) {
		return Machine{}, p.found
	}
	m := Machine{Name: name, About: w.About, Units: p.units(w.Units), Repeat: w.Repeat, Rewind: w.Rewind}
	p.list("travel", w.Travel, m.Travel[:], span{most: maxBed}, "[600, 400, 80], in mm: x, y, z")
	p.list("feed", w.Feed, m.Feed[:], span{most: maxRate}, "[3000, 1000], in mm a minute: across, up and down")
	p.list("rapid", w.Rapid, m.Rapid[:], span{most: maxRate}, "[5000, 1500], in mm a minute: across, up and down")
	p.list("acceleration", w.Accel, m.Accel[:], span{most: maxAcceleration}, "[300, 150], in mm/s2: across, up and down")
	p.rising("spindle", w.Spindle, m.Spindle[:], span{most: maxTurns}, "[8000, 24000], in turns a minute: least, greatest")
	m.SpinUp = p.number("spin_up", w.SpinUp, usualSpinUp, span{leastSpinUp, maxSpinUp}, "the seconds until the spindle is at speed: spin_up = 4")
	p.writing(w, &m)
	return m, p.done()
}

// writing reads how the machine wants its programs.
func (p *parser) writing(w writtenMachine, m *Machine) {
	switch w.Dwell {
	case "", "seconds":
	case "milliseconds":
		m.DwellMillis = true
	default:
		p.errorf("dwell", "dwell cannot be %q", w.Dwell).Hintf(`write dwell = "seconds" or "milliseconds", as the manual has it for P of G4`)
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
	lines := w.Arcs != nil && !*w.Arcs
	switch {
	case lines && w.Chord == nil:
		p.errorf("arcs", "a machine without arcs needs a chord error").Hintf("write by how much lines may leave an arc, in mm: chord = 0.005")
	case !lines && w.Chord != nil:
		p.errorf("chord", "chord is for machines without arcs").Hintf("write arcs = false as well, or take the line out")
	case lines:
		m.Chord = p.number("chord", w.Chord, 0, span{leastChord, maxChord}, "by how much lines may leave an arc, in mm: chord = 0.005")
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
