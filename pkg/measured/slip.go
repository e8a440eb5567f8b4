package measured

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// Slips of the pen. A reading far off what is planned is not a bad part but a slip
// where a moved point, two digits exchanged, another unit or another row makes it
// what is planned. It is asked for and not used.

const (
	// slipFar is by how much in mm a reading must be off before it is asked for.
	// Parts come out bad by a millimetre or two, and are then judged as they are.
	slipFar = 2
	// slipPart is the same as part of what is planned, for narrow measures: whoever
	// took another bit than the job's is a fifth or a third off.
	slipPart = 0.4
	// slipNear is within how much in mm, and slipNearPart within which part, of
	// what is planned the reading lies that was meant.
	slipNear     = 1
	slipNearPart = 0.1
	// otherRow is within how much in mm a reading is that of another row, of which
	// the plan must then differ by more than bad parts do from this one.
	otherRow = 0.15
)

// A mark is a reading as it was typed.
type mark struct {
	pos    diag.Position
	digits string  // a plain decimal number; else empty
	suffix string  // its unit: mm, cm, in; empty where it had none
	inMM   float64 // one of its unit in mm
}

// plainLength is a decimal number, alone or with its unit.
var plainLength = regexp.MustCompile(`^\s*([0-9]+(?:\.[0-9]+)?)\s*(mm|cm|in|"|)\s*$`)

// newMark keeps what was typed of a reading of so many mm.
func newMark(pos diag.Position, text string, mm float64) mark {
	m := mark{pos: pos}
	parts := plainLength.FindStringSubmatch(text)
	if parts == nil {
		return m
	}
	if n, err := strconv.ParseFloat(parts[1], 64); err == nil && n > 0 {
		m.digits, m.suffix, m.inMM = parts[1], strings.ReplaceAll(parts[2], `"`, "in"), mm/n
	}
	return m
}

// typed is a length as a card has it.
func typed(digits, suffix string) string {
	if suffix == "" {
		return digits
	}
	return `"` + digits + " " + suffix + `"`
}

// A Row is one of the card's measures: what is measured, and what is planned.
type Row struct {
	Name    string // "the track A1"
	Reading Reading
	Planned float64
}

// far reports whether a reading is so far off that it may be a slip.
func (m Row) far(mm float64) bool {
	return math.Abs(mm-m.Planned) > math.Min(slipFar, slipPart*m.Planned)
}

func (m Row) near(mm float64) bool {
	return math.Abs(mm-m.Planned) <= math.Min(slipNear, slipNearPart*m.Planned)
}

// Asked reports the readings of a row that are slips of the pen; true if there are any.
// others are the rows that a reading may belong to.
func (c Card) Asked(found *diag.Findings, m Row, others ...Row) bool {
	slips := 0
	for i, mm := range m.Reading.Values {
		if !m.far(mm) {
			continue
		}
		if text, hint := m.meant(i); text != "" {
			c.slip(found, m, i, "is %s meant?", text).Hintf("%s, or measure again", hint)
			slips++
			continue
		}
		for _, o := range others {
			if o.far(m.Planned) && math.Abs(mm-o.Planned) <= otherRow {
				c.slip(found, m, i, "is it %s?", o.Name).Hintf("put each reading into its own row: %s is planned %s", o.Name, unit.Len(o.Planned))
				slips++
				break
			}
		}
	}
	return slips > 0
}

// Far reports a reading that is so far from what is planned that it may be a slip.
func (m Row) Far() (i int, far bool) {
	i = slices.IndexFunc(m.Reading.Values, m.far)
	return i, i >= 0
}

// slip is the finding of a reading that is asked for.
func (c Card) slip(found *diag.Findings, m Row, i int, question string, what ...any) *diag.Finding {
	r, said := m.Said(i)
	return c.Errorf(found, r, RuleSlip, "%s for %s, which is planned %s: %s", said, m.Name, unit.Len(m.Planned), unit.Say(question, what...))
}

// Said is the i-th reading as it was typed, and the row's reading at its place.
func (m Row) Said(i int) (Reading, unit.Text) {
	r := m.Reading
	said := unit.Say("%s", unit.Len(r.Values[i]))
	if i < len(r.marks) {
		r.Pos = r.marks[i].pos
		if d := r.marks[i].digits; d != "" {
			said = unit.Say("%s", typed(d, r.marks[i].suffix))
		}
	}
	return r, said
}

// meant is what may have been meant by the i-th reading and how to write it, if
// anything that comes near what is planned.
func (m Row) meant(i int) (text, hint string) {
	if i >= len(m.Reading.marks) || m.Reading.marks[i].digits == "" {
		return "", ""
	}
	k := m.Reading.marks[i]
	least := math.Inf(1)
	try := func(digits, suffix string, inMM float64) {
		n, err := strconv.ParseFloat(digits, 64)
		if off := math.Abs(n*inMM - m.Planned); err == nil && m.near(n*inMM) && off < least-rounding {
			least, text = off, strings.TrimSpace(digits+" "+suffix)
			hint = "write " + typed(digits, suffix)
		}
	}
	for _, by := range []float64{10, 0.1, 100, 0.01} {
		try(scaled(k.digits, by), k.suffix, k.inMM)
	}
	for _, t := range exchanged(k.digits) {
		try(t, k.suffix, k.inMM)
	}
	for _, u := range []unit.System{unit.MM, unit.Inch} {
		if u.InMM() != k.inMM {
			try(k.digits, u.String(), u.InMM())
		}
	}
	if before := m.Reading.marks[max(0, i-1)]; i > 0 && before.digits != "" && !strings.Contains(before.digits+k.digits, ".") && k.suffix == "" {
		try(before.digits+"."+k.digits, "", k.inMM)
	}
	return text, hint
}

// scaled is a decimal number with its point moved.
func scaled(digits string, by float64) string {
	const kept = 1e9 // decimals that somebody may have typed; the rest is noise
	n, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return digits
	}
	return strconv.FormatFloat(math.Round(n*by*kept)/kept, 'f', -1, 64)
}

// exchanged lists a decimal number with each two digits beside one another
// exchanged, the point staying where it is.
func exchanged(digits string) []string {
	var list []string
	last := -1
	for i := range len(digits) {
		if digits[i] == '.' {
			continue
		}
		if last >= 0 && digits[last] != digits[i] {
			b := []byte(digits)
			b[last], b[i] = b[i], b[last]
			list = append(list, string(b))
		}
		last = i
	}
	return list
}
