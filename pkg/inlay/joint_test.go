package inlay

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// between lays the strips of a job within one span for all strands.
func between(t *testing.T, j *job.Job, laid work.Laid, spans ...Span) Inlay {
	t.Helper()
	m, found := motif.Build(j.Motif)
	w, more := weave.Build(m, j.Weave)
	if found.Add(more...); found.HasErrors() {
		t.Fatal(found)
	}
	p := paramsOf(j)
	p.Laid = laid
	for i := range m.Strands {
		p.Spans = append(p.Spans, spans[min(i, len(spans)-1)])
	}
	in, more := Build(p, m, w)
	if more.HasErrors() {
		t.Fatal(more)
	}
	return in
}

var leftOfJoint, rightOfJoint = Span{math.Inf(-1), 0}, Span{0, math.Inf(1)}

// A straight strand from 50 mm off the joint on, at the angle phi from its normal: a line at the
// offset d to the left of travel is 50 + d tan(phi) long (elementary geometry), and the cut lies
// at 90 - phi from the strand's direction to its left side.
func TestStraightToTheJoint(t *testing.T) {
	for _, phi := range []float64{-60, -45, -30, 0, 30, 45, 60} {
		u := geom.Polar(1, phi*deg)
		a, b := u.Scale(-50), u.Scale(50)
		j := jobOf(unequal(), 1, polyline(a.X, a.Y, b.X, b.Y))
		tan := math.Tan(phi * deg)
		for _, laid := range []work.Laid{work.LaidStrips, work.LaidSandwich} {
			for side, span := range []Span{leftOfJoint, rightOfJoint} {
				in := between(t, j, laid, span)
				sign := float64(1 - 2*side)
				for _, s := range in.Laid {
					if len(s.Pieces) != 1 {
						t.Fatalf("%g degrees: %d pieces", phi, len(s.Pieces))
					}
					p, mid := s.Pieces[0], (s.Left+s.Right)/2
					near(t, "left", p.Left, 50+sign*s.Left*tan, 1e-9)
					near(t, "middle", p.Length, 50+sign*mid*tan, 1e-9)
					near(t, "right", p.Right, 50+sign*s.Right*tan, 1e-9)
					near(t, "area", p.Area.Area(), s.Thickness*p.Length, 1e-9)
					near(t, "from", p.From, [2]float64{0, 50 + mid*tan}[side], 1e-9)
					near(t, "to", p.To, [2]float64{50 + mid*tan, 100}[side], 1e-9)
					e, free := p.Ends[1-side], p.Ends[side]
					near(t, "angle", e.Angle/deg, 90-phi, 1e-9)
					if e.Kind != EndJoint || !e.Joint || len(e.On) > 0 || e.Gap > 1e-9 || free.Kind != EndFree || free.Joint {
						t.Errorf("%g degrees: ends %+v and %+v", phi, e, free)
					}
					if len(p.Segments) != 1 || math.Abs(p.Segments[0].Length-p.Length) > 1e-9 {
						t.Errorf("%g degrees: %+v", phi, p.Segments)
					}
				}
			}
		}
	}
}

// An arc of R 40 that comes over the joint at 45 degrees to its normal, its centre 40 sin(45) from
// it: a parallel of radius r meets the joint at asin(c / r), each strip at an angle of its own.
func TestArcToTheJoint(t *testing.T) {
	c := 40 * math.Sin(45*deg)
	j := jobOf(unequal(), 1, arc(-c, 0, 40, 0, 135)) // from beyond the joint, counter-clockwise: left is inside
	for _, s := range between(t, j, work.LaidStrips, leftOfJoint).Strips {
		p := s.Pieces[0]
		long := func(off float64) float64 { return (40 - off) * (135*deg - math.Acos(c/(40-off))) }
		mid := (s.Left + s.Right) / 2
		near(t, "left", p.Left, long(s.Left), 1e-9)
		near(t, "middle", p.Length, long(mid), 1e-9)
		near(t, "right", p.Right, long(s.Right), 1e-9)
		near(t, "from", p.From, 40*math.Acos(c/(40-mid)), 1e-9)
		near(t, "to", p.To, 40*135*deg, 1e-9)
		near(t, "angle", p.Ends[0].Angle/deg, 90+math.Asin(c/(40-mid))/deg, 1e-9)
		near(t, "radius", p.Bend(), 40-mid, 1e-9)
		if p.Ends[0].Kind != EndJoint || p.Ends[1].Kind != EndFree {
			t.Errorf("ends %+v", p.Ends)
		}
		at := geom.Pt(-c, 0).Add(geom.Polar(40-mid, (p.From+p.To)/2/40))
		near(t, "a point in the middle", p.At.Dist(at), 0, 1e-9)
	}
}

// A ring cut in two loses nothing, wherever it is cut: as one strand, and as the two that a
// table's sections have, which run on past the joint.
func TestRingInTwo(t *testing.T) {
	ring := between(t, jobOf(unequal(), 1, circle(0, 0, 40)), work.LaidStrips, everywhere)
	for _, x := range []float64{0, 13, -31} {
		left, right := Span{math.Inf(-1), x}, Span{x, math.Inf(1)}
		half := math.Acos(x/40) / deg
		one := jobOf(unequal(), 1, circle(0, 0, 40))
		on := 6.0 // degrees
		for name, halves := range map[string][2]Inlay{
			"one strand": {between(t, one, work.LaidStrips, left), between(t, one, work.LaidStrips, right)},
			"stretches": {
				between(t, jobOf(unequal(), 1, arc(0, 0, 40, half-on, 360-2*half+2*on)), work.LaidStrips, left),
				between(t, jobOf(unequal(), 1, arc(0, 0, 40, -half-on, 2*half+2*on)), work.LaidStrips, right),
			},
		} {
			for k, s := range ring.Strips {
				var sum Piece
				area := 0.0
				for _, h := range halves {
					if len(h.Strips[k].Pieces) != 1 {
						t.Fatalf("x %g, %s: %d pieces", x, name, len(h.Strips[k].Pieces))
					}
					p := h.Strips[k].Pieces[0]
					sum.Left, sum.Length, sum.Right, area = sum.Left+p.Left, sum.Length+p.Length, sum.Right+p.Right, area+p.Area.Area()
					near(t, "segments", p.Segments[0].Length, p.Length, 1e-9)
					if p.Ends[0].Kind != EndJoint || p.Ends[1].Kind != EndJoint {
						t.Errorf("x %g, %s: ends %+v", x, name, p.Ends)
					}
				}
				whole := s.Pieces[0]
				near(t, name+": left", sum.Left, whole.Left, 1e-9)
				near(t, name+": middle", sum.Length, whole.Length, 1e-9)
				near(t, name+": right", sum.Right, whole.Right, 1e-9)
				near(t, name+": area", area, whole.Area.Area(), 1e-9)
			}
		}
	}
}

// A corner whose mitre is the joint: both its pieces end at the joint with the mitre's angle.
func TestMitreInTheJoint(t *testing.T) {
	j := jobOf(unequal(), 1, polyline(-50, -50*math.Tan(30*deg), 0, 0, 50, -50*math.Tan(30*deg)))
	whole := between(t, j, work.LaidStrips, everywhere)
	for side, span := range []Span{leftOfJoint, rightOfJoint} {
		for k, s := range between(t, j, work.LaidStrips, span).Strips {
			if len(s.Pieces) != 1 {
				t.Fatalf("%d pieces", len(s.Pieces))
			}
			got, want := s.Pieces[0], whole.Strips[k].Pieces[side]
			near(t, "left", got.Left, want.Left, 1e-9)
			near(t, "right", got.Right, want.Right, 1e-9)
			near(t, "angle", got.Ends[1-side].Angle, want.Ends[1-side].Angle, 1e-9)
			if want.Ends[1-side].Kind != EndMitre || got.Ends[1-side].Kind != EndJoint || got.Ends[side].Kind != EndFree {
				t.Errorf("ends %+v, at the mitre %+v", got.Ends, want.Ends)
			}
		}
	}
}

// Where two strands cross in the joint the upper one ends there and nowhere else, and the lower
// one has an end that is partly against the upper and partly in the joint: it is what most of it
// is, and says so of both. Both sides together have the area of the whole.
func TestCrossingInTheJoint(t *testing.T) {
	j := jobOf(unequal(), 1, polyline(-50, -20, 50, 20), polyline(-50, 30, 50, -32))
	sum := 0.0
	both := map[EndKind]int{}
	for _, span := range []Span{leftOfJoint, rightOfJoint} {
		for _, s := range between(t, j, work.LaidStrips, span).Strips {
			for _, p := range s.Pieces {
				sum += p.Area.Area()
				joint := 0
				for _, e := range p.Ends {
					if e.Joint && len(e.On) > 0 {
						both[e.Kind]++
					}
					if e.Joint {
						joint++
					}
				}
				if s.Strand == 0 && (joint != 1 || len(s.Pieces) != 1) {
					t.Errorf("the upper strand's pieces end %+v", p.Ends)
				}
			}
		}
	}
	whole := 0.0
	for _, s := range between(t, j, work.LaidStrips, everywhere).Strips {
		whole += s.Area().Area()
	}
	near(t, "areas", sum, whole, 1e-6)
	if both[EndCope] == 0 {
		t.Errorf("ends of two kinds: %v", both)
	}
}

// A looped triangle cut in three, mirrored or not: what is within is as it was, sums lose
// nothing, and every new end lies in a joint.
func TestMotifInThree(t *testing.T) {
	j := loopedTriangle()
	whole := between(t, j, work.LaidStrips, everywhere)
	want := make([]float64, len(whole.Strips))
	for i, s := range whole.Strips {
		for _, p := range s.Pieces {
			want[i] += p.Length
		}
	}
	for _, joints := range [][]float64{{-40, 55}, {-101.3, 0.7}, {12, 30}} {
		edges := slices.Concat([]float64{math.Inf(-1)}, joints, []float64{math.Inf(1)})
		got, ends := make([]float64, len(whole.Strips)), 0
		for i := range len(edges) - 1 {
			span := Span{edges[i], edges[i+1]}
			for k, s := range between(t, j, work.LaidStrips, span).Strips {
				for _, p := range s.Pieces {
					got[k] += p.Length
					if b := p.Area.Bounds(); span.beyond(b.Min) > onLine || span.beyond(b.Max) > onLine {
						t.Errorf("a piece reaches from x %g to %g", b.Min.X, b.Max.X)
					}
					for _, e := range p.Ends {
						if e.Kind == EndJoint {
							ends++
						}
					}
				}
			}
		}
		for k := range want {
			near(t, "all pieces of a strip", got[k], want[k], 1e-9)
		}
		if ends == 0 {
			t.Errorf("joints at %g: no end lies in them", joints)
		}
	}
}

// Plaits cut in two anywhere, through crossings and corners too, lose splinters at most.
func TestPlaitsInTwo(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 4))
	for _, j := range []*job.Job{plaitJob(3, 7, 14), plaitJob(4, 9, 11)} {
		whole := between(t, j, work.LaidStrips, everywhere)
		box := whole.Extent()
		for range 8 {
			x := box.Min.X + r.Float64()*box.Size().X
			left, right := between(t, j, work.LaidStrips, Span{math.Inf(-1), x}), between(t, j, work.LaidStrips, Span{x, math.Inf(1)})
			for k, s := range whole.Strips {
				lost, splinters := s.Area().Area(), 0.0
				for _, p := range append(slices.Clone(left.Strips[k].Pieces), right.Strips[k].Pieces...) {
					lost -= p.Area.Area()
					for _, e := range p.Ends {
						if e.Joint {
							splinters += leastPiece * s.Thickness
						}
					}
				}
				if math.Abs(lost) > splinters+1e-6 {
					t.Errorf("joint at %g, strand %d, strip %d: %g mm2 lost", x, s.Strand, s.Layer, lost)
				}
			}
		}
	}
}
