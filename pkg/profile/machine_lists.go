package profile

// A machine's keys that are lists: of numbers of more than one form, of words.

import (
	"slices"
	"strings"
)

const (
	hintTravel = "write travel = [600, 400, 80], in mm: x, y, z; or, where the machine's coordinates run otherwise, " +
		"from where to where: travel = [[-600, 0], [-400, 0], [-80, 0]]"
	hintStarts = `write which of %s the manual says every program starts in, such as starts_with = ["G17", "G90"]`
	hintPark   = `write park = [0, 0]: x and y in the program's coordinates, in mm; or park = "stay"`
)

// axes names the axes of a travel.
var axes = [3]string{"x", "y", "z"}

// travel reads how far the axes go: a length for each, counted from 0 up in x and
// y and from 0 down in z, or from where to where.
func (p *parser) travel(list []any, m *Machine) {
	switch {
	case list == nil:
		return
	case len(list) != len(m.Travel):
		p.errorf("travel", "travel must be 3 numbers, not %d", len(list)).Hintf(hintTravel)
		return
	}
	for i, v := range list {
		if pair, ok := v.([]any); ok {
			p.travelRange(i, pair, m)
			continue
		}
		length, ok := number(v)
		if !ok {
			p.errorf("travel", "the travel in %s is no number", axes[i]).Hintf(hintTravel)
			continue
		}
		if s := (span{most: maxBed}); !s.holds(length) {
			p.outside("travel", length, s).Hintf(hintTravel)
		}
		m.Travel[i] = [2]float64{0, length}
		if axes[i] == "z" {
			m.Travel[i] = [2]float64{-length, 0}
		}
	}
}

// travelRange reads from where to where an axis goes.
func (p *parser) travelRange(i int, pair []any, m *Machine) {
	ends := make([]float64, 0, len(m.Travel[i]))
	for _, v := range pair {
		if end, ok := number(v); ok {
			ends = append(ends, end)
		}
	}
	switch {
	case len(pair) != len(m.Travel[i]) || len(ends) != len(pair):
		p.errorf("travel", "the travel in %s must be a number, or two", axes[i]).Hintf(hintTravel)
	case !within(ends[0]) || !within(ends[1]):
		p.errorf("travel", "the travel in %s must lie between %d and %d, not from %g to %g", axes[i], -maxBed, maxBed, ends[0], ends[1]).Hintf(hintTravel)
	case !(ends[0] < ends[1]):
		p.errorf("travel", "the travel in %s goes from %g to %g, which is nowhere or backwards", axes[i], ends[0], ends[1]).
			Hintf("write the lesser end first: travel = [[-600, 0], [-400, 0], [-80, 0]]")
	default:
		m.Travel[i] = [2]float64(ends)
	}
}

// within reports whether a coordinate is one that a machine may have.
func within(v float64) bool { return v >= -maxBed && v <= maxBed }

// park reads where programs end.
func (p *parser) park(v any, m *Machine) {
	list, ok := v.([]any)
	switch {
	case v == nil || v == "stay":
		return
	case !ok || len(list) != len(m.Park):
		p.errorf("park", "park must be two numbers, or \"stay\"").Hintf(hintPark)
		return
	}
	for i := range list {
		at, ok := number(list[i])
		if !ok || !within(at) {
			p.errorf("park", "the %s of park must be a number between %d and %d, not %s", axes[i], -maxBed, maxBed, quoted(list[i])).Hintf(hintPark)
			return
		}
		m.Park[i] = at
	}
	m.Parks = true
}

// startWords are the modes that a program may leave to the machine: those in which
// strapwork's own programs work (NISTIR 6556, table 4), and the units. A machine
// that starts otherwise must be told so by every program.
var startWords = []string{"G17", "G20", "G21", "G40", "G49", "G54", "G61", "G80", "G90", "G94"}

// starts reads the modes that a machine starts in.
func (p *parser) starts(list []string, m *Machine) {
	var words []string
	for _, v := range list {
		w := strings.ToUpper(strings.TrimSpace(v))
		if !slices.Contains(startWords, w) {
			p.errorf("starts_with", "starts_with cannot hold %q", v).Hintf(hintStarts, strings.Join(startWords, ", "))
			return
		}
		words = append(words, w)
	}
	slices.Sort(words)
	words = slices.Compact(words)
	if slices.Contains(words, "G20") && slices.Contains(words, "G21") {
		p.errorf("starts_with", "starts_with holds both G20 and G21").Hintf("write G20 for inches or G21 for mm, not both")
		return
	}
	m.StartsWith = strings.Join(words, " ")
}

// number is a TOML value as a number.
func number(v any) (float64, bool) {
	switch n := v.(type) {
	case int64:
		return float64(n), true
	case float64:
		return n, true
	}
	return 0, false
}
