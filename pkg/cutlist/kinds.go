package cutlist

// Pieces that are cut alike. A strip is as high at one edge as at the other and its cuts
// stand upright, so a piece may be turned end for end, and turned upside down, as which it
// is its own mirror image, bends and all: it is levelled afterwards. A sandwich keeps
// its strips in their order from left to right: unless its lay-up is the same from the
// right, it may only be turned upside down and end for end at once.

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/inlay"
	"strapwork/pkg/work"
)

// What pieces that are cut alike may differ by: lengths and radii by what a cut's gap may
// be (inlay.Straight), angles by what a protractor shows. Radii beyond 50 mm by a
// thousandth, which no form springs back to.
const (
	alike       = inlay.Straight
	alikeAngle  = 0.1 * math.Pi / 180
	alikeRadius = 1e-3
)

// A Kind is pieces that are cut alike. They lie as the first of them does, or turned end
// for end, upside down, or both.
type Kind struct {
	Piece         // the first of them
	Numbers []int // of all, ascending
}

// A Stop is kinds that are cut at one setting of the stop: ones that are formed or ones that are not, whose
// lengths from long point to long point are equal.
type Stop struct {
	Length float64 // from long point to long point, without allowance
	Bent   bool
	Kinds  []Kind // by the first number
}

// Count is how many pieces are cut at it.
func (s Stop) Count() (n int) {
	for _, k := range s.Kinds {
		n += len(k.Numbers)
	}
	return n
}

// A Batch is what is cut of one material and thickness.
type Batch struct {
	Strips []Total // each strip of the lay-up that is of it; the sandwich
	Stops  []Stop  // the longest first: of a piece that is spoilt a shorter one can be cut
}

// A Total is what is cut of one strip of the lay-up.
type Total struct {
	Strip     int // 0: the sandwich
	Material  string
	Thickness float64
	Pieces    int
	Length    float64 // of all from long point to long point, without allowance
	Cut       float64 // as they are cut at first
}

// Batches are all pieces by what they are cut of, in the order of the lay-up.
func (l List) Batches() []Batch {
	var all []Batch
	for _, t := range l.totals() {
		i := slices.IndexFunc(all, func(b Batch) bool { return b.Strips[0].Material == t.Material && b.Strips[0].Thickness == t.Thickness })
		if i < 0 {
			i, all = len(all), append(all, Batch{})
		}
		all[i].Strips = append(all[i].Strips, t)
	}
	kinds := l.Kinds()
	for i, b := range all {
		for _, k := range kinds {
			if k.Material == b.Strips[0].Material && k.Thickness == b.Strips[0].Thickness {
				all[i].Stops = append(all[i].Stops, Stop{k.Long(), k.Formed, []Kind{k}})
			}
		}
		all[i].Stops = shared(all[i].Stops)
	}
	return all
}

// shared puts the kinds that are equally long on one stop, the longest first.
func shared(single []Stop) (all []Stop) {
	slices.SortStableFunc(single, func(a, b Stop) int { return cmp.Compare(b.Length, a.Length) })
	for _, s := range single {
		// Of straight and of bent pieces the last stop of each kind may be this one's.
		i := len(all) - 1
		for i >= 0 && all[i].Bent != s.Bent {
			i--
		}
		if i < 0 || all[i].Length-s.Length > alike {
			all = append(all, s)
			continue
		}
		all[i].Kinds = append(all[i].Kinds, s.Kinds...)
	}
	for _, s := range all {
		slices.SortFunc(s.Kinds, func(a, b Kind) int { return cmp.Compare(a.Number, b.Number) })
	}
	return all
}

// totals adds up the pieces of each strip of the lay-up.
func (l List) totals() (all []Total) {
	for _, p := range l.Pieces {
		i := slices.IndexFunc(all, func(t Total) bool { return t.Strip == p.Strip })
		if i < 0 {
			i, all = len(all), append(all, Total{Strip: p.Strip, Material: p.Material, Thickness: p.Thickness})
		}
		all[i].Pieces++
		all[i].Length += p.Long()
		all[i].Cut += l.Cut(p)
	}
	slices.SortFunc(all, func(a, b Total) int { return cmp.Compare(a.Strip, b.Strip) })
	return all
}

// Kinds are the pieces that are cut alike, by their first numbers.
func (l List) Kinds() (all []Kind) {
	turns := l.Turns()
next:
	for _, p := range l.Pieces {
		poses := p.poses(turns)
		for i, k := range all {
			if slices.ContainsFunc(poses, k.sameAs) {
				all[i].Numbers = append(k.Numbers, p.Number)
				continue next
			}
		}
		all = append(all, Kind{p, []int{p.Number}})
	}
	return all
}

// Turns reports whether a piece may be turned so that its sides change places: a strip may,
// and a sandwich whose lay-up is the same from the right.
func (l List) Turns() bool {
	back := slices.Clone(l.Layup)
	slices.Reverse(back)
	return l.Laid != work.LaidSandwich || slices.EqualFunc(l.Layup, back, func(a, b work.Strip) bool { return a.Material == b.Material && a.Thickness == b.Thickness })
}

// poses are a piece as it lies, and as it would be listed in its other positions: turned
// upside down and end for end, and if its sides may change places either of them alone.
func (p Piece) poses(either bool) []Piece {
	over := p.upsideDown()
	if !either {
		return []Piece{p, over.endForEnd()}
	}
	return []Piece{p, p.endForEnd(), over, over.endForEnd()}
}

// endForEnd is the piece as it is listed when its strand runs the other way: its sides and
// its ends change places, what bends left bends right, and the cuts' angles stay.
func (p Piece) endForEnd() Piece {
	p.Left, p.Right = p.Right, p.Left
	p.Ends[0], p.Ends[1] = p.Ends[1], p.Ends[0]
	p.Segments = slices.Clone(p.Segments)
	slices.Reverse(p.Segments)
	for i := range p.Segments {
		p.Segments[i].Radius *= -1
	}
	return p
}

// upsideDown is the piece rolled over about its length: its mirror image.
func (p Piece) upsideDown() Piece {
	p.Left, p.Right = p.Right, p.Left
	for i := range p.Ends {
		p.Ends[i].Angle = math.Pi - p.Ends[i].Angle
	}
	p.Segments = slices.Clone(p.Segments)
	for i := range p.Segments {
		p.Segments[i].Radius *= -1
	}
	return p
}

// sameAs reports whether two pieces are cut and bent alike as they lie.
func (p Piece) sameAs(o Piece) bool {
	return p.Material == o.Material && p.Thickness == o.Thickness &&
		near(p.Left, o.Left, alike) && near(p.Middle, o.Middle, alike) && near(p.Right, o.Right, alike) &&
		sameEnd(p.Ends[0], o.Ends[0]) && sameEnd(p.Ends[1], o.Ends[1]) &&
		slices.EqualFunc(bends(p.Segments), bends(o.Segments), sameSegment)
}

// sameEnd reports whether two ends are cut alike: what they are cut for is all one.
func sameEnd(a, b inlay.End) bool {
	if !near(a.Angle, b.Angle, alikeAngle) || (a.Kind == inlay.EndCope) != (b.Kind == inlay.EndCope) {
		return false
	}
	return a.Kind != inlay.EndCope || a.Hollow == b.Hollow && near(a.Gap, b.Gap, alike) && sameRadius(a.Radius, b.Radius)
}

// bends leaves out what is too short to be seen.
func bends(all []inlay.Segment) []inlay.Segment {
	return slices.DeleteFunc(slices.Clone(all), func(s inlay.Segment) bool { return s.Length <= alike })
}

func sameSegment(a, b inlay.Segment) bool {
	return near(a.Length, b.Length, 2*alike) && sameRadius(a.Radius, b.Radius) // both its ends may be off
}

func sameRadius(a, b float64) bool {
	return near(a, b, math.Max(alike, alikeRadius*math.Min(math.Abs(a), math.Abs(b))))
}

// rounding is what equal values may differ by: pieces that differ by just what is allowed
// are alike on every machine.
const rounding = 1e-9

func near(a, b, most float64) bool { return math.Abs(a-b) <= most+rounding }

// Numbers are numbers in ascending order, those that follow one another as one: "1-3, 7, 9".
func Numbers(all []int) string {
	var parts []string
	for i := 0; i < len(all); {
		k := i
		for k+1 < len(all) && all[k+1] == all[k]+1 {
			k++
		}
		part := strconv.Itoa(all[i])
		if k > i {
			part += "-" + strconv.Itoa(all[k])
		}
		parts = append(parts, part)
		i = k + 1
	}
	return strings.Join(parts, ", ")
}
