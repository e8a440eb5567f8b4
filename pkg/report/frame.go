package report

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// frameJSON is the locating frame. Its sides are given by their directions from
// the middle.
type frameJSON struct {
	Files     map[string]string `json:"files"` // by kind: "dxf"; of a frame in bars by bar and kind: "1_dxf"
	Width     num               `json:"width"` // of its sides
	Gap       num               `json:"gap"`   // to the panel, at the sides where wedges go
	Bars      int               `json:"bars"`  // 1: it is cut in one
	Reference []string          `json:"reference"`
	Wedged    []string          `json:"wedged"`
	Wedges    []wedgesJSON      `json:"wedges"` // pairs of wedges
	Key       *keyJSON          `json:"key,omitempty"`
	Screws    []xy              `json:"screws"`
	ScrewsIn  []string          `json:"screws_in"` // what each meets: "board", "packing", or "unknown" without a board
	Axes      []xy              `json:"axes"`      // tips of the notches on the work's axes
	Lies      string            `json:"lies"`      // "on" the board, "over" its edges, "round" it, or "unknown" without a board
	Overhang  overhangJSON      `json:"overhang"`

	Against     []string    `json:"-"` // the reference sides, in order of their names
	WedgedSides []string    `json:"-"` // and those where wedges go
	JointKey    partFacts   `json:"-"` // that joins bars
	KeyPiece    partFacts   `json:"-"`
	WedgePiece  partFacts   `json:"-"`
	KeySide     string      `json:"-"` // where the key's recess is
	Opening     xy          `json:"-"` // size
	Marked      bool        `json:"-"` // the frame carries lettering
	Reaches     unit.Text   `json:"-"` // the overhang, side by side
	Beyond      bool        `json:"-"` // there is some
	Notches     notchFacts  `json:"-"`
	Pairs       []pairFacts `json:"-"`
	Meet        meetFacts   `json:"-"`
	ClampsOn    num         `json:"-"` // width of the outer strip that clamps may stand on
	ScrewGrip   num         `json:"-"` // what screws should go in by at least
}

// notchFacts are the directions of the notches on the work's level and upright axes,
// and of those that lie beside the board how far they are from the origin.
type notchFacts struct {
	Level, Upright []string
	Beside         []besideFacts
}

type besideFacts struct {
	Side     string
	Distance num
}

// pairFacts are the pairs of wedges at a side, each by its distance from the side's
// end that is named.
type pairFacts struct {
	Side   string
	Corner string
	At     []num
}

// meetFacts is how many screws meet packing, and how many the board, by sides.
type meetFacts struct {
	Packed, OverBoard       int
	PackedSides, BoardSides []sideCount
}

type sideCount struct {
	Side  string
	Count int
}

// screwGrip is what a screw of 4 mm should go in by at least, in mm: three times
// its diameter (common practice).
const screwGrip = 12.0

// wedgesJSON is a pair of wedges: its middle, and the side that it goes to.
type wedgesJSON struct {
	At   xy     `json:"at"`
	Side string `json:"side"`
}

// keyJSON is the key that forbids wrong positions.
type keyJSON struct {
	At    xy  `json:"at"`
	Size  num `json:"size"`  // its diameter
	Notch num `json:"notch"` // diameter of the notches in panels
}

// overhangJSON is by how much the frame reaches beyond the board.
type overhangJSON struct {
	Left  num `json:"left"`
	Right num `json:"right"`
	Below num `json:"below"`
	Above num `json:"above"`
}

// newFrame is nil for a job without a frame.
func newFrame(r build.Result) *frameJSON {
	f := r.Set.Frame
	if f == nil {
		return nil
	}
	out := &frameJSON{
		Files: map[string]string{}, Width: num(f.Width), Gap: num(f.Gap), Bars: len(f.Bars), Lies: f.Support.String(),
		Overhang:  overhangJSON{num(f.Overhang.Left), num(f.Overhang.Right), num(f.Overhang.Below), num(f.Overhang.Above)},
		Reference: each(f.Reference[:], func(i int) string { return sideWord(f.Inside.Sides[i].Out) }),
		Wedged:    each(f.Wedged, func(i int) string { return sideWord(f.Inside.Sides[i].Out) }),
		Wedges: each(f.Wedges, func(w fixture.WedgePair) wedgesJSON {
			return wedgesJSON{toXY(w.At), sideWord(f.Inside.Sides[w.Side].Out)}
		}),
		Screws:   each(f.Screws, func(s fixture.Screw) xy { return toXY(s.At) }),
		ScrewsIn: each(f.Screws, func(s fixture.Screw) string { return screwIn(r, s) }),
		Axes:     each(f.Axes, toXY),
	}
	for _, p := range r.Parts {
		if p.Ply == sheet.Frame {
			addFiles(out.Files, r, p, strings.TrimPrefix(strings.TrimPrefix(p.Sheet.Name, fixture.FrameName), "-"))
			out.Marked = out.Marked || hasMark(p)
		}
	}
	if f.Key.Radius > 0 {
		out.Key = &keyJSON{toXY(f.Key.At), num(2 * f.Key.Radius), num(2 * f.Key.Notch)}
	}
	out.forTheSheet(r, f)
	return out
}

// forTheSheet adds what isn't in the manifest.
func (out *frameJSON) forTheSheet(r build.Result, f *fixture.Frame) {
	out.Against, out.WedgedSides = sorted(out.Reference), sorted(out.Wedged)
	out.JointKey, out.KeyPiece, out.WedgePiece = pieceOf(r, fixture.JointKeyName), pieceOf(r, fixture.KeyName), pieceOf(r, fixture.WedgeName)
	out.KeySide = sideWord(f.Inside.Sides[0].Out)
	out.Opening = toXY(f.Inside.Polygon().Bounds().Size())
	over := f.Overhang.Sides()
	out.Reaches, out.Beyond = unit.List(over), len(over) > 0
	out.Notches, out.Pairs, out.Meet = newNotches(r, f), newPairs(f), newMeet(f)
	out.ClampsOn, out.ScrewGrip = num(math.Floor(f.Clear)), screwGrip
}

// sorted are names in order, each once.
func sorted(names []string) []string { return slices.Compact(slices.Sorted(slices.Values(names))) }

func newNotches(r build.Result, f *fixture.Frame) (out notchFacts) {
	for _, p := range f.Axes {
		on := &out.Upright
		if math.Abs(p.X) > math.Abs(p.Y) {
			on = &out.Level
		}
		*on = append(*on, sideWord(p))
		if r.Job.Board != nil && !r.Job.Board.Box().Holds(p) {
			out.Beside = append(out.Beside, besideFacts{sideWord(p), num(p.Norm())})
		}
	}
	return out
}

func newPairs(f *fixture.Frame) []pairFacts {
	return each(f.Wedged, func(i int) pairFacts {
		p := pairFacts{Side: sideWord(f.Inside.Sides[i].Out), Corner: sideWord(f.Inside.Corner(i))}
		for _, w := range f.Wedges {
			if w.Side == i {
				p.At = append(p.At, num(w.At.Sub(f.Inside.Corner(i)).Dot(w.Along)))
			}
		}
		return p
	})
}

func newMeet(f *fixture.Frame) (out meetFacts) {
	for i, side := range f.Inside.Sides {
		packed, board := 0, 0
		for _, s := range f.Screws {
			switch {
			case s.Side != i:
			case s.OnBoard:
				board++
			default:
				packed++
			}
		}
		if packed > 0 {
			out.Packed, out.PackedSides = out.Packed+packed, append(out.PackedSides, sideCount{sideWord(side.Out), packed})
		}
		if board > 0 {
			out.OverBoard, out.BoardSides = out.OverBoard+board, append(out.BoardSides, sideCount{sideWord(side.Out), board})
		}
	}
	return out
}

// sideWord says in which of eight directions a place lies from the middle.
func sideWord(p geom.Point) string {
	words := [8]string{"right", "upper right", "upper", "upper left", "left", "lower left", "lower", "lower right"}
	eighth := int(math.Round(p.Angle() / (math.Pi / 4)))
	return words[(eighth%8+8)%8]
}

// screwIn is what a screw meets.
func screwIn(r build.Result, s fixture.Screw) string {
	switch {
	case r.Job.Board == nil:
		return "unknown"
	case s.OnBoard:
		return "board"
	}
	return "packing"
}
