package arcfit

import (
	"math"

	"strapwork/pkg/geom"
)

// A Piece is an arc, or a line where Curvature is 0.
type Piece struct {
	Curvature float64 // 1/radius, positive where it turns left
	Length    float64 // mm, above 0
}

// Sweep is the angle by which a piece turns, positive to the left.
func (p Piece) Sweep() float64 { return float64(p.Curvature * p.Length) }

// A Chain is pieces one after the other, each in the direction in which the last ended.
type Chain struct {
	Start   geom.Point
	Heading float64 // radians, of the first piece at Start
	Pieces  []Piece
	Closed  bool // it ends where and as it began
}

// End is where the chain ends.
func (c Chain) End() geom.Point {
	frames := c.frames()
	return frames[len(frames)-1].at
}

// Turned is the heading at the chain's end.
func (c Chain) Turned() float64 {
	heading := c.Heading
	for _, p := range c.Pieces {
		heading += p.Sweep()
	}
	return heading
}

// Length is the length of all pieces.
func (c Chain) Length() float64 {
	var sum float64
	for _, p := range c.Pieces {
		sum += p.Length
	}
	return sum
}

// Contour is the chain as edges of at most a half circle each.
func (c Chain) Contour() geom.Contour {
	out := geom.Contour{Closed: c.Closed}
	frames := c.frames()
	for i, p := range c.Pieces {
		n := max(1, math.Ceil(math.Abs(p.Sweep())/math.Pi-roundOff))
		part := Piece{p.Curvature, p.Length / n}
		bulge := max(-1, min(1, math.Tan(part.Sweep()/4)))
		at := frames[i]
		for range int(n) {
			out.Vertices = append(out.Vertices, geom.Vertex{Point: at.at, Bulge: bulge})
			at = part.from(at)
		}
	}
	if !c.Closed {
		out.Vertices = append(out.Vertices, geom.Vertex{Point: frames[len(c.Pieces)].at})
	}
	return out
}

// Reverse is the chain travelled the other way.
func (c Chain) Reverse() Chain {
	back := Chain{Start: c.End(), Heading: c.Turned() + math.Pi, Closed: c.Closed}
	for i := len(c.Pieces) - 1; i >= 0; i-- {
		back.Pieces = append(back.Pieces, Piece{-c.Pieces[i].Curvature, c.Pieces[i].Length})
	}
	return back
}

// roundOff is by how much of itself a sum of angles or lengths may be out: some thousand
// operations on float64.
const roundOff = 1e-12

// A frame is a place on a chain and the direction of travel there.
type frame struct {
	at      geom.Point
	heading float64
	way     geom.Point // cos and sin of heading
}

func newFrame(at geom.Point, heading float64) frame {
	s, c := math.Sincos(heading)
	return frame{at, heading, geom.Point{X: c, Y: s}}
}

// frames are where each piece begins, and where the last one ends.
func (c Chain) frames() []frame {
	frames := make([]frame, len(c.Pieces)+1)
	frames[0] = newFrame(c.Start, c.Heading)
	for i, p := range c.Pieces {
		frames[i+1] = p.from(frames[i])
	}
	return frames
}

// from is where a piece ends that begins at f.
func (p Piece) from(f frame) frame {
	turn := p.Sweep()
	mid := newFrame(f.at, f.heading+float64(turn/2))
	chord := p.Length * sinc(turn/2)
	return newFrame(geom.Point{
		X: f.at.X + float64(chord*mid.way.X),
		Y: f.at.Y + float64(chord*mid.way.Y),
	}, f.heading+turn)
}

// sinc is sin(x)/x.
func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(x) / x
}

// A foot is where a point's nearest place on a piece lies, as on the whole line or circle.
type foot struct {
	piece int
	along float64 // length from the piece's start
	off   float64 // how far left of the piece the point lies
	cos   float64 // of the angle turned since the piece's start
	sin   float64
}

// project finds the foot of p on the carrier of a piece that begins at f. Of the turns of a
// circle it takes the one nearest to the length near.
func (p Piece) project(f frame, q geom.Point, near float64) foot {
	d := q.Sub(f.at)
	x := float64(d.X*f.way.X) + float64(d.Y*f.way.Y)
	y := float64(d.Y*f.way.X) - float64(d.X*f.way.Y)
	k := p.Curvature
	if k == 0 {
		return foot{along: x, off: y, cos: 1}
	}
	kx, ky := k*x, 1-float64(k*y)
	root := math.Sqrt(float64(kx*kx) + float64(ky*ky))
	if root == 0 { // the centre: all is as near
		return foot{along: near, off: 1 / k, cos: 1}
	}
	over := float64(k*(float64(x*x)+float64(y*y))) - 2*y // (root^2 - 1) / k
	turn := math.Atan2(kx, ky)
	if round := 2 * math.Pi; math.Abs(float64(near*k)-turn) > math.Pi {
		turn += float64(round * math.Round((float64(near*k)-turn)/round))
	}
	return foot{along: turn / k, off: -over / (1 + root), cos: ky / root, sin: kx / root}
}

// steps bounds how many pieces a foot walks on from where it was looked for.
const steps = 8

// walk finds the foot of q on the chain, going on from piece i and the length near within
// it to neighbours while the foot lies beyond the piece's ends. It stays on open chains.
func (c Chain) walk(frames []frame, q geom.Point, i int, near float64) foot {
	n := len(c.Pieces)
	came := 0
	for range steps {
		p := c.Pieces[i]
		f := p.project(frames[i], q, near)
		f.piece = i
		switch {
		case f.along > p.Length && came >= 0 && (i+1 < n || c.Closed):
			i, near, came = (i+1)%n, 0, 1
		case f.along < 0 && came <= 0 && (i > 0 || c.Closed):
			i, came = (i+n-1)%n, -1
			near = c.Pieces[i].Length
		default:
			return f
		}
	}
	f := c.Pieces[i].project(frames[i], q, near)
	f.piece = i
	return f
}
