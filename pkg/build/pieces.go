package build

import (
	"fmt"
	"math"
	"strconv"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/diag"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
)

// PiecesPath is the path of the inlay's picture with the numbers of its pieces.
const PiecesPath = "strips.svg"

// piecesRole is its role.
const piecesRole = "pieces"

type piecesIn struct {
	Strips made[inlay.Inlay]
	Title  string
	Names  []inlay.Name
}

func makePieces(in piecesIn) (_ drawnPicture, found diag.Findings) {
	p := in.Strips.Value.Numbered(in.Title, in.Names)
	data, err := writePicture(p)
	if err != nil {
		found.Errorf("inlay", "picture", "the picture of the pieces can't be drawn: %v", err).
			Hintf("build --only templates leaves it out")
	}
	return drawnPicture{p, data}, found
}

// numberPieces draws the inlay with the numbers of its pieces.
func (w *writer) numberPieces() {
	if len(w.List.Pieces) == 0 {
		return
	}
	title := "The pieces"
	if w.Job.Title != "" {
		title = w.Job.Title + ": the pieces"
	}
	p := ask(w.a.Graph, "pieces", piecesIn{w.a.strips, title, names(w.List, w.Laid())}, makePieces)
	w.Findings.Add(p.Found...)
	if w.OK() {
		w.addPicture(PiecesPath, piecesRole, p.Value)
	}
}

// names are the numbers of the pieces that lie side by side, each to stand about the middle of
// them.
func names(l cutlist.List, m motif.Motif) (all []inlay.Name) {
	for i := 0; i < len(l.Pieces); {
		first := l.Pieces[i]
		from, to := first.From, first.To
		k := i
		for ; k < len(l.Pieces) && l.Pieces[k].Strand == first.Strand && l.Pieces[k].Stretch == first.Stretch; k++ {
			from, to = math.Min(from, l.Pieces[k].From), math.Max(to, l.Pieces[k].To)
		}
		n := inlay.Name{Text: strconv.Itoa(first.Number)}
		if last := l.Pieces[k-1].Number; last > first.Number {
			n.Text = fmt.Sprintf("%d-%d", first.Number, last)
		}
		c := m.Strands[first.Strand].Contour
		for _, at := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			s := from + at*(to-from)
			if c.Closed {
				s = math.Mod(s+c.Length(), c.Length())
			}
			var spot inlay.Spot
			spot.At, spot.Along = c.At(s)
			n.Spots = append(n.Spots, spot)
		}
		all = append(all, n)
		i = k
	}
	return all
}
