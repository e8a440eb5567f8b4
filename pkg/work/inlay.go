package work

import "strapwork/pkg/unit"

// Inlay is what the groove is filled with.
type Inlay struct {
	Depth     float64 // of the groove
	Proud     float64 // how far the strips stand above the wood until levelled
	Clearance float64 // the groove's width beyond the strips' total
	Width     float64 // of the groove: the strips and the clearance, or as given
	Strips    []Strip // across the groove, left to right along the strand; none when Width was given
	Laid      Laid    // how they are cut and laid
	Allowance float64 // what every piece is cut longer, to be trimmed to fit
	Glue      Glue    // GlueAny where the job doesn't say
	Forms     bool    // bending forms and trimming holders are wanted
}

// Glue is a kind of glue, by the trade's name.
type Glue int

const (
	// GlueAny is a glue that isn't stated.
	GlueAny Glue = iota
	// GlueHide is hide glue, hot or liquid.
	GlueHide
	// GluePVA is white or yellow wood glue.
	GluePVA
	// GlueEpoxy is of two parts.
	GlueEpoxy
	// GlueCA is cyanoacrylate, or superglue.
	GlueCA
	// GluePolyurethane cures with moisture, and foams.
	GluePolyurethane
)

var glueWords = [...]string{
	GlueAny:          "any",
	GlueHide:         "hide",
	GluePVA:          "pva",
	GlueEpoxy:        "epoxy",
	GlueCA:           "ca",
	GluePolyurethane: "polyurethane",
}

// String is the word in the job file.
func (g Glue) String() string { return unit.Word(glueWords[:], g, "glue") }

// Glues are the kinds that a job can state.
func Glues() []Glue { return []Glue{GlueHide, GluePVA, GlueEpoxy, GlueCA, GluePolyurethane} }

// Laid says how the lay-up is cut and laid.
type Laid int

const (
	// LaidStrips lays strip by strip: each has pieces of its own.
	LaidStrips Laid = iota
	// LaidSandwich has the lay-up glued first and cut as one.
	LaidSandwich
)

var laidWords = [...]string{
	LaidStrips:   "strips",
	LaidSandwich: "sandwich",
}

// String is the word in the job file.
func (l Laid) String() string { return unit.Word(laidWords[:], l, "laid") }

// A Strip is one layer of the stack that stands in the groove.
type Strip struct {
	Material  string
	Thickness float64
	Color     string // #rrggbb, in pictures; empty: the material's
	Temper    string // of a metal; empty: the usual one
	BendsLike string // the profile of how it bends, by its name or its path; empty: the material's
}

// Wood is what the board is of.
type Wood struct {
	Species string
	Color   string // #rrggbb, in pictures; empty: the species'
}
