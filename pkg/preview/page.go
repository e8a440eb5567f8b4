// Package preview writes preview.html: one file that a maker opens before
// anything is cut, with the program, its dry run and the hand run in it. It
// works from disk, asks the network for nothing and computes no geometry that
// decides anything: what it is given it shows, and across the groove at the bit
// what the moves so far have cut.
//
// The page is a work sheet, and its first screen, 1400 by 900 or a phone's,
// answers what a maker asks first: may I cut? One band says so, with the
// greatest deviation and each fault as a button that leads to its place; notes
// are folded, and the cautions are a line that leads to them, whole at the end.
// Below it are the views of the job, one at a time under tabs, so that each has
// the whole width and nothing has to be scrolled past: the motif with what was
// found on it; the inlay in its woods; the panels as they are laid; by machine,
// the board with its player beside it; by hand, the router's base rolling round
// its tracks; the strips' pieces, each by its number on the inlay and in a list,
// with how it is cut. By machine comes first where there is a
// program, since the verdict is about it and its faults lead there; else by
// hand. While a job is watched, how it looks comes first, and what is wrong
// with it if it can't be made; what is not of the last save is grey.
//
// A maker thinks in strands and crossings and not in lines of a program: under
// the board are the strands in the order of cutting, each a line of bars, one a
// depth pass, which one presses to get about. What a strand goes over and under
// is there on asking, and so are the program's lines. Then come overcuts and
// what is left for the chisel, drawn much enlarged at their places. Cautions,
// numbers and keys close the page. Printed, all views stand below each other
// with their lists whole. Paper rather than a dark screen, since it is read at
// the bench, in daylight, and printed; dark where the reader's screen is.
//
// All places are in the program's coordinates: mm, x and y from the program's
// zero, x to the right, y up, z from the top of the work and negative into it.
package preview

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/setup"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Page is all that preview.html shows. What is zero or empty is not known or
// not there, and the page does without it; the zero Page is a page that says
// so. Lengths are mm whatever Units is.
type Page struct {
	Title    string
	Job      string // the job file's name
	Revision string
	Units    unit.System // that the page shows lengths in

	Board     *work.Board    // in the program's coordinates; nil: not known
	Wood      work.Wood      // of the board, which is tinted by it
	Groove    []geom.Contour // outlines of the whole groove, closed; holes as outlines of their own
	Width     float64        // of the groove
	Depth     float64        // of the groove, positive
	Bit       float64        // width of the slot that the machine's bit cuts
	Strands   []Strand       // by the indices that Section.Strand has
	Crossings []Crossing
	Clamps    []work.Clamp // in the program's coordinates

	Program Program // the zero Program: none, and the page says so

	SetUps    []setup.Ride   // the hand run, in the order of work; none: no hand run
	Station   *Station       // what panels are laid on, where that isn't what the program cuts; nil: that is
	Frame     []geom.Contour // the locating frame of all set-ups; none: no frame
	Rider     float64        // diameter of what runs in the tracks: base, collar or bearing
	Base      float64        // diameter of the router's base
	RouterBit float64        // width of the slot that the hand router's bit cuts; 0: that of Bit

	Strips Strips     // what is cut of the inlay's strips
	Origin geom.Point // the motif's origin in the program's coordinates
	Along  []Strand   // that the strips are laid along, as they lie in InlayPicture; none: Strands
	Top    *Top       // nil: the work doesn't come apart

	Of     string // the section that Program is for, where there are several
	Others []Page // of each other section what has to do with its program

	Cautions []string // whole sentences, printed as they are

	// Findings are what was found on the job, as they print, with its lines and, from
	// the motif's origin, its places.
	Findings diag.Findings
	// Pictures are SVG files by what they show: MotifPicture, InlayPicture.
	Pictures map[string]string
}

// A Station is the sections of a table that panels are laid on together, and the whole groove,
// in the program's coordinates.
type Station struct {
	Board  *work.Board // nil: not known
	Groove []geom.Contour
}

// Keys of Page.Pictures.
const (
	MotifPicture = "motif" // the motif as it is drawn, with the findings that have a place numbered in it in their order
	InlayPicture = "inlay" // the inlay in its woods, in mm from the motif's origin, y down
)

// Strand is one strand of the motif.
type Strand struct {
	Name string       // as the maker knows it: "bar.2"
	Line geom.Contour // its centre line; closed for a ring
}

// Strips are the pieces that the strips of an inlay are cut to.
type Strips struct {
	Sandwich  bool    // the strips are glued to one another first, and cut as one
	Allowance float64 // that a piece is cut longer, to be trimmed to fit; no length has it in it
	Pieces    []Piece // by their numbers, which count from 1
}

// Piece is a piece of a strip, in the motif's coordinates.
type Piece struct {
	Strand    int    // index in Page.Strands
	Stretch   int    // of the strand, from 0: pieces of one stretch lie side by side, with numbers that follow each other
	Strip     int    // from 1 at the left, looking along the strand; 0: the sandwich of all
	Material  string // may be empty
	Thickness float64

	Left, Middle, Right float64     // lengths along its sides and its middle
	Cut                 float64     // that it is cut to at first, from long point to long point
	Bend                float64     // radius of its tightest bend along the middle; 0: straight
	Formed              bool        // it is bent before it is laid, and trimmed then
	Ends                [2]PieceEnd // where the strand comes from, and where it goes to
	Kind                int         // pieces of a kind are cut alike; numbered from 0 as each is met

	From, To float64 // distances along the strand's line; To may be beyond a closed one's length
	Outline  []geom.Contour
	At       geom.Point // the middle of its middle line
	Along    geom.Point // which way its strand runs there, a unit vector
}

// PieceEnd is how a piece is cut at an end, in words: in a table, and whole.
type PieceEnd struct{ Short, Whole string }

// Crossing is where one strand goes over another, or over itself.
type Crossing struct {
	At          geom.Point
	Over, Under Passage
}

// Passage is one of the two strands at a crossing.
type Passage struct {
	Strand string     // the name of one of Strands
	Part   string     // the element that it follows there: "bar.1"; may be empty
	Along  geom.Point // which way it runs there, a unit vector; zero: not known
}

// Program is a program and what its dry run found.
type Program struct {
	Path     string        // of its file, as the maker knows it: "program/groove.nc"
	Text     []byte        // the file itself
	Steps    []dryrun.Step // all moves in order; none of a file that can't be read, which the report's findings then say
	Report   dryrun.Report // its findings' Pos.Line is the program's
	Sections []Section
	Facts    []Fact // further rows of the table of numbers: the machine, its cutter, the spindle's speed
}

// Section is a run of the program's lines that belong together: a strand at a
// depth, along one wall. Sections don't overlap and are in the program's order;
// lines in none are traverse moves, or the program's head and foot.
type Section struct {
	Line, Last int     // of the program, from 1, both in it
	Strand     int     // index in Page.Strands; -1: none
	Depth      float64 // positive, reached at its end
	Role       string  // in a maker's words: "forward, wall on the left", "roughing pass"; may be empty
}

// Fact is a row of a table, in words.
type Fact struct{ Name, Value string }
