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
	"strings"

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
	Laid   []Strip // what is cut and laid: the strips, or of every strand the sandwich of them

	layers  []work.Strip
	names   []string        // the strands'
	grooves []region.Region // one for each stretch of groove between corners
	board   *work.Board
	tops    []Top
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

// A Piece is one piece of a strip, from a corner, an end, a joint, or the side of a
// strand that lies on top, to the next. Its lengths are what of the strip's own
// middle and sides is in it; of what two close cuts leave, a side may be 0.
type Piece struct {
	Stretch  int     // of the strand, from 0: pieces of one stretch lie side by side
	From, To float64 // distances along the strand's centre line; To may be beyond a closed strand's length
	Area     region.Region
	Length   float64    // along the strip's own centre line
	Left     float64    // along its left side
	Right    float64    // along its right side
	Segments []Segment  // its own centre line, straights and bends
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
	Laid   work.Laid    // how the lay-up is cut and laid
	Units  unit.System  // of what is written in the picture
	Spans  []Span       // one for each strand, or none at all: where there are joints
	Tops   []Top        // a table's sections, for the picture in place of the board, and for findings
}

// Build works out the inlay of a motif. Errors are arcs with a radius of half
// the groove or less, whose strand is left out, and corners that can't be
// mitred. Warnings are arms too short to be mitred at both ends, hollows, and
// ends too sharp to be cut well.
func Build(p Params, m motif.Motif, w weave.Weave) (Inlay, diag.Findings) {
	in, found := layStrips(p, m, w)
	in.Laid = in.Strips
	if p.Laid == work.LaidSandwich && len(p.Strips) > 1 {
		one := p
		one.Strips = []work.Strip{sandwich(p.Strips)}
		whole, _ := layStrips(one, m, w) // its findings are those of the strips
		in.Laid = whole.Strips
	}
	found.Add(in.sharpEnds(m)...)
	return in, found
}

// sandwich is the lay-up as one strip.
func sandwich(strips []work.Strip) work.Strip {
	var names []string
	total := 0.0
	for _, s := range strips {
		total += s.Thickness
		names = append(names, s.Material)
	}
	return work.Strip{Thickness: total, Material: strings.Join(names, "/")}
}

func layStrips(p Params, m motif.Motif, w weave.Weave) (Inlay, diag.Findings) {
	b := builder{motif: m, weave: w, lines: linesOf(p), tops: p.Tops}
	b.layTracks(p.Width)
	b.findUnders()
	in := Inlay{layers: layersOf(p), board: p.Board, tops: p.Tops, wood: p.Wood, units: p.Units}
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
			s.Pieces = b.trimmed(t, k, p.span(i), b.pieces(t, k))
			in.Strips = append(in.Strips, s)
		}
		for a := range t.arms {
			if g := p.span(i).cut(b.groove(&t.arms[a])); !g.Empty() {
				in.grooves = append(in.grooves, g)
			}
		}
	}
	return in, b.found
}

// builder holds what Build works on.
type builder struct {
	motif  motif.Motif
	weave  weave.Weave
	lines  lines
	tops   []Top
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

// place sets a finding's place, which is the motif's: on a table there are many.
func place(f *diag.Finding, tops []Top, p geom.Point) *diag.Finding {
	if len(tops) > 0 {
		return f
	}
	return f.SetAt(p.X, p.Y)
}

// degrees is an angle for people.
func degrees(a float64) float64 { return a * 180 / math.Pi }
