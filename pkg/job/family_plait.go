package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var plaitFamily = Family{
	Name: "plait", About: "a straight plait of two strands or more, with loose ends or closed ones", Size: "cell",
	keys: []conf.Key{
		{Name: "strands", Is: conf.Whole, Range: conf.From(2, 12), Default: conf.Typed{"3"}, Example: conf.Typed{"3"}, Help: "how many strands lie side by side"},
		{Name: "length", Is: conf.Whole, Range: conf.From(2, 4*mostCells), Default: conf.Typed{"12"}, Example: conf.Typed{"12"}, Help: "how long it is, in half cells"},
		cellKey, turnBack,
		{Name: "ends", Is: conf.Word, Words: []string{"open", "closed"}, Default: conf.Typed{`"open"`}, Example: conf.Typed{`"closed"`}, Help: "open: all strands end loose; closed: they turn back, which takes even numbers of strands and of half cells"},
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Plait{Strands: t.Count("strands"), Length: t.Count("length"), Cell: t.Length("cell"), Round: ifGiven(t, "round")}
		ends := t.Word("ends")
		p.Closed = ends == 1
		if p.Strands < 2 || p.Length < 2 || ends < 0 || math.IsNaN(p.Round) {
			return nil
		}
		return p
	},
}
