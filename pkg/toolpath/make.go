package toolpath

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
)

// Make plans the grooving of g. Errors: *NameError where Order names nothing
// that there is, *StrandError where a strand can't be cut.
func Make(g *groove.Groove, o Options) (Plan, error) {
	return Plan{Bit: g.Size.Bit, Width: g.Size.Width + o.Widen}, nil
}

// Straight plans a short straight groove, for trials in scrap: from and to are
// the middles of its flat ends, width and bit as in groove.Size. Order and
// Widen don't matter. A groove no longer than the bit is wide has no passes.
func Straight(from, to geom.Point, width, bit float64, o Options) Run {
	return Run{Strand: -1, Name: "straight", Start: from}
}
