// Package glue knows what glue has to fill in an inlay, and which kinds suit its fit and its
// strips. What is said of kinds is common practice; the maker's directions come first.
//
// Lengths are mm, areas mm², volumes mm³.
package glue

import (
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// Voids is what glue has to fill: all of the groove that no strip stands in, to its depth. It
// is the clearance, the hollows at crossings, and what is left where a strip is cut short.
func Voids(groove, strips, depth float64) float64 { return max(0, groove-strips) * depth }

// A Fit is how a groove's clearance suits a glue.
type Fit int

const (
	// Unknown is the fit of strips that the job doesn't give.
	Unknown Fit = iota
	// Tight leaves glue no room, or strips that it swells.
	Tight
	// Right is within what the glue is good for.
	Right
	// Loose is wider than the glue fills.
	Loose
)

var fitWords = [...]string{
	Unknown: "unknown",
	Tight:   "tight",
	Right:   "right",
	Loose:   "loose",
}

// String is the word in the manifest.
func (f Fit) String() string { return unit.Word(fitWords[:], f, "fit") }

// A kind is what is known of a kind of glue.
type kind struct {
	least, most float64 // clearance, all of it, that suits it
	water       bool    // it swells wood
	metal       bool    // it holds bare metal
}

// kinds: of water-based glues the least is what wood strips swell by before they are down;
// thin glue runs into a gap that is as good as none; none of them but epoxy is strong where it
// is thick (all common practice).
var kinds = map[work.Glue]kind{
	work.GlueHide:         {least: 0.08, most: 0.15, water: true},
	work.GluePVA:          {least: 0.1, most: 0.2, water: true},
	work.GlueEpoxy:        {least: 0.05, most: 0.4, metal: true},
	work.GlueCA:           {least: 0, most: 0.1, metal: true},
	work.GluePolyurethane: {least: 0.05, most: 0.2, metal: true},
}

// dry is the least clearance in mm of a water-based glue where no strip is of wood.
const dry = 0.04

// Suits is the clearance that suits a glue, from least to most, for a lay-up.
func Suits(g work.Glue, strips []work.Strip) (least, most float64) {
	k := kinds[g]
	if k.water && !slices.ContainsFunc(strips, swells) {
		k.least = dry
	}
	return k.least, k.most
}

// FitOf is how a clearance suits a glue for a lay-up.
func FitOf(g work.Glue, strips []work.Strip, clearance float64) Fit {
	const slack = 1e-9
	least, most := Suits(g, strips)
	switch {
	case g == work.GlueAny || len(strips) == 0:
		return Unknown
	case clearance < least-slack:
		return Tight
	case clearance > most+slack:
		return Loose
	}
	return Right
}

// swells reports whether water swells a strip: it is of wood, or of what isn't known.
func swells(s work.Strip) bool {
	m, ok := wood.Find(s.Material)
	return !ok || m.Kind == wood.Timber
}

// HoldsMetal reports whether a glue holds bare metal.
func HoldsMetal(g work.Glue) bool { return kinds[g].metal }

// Check warns of a glue that doesn't hold what it is for.
func Check(in work.Inlay) (found diag.Findings) {
	if in.Glue != work.GlueAny && !HoldsMetal(in.Glue) && wood.HasMetal(in.Strips) {
		found.Warnf("inlay.glue", "glue-metal", "%s glue doesn't hold bare metal, and a strip is of metal", in.Glue).
			Hintf(`write glue = "epoxy", and abrade and degrease the metal`).Propose("inlay.glue", unit.Say("%q", work.GlueEpoxy))
	}
	return found
}
