package arcfit

import (
	"math"

	"strapwork/pkg/geom"
)

// Moments are weighted sums of coordinates from an origin of their own, from which the
// circle or line that lies best to many points is found at once: V. Pratt, "Direct
// least-squares fitting of algebraic surfaces", 1987, by Newton's method from below.
type moments struct {
	origin                                  geom.Point
	w, x, y, xx, xy, yy, xxx, xxy, xyy, yyy float64
	zz                                      float64 // of (x^2 + y^2)^2
	n                                       int
}

func (m *moments) add(p geom.Point, w float64) {
	x, y := p.X-m.origin.X, p.Y-m.origin.Y
	wx, wy := w*x, w*y
	xx, yy := float64(x*x), float64(y*y)
	z := xx + yy
	m.n++
	m.w += w
	m.x += float64(wx)
	m.y += float64(wy)
	m.xx += float64(w * xx)
	m.xy += float64(wx * y)
	m.yy += float64(w * yy)
	m.xxx += float64(wx * xx)
	m.xxy += float64(wy * xx)
	m.xyy += float64(wx * yy)
	m.yyy += float64(wy * yy)
	m.zz += float64(w * float64(z*z))
}

// A carrier is a whole line or circle: a point on it, the direction there and the
// curvature, and the mean square of the points' distances.
type carrier struct {
	frame     frame
	curvature float64
	square    float64
}

// fit is the circle or line for which the mean square of the distances is least. Its frame is at the
// place nearest to the points' centroid, and heads along toward.
func (m *moments) fit(toward geom.Point) carrier {
	inv := 1 / m.w
	cx, cy := float64(m.x*inv), float64(m.y*inv)
	// Central moments.
	xx := float64(m.xx*inv) - float64(cx*cx)
	yy := float64(m.yy*inv) - float64(cy*cy)
	xy := float64(m.xy*inv) - float64(cx*cy)
	rawXX, rawYY, rawXY := m.xx*inv, m.yy*inv, m.xy*inv
	cz := float64(cx*cx) + float64(cy*cy)
	// z of a point about the centroid is x^2 + y^2 - 2 cx x - 2 cy y + cz, in raw coordinates.
	zx := float64((m.xxx+m.xyy)*inv) - float64(2*cx*rawXX) - float64(2*cy*rawXY) + float64(cz*cx)
	zy := float64((m.xxy+m.yyy)*inv) - float64(2*cx*rawXY) - float64(2*cy*rawYY) + float64(cz*cy)
	zm := xx + yy
	xz, yz := zx-float64(cx*zm), zy-float64(cy*zm)
	zz := float64(m.zz*inv) - float64(4*cx*(m.xxx+m.xyy)*inv) - float64(4*cy*(m.xxy+m.yyy)*inv) + float64(2*cz*(rawXX+rawYY)) +
		float64(4*cx*cx*rawXX) + float64(8*float64(cx*cy)*rawXY) + float64(4*cy*cy*rawYY) -
		float64(4*cz*cz) + float64(cz*cz)
	cov := float64(xx*yy) - float64(xy*xy)
	a2 := float64(4*cov) - float64(3*zm*zm) - zz
	a1 := float64(zz*zm) + float64(4*cov*zm) - float64(xz*xz) - float64(yz*yz) - float64(zm*zm*zm)
	a0 := float64(xz*xz*yy) + float64(yz*yz*xx) - float64(zz*cov) - float64(2*xz*yz*xy) + float64(zm*zm*cov)
	center := geom.Point{X: m.origin.X + cx, Y: m.origin.Y + cy}
	if cov <= flat*zm*zm {
		return line(center, toward, max(0, cov/max(zm, math.SmallestNonzeroFloat64)), xx, xy, yy)
	}
	eta := 0.0
	for range 12 { // quadratic convergence; most need 3
		value := a0 + float64(eta*(a1+float64(eta*(a2+float64(4*eta*eta)))))
		slope := a1 + float64(eta*(2*a2+float64(16*eta*eta)))
		next := eta - value/slope
		if !(next > eta) || next > zm {
			break
		}
		done := next-eta <= 1e-9*next
		eta = next
		if done {
			break
		}
	}
	// The circle A z + B x + C y + D = 0 about the centroid, with A = det and gradient g there.
	det := float64(eta*eta) - float64(eta*zm) + cov
	g := geom.Point{X: float64(xz*(yy-eta)) - float64(yz*xy), Y: float64(yz*(xx-eta)) - float64(xz*xy)}
	d := -float64(det * (zm + 2*eta))
	scale := math.Sqrt(max(0, g.Dot(g)-float64(4*det*d)))
	if scale <= 0 || det == 0 {
		return line(center, toward, eta, xx, xy, yy)
	}
	middle, radius := g.Scale(1/(2*det)), scale/(2*math.Abs(det))
	to := middle.Scale(-1).Unit() // from the middle to the place nearest to the centroid
	if to == (geom.Point{}) {
		to = geom.Point{X: 1}
	}
	at := center.Add(middle).Add(to.Scale(radius))
	way, curvature := to.Left(), 1/radius
	if way.Dot(toward) < 0 {
		way, curvature = way.Scale(-1), -curvature
	}
	return carrier{newFrame(at, way.Angle()), curvature, eta}
}

// flat is the ratio of the determinant of the covariance to the square of its trace under which
// points lie on a line: to one part in three million of their spread, which is about what the sums of
// fourth powers can resolve.
const flat = 1e-13

// line is the line along which points spread, through their centroid.
func line(center, toward geom.Point, square, xx, xy, yy float64) carrier {
	angle := math.Atan2(2*xy, xx-yy) / 2
	f := newFrame(center, angle)
	if f.way.Dot(toward) < 0 {
		f = newFrame(center, angle+math.Pi)
	}
	return carrier{f, 0, square}
}

// off is how far left of the carrier p lies.
func (c carrier) off(p geom.Point) float64 {
	return Piece{Curvature: c.curvature}.project(c.frame, p, 0).off
}

// oneCircle reports whether some circle or line lies within tol of all points. Weights are
// moved to the points that are farthest off (Lawson 1961): the mean square under any weights is at most the
// square of the least greatest distance, so that a "no" is certain; where neither is, it says yes.
func oneCircle(points []geom.Point, tol float64) bool {
	if len(points) <= 3 {
		return true
	}
	weights := make([]float64, len(points))
	for i := range weights {
		weights[i] = 1
	}
	toward := points[len(points)-1].Sub(points[0])
	for range 30 {
		m := moments{origin: points[0]}
		for i, p := range points {
			m.add(p, weights[i])
		}
		c := m.fit(toward)
		if c.square > tol*tol {
			return false
		}
		most := 0.0
		for _, p := range points {
			most = max(most, math.Abs(c.off(p)))
		}
		if most <= tol {
			return true
		}
		sum := 0.0
		for i, p := range points {
			weights[i] *= math.Abs(c.off(p))/most + 1e-9
			sum += weights[i]
		}
		for i := range weights {
			weights[i] /= sum
		}
	}
	return true
}

// reach is the largest j for which points[i:j] lie within tol of one circle. What
// lies in a stretch that one circle fits is fitted by it too, so it can be searched for
// by doubling and halving.
func reach(points []geom.Point, i int, tol float64) int {
	n := len(points)
	good, step := min(i+3, n), 3
	bad := n + 1
	for good < n {
		next := min(good+step, n)
		if !oneCircle(points[i:next], tol) {
			bad = next
			break
		}
		good, step = next, 2*step
	}
	for bad-good > 1 && good < n {
		mid := (good + bad) / 2
		if oneCircle(points[i:mid], tol) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}

// longest are the points at which runs begin, each the longest that lies within tol of one circle or line,
// and the number of points: no fewer circles do, each point having one to which it belongs.
func longest(points []geom.Point, tol float64) []int {
	runs := []int{0}
	for i := 0; i < len(points); {
		i = reach(points, i, tol)
		runs = append(runs, i)
	}
	return runs
}
