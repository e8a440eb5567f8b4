// Package motif turns a job's elements into the motif that is inlaid: every
// element copied by turning and mirroring, copies that fall on one another
// merged, ends that meet joined into strands. Each edge of a strand knows the
// line of the job that drew it.
//
// Lengths are mm, angles radians, and all contours are in the motif's own
// coordinates: the origin is the point that copies turn about.
package motif

import (
	"fmt"
	"math"
	"sort"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Joint is the distance in mm within which two ends meet, two elements are the
// same, and an end lies on another strand: the job file's promise. Coordinates
// off a drawing or a pocket calculator are out by that much, and half of it,
// which is how far most points move, is less than a groove can be held to.
const Joint = 0.05

// Same is the distance in mm within which two places of a joined motif are one:
// for crossings, tees, symmetry, plans and proofs.
const Same = 0.001

// NearJoint is the distance in mm under which two ends that do not meet were
// probably meant to: less than the narrowest groove.
const NearJoint = 1.0

// Smooth is the angle, half a degree in radians, within which two directions
// are one, so that a joint is no corner: the job file's promise. Across a groove
// of 8 mm such a joint opens the outer walls by 0.07 mm at most.
const Smooth = 0.5 * math.Pi / 180

// A Source is one copy of one element of the job.
type Source struct {
	Name     string // "bar.2": the element's name, or its kind if it has none, and the number of the copy
	Element  int    // index into the job's elements: of the first of those that groups make of one
	Copy     int    // counts from 1: those that groups make, for each turned copy, and then for each mirrored one
	Mirrored bool   // reflected, before it was turned
	Open     bool   // its ends are meant to lie near others without meeting them
	Kind     work.ElementKind
	Key      diag.Key // of the table that draws it
	Line     int      // of that table in its file; 0 where there is no file
}

// A Strand is a chain of elements, run in the direction of its first-listed
// element's first copy. A closed strand starts where that element starts, an
// open one at its own free end.
type Strand struct {
	ID      string       // "s1", "s2", ... in the order of the strands
	Contour geom.Contour // mm
	Sources []int        // for each edge of Contour, an index into Motif.Sources
	Corner  []bool       // for each vertex, whether the chain turns by more than Smooth there; false at free ends
	starts  []float64    // what Offsets returns
}

// NewStrand puts together a strand; every strand is made here. For it, sources has an entry for each
// edge of c and corner one for each vertex.
func NewStrand(id string, c geom.Contour, sources []int, corner []bool) Strand {
	s := Strand{ID: id, Contour: c, Sources: sources, Corner: corner, starts: make([]float64, c.Len()+1)}
	for i := range c.Len() {
		s.starts[i+1] = s.starts[i] + c.Edge(i).Length()
	}
	return s
}

// Length is the distance along the strand in mm.
func (s Strand) Length() float64 { return s.starts[len(s.starts)-1] }

// Offsets returns the distance along the strand at the start of each edge,
// and at last its length: one entry more than there are edges. So entry i is
// the distance of vertex i. The slice is the strand's own and must not be
// changed.
func (s Strand) Offsets() []float64 { return s.starts }

// Source is the index into Motif.Sources of the element that is at distance
// d along the strand; at a joint, the element that begins there. d is held
// within the strand.
func (s Strand) Source(d float64) int { return s.Sources[s.Edge(d)] }

// Motif is all strands, and the copies of elements that they are made of.
type Motif struct {
	Strands []Strand // in the order of their first-listed elements
	Sources []Source // by element, then by copy; merged copies are left out
}

// Bounds is the smallest box that holds the centre lines.
func (m Motif) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, s := range m.Strands {
		b = b.Join(s.Contour.Bounds())
	}
	return b
}

// NameAt names the element that is at distance d along a strand, with its
// line in the job file: "bar.2 (line 12)".
func (m Motif) NameAt(strand int, d float64) string {
	return m.Sources[m.Strands[strand].Source(d)].String()
}

// String is the source's name with its line in the job file, if that is known.
func (s Source) String() string {
	if s.Line <= 0 {
		return s.Name
	}
	return fmt.Sprintf("%s (line %d)", s.Name, s.Line)
}

// Edge is the index of the edge at distance d along the strand; at a joint,
// of the edge that begins there. d is held within the strand.
func (s Strand) Edge(d float64) int {
	i := sort.SearchFloat64s(s.starts, d) // the first start at or past d
	if i == len(s.starts) || s.starts[i] != d {
		i--
	}
	return max(0, min(i, len(s.Sources)-1))
}

// Place is a point of the motif in a message.
func Place(p geom.Point) unit.Place { return unit.Place{X: p.X, Y: p.Y} }
