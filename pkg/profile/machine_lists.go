package profile

// A machine's keys that are lists: of numbers of more than one form, of words.

import (
	"slices"
	"strings"

	"strapwork/pkg/conf"
)

// axes names the axes of a travel.
var axes = [3]string{"x", "y", "z"}

// within is where an axis may go.
var within = conf.From(-maxBed, maxBed)

// travel reads how far the axes go: a length for each, counted from 0 up in x and
// y and from 0 down in z, or from where to where.
func (p parser) travel(m *Machine) {
	items := p.Items("travel", len(m.Travel))
	for i, v := range items {
		what := "travel: " + axes[i]
		if v.Kind == conf.KindList {
			p.travelRange(i, what, v, m)
			continue
		}
		length := p.Reader.Length(v, what, p.Table.Key("travel").Range, p.Hint("travel"))
		m.Travel[i] = [2]float64{0, length}
		if axes[i] == "z" {
			m.Travel[i] = [2]float64{-length, 0}
		}
	}
}

// travelRange reads from where to where an axis goes.
func (p parser) travelRange(i int, what string, pair *conf.Value, m *Machine) {
	hint := p.Hint("travel")
	if len(pair.Items) != len(m.Travel[i]) {
		p.Faultf(pair, conf.WrongType, "%s must be a length, or two", what).Hintf("%s", hint)
		return
	}
	for end, v := range pair.Items {
		m.Travel[i][end] = p.Reader.Length(v, what, within, hint)
	}
	if from, to := m.Travel[i][0], m.Travel[i][1]; from >= to {
		p.Faultf(pair, conf.BadValue, "%s goes from %g to %g, which is nowhere or backwards", what, from, to).
			Hintf("write the lesser end first: travel = [[-600, 0], [-400, 0], [-80, 0]]")
	}
}

// park reads where programs end.
func (p parser) park(m *Machine) {
	v := p.Get("park")
	switch {
	case v == nil, v.Text == "stay" && v.Kind == conf.KindString:
	case v.Kind == conf.KindString:
		p.Faultf(v, conf.BadValue, "park cannot be %q", v.Text).Hintf("%s", p.Hint("park"))
	default:
		m.Parks = p.Fill("park", m.Park[:])
	}
}

// startWords are the modes that a program may leave to the machine: those in which
// strapwork's own programs work (NISTIR 6556, table 4), and the units. A machine
// that starts otherwise must be set so by every program.
var startWords = []string{"G17", "G20", "G21", "G40", "G49", "G54", "G61", "G80", "G90", "G94"}

// starts reads the modes that a machine starts in.
func (p parser) starts(m *Machine) {
	var words []string
	for _, v := range p.Items("starts_with", 0) {
		w := strings.ToUpper(strings.TrimSpace(v.Text))
		if v.Kind != conf.KindString || !slices.Contains(startWords, w) {
			p.Faultf(v, conf.BadValue, "starts_with cannot hold %q", v.Text).Hintf("%s; it may hold %s", p.Hint("starts_with"), strings.Join(startWords, ", "))
			return
		}
		words = append(words, w)
	}
	slices.Sort(words)
	words = slices.Compact(words)
	if slices.Contains(words, "G20") && slices.Contains(words, "G21") {
		p.Faultf(p.Get("starts_with"), conf.BadValue, "starts_with holds both G20 and G21").Hintf("write G20 for inches or G21 for mm, not both")
		return
	}
	m.StartsWith = strings.Join(words, " ")
}
