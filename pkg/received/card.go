package received

// The receiving card: a short TOML file with what was measured.

import (
	"fmt"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/measured"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Card is a receiving card as read.
type Card struct {
	measured.Card
	Rider  measured.Reading
	Bit    measured.Reading
	Rail   measured.Reading            // from the first hole of the rail to the last
	Tracks map[string]measured.Reading // by opening
}

// Blank is a card to copy and fill in: a text in quotes with nothing in it is
// not measured yet. Read reads it. rail is nil where there is none.
func Blank(u unit.System, router work.Router, jobName string, openings []Opening, rail *Rail) []byte {
	var b strings.Builder
	say := func(mm float64) string { return unit.Number(mm, u) }
	fmt.Fprintf(&b, "# Receiving card: what came from the shop, measured with calipers.\n")
	fmt.Fprintf(&b, "# Copy it before you fill it in: the next build writes it anew, empty. Then type\n")
	fmt.Fprintf(&b, "#   strapwork received %s CARD.toml\n", diag.Typed(measured.Comment(jobName)))
	fmt.Fprintf(&b, "# A bare number is in %s; another unit goes in quotes: \"4.015 in\". What was\n", u.Name())
	fmt.Fprintf(&b, "# measured at several places is a list: [%s, %s].\n\n", say(nominal(openings)), say(nominal(openings)+Uneven))
	fmt.Fprintf(&b, "job = %s\nunits = %q\n", measured.Quoted(jobName), u)
	fmt.Fprintf(&b, "rider = [\"\", \"\", \"\"]  # across it in three directions; planned %s\n", say(router.RiderDiameter))
	fmt.Fprintf(&b, "bit = \"\"              # the slot that it cuts in scrap; planned %s\n\n", say(router.Bit))
	if rail != nil {
		fmt.Fprintf(&b, "rail = \"\"             # its pieces joined: with a tape from the middle of hole %d to that of hole %d; planned %s\n\n", rail.First, rail.Last, say(rail.Nominal))
	}
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
