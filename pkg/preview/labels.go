package preview

// Where words stand on the pictures. Lettering keeps its size on the screen while one
// looks nearer, so what it covers of the work, in mm, gets smaller: places are found
// for scales from the smallest up, each somewhat larger than the one before, and the
// page takes those of the scale that it is at.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/label"
	"strapwork/pkg/ngc"
)

// Sizes of lettering on the screen, in CSS pixels.
const (
	lineHigh   = 15.0 // a line
	letterWide = 7.2  // a letter of 12 pixels, in the wider of common faces
	mapLetter  = letterWide * 13 / 12
	sides      = 2.0  // kept free on both sides of lettering,
	above      = 1.0  // and above and below
	pageEdge   = 14.0 // round all that a picture shows
)

// Scales, in CSS pixels to a mm.
const (
	leastPicture = 250.0 // pixels of the longer side of the smallest picture
	scaleStep    = math.Sqrt2
	scales       = 18 // a strand that has no room when one looks 400 times nearer has none at all
)

// namesMost is how many strands are named: among more no name is found.
const namesMost = 60

// A spotting is a place for a label: so many pixels from a place of the work to the
// lettering's middle, right and up.
type spotting struct {
	at, off geom.Point
}

// A tag is a label with the places where it may stand, the best first.
type tag struct {
	letters int
	wide    float64 // pixels of a letter
	spots   []spotting
	always  bool // without room it covers a groove, and if need be a label
}

// box is what a tag takes up of the work at a scale.
func (t tag) box(s spotting, scale float64) geom.Contour {
	half := geom.Pt(t.wide*float64(t.letters)/2+sides, lineHigh/2+above).Scale(1 / scale)
	middle := s.at.Add(s.off.Scale(1 / scale))
	return geom.Rect(geom.Box{Min: middle.Sub(half), Max: middle.Add(half)})
}

// headPlace is where a label stands from a scale on; At is null where it is left out.
type headPlace struct {
	From num   `json:"from"`
	At   []num `json:"at"`
	Off  []num `json:"off"`
}

// A picture is what labels share: the grooves, which they keep off, and what else
// stands in their way at a scale.
type picture struct {
	room  label.Room
	box   geom.Box // of the work
	least float64  // scale
	flags []geom.Point
	zero  bool // the program's zero is marked
}

func newPicture(p Page) *picture {
	pic := &picture{box: geom.EmptyBox()}
	if p.Board != nil {
		pic.box = p.Board.Box()
	}
	for _, s := range p.Strands {
		pic.room.KeepOff(p.Width/2, 1, s.Line)
		pic.box = pic.box.Join(s.Line.Bounds())
	}
	size := pic.box.Size()
	pic.least = leastPicture / math.Max(math.Max(size.X, size.Y), 1)
	return pic
}

// place finds the places of tags, those of the first ones first.
func (p *picture) place(tags []tag) [][]headPlace {
	list := each(tags, func(tag) []headPlace { return []headPlace{} })
	last := slices.Repeat([]int{-1}, len(tags)) // by tag, which of its spots is the last in its list
	for n := range scales {
		scale := p.least * math.Pow(scaleStep, float64(n))
		from := scale
		if n == 0 {
			from = 0
		}
		p.room.Forget()
		if p.zero {
			p.room.Take(0, zeroAt(scale))
		}
		for _, f := range p.flags {
			p.room.Take(0, flagAt(f, scale))
		}
		for i, t := range tags {
			k := p.spot(t, scale)
			switch {
			case k == last[i]:
			case k < 0:
				list[i] = append(list[i], headPlace{From: num(from)})
			default:
				s := t.spots[k]
				list[i] = append(list[i], headPlace{num(from), place(s.at), place(s.off)})
			}
			last[i] = k
		}
	}
	return list
}

// spot is the first of a tag's spots where there is room up to the next scale, which
// it takes; -1 if there is none.
func (p *picture) spot(t tag, scale float64) int {
	frames := func(k int) []geom.Contour {
		// Between these it is out of them by less than what is kept free round it.
		var boxes []geom.Contour
		for _, up := range []float64{1, math.Sqrt(scaleStep), scaleStep} {
			boxes = append(boxes, t.box(t.spots[k], scale*up))
		}
		return boxes
	}
	within := p.box.Expand(pageEdge / scale)
	inside := func(k int) bool {
		b := frames(k)[0].Bounds()
		return within.Holds(b.Min) && within.Holds(b.Max)
	}
	tests := []func(k int) bool{func(k int) bool { return inside(k) && p.room.Free(frames(k)...) }}
	if t.always {
		tests = append(tests, func(k int) bool { return p.room.Apart(frames(k)...) }, func(int) bool { return true })
	}
	for _, fits := range tests {
		for k := range t.spots {
			if fits(k) {
				p.room.Take(0, frames(k)...)
				return k
			}
		}
	}
	return -1
}

// flagAt is what a fault's flag takes up at a scale; see drawFlag.
func flagAt(p geom.Point, scale float64) geom.Contour {
	const flag, wide, high = 30.0, 10.0, 26.0 // pixels
	half := geom.Pt(wide, high).Scale(1 / scale)
	middle := p.Add(geom.Pt(0, flag/2/scale))
	return geom.Rect(geom.Box{Min: middle.Sub(half), Max: middle.Add(half)})
}

// zeroAt is what the mark of the program's zero takes up at a scale, with its arrows
// and letters; see drawZero.
func zeroAt(scale float64) geom.Contour {
	const disc, wide, high = 9.0, 46.0, 34.0 // pixels
	return geom.Rect(geom.Box{Min: geom.Pt(-disc, -disc).Scale(1 / scale), Max: geom.Pt(wide, high).Scale(1 / scale)})
}

// headLabels are the places of all labels.
type headLabels struct {
	Start []headPlace   `json:"start"` // where the program first goes into the work; none: it doesn't
	Names [][]headPlace `json:"names"` // of strands, as far as they have one
	Spots [][]headPlace `json:"spots"` // of the greatest spots: out, left, and left for the chisel; none: there is no such spot
}

func labelsOf(p Page) headLabels {
	board, deviations := newPicture(p), newPicture(p)
	board.flags, board.zero = faults(p.Program), true
	tags := []tag{startTag(p)}
	for _, s := range p.Strands[:min(len(p.Strands), namesMost)] {
		tags = append(tags, nameTag(s, p.Width))
	}
	placed := board.place(tags)
	return headLabels{placed[0], placed[1:], deviations.place(spotTags(p))}
}

// spotTags are how much the greatest spot of each kind is, beside its disc.
func spotTags(p Page) []tag {
	const number = 10 // letters of a length with its unit, at the most
	tool := slices.DeleteFunc(slices.Clone(p.Program.Report.Left), func(s dryrun.Deviation) bool { return s.Chisel })
	chisel := slices.DeleteFunc(slices.Clone(p.Program.Report.Left), func(s dryrun.Deviation) bool { return !s.Chisel })
	return []tag{
		spotTag(p.Program.Report.Gouges, number+len(" overcut"), 1),
		spotTag(tool, number+len(" left"), -1),
		spotTag(chisel, number+len(" for the chisel"), -1),
	}
}

// spotTag is the label of the first of the greatest spots, above its disc (up 1) or
// below it (up -1) rather than beside.
func spotTag(spots []dryrun.Deviation, letters int, up float64) tag {
	if len(spots) == 0 {
		return tag{}
	}
	greatest := slices.MaxFunc(spots, func(a, b dryrun.Deviation) int { return cmp.Compare(a.Amount, b.Amount) })
	t := tag{letters: letters, wide: mapLetter, always: true}
	const disc, gap = 22.0, 6.0 // pixels: the greatest disc's radius, and between it and the lettering
	half := geom.Pt(t.wide*float64(letters)/2, lineHigh/2)
	for _, away := range []float64{0, 1, 2, 3, 4, 6, 8} {
		off := disc + gap + away*lineHigh
		for _, way := range []geom.Point{{Y: up}, {Y: -up}, {X: 1, Y: up}, {X: -1, Y: up}, {X: 1, Y: -up}, {X: -1, Y: -up}, {X: 1}, {X: -1}} {
			t.spots = append(t.spots, spotting{greatest.At, geom.Pt(way.X*(off+half.X), way.Y*(off+half.Y))})
		}
	}
	return t
}

// stations are how far along its strand a name may stand, the best first.
var stations = []float64{0.5, 0.38, 0.62, 0.27, 0.73, 0.15, 0.85}

// nameTag is a strand's name, beside it on one side or the other.
func nameTag(s Strand, width float64) tag {
	t := tag{letters: len([]rune(s.Name)), wide: letterWide}
	if t.letters == 0 || s.Line.Len() == 0 {
		return tag{}
	}
	const gap = 4.0 // pixels between the groove and the lettering
	for _, part := range stations {
		at, along := s.Line.At(part * s.Line.Length())
		for _, side := range []float64{-1, 1} {
			out := along.Left().Scale(side)
			off := gap + math.Abs(out.X)*t.wide*float64(t.letters)/2 + math.Abs(out.Y)*lineHigh/2
			t.spots = append(t.spots, spotting{at.Add(out.Scale(width / 2)), out.Scale(off)})
		}
	}
	return t
}

// startWord stands where the program starts.
const startWord = "start"

// startTag is the mark of the place where the program first goes into the work: the
// first move below its top.
func startTag(p Page) tag {
	for _, s := range p.Program.Steps {
		m := s.Move
		if !m.Kind.Travels() || !m.To.Has(ngc.AxesXYZ) || m.To.Z >= 0 {
			continue
		}
		at := geom.Pt(m.To.X, m.To.Y)
		if m.From.Has(ngc.AxesXY) {
			at = geom.Pt(m.From.X, m.From.Y)
		}
		const off, aside = 12.0, 22.0 // pixels
		t := tag{letters: len(startWord), wide: letterWide, always: true}
		for _, way := range []geom.Point{{Y: -1}, {Y: 1}, {X: -1}, {X: 1}} {
			far := off*math.Abs(way.Y) + aside*math.Abs(way.X)
			t.spots = append(t.spots, spotting{at.Add(way.Scale(p.Width)), way.Scale(far)})
		}
		return t
	}
	return tag{}
}

// flagsMost is of how many faults the flags are kept clear of: where there are more
// there is no room beside them.
const flagsMost = 200

// faults are the places of flags: those that findings have, and the ends of faulty
// moves on other lines.
func faults(p Program) []geom.Point {
	var list []geom.Point
	found := map[int]bool{}
	for _, f := range p.Report.Findings {
		if f.Severity == diag.Error && f.HasAt {
			list = append(list, geom.Pt(f.At[0], f.At[1]))
			found[f.Pos.Line] = true
		}
	}
	for _, s := range p.Steps {
		m := s.Move
		if s.Fault && !found[int(m.Line)] && m.To.Has(ngc.AxesXY) {
			list = append(list, geom.Pt(m.To.X, m.To.Y))
		}
	}
	return list[:min(len(list), flagsMost)]
}
