package fit

// The measured card: a short TOML file with the strips and the grooves of the trial.

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/measured"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Card is a measured card as read.
type Card struct {
	measured.Card
	strips  []stripRow
	grooves []grooveRow
}

// stripRow is a block of strips as the card has it.
type stripRow struct {
	material  string
	thickness measured.Reading // its place is the block's where there is none
}

// grooveRow is a block of a groove.
type grooveRow struct {
	way   int
	width measured.Reading
}

// Blank is a card to copy and fill in: a text in quotes with nothing in it is not
// measured yet. Read reads it.
func Blank(u unit.System, in work.Inlay, jobName string, ways []Way) []byte {
	var b strings.Builder
	say := func(mm float64) string { return unit.Number(mm, u) }
	fmt.Fprintf(&b, "# Measured card: the strips as they came out, and the grooves of the trial in scrap,\n")
	fmt.Fprintf(&b, "# measured with calipers. Copy it before you fill it in: the next build writes it anew,\n")
	fmt.Fprintf(&b, "# empty. Then type\n")
	fmt.Fprintf(&b, "#   strapwork fit %s MEASURED.toml\n", diag.Typed(measured.Comment(jobName)))
	fmt.Fprintf(&b, "# A bare number is in %s; another unit goes in quotes: \"0.036 in\". Measure each at three\n", u.Name())
	fmt.Fprintf(&b, "# places; one reading will do: width = %s\n\n", say(in.Width))
	fmt.Fprintf(&b, "job = %s\nunits = %q\n", measured.Quoted(jobName), u)
	kinds := kindsOf(in.Strips)
	switch {
	case glued(in):
		fmt.Fprintf(&b, "\n# Measured when it is glued. Before that, a block for each kind of strip: material, thickness.\n")
		kinds = []Strip{sandwich(in.Strips)}
	case len(kinds) == 0:
		fmt.Fprintf(&b, "\n# The job gives the groove's width, %s, and no strips: a block for each, left to right.\n", say(in.Width))
		kinds = []Strip{{}}
	}
	for _, s := range kinds {
		head := "[[strip]]"
		if len(s.Numbers) > 0 {
			head = fmt.Sprintf("%-22s# %s of the lay-up, planned %s", head, numbered(s), say(s.Planned))
		}
		fmt.Fprintf(&b, "\n%s\nmaterial = %s\nthickness = [\"\", \"\", \"\"]\n", head, measured.Quoted(s.Material))
	}
	for i, w := range ways {
		planned := ""
		if i == 0 {
			planned = ", planned " + say(in.Width)
		}
		fmt.Fprintf(&b, "\n%-22s# %s%s\ncut = %s\nwidth = [\"\", \"\", \"\"]\n", "[[groove]]", measured.Comment(w.remark()), planned, w.key())
	}
	return []byte(b.String())
}

// kindsOf are the strips of a lay-up, alike ones together.
func kindsOf(lay []work.Strip) (list []Strip) {
	for n, s := range lay {
		i := 0
		for i < len(list) && !(same(list[i].Material, s.Material) && list[i].Planned == s.Thickness) {
			i++
		}
		if i == len(list) {
			list = append(list, Strip{Material: s.Material, Planned: s.Thickness})
		}
		list[i].Numbers = append(list[i].Numbers, n+1)
	}
	return list
}

// same reports whether two names are of one material.
func same(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) }

// numbered says which strips they are: "strip 2", "strips 1 and 3".
func numbered(s Strip) string {
	says := make([]string, len(s.Numbers))
	for i, n := range s.Numbers {
		says[i] = strconv.Itoa(n)
	}
	return words(says, "strip")
}

// glued reports whether a lay-up is glued before it is cut.
func glued(in work.Inlay) bool { return in.Laid == work.LaidSandwich && len(in.Strips) > 1 }

// sandwich reports whether a card has the lay-up measured as one: where it is glued first,
// and the card has no strips of their own.
func (c Card) sandwich(in work.Inlay) bool {
	return glued(in) && !slices.ContainsFunc(c.strips, func(s stripRow) bool { return !same(s.material, sandwiched) })
}
