package motif

import (
	"strconv"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
)

// A piece is one copy of an element, before it is joined to others.
type piece struct {
	contour geom.Contour
	source  Source
}

// Build copies the job's elements, merges copies that fall on one another and
// joins ends that meet. The strands are those of the first-listed elements
// first. Errors are elements too short to see and places where three or more
// ends meet, which are left unjoined; ends that nearly meet are warnings. The
// motif is usable whatever was found.
func Build(j *job.Job) (Motif, diag.Findings) {
	var found diag.Findings
	pieces := merged(copied(j.Motif, &found))
	var m Motif
	for _, p := range pieces {
		m.Sources = append(m.Sources, p.source)
	}
	mates := joints(pieces, &found)
	used := make([]bool, len(pieces))
	for i := range pieces {
		if used[i] {
			continue
		}
		links, closed := follow(pieces, mates, i)
		for _, l := range links {
			used[l.piece] = true
		}
		id := "s" + strconv.Itoa(len(m.Strands)+1)
		m.Strands = append(m.Strands, strand(id, pieces, links, closed))
	}
	return m, found
}

// copied returns the copies of all elements, by element, then by number.
func copied(m job.Motif, found *diag.Findings) []piece {
	n := max(1, m.Copies)
	var pieces []piece
	for i, e := range m.Elements {
		c := welded(e.Contour)
		if c.Len() == 0 || c.Length() < Joint {
			found.Errorf(e.Pos, "element-short", "%s is shorter than %g mm", e.Name, Joint).
				Hintf("leave it out, or check its end points and their units")
			continue
		}
		add := func(k, nth int, mirrored bool) {
			t := geom.TurningFraction(k, n)
			if mirrored {
				t = geom.MirrorX().Then(t)
			}
			name := e.Name + "." + strconv.Itoa(nth)
			pieces = append(pieces, piece{t.Contour(c), Source{name, i, nth, mirrored, e.Pos}})
		}
		for k := range n {
			add(k, k+1, false)
		}
		for k := 0; k < n && m.Mirror; k++ {
			add(k, n+k+1, true)
		}
	}
	return pieces
}

// welded returns c without the edges that are too short to have a direction.
func welded(c geom.Contour) geom.Contour {
	var vs []geom.Vertex
	for i, v := range c.Vertices {
		if i < c.Len() && c.Edge(i).Length() < Joint {
			continue // the next vertex takes its place
		}
		vs = append(vs, v)
	}
	return geom.Contour{Vertices: vs, Closed: c.Closed}
}

// merged returns pieces without those that run on the whole of an earlier one.
func merged(pieces []piece) []piece {
	// Pieces that are the same have the same box, so only pieces whose boxes
	// share a corner are compared.
	boxes := make([]geom.Box, len(pieces))
	corners := make([]geom.Box, len(pieces))
	for i, p := range pieces {
		boxes[i] = p.contour.Bounds()
		corners[i] = geom.Box{Min: boxes[i].Min, Max: boxes[i].Min}
	}
	again := make([]bool, len(pieces))
	geom.NewIndex(corners).Pairs(Joint, func(i, j int) bool {
		if !again[j] && boxes[i].Max.Near(boxes[j].Max, 2*Joint) {
			again[j] = same(pieces[i].contour, pieces[j].contour)
		}
		return true
	})
	var kept []piece
	for i, p := range pieces {
		if !again[i] {
			kept = append(kept, p)
		}
	}
	return kept
}

// same reports whether a and b are one curve, wherever they start and
// whichever way they run.
func same(a, b geom.Contour) bool { return liesOn(a, b) && liesOn(b, a) }

// liesOn reports whether a runs on b. Five points of each edge are tried: two
// lines or circles that are not the same have at most two in common.
func liesOn(a, b geom.Contour) bool {
	edges := b.Edges()
	boxes := make([]geom.Box, len(edges))
	for i, e := range edges {
		boxes[i] = e.Bounds()
	}
	index := geom.NewIndex(boxes)
	near := func(p geom.Point) bool {
		hit := false
		index.Search(geom.Box{Min: p, Max: p}.Expand(Joint), func(i int) bool {
			hit = edges[i].Dist(p) <= Joint
			return !hit
		})
		return hit
	}
	for _, e := range a.Edges() {
		for _, t := range [5]float64{0, 0.25, 0.5, 0.75, 1} {
			if !near(e.At(t)) {
				return false
			}
		}
	}
	return true
}
