package stock

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// A Piece is a piece of a strip that is to be cut.
type Piece struct {
	Number    int
	Run       Run
	Material  string
	Thickness float64
	Length    float64 // to which it is cut
}

// A Run is a strip along a strand.
type Run struct{ Strand, Strip int }

// Params are what a plan is made by.
type Params struct {
	Stock  work.Stock
	Height float64      // of all strips
	Pieces []Piece      // of strips, or of a lay-up that is glued first
	Layup  []work.Strip // whose pieces they are; none where each strip has its own
}

// A Plan is how the strips of a job are got.
type Plan struct {
	Layup     float64 // how long the lay-ups are that are glued first; 0 where there are none
	Layups    []Stick // how these are cut
	Materials []Material
}

// A Material is all strips of one material.
type Material struct {
	Name   string
	Strips []Strip // by thickness
	Boards []Board // that are ripped; none where the job has none of the material
	Bought []Bought
	Kinds  int     // of boards that the job has of it
	Cost   float64 // of the boards; where not all have a price, how many they are
	Bound  float64 // no plan costs less, ripped and cut in this way: proved
	Priced bool
}

// Proved reports whether no plan costs less.
func (m Material) Proved() bool { return m.Cost <= m.Bound+noise }

// A Strip is one thickness of a material.
type Strip struct {
	Thickness      float64
	Pieces, Spares int
	Length         float64 // of all pieces and spares, each with a kerf
	Sticks         []Stick // full-length strips that they are cut from
}

// A Stick is a strip as long as its board, or a lay-up, and what is cut from it.
type Stick struct {
	Of    int // the board's kind
	Board int // of the material's, from 1; 0 for a lay-up
	Cuts  []Cut
	Left  float64
}

// A Cut is pieces of one length, cut from a stick; in whole tenths of a millimetre.
type Cut struct {
	Length float64
	Pieces []int // their numbers; 0 is a spare one
}

// A Board is a board and how it is ripped.
type Board struct {
	Of     int // which of the job's
	Way    Way
	Slices []Slice
}

// Bought is how many boards of a kind are taken.
type Bought struct {
	Of    int // which of the job's
	Count int
	Price float64 // of all; 0 where none is given
}

// A planner plans the strips of a job.
type planner struct {
	Params
	saw
	goOn  func(Progress)
	found diag.Findings
}

// Make plans how the strips of a job are got. goOn, which may be nil, is called now and then and may panic
// to end it.
func Make(p Params, goOn func(Progress)) (Plan, diag.Findings) {
	w := &planner{Params: p, saw: saw{p.Stock.Kerf, p.Stock.Sanding, p.Height}, goOn: goOn}
	var out Plan
	pieces := w.spared(p.Pieces)
	if len(p.Layup) > 0 {
		pieces = w.layups(pieces, &out)
	}
	w.checkMaterials(pieces)
	for _, name := range materials(pieces) {
		out.Materials = append(out.Materials, w.material(name, of(pieces, name)))
	}
	return out, w.found
}

// spared are pieces with the spare ones, of each strip: by length, the longest first, one in so many
// is cut twice.
func (w *planner) spared(pieces []Piece) (all []Piece) {
	all = slices.Clone(pieces)
	if w.Stock.Spares <= 0 {
		return all
	}
	sorted := slices.Clone(pieces)
	slices.SortStableFunc(sorted, func(a, b Piece) int {
		return cmp.Or(strings.Compare(a.Material, b.Material), cmp.Compare(a.Thickness, b.Thickness), cmp.Compare(b.Length, a.Length))
	})
	owed := 0.0
	for i, p := range sorted {
		if i == 0 || p.Material != sorted[i-1].Material || p.Thickness != sorted[i-1].Thickness {
			owed = 1 - w.Stock.Spares // so that the longest is spared
		}
		for owed += w.Stock.Spares; owed >= 1-noise; owed-- {
			all = append(all, Piece{Run: p.Run, Material: p.Material, Thickness: p.Thickness, Length: p.Length})
		}
	}
	return all
}

// called is what a material is known by, however it is written.
func called(name string) string {
	if m, ok := wood.Find(name); ok {
		return m.Name
	}
	return strings.ToLower(strings.TrimSpace(name))
}

// materials are those of pieces, as they are first written.
func materials(pieces []Piece) (list []string) {
	for _, p := range pieces {
		if !slices.ContainsFunc(list, func(n string) bool { return called(n) == called(p.Material) }) {
			list = append(list, p.Material)
		}
	}
	return list
}

// of are the pieces of a material.
func of(pieces []Piece, name string) (list []Piece) {
	for _, p := range pieces {
		if called(p.Material) == called(name) {
			list = append(list, p)
		}
	}
	return list
}

// boardsOf are the job's boards of a material.
func (w *planner) boardsOf(name string) (list []int) {
	for i, b := range w.Stock.Boards {
		if called(b.Material) == called(name) {
			list = append(list, i)
		}
	}
	return list
}

// layups cuts a job's pieces from lay-ups, each as long as every material has a board for; what is
// returned are their strips. Without boards each piece has strips of its own.
func (w *planner) layups(pieces []Piece, out *Plan) (strips []Piece) {
	length := math.Inf(1)
	for _, s := range w.Layup {
		own := 0.0
		for _, k := range w.boardsOf(s.Material) {
			own = math.Max(own, w.Stock.Boards[k].Length)
		}
		if own > 0 {
			length = math.Min(length, own)
		}
	}
	n := len(pieces)
	if !math.IsInf(length, 1) {
		length = float64(down(length, tenth)) / tenth // or a board wouldn't hold what it is cut for
		if !w.long(pieces, length, "lay-up", "stock.board") {
			return nil
		}
		out.Layup = length
		o, kinds := w.order(pieces)
		o.Bars = []Bar{{Length: down(length, tenth)}}
		c, _ := Solve(o, w.goOn) // that all fit is checked
		out.Layups = newSticks(c, kinds)
		n = len(out.Layups)
	}
	for i, s := range w.Layup {
		for k := range n {
			p := Piece{Number: k + 1, Run: Run{Strip: i + 1}, Material: s.Material, Thickness: s.Thickness, Length: length}
			if out.Layup == 0 {
				p.Number, p.Run, p.Length = pieces[k].Number, Run{pieces[k].Run.Strand, i + 1}, pieces[k].Length
			}
			strips = append(strips, p)
		}
	}
	return strips
}

// order is pieces as items, the longest first, and which they are.
func (w *planner) order(pieces []Piece) (o Order, kinds [][]Piece) {
	o.Kerf = up(w.kerf, tenth)
	sorted := slices.Clone(pieces)
	slices.SortStableFunc(sorted, func(a, b Piece) int { return up(b.Length, tenth) - up(a.Length, tenth) })
	for _, p := range sorted {
		l := up(p.Length, tenth)
		if n := len(o.Items); n == 0 || o.Items[n-1].Length != l {
			o.Items, kinds = append(o.Items, Item{Length: l}), append(kinds, nil)
		}
		o.Items[len(o.Items)-1].Count++
		kinds[len(kinds)-1] = append(kinds[len(kinds)-1], p)
	}
	return o, kinds
}

// newSticks are the bars of a cutting, with the pieces that are cut from each.
func newSticks(c Cutting, kinds [][]Piece) (sticks []Stick) {
	kinds = slices.Clone(kinds)
	for _, p := range c.Patterns {
		for range p.Times {
			s := Stick{Of: p.Bar, Left: float64(p.Left) / tenth}
			for i, n := range p.Cuts {
				if n == 0 {
					continue
				}
				cut := Cut{Length: float64(up(kinds[i][0].Length, tenth)) / tenth}
				for _, own := range kinds[i][:n] {
					cut.Pieces = append(cut.Pieces, own.Number)
				}
				kinds[i] = kinds[i][n:]
				s.Cuts = append(s.Cuts, cut)
			}
			sticks = append(sticks, s)
		}
	}
	return sticks
}

// strips are a material's pieces by thickness.
func (w *planner) strips(pieces []Piece) (strips []Strip, own [][]Piece) {
	for _, p := range pieces {
		i := slices.IndexFunc(strips, func(s Strip) bool { return math.Abs(s.Thickness-p.Thickness) < noise })
		if i < 0 {
			i = len(strips)
			strips, own = append(strips, Strip{Thickness: p.Thickness}), append(own, nil)
		}
		own[i] = append(own[i], p)
		strips[i].Length += p.Length + w.kerf
		if strips[i].Pieces++; p.Number == 0 {
			strips[i].Pieces--
			strips[i].Spares++
		}
	}
	return strips, own
}

// material plans the strips of one material.
func (w *planner) material(name string, pieces []Piece) Material {
	m := Material{Name: name}
	var own [][]Piece
	m.Strips, own = w.strips(pieces)
	boards := w.boardsOf(name)
	if len(boards) == 0 || !w.suits(m, own, boards) {
		return m
	}
	t := w.cheapest(m.Strips, own, boards)
	if w.Stock.Match && len(w.Layup) == 0 {
		t = w.matched(m.Strips, own, boards, t.bound)
	}
	m.Kinds = len(boards)
	t.fill(&m, w.Stock.Boards)
	w.checkCount(m)
	return m
}
