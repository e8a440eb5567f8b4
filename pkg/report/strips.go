package report

import (
	"math"
	"slices"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/work"
)

// stackFacts is the filling of the groove.
type stackFacts struct {
	Height    num // of a strip, before it is levelled
	Together  num // of the strips' thicknesses
	Clearance num
}

func newStack(in work.Inlay) stackFacts {
	total := 0.0
	for _, s := range in.Strips {
		total += s.Thickness
	}
	return stackFacts{num(in.Depth + in.Proud), num(total), num(in.Width - total)}
}

func newStrands(m motif.Motif) []strandJSON {
	return each(m.Strands, func(s motif.Strand) strandJSON {
		return strandJSON{
			ID: s.ID, Length: num(s.Length()), Closed: s.Contour.Closed,
			Start: toXY(s.Contour.Start()), Heading: heads(s.Contour), First: m.Sources[s.Sources[0]].Name,
		}
	})
}

// heads says which way a strand runs at its start.
func heads(c geom.Contour) string {
	p, t := c.At(0)
	switch d := compass(p, p.Add(t)); d {
	case "upper":
		return "up"
	case "lower":
		return "down"
	default:
		return d
	}
}

// batchFacts is what is cut of one material and thickness.
type batchFacts struct {
	Strips    []totalFacts // each strip that is of it
	Material  string
	Thickness num
	Whole     bool // it is the sandwich of all strips
	Pieces    int
	Cut       num // the lengths of all as they are cut at first
	Stops     []stopFacts
}

// totalFacts is what is cut of one strip.
type totalFacts struct {
	Strip       int
	Pieces      int
	Length, Cut num // net, and as they are cut at first
}

// stopFacts is kinds of pieces that are cut at one setting of the stop.
type stopFacts struct {
	Length num // from long point to long point, without allowance
	Bent   bool
	Kinds  []kindFacts
}

// kindFacts is pieces that are cut alike.
type kindFacts struct {
	Numbers string // "1-3, 7, 9"
	Few     string // the same where they are few; else empty
	Count   int
	Sides   [3]num // left, middle and right, of the first of them
	Ends    [2]cutFacts
	Bend    num // radius of the tightest bend; 0 for a straight piece
}

// cutFacts is a cut at a piece's end, angles in degrees.
type cutFacts struct {
	Square, Cope          bool
	FromStrip, FromSquare num
	Hand                  string // "L" or "R", where the long point is; none of a square end
	Radius                num    // of the curve that a cope meets; 0 where it is no single one
	Hollow                bool
	Gap                   num // that a straight cut would leave
}

// listFacts is the pieces as they are cut.
type listFacts struct {
	Batches   []batchFacts
	Heads     []headFacts    // the strips, where there are sections
	Sections  []sectionFacts // of a table
	Ways      []wayFacts     // how their stretches run
	Short     bool           // they are few enough for the bench sheet
	Sandwich  bool           // the lay-up is cut as one
	OneWay    bool           // and its strips don't lie the same from the right
	AnyBent   bool           // before it is laid
	AnyBend   bool           // that way, or sprung
	AnyMitre  bool
	AnyCope   bool
	AnyJoint  bool // an end lies in a joint of a table's sections
	Allowance num  // what a straight piece is cut longer
	Held      num  // what a bent one is
}

func newList(l cutlist.List, m motif.Motif) listFacts {
	f := listFacts{Allowance: num(l.Allowance), Held: num(l.Allowance + cutlist.Bent), OneWay: !l.Turns()}
	rows := 0
	for _, b := range l.Batches() {
		batch := newBatch(b)
		for _, s := range batch.Stops {
			rows += len(s.Kinds)
			f.AnyBent = f.AnyBent || s.Bent
			f.AnyBend = f.AnyBend || slices.ContainsFunc(s.Kinds, func(k kindFacts) bool { return k.Bend > 0 })
			f.AnyMitre = f.AnyMitre || slices.ContainsFunc(s.Kinds, func(k kindFacts) bool { return !k.Ends[0].Square || !k.Ends[1].Square })
			f.AnyCope = f.AnyCope || slices.ContainsFunc(s.Kinds, func(k kindFacts) bool { return k.Ends[0].Cope || k.Ends[1].Cope })
		}
		f.Sandwich = f.Sandwich || batch.Whole
		f.Batches = append(f.Batches, batch)
	}
	f.Short = rows <= mostRows
	f.AnyJoint = slices.ContainsFunc(l.Pieces, cutlist.Piece.AtJoint)
	if f.Sections = newSections(l); len(f.Sections) > 0 {
		f.Heads, f.Ways = newHeads(l), newWays(l, m)
	}
	return f
}

func newBatch(b cutlist.Batch) batchFacts {
	f := batchFacts{
		Material: b.Strips[0].Material, Thickness: num(b.Strips[0].Thickness), Whole: b.Strips[0].Strip == 0,
		Strips: each(b.Strips, func(t cutlist.Total) totalFacts {
			return totalFacts{t.Strip, t.Pieces, num(t.Length), num(t.Cut)}
		}),
		Stops: each(b.Stops, func(s cutlist.Stop) stopFacts {
			return stopFacts{num(s.Length), s.Bent, each(s.Kinds, newKind)}
		}),
	}
	for _, t := range f.Strips {
		f.Pieces += t.Pieces
		f.Cut += t.Cut
	}
	return f
}

// fewNumbers is how many characters the numbers of a row may take up on the bench sheet.
const fewNumbers = 20

func newKind(k cutlist.Kind) kindFacts {
	numbers := cutlist.Numbers(k.Numbers)
	few := numbers
	if len(few) > fewNumbers {
		few = ""
	}
	return kindFacts{
		Numbers: numbers, Few: few, Count: len(k.Numbers), Bend: num(k.Bend),
		Sides: [3]num{num(k.Left), num(k.Middle), num(k.Right)},
		Ends:  [2]cutFacts{newEnd(k.Ends[0]), newEnd(k.Ends[1])},
	}
}

func newEnd(e inlay.End) cutFacts {
	m := cutlist.MitreOf(e)
	degrees := func(a float64) num { return num(a * 180 / math.Pi) }
	f := cutFacts{
		Cope: e.Kind == inlay.EndCope, FromStrip: degrees(m.FromStrip), FromSquare: degrees(m.FromSquare),
		Hand: [...]string{cutlist.Neither: "", cutlist.LongLeft: "L", cutlist.LongRight: "R"}[m.Hand],
	}
	f.Square = m.Hand == cutlist.Neither
	if f.Cope {
		f.Radius, f.Hollow, f.Gap = num(e.Radius), e.Hollow, num(e.Gap)
	}
	return f
}

// layerFacts are strips of one material and thickness.
type layerFacts struct {
	Strips    []int
	Material  string
	Thickness num
}

func newLayers(lay []work.Strip) (list []layerFacts) {
	for n, s := range lay {
		i := slices.IndexFunc(lay, func(o work.Strip) bool { return equal(o, s) })
		at := slices.IndexFunc(list, func(l layerFacts) bool { return l.Strips[0] == i+1 })
		if at < 0 {
			at = len(list)
			list = append(list, layerFacts{Material: s.Material, Thickness: num(s.Thickness)})
		}
		list[at].Strips = append(list[at].Strips, n+1)
	}
	return list
}

func equal(a, b work.Strip) bool { return a.Material == b.Material && a.Thickness == b.Thickness }
