package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var fretFamily = Family{
	Name: "fret", About: "a Greek key, straight or round a rectangle; doubled, two that interlace", Size: "cell",
	keys: []conf.Key{
		{Name: "across", Is: conf.Whole, Range: conf.From(1, mostCells), Default: conf.Typed{"4"}, Example: conf.Typed{"5"}, Help: "how many keys it is long; with up, how many it is wide, corners included"},
		{Name: "up", Is: conf.Whole, Range: conf.From(2, mostCells), Said: "a straight run", Quiet: true, Example: conf.Typed{"3"}, Help: "how many keys it is high, round a rectangle, corners included; doubled, corners stay empty and it takes 3 or more"},
		{Name: "turns", Is: conf.Whole, Range: conf.From(1, 3), Default: conf.Typed{"1"}, Quiet: true, Example: conf.Typed{"2"}, Help: "how deep lines wind in: 1 is the plain key, each more goes half a turn deeper, or a quarter where it is doubled"},
		sizeKey("cell", "from one line to the next; a key is 4, 6 or 8 of them wide, doubled 3, 5 or 7", conf.Typed{"16", "5/8"}),
		{Name: "round", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"5", "3/16"}, Help: "radius by which the corners are rounded, at most half of cell; 0: they stay sharp"},
		{Name: "doubled", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Example: conf.Typed{"true"}, Help: "two lines wind in from both sides, and interlace"},
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Fret{Across: t.Count("across"), Turns: t.Count("turns"), Cell: t.Length("cell"), Round: t.Length("round"), Doubled: t.Flag("doubled")}
		if t.Given("up") {
			if p.Up = t.Count("up"); p.Up < 2 {
				return nil
			}
		}
		if p.Across < 1 || p.Turns < 1 || math.IsNaN(p.Round) {
			return nil
		}
		return p
	},
}
