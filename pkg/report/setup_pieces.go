package report

import (
	"fmt"
	"math"

	"strapwork/pkg/build"
	"strapwork/pkg/inlay"
	"strapwork/pkg/unit"
)

// A pieceKind is a number of pieces of one layer that are alike.
type pieceKind struct {
	layer            int
	material         string
	count            int
	left, mid, right float64
	ends             [2]string
	bend             float64 // the tightest radius; 0 for a straight piece
}

// alike is by how much in mm the lengths of two pieces may differ for one
// entry in the list: what a strip is cut to before it is fitted.
const alike = 0.05

// pieces writes the cutting list: the pieces of each layer, alike ones
// together.
func (b *bench) pieces() {
	kinds := pieceKinds(inlayOf(b.r))
	if len(kinds) == 0 {
		return
	}
	b.subheading("Cutting list")
	b.para("Lengths of the finished pieces along their left side, middle and right side; leave something to fit them by. A mitre's or a butt's angle is turned counter-clockwise from the strip's run to the cut: 90 is square. R is the tightest bend along the middle.")
	head := []string{"strip", "material", "pieces", "left / middle / right, " + b.u.String(), "one end", "other end", "bend"}
	skip := 0
	if len(b.j.Inlay.Strips) == 0 {
		skip = 2 // one filling, of whatever it is
	}
	var rows [][]string
	sum := map[int]float64{}
	for _, k := range kinds {
		sum[k.layer] += float64(k.count) * math.Max(k.left, k.right)
		bend := "straight"
		if k.bend > 0 {
			bend = "R " + b.digits(k.bend, roughMM, roughIn)
		}
		row := []string{
			fixed(float64(k.layer+1), 0), plain(k.material), fixed(float64(k.count), 0) + " x",
			b.lengths(k), k.ends[0], k.ends[1], bend,
		}
		rows = append(rows, row[skip:])
	}
	b.table(head[skip:], rows)
	b.para("In all, without waste: %s.", b.totals(kinds, sum))
}

func (b *bench) lengths(k pieceKind) string {
	const inInch = 3
	return b.digits(k.left, roughMM, inInch) + " / " + b.digits(k.mid, roughMM, inInch) + " / " + b.digits(k.right, roughMM, inInch)
}

// totals is the length of each layer's pieces together.
func (b *bench) totals(kinds []pieceKind, sum map[int]float64) string {
	if len(b.j.Inlay.Strips) == 0 {
		return b.meters(sum[0])
	}
	var parts []string
	for i, k := range kinds {
		if i > 0 && kinds[i-1].layer == k.layer {
			continue
		}
		name := fmt.Sprintf("strip %d", k.layer+1)
		if k.material != "" {
			name += " (" + plain(k.material) + ")"
		}
		parts = append(parts, name+" "+b.meters(sum[k.layer]))
	}
	return list(parts)
}

// meters is the length of stock.
func (b *bench) meters(mm float64) string {
	m := fixed(mm/1000, 2) + " m"
	if b.u == unit.Inch {
		return b.both(fixed(mm/unit.MMPerInch, 1)+" in", m)
	}
	return m
}

// pieceKinds sorts the pieces by layer and puts together what is alike, in the
// order in which each is first met.
func pieceKinds(in inlay.Inlay) []pieceKind {
	layers := 0
	for _, s := range in.Strips {
		layers = max(layers, s.Layer+1)
	}
	var all []pieceKind
	for l := range layers {
		var own []pieceKind
		for _, s := range in.Strips {
			if s.Layer != l {
				continue
			}
			for _, p := range s.Pieces {
				own = addPiece(own, newPieceKind(s, p))
			}
		}
		all = append(all, own...)
	}
	return all
}

func newPieceKind(s inlay.Strip, p inlay.Piece) pieceKind {
	k := pieceKind{layer: s.Layer, material: s.Material, count: 1, left: p.Left, mid: p.Length, right: p.Right}
	for i, e := range p.Ends {
		k.ends[i] = endWord(e)
	}
	for _, g := range p.Segments {
		if r := math.Abs(g.Radius); r > 0 && (k.bend == 0 || r < k.bend) {
			k.bend = r
		}
	}
	return k
}

func endWord(e inlay.End) string {
	angle := " " + fixed(e.Angle*180/math.Pi, 1)
	switch e.Kind {
	case inlay.EndNone:
		return "ring"
	case inlay.EndFlat:
		return "square"
	case inlay.EndFitted:
		return "by hand"
	case inlay.EndMitre, inlay.EndButt, inlay.EndTee:
	}
	word := e.Kind.String() + angle
	if e.Bend != 0 {
		word += " curved"
	}
	return word
}

func addPiece(list []pieceKind, k pieceKind) []pieceKind {
	for i, o := range list {
		if o.sameAs(k) || o.sameAs(k.reversed()) {
			list[i].count++
			return list
		}
	}
	return append(list, k)
}

// sameAs reports whether two pieces are cut alike.
func (k pieceKind) sameAs(o pieceKind) bool {
	return o.material == k.material && o.ends == k.ends &&
		near(o.left, k.left) && near(o.mid, k.mid) && near(o.right, k.right) && near(o.bend, k.bend)
}

// reversed is the same piece, turned round end for end: its sides and its ends
// change places, and the cuts' angles stay what they are.
func (k pieceKind) reversed() pieceKind {
	k.left, k.right = k.right, k.left
	k.ends[0], k.ends[1] = k.ends[1], k.ends[0]
	return k
}

func near(a, b float64) bool { return math.Abs(a-b) <= alike }

// inlayOf is the finished inlay of a job.
func inlayOf(r build.Result) inlay.Inlay {
	in, _ := inlay.Build(build.InlayParams(r.Job), r.Motif, r.Weave)
	return in
}
