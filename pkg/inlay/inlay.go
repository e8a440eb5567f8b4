// Package inlay works out the finished inlay: the shape of every strip that
// stands in a groove, cut where it goes under another strand, mitred at
// corners, and the picture of it all.
//
// The stack of strips is centred in the groove, half of the clearance on
// either side, and each strip lies between two parallel curves of its strand's
// centre line. Its sides are the true curves: lines and arcs, never chords.
// Lengths are mm, areas square mm, angles radians, all in the motif's
// coordinates. Offsets are measured to the left of a strand's travel.
package inlay

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// Inlay is every strip of a motif. It is not changed after Build.
type Inlay struct {
	Strips []Strip // by strand, then from left to right

	layers  []work.Strip
	names   []string        // the strands'
	grooves []region.Region // one for each stretch of groove between corners
	board   *work.Board
	wood    work.Wood
	units   unit.System
}

// A Strip is one layer of one strand's stack: all its pieces, one after
// another along the strand.
type Strip struct {
	Strand      int
	Layer       int     // 0 is the leftmost, facing along the strand
	Material    string  // empty where the job names none
	Thickness   float64 // mm, across the groove
	Left, Right float64 // offsets of its two sides, Left - Right = Thickness
	Pieces      []Piece // those that are seen, by distance along the strand
}

// Area is the whole of what is seen of the strip.
func (s Strip) Area() region.Region {
	areas := make([]region.Region, len(s.Pieces))
	for i, p := range s.Pieces {
		areas[i] = p.Area
	}
	return region.Union(areas...)
}

// A Piece is one piece of a strip, from a corner, an end, or the side of a
// strand that lies on top, to the next.
type Piece struct {
	From, To float64 // distances along the strand's centre line; To may be beyond a closed strand's length
	Area     region.Region
	Length   float64    // along the strip's own centre line
	Left     float64    // along its left side
	Right    float64    // along its right side
	Segments []Segment  // its own centre line, straights and bends; none when an end is EndFitted
	Ends     [2]End     // at From and at To
	At       geom.Point // a point of it, to find it by: the middle of its centre line
}

// Bend is the radius of the tightest bend of p's own centre line; 0 for a straight piece.
func (p Piece) Bend() (least float64) {
	for _, g := range p.Segments {
		if r := math.Abs(g.Radius); r > 0 && (least == 0 || r < least) {
			least = r
		}
	}
	return least
}

// A Segment is a straight or a bend of a piece.
type Segment struct {
	Length float64
	Radius float64 // of the strip's own centre line, positive where it turns left; 0 for a straight
}

// EndKind says what a piece ends on.
type EndKind int

const (
	// EndNone is no end: the piece is a ring.
	EndNone EndKind = iota
	// EndFlat is the strand's own free end, cut square.
	EndFlat
	// EndMitre meets its mate round a corner.
	EndMitre
	// EndButt is cut against the side of the strand that crosses over it.
	EndButt
	// EndTee is cut against the side of the strand that it ends on.
	EndTee
	// EndFitted has no plain shape, because a corner or another crossing lies
	// within the crossing: it is fitted by hand, and the piece's lengths are
	// all its area divided by its thickness.
	EndFitted
)

var endKindWords = [...]string{
	EndNone:   "none",
	EndFlat:   "flat",
	EndMitre:  "mitre",
	EndButt:   "butt",
	EndTee:    "tee",
	EndFitted: "fitted",
}

// String is the kind's word in a cutting list.
func (k EndKind) String() string { return unit.Word(endKindWords[:], k, "end") }

// An End is the cut at one end of a piece. Angle is turned counter-clockwise
// from the direction of travel along the strip's centre line to the cut, seen
// from its right side to its left one: pi/2 is square, and at a corner of two
// straights with the included angle t it is t/2 or pi - t/2. Radius is the
// radius of a cut against an arc's side, 0 for a straight cut or one with a
// corner in it; such a cut's Angle is its chord's.
type End struct {
	Kind   EndKind
	Angle  float64
	Radius float64
}

// layersOf returns what stands in the groove: the strips, or one fill as wide
// as the groove where the job gave only its width.
func layersOf(p Params) []work.Strip {
	if len(p.Strips) > 0 {
		return p.Strips
	}
	return []work.Strip{{Thickness: p.Width}}
}

// Params are what the strips are laid by.
type Params struct {
	Strips []work.Strip // the lay-up, left to right along the strand; none: the groove is one strip
	Width  float64      // of the groove, mm
	Board  *work.Board  // for the picture; nil where nothing is said of it
	Wood   work.Wood    // of the board
	Units  unit.System  // of what is written in the picture
}

// Build works out the inlay of a motif. Errors are arcs with a radius of half
// the groove or less, whose strand is left out, and corners that can't be
// mitred. Warnings are arms too short to be mitred at both ends; notes say
// where strips have to be fitted by hand.
func Build(p Params, m motif.Motif, w weave.Weave) (Inlay, diag.Findings) {
	b := builder{motif: m, weave: w, lines: linesOf(p)}
	b.layTracks(p.Width)
	b.findUnders()
	in := Inlay{layers: layersOf(p), board: p.Board, wood: p.Wood, units: p.Units}
	for i, t := range b.tracks {
		in.names = append(in.names, m.Strands[i].ID)
		b.split(t)
	}
	for _, t := range b.tracks {
		b.markReach(t)
	}
	b.findHollows()
	for i, t := range b.tracks {
		for k, l := range in.layers {
			s := Strip{
				Strand: i, Layer: k, Material: l.Material, Thickness: l.Thickness,
				Left: b.lines.at[2*k], Right: b.lines.at[2*k+2],
			}
			s.Pieces = b.pieces(t, k)
			in.Strips = append(in.Strips, s)
		}
		for a := range t.arms {
			in.grooves = append(in.grooves, b.groove(&t.arms[a]))
		}
	}
	return in, b.found
}

// builder holds what Build works on.
type builder struct {
	motif  motif.Motif
	weave  weave.Weave
	lines  lines
	tracks []*track
	found  diag.Findings
	count  int // of unders
}

// lines are the offsets of the curves that are drawn parallel to a strand. Of
// n strips, the sides are at the even places up to 2n and their middles
// between them; then come the groove's two sides.
type lines struct {
	at []float64
	n  int // strips
}

func linesOf(p Params) lines {
	layers := layersOf(p)
	total := 0.0
	for _, l := range layers {
		total += l.Thickness
	}
	ls := lines{n: len(layers)}
	d := total / 2
	for _, l := range layers {
		ls.at = append(ls.at, d, d-l.Thickness/2)
		d -= l.Thickness
	}
	half := p.Width / 2
	ls.at = append(ls.at, -total/2, half, -half)
	return ls
}

// strips is the number of lines that belong to strips; left and right are the
// stack's two sides.
func (l lines) strips() int { return 2*l.n + 1 }

func (l lines) left() int { return 0 }

func (l lines) right() int { return 2 * l.n }

// half is half of the stack's width.
func (l lines) half() float64 { return l.at[l.left()] }

func (l lines) grooveLeft() int { return 2*l.n + 1 }

func (l lines) grooveRight() int { return 2*l.n + 2 }

// place is a point as a finding takes it.
func place(f *diag.Finding, p geom.Point) *diag.Finding { return f.SetAt(p.X, p.Y) }

// degrees is an angle for people.
func degrees(a float64) float64 { return a * 180 / math.Pi }
