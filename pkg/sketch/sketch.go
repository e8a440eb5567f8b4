// Package sketch draws lines to look at: a motif with its names, joints and crossings,
// or a drawing under what was made of it, with numbered places and a list of what there
// is to say of them below.
//
// A Sketch says what is to be shown, in mm and in the motif's coordinates; Picture
// lays it out on a page as wide as common paper takes, at a round scale, and finds room
// for the lettering. Shades and strokes differ so that a grey print can be read.
package sketch

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Sketch is what a picture shows.
type Sketch struct {
	Title   string      // its first line, and the file's title
	Lines   []string    // under the title
	Units   unit.System // of the scale bar
	Axes    bool        // draws the axes and the origin, if that is near
	Layers  []Layer     // drawn in turn, so that later ones cover earlier ones
	Passes  []Pass      // drawn over all layers
	Signs   []Sign
	Marks   []Mark         // in the order of their numbers
	Names   []Name         // those that have no room are left out, the last ones first
	Numbers []work.Numbers // beside crossings or along rims
	Insets  []Inset        // what is shown again, larger
	Closing []string
}

// A Layer is lines that look alike.
type Layer struct {
	Style  Style
	Lines  []geom.Contour
	Width  float64 // mm, of the bands whose middles they are; 0: they are lines
	Legend string  // what they are, for the legend; empty for no line there
}

// Style says how a line looks.
type Style int

const (
	// Drawn is what somebody has drawn: dark.
	Drawn Style = iota
	// Copied is what follows from it: lighter.
	Copied
	// Given is a drawing as it was read, which lies under what is made of it: wide and
	// pale.
	Given
	// Made is what was made of it: thin and red.
	Made
	// Left is what of it was passed over: thin, grey and dashed.
	Left
	// Parted is where the work comes apart: dashed, and dark enough to be seen on an axis.
	Parted
)

var styleWords = [...]string{Drawn: "drawn", Copied: "copied", Given: "given", Made: "made", Left: "left", Parted: "parted"}

// String is the style's word.
func (s Style) String() string { return unit.Word(styleWords[:], s, "style") }

// A Pass is where a line passes over another, which is drawn as broken there.
type Pass struct {
	Style Style
	Line  geom.Contour
	At    float64 // along Line, mm
	Room  float64 // the most that it may hide of what is beneath, along Line to each side, mm
	Needs float64 // what the lower one's band takes of it, to each side, mm
	Width float64 // of its own band, mm; 0: it is a line
}

// SignKind is what a sign says about its place.
type SignKind int

const (
	// Joint is where two elements meet smoothly.
	Joint SignKind = iota
	// Corner is where a strand turns sharply.
	Corner
	// Tee is where a strand ends on another.
	Tee
	// End is a free end.
	End
	// Way is where a strand starts, and which way it runs.
	Way
)

var signWords = [...]string{Joint: "smooth joint", Corner: "corner", Tee: "end on another strand", End: "free end", Way: "start of a strand, and which way it runs"}

// String is what the sign is called in the legend.
func (k SignKind) String() string { return unit.Word(signWords[:], k, "sign") }

// A Sign is a small shape at a place, of one size whatever the scale.
type Sign struct {
	Kind SignKind
	At   geom.Point
	Dir  geom.Point // along the line; of a Tee along the strand that is met
}

// A Mark is a numbered place, with what there is to say of it. One without a place has
// its number in the list alone.
type Mark struct {
	Severity diag.Severity
	At       geom.Point
	Placed   bool
	Also     []geom.Point // more such places, which have a ring but no number
	Text     string
	Hint     string // what to do about it; may be empty
}

// A Name is lettering beside a line.
type Name struct {
	Text  string
	Near  []geom.Point // places on the line beside which it may stand, best first
	Minor bool         // smaller, and only where there is room close by
}

// An Inset is a place shown again, larger.
type Inset struct {
	At      geom.Point
	Half    float64 // mm of the motif that are shown to each side of it
	Caption string
}
