package job

import (
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
	"strapwork/pkg/work"
)

// mostCells is how many cells of a pattern there may be side by side.
const mostCells = 40

var (
	acrossKey = conf.Key{Name: "across", Is: conf.Whole, Range: conf.From(1, mostCells), Default: conf.Typed{"6"}, Example: conf.Typed{"6"}, Help: "how many cells it is wide"}
	upKey     = conf.Key{Name: "up", Is: conf.Whole, Range: conf.From(1, mostCells), Default: conf.Typed{"4"}, Example: conf.Typed{"4"}, Help: "how many cells it is high"}
	cellKey   = sizeKey("cell", "side of a square cell; strands cross in the middle of the sides that cells share", conf.Typed{"24", "1"})
	turnBack  = conf.Key{Name: "round", Is: conf.Length, Range: conf.Positive, Said: "the most that fits: cell / 2.83", Quiet: true, Example: conf.Typed{"7", "0.3"}, Help: "radius where a strand turns back"}
	breaksKey = conf.Key{Name: "breaks", Is: conf.List(0, conf.Text), Said: "none", Quiet: true, Example: conf.Typed{`["3,2 |", "5,4 -"]`}, Ask: "half cells from the lower left corner, and | or -", Help: `crossings at which the two strands turn back: "3,2 |" is 3 half cells from the left and 2 from below, with strands passing on its left and right; "3,2 -" with strands above and below; strapwork draw --numbers shows them`}
)

var panelFamily = Family{
	Name: "panel", About: "a knot panel: cells side by side, strands crossing between them and turned back at the rim", Size: "cell",
	keys: []conf.Key{acrossKey, upKey, cellKey, turnBack, breaksKey},
	read: func(t conf.Section) family.Pattern {
		p := family.Panel{Across: t.Count("across"), Up: t.Count("up"), Cell: t.Length("cell"), Round: ifGiven(t, "round")}
		var ok bool
		if p.Breaks, ok = breaks(t); !ok || p.Across < 1 || p.Up < 1 || math.IsNaN(p.Round) {
			return nil
		}
		return p
	},
}

var borderFamily = Family{
	Name: "border", About: "a plaited border round a rectangle: a knot panel with an empty middle", Size: "cell",
	keys: []conf.Key{
		acrossKey, upKey,
		{Name: "wide", Is: conf.Whole, Range: conf.From(1, mostCells/2), Default: conf.Typed{"1"}, Example: conf.Typed{"1"}, Help: "how many cells the border is wide"},
		cellKey, turnBack, breaksKey,
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Border{Across: t.Count("across"), Up: t.Count("up"), Wide: t.Count("wide"), Cell: t.Length("cell"), Round: ifGiven(t, "round")}
		var ok bool
		if p.Breaks, ok = breaks(t); !ok || p.Across < 1 || p.Up < 1 || p.Wide < 1 || math.IsNaN(p.Round) {
			return nil
		}
		return p
	},
}

// ifGiven is a length, 0 where it isn't given.
func ifGiven(t conf.Section, name string) float64 {
	if !t.Given(name) {
		return 0
	}
	return t.Length(name)
}

// breaks reads crossings that are none.
func breaks(t conf.Section) (list []family.Break, ok bool) {
	given := t.Get("breaks")
	if given == nil {
		return nil, true
	}
	items := t.Items("breaks", 0)
	ok = t.AtMost(given, "breaks", mostBreaks) && given.Kind == conf.KindList
	for _, v := range items {
		b, reads := breakOf(v.Text)
		switch {
		case v.Kind != conf.KindString:
			t.Faultf(v, conf.WrongType, "a break must be text, not %s", v.Kind).Hintf("%s", t.Hint("breaks"))
		case !reads:
			t.Faultf(v, conf.BadValue, "breaks: %q is not a crossing with how it is broken", v.Text).Hintf(`write it like "3,2 |" or "3,2 -": half cells from the left, and from below`)
		default:
			list = append(list, b)
			continue
		}
		ok = false
	}
	return list, ok
}

// mostBreaks is as many as the largest panel has crossings.
const mostBreaks = 2 * mostCells * mostCells

// breakOf reads "3,2 |".
func breakOf(text string) (b family.Break, ok bool) {
	text = strings.TrimSpace(text)
	at, level := strings.CutSuffix(text, "-")
	at, upright := strings.CutSuffix(at, "|")
	x, y, pair := strings.Cut(at, ",")
	var errs [2]error
	b.Level = level
	b.X, errs[0] = strconv.Atoi(strings.TrimSpace(x))
	b.Y, errs[1] = strconv.Atoi(strings.TrimSpace(y))
	return b, pair && level != upright && errs == [2]error{}
}

// numbersOf is what a pattern's crossings are called in breaks.
func numbersOf(p family.Counted) (n work.Numbers) {
	for _, b := range p.Places() {
		text := b.Where()
		if b.Broken {
			text = b.String()
		}
		n.Places = append(n.Places, work.Numbered{At: b.At, To: b.Wall, Text: text})
	}
	for _, c := range p.Counts() {
		n.Rims = append(n.Rims, work.Numbered{At: c.At, Text: strconv.Itoa(c.N), To: c.To, N: c.N})
	}
	return n
}
