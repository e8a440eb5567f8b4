package profile

import (
	"strapwork/pkg/conf"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const (
	// maxRate in mm/min is beyond any router's feeds and rapids.
	maxRate = 100_000
	// maxAcceleration in mm/s2 is two g: beyond any router.
	maxAcceleration = 20_000
	// maxTurns in rpm is beyond any spindle for wood.
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
	Feed    [2]float64 // greatest across and vertically, mm/min
	Rapid   [2]float64 // across (x and y each) and vertically, mm/min
	Accel   [2]float64 // across and vertically, mm/s2
	Spindle [2]float64 // least and greatest, rpm
	SpinUp  float64    // seconds until the spindle is at speed; never 0
	Body    work.Body
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

var pathWords = [...]string{
	PathExact: "exact",
	PathNone:  "none",
}

// String is the path's word in a profile.
func (p Path) String() string { return unit.Word(pathWords[:], p, "path") }

// Known reports whether it is known how far an axis goes: 0 to 2 for x, y and z.
func (m Machine) Known(axis int) bool { return m.Span(axis) > 0 }

// Span is how far an axis goes in all, mm; 0 where that isn't known.
func (m Machine) Span(axis int) float64 { return m.Travel[axis][1] - m.Travel[axis][0] }

// PlainMachine is the machine that a job gets which names none: millimetres,
// arcs, and nothing known of what it can.
func PlainMachine() Machine {
	return Machine{About: "a generic machine, whose limits aren't known", Units: unit.MM, SpinUp: usualSpinUp, DwellAgain: usualSpinUp}
}

// ParseMachine reads a machine's profile; file is where it says its mistakes
// are. What a profile leaves out isn't known of the machine. The error is a
// diag.Findings.
func ParseMachine(name, file string, data []byte) (Machine, error) {
	p, ok := begin(&machineFormat, kindMachine, file, data)
	if !ok {
		return Machine{}, p.done()
	}
	m := Machine{
		Name: name, About: p.Text("about"), Units: unit.System(max(0, p.Word("units"))),
		Repeat: p.Flag("repeat"), Rewind: p.Flag("rewind"), Percent: p.Flag("percent"), LineNumbers: p.Flag("line_numbers"),
		Path: Path(max(0, p.Word("path"))), Decimals: p.Count("decimals"), SpinUp: p.Number("spin_up"),
		Body: work.Body{Stickout: p.Length("stickout"), NutDiameter: p.Length("nut"), NutLength: p.Length("nut_length"), NoseDiameter: p.Length("nose")},
	}
	p.travel(&m)
	p.Fill("feed", m.Feed[:])
	p.Fill("rapid", m.Rapid[:])
	p.Fill("acceleration", m.Accel[:])
	p.rising("spindle", m.Spindle[:])
	p.waits(&m)
	p.shapes(&m)
	p.park(&m)
	p.starts(&m)
	if v := p.Get("decimals"); m.Units == unit.Inch && m.Decimals > 0 && m.Decimals < leastInchDecimals {
		p.Faultf(v, conf.BadValue, "decimals must be at least %d where units are %q, not %d", leastInchDecimals, m.Units, m.Decimals).Hintf("%s", p.Hint("decimals"))
	}
	if err := p.done(); err != nil {
		return Machine{}, err
	}
	return m, nil
}

// waits reads how long programs wait for the spindle, and how they say so.
func (p parser) waits(m *Machine) {
	m.DwellAgain = m.SpinUp
	if v := p.Get("dwell_again"); v != nil {
		if m.DwellAgain = p.Number("dwell_again"); m.DwellAgain > m.SpinUp {
			p.Faultf(v, conf.BadValue, "dwell_again must be at most %g, which is spin_up, not %g", m.SpinUp, m.DwellAgain).Hintf("%s", p.Hint("dwell_again"))
		}
	}
	if v := p.Get("dwell"); v != nil && v.Kind != conf.KindString {
		p.Faultf(v, conf.WrongType, "dwell must be a word in quotes, not %s", v.Kind).
			Hintf(`dwell is the unit of P in G4, "seconds" or "milliseconds"; how long to wait is spin_up, and dwell_again at later strands`)
		return
	}
	m.DwellMillis = p.Word("dwell") == 1
}

// shapes reads which paths the machine takes besides lines.
func (p parser) shapes(m *Machine) {
	arcs, chord, helix := p.Flag("arcs"), p.Get("chord"), p.Get("helix")
	switch {
	case !arcs && chord == nil:
		p.Faultf(p.Get("arcs"), conf.Missing, "a machine without arcs needs a chord error").Hintf("%s", p.Hint("chord"))
	case arcs && chord != nil:
		p.Faultf(chord, conf.BadValue, "chord is for machines without arcs").Hintf("write arcs = false as well, or remove the line")
	case !arcs:
		m.Chord = p.Length("chord")
	}
	m.NoHelix = !arcs || helix != nil && !p.Flag("helix")
	if !arcs && helix != nil && p.Flag("helix") {
		p.Faultf(helix, conf.BadValue, "a machine without arcs has no helix").Hintf("write helix = false, or remove the line")
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
