package received

// The receiving card: a short TOML file with what was measured.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Card is a receiving card as read.
type Card struct {
	File   string
	Job    string // the job file's name, as the card has it; may be empty
	Rider  Reading
	Bit    Reading
	Tracks map[string]Reading // by opening

	text *conf.File // nil of a card that was not read
}

// A Reading is one or several readings of one measure, mm; none where it was
// not measured.
type Reading struct {
	Values []float64
	Pos    diag.Position // the file alone where the card lacks the key

	marks []mark // of each value, as it was typed; none in a reading that was not read
}

// Mean is the readings' mean; NaN without any.
func (r Reading) Mean() float64 {
	if len(r.Values) == 0 {
		return math.NaN()
	}
	return total(r.Values) / float64(len(r.Values))
}

// Span is the least and the greatest reading; 0 without any.
func (r Reading) Span() (lo, hi float64) {
	if len(r.Values) == 0 {
		return 0, 0
	}
	return slices.Min(r.Values), slices.Max(r.Values)
}

// errorf and warnf add a finding at a reading's place.
func (c Card) errorf(found *diag.Findings, r Reading, rule, format string, args ...any) *diag.Finding {
	f := found.ErrorAt(c.place(r), rule, format, args...)
	return f.SetExcerpt(c.line(f.Pos.Line))
}

func (c Card) warnf(found *diag.Findings, r Reading, rule, format string, args ...any) *diag.Finding {
	f := found.WarnAt(c.place(r), rule, format, args...)
	return f.SetExcerpt(c.line(f.Pos.Line))
}

func (c Card) place(r Reading) diag.Position {
	if r.Pos.File == "" {
		return diag.Position{File: c.File}
	}
	return r.Pos
}

func (c Card) line(n int) string {
	if c.text == nil {
		return ""
	}
	return c.text.Excerpt(n)
}

// Blank is a card to copy and fill in: a text in quotes with nothing in it is
// not measured yet. Read reads it.
func Blank(u unit.System, router work.Router, jobName string, openings []Opening) []byte {
	var b strings.Builder
	say := func(mm float64) string { return unit.Number(mm, u) }
	fmt.Fprintf(&b, "# Receiving card: what came from the shop, measured with calipers.\n")
	fmt.Fprintf(&b, "# Copy it before you fill it in: the next build writes it anew, empty. Then type\n")
	fmt.Fprintf(&b, "#   strapwork received %s CARD.toml\n", diag.Typed(comment(jobName)))
	fmt.Fprintf(&b, "# A bare number is in %s; another unit goes in quotes: \"4.015 in\". What was\n", u.Name())
	fmt.Fprintf(&b, "# measured at several places is a list: [%s, %s].\n\n", say(nominal(openings)), say(nominal(openings)+uneven))
	fmt.Fprintf(&b, "job = %s\nunits = %q\n", quoted(jobName), u)
	fmt.Fprintf(&b, "rider = [\"\", \"\", \"\"]  # across it in three directions; planned %s\n", say(router.RiderDiameter))
	fmt.Fprintf(&b, "bit = \"\"              # the slot that it cuts in scrap; planned %s\n\n", say(router.Bit))
	fmt.Fprintf(&b, "[track]               # from wall to wall; planned %s\n", say(nominal(openings)))
	for _, o := range openings {
		head := o.ID + ` = ""`
		says := make([]string, len(o.Cuts))
		for i, c := range o.Cuts {
			says[i] = fmt.Sprintf("cut %d in set-up %d", c.Number, c.SetUp)
		}
		fmt.Fprintf(&b, "%-22s# %s\n", head, strings.Join(says, ", "))
	}
	return []byte(b.String())
}

func nominal(openings []Opening) float64 {
	if len(openings) == 0 {
		return 0
	}
	return openings[0].Nominal
}

// comment makes somebody's own words safe in a comment: one line, and no
// control characters, which TOML forbids there.
func comment(s string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f || c == '\u2028' || c == '\u2029' || c == '\ufffd' {
			return '?'
		}
		return c
	}, s)
}

// quoted is a TOML basic string.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(comment(s)) + `"`
}
