package work

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A Drawing is what the grooves follow.
type Drawing struct {
	Copies   int  // each element is repeated by turns of 360/Copies degrees about the origin; at least 1
	Mirror   bool // and first reflected in the x axis (y to -y)
	Elements []Element
	Numbers  []Numbers // of patterns whose crossings are counted, in the order of the file
}

// Numbers are those by which a pattern's crossings are named. Of what is copied the
// first is numbered.
type Numbers struct {
	Places []Numbered // crossings: "6,3", and of one that is broken "6,3 |"
	Rims   []Numbered // columns and rows that places are counted by: "6"
}

// Numbered is a place with what it is called.
type Numbered struct {
	At   geom.Point
	Text string
	To   geom.Point // of a column or row: where it ends on the rim across; of a broken crossing: on its wall; else At
	N    int        // of a column or row
}

// Placed are the numbers of a pattern that is moved.
func (n Numbers) Placed(by geom.Similarity) (moved Numbers) {
	place := func(list []Numbered) (all []Numbered) {
		for _, k := range list {
			k.At, k.To = by.Apply(k.At), by.Apply(k.To)
			all = append(all, k)
		}
		return all
	}
	return Numbers{place(n.Places), place(n.Rims)}
}

// ElementKind says how an element was drawn.
type ElementKind int

// The kinds of element.
const (
	KindLine ElementKind = iota
	KindArc
	KindCircle
	KindPath
	KindStrand
	KindPattern
	KindDrawing
)

var elementKindWords = [...]string{
	KindLine:    "line",
	KindArc:     "arc",
	KindCircle:  "circle",
	KindPath:    "path",
	KindStrand:  "strand",
	KindPattern: "pattern",
	KindDrawing: "drawing",
}

// String is the kind's word in the job file.
func (k ElementKind) String() string { return unit.Word(elementKindWords[:], k, "kind") }

// An Element is one centre line as drawn. A path with several subpaths gives
// several elements.
type Element struct {
	Name    string // unique in the job, but for copies that a group makes; made from the kind where none is given
	Kind    ElementKind
	Contour geom.Contour // mm, |bulge| <= 1; closed for circles and full turns
	Key     diag.Key     // of the table that draws it: "motif.circle.2"
	Line    int          // of that table in the job file; 0 where there is no file
	Open    bool         // its ends are meant to lie near others without meeting them
	Smooth  Smooth       // where it meets others smoothly although it was drawn a little out
	Fit     bool         // many short lines that stand for an arc become it

	// Of a copy that a group makes. All copies of an element stand together, in order.
	Nth, Of  int  // which of how many it is, from 0; of an element in no group 0 of 1, or of 0
	Mirrored bool // a group has reflected it
}

// Smooth says at which of its ends an element is to be taken as smooth, though
// it is drawn up to 3 degrees out; with any of them, so are the places where
// the parts of a path meet.
type Smooth int

const (
	// SmoothAsDrawn takes no place as smooth that is not.
	SmoothAsDrawn Smooth = iota
	// SmoothStart is at the element's start.
	SmoothStart
	// SmoothEnd is at its end.
	SmoothEnd
	// SmoothBoth is at both.
	SmoothBoth
)

var smoothWords = [...]string{
	SmoothAsDrawn: "",
	SmoothStart:   "start",
	SmoothEnd:     "end",
	SmoothBoth:    "both",
}

// String is the word in the job file; for SmoothAsDrawn it has none.
func (s Smooth) String() string { return unit.Word(smoothWords[:], s, "smooth") }

// Weaving says who goes over whom.
type Weaving struct {
	FirstOver bool   // at the first crossing of the first strand of each connected piece
	Flips     []Flip // crossings to exchange
	Drawn     []Over // what drawings show; it goes before alternation, and flips go before it
	Breaks    bool   // on a table: breaks at its joints that can't be avoided are accepted
}

// An Over is a place where a drawing shows what lies on top.
type Over struct {
	At    geom.Point
	Along geom.Point // the direction in which what is on top runs there, or its opposite
	Key   diag.Key   // of the drawing's table
}

// A Flip exchanges over and under at the crossing within 1 mm of At.
type Flip struct {
	At  geom.Point
	Key diag.Key
}
