package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

// tilings are the words for them.
var tilings = []string{family.Squares: "4.4.4.4", family.Octagons: "4.8.8", family.Dodecagons: "3.12.12", family.Hexagons: "6.6.6"}

var latticeFamily = Family{
	Name: "lattice", About: "a lattice of stars: Islamic strapwork on a tiling", Size: "edge",
	keys: []conf.Key{
		{Name: "tiling", Is: conf.Word, Words: tilings, Default: conf.Typed{`"4.8.8"`}, Example: conf.Typed{`"4.8.8"`}, Help: "the polygons round each corner of the tiling on which it is drawn"},
		{Name: "rows", Is: conf.Whole, Range: conf.From(1, mostTiles), Default: conf.Typed{"2"}, Example: conf.Typed{"2"}, Help: "rows of its largest polygons"},
		{Name: "columns", Is: conf.Whole, Range: conf.From(1, mostTiles), Default: conf.Typed{"2"}, Example: conf.Typed{"3"}, Help: "and how many there are in a row"},
		sizeKey("edge", "length of the polygons' sides", conf.Typed{"40", "1.5"}),
		{Name: "theta", Is: conf.Angle, Range: conf.From(45, 75), Said: "as suits the tiling", Quiet: true, Example: conf.Typed{"67.5"}, Help: "angle between the strands and the polygons' sides: larger makes sharper stars"},
	},
	read: func(t conf.Section) family.Pattern {
		tiling := t.Word("tiling")
		p := family.Lattice{Tiling: family.Tiling(tiling), Rows: t.Count("rows"), Columns: t.Count("columns"), Edge: t.Length("edge")}
		if t.Given("theta") {
			p.Theta = t.Angle("theta")
		}
		if tiling < 0 || p.Rows < 1 || p.Columns < 1 || math.IsNaN(p.Theta) {
			return nil
		}
		return p
	},
}

// mostTiles is how many large polygons there may be in a row, and rows.
const mostTiles = 12
