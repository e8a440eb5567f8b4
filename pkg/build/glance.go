package build

import "strapwork/pkg/diag"

// Glance draws what can be seen of a job before anything is planned. Its motif, as Draw
// draws it, has what is found as far as its grooves, and goes to motif as soon as it is
// drawn; then comes the picture of the inlay, nil if there was an error by then. Both are
// there within a tenth of a second where a plan takes many.
func (g *Graph) Glance(file string, data []byte, motif func(Sketch)) (inlay []byte, found diag.Findings) {
	shown := false
	r := g.answer(file, func() Result {
		a := g.asking(Options{})
		a.unshared = true
		var s Sketch
		r := a.drawn(file, data)
		a.sketch(&r, &s)
		s.Result = r
		s.tidy()
		motif(s)
		shown = true
		if r.Reached == Grooved {
			inlay = a.inlay(&r)
		}
		return r
	})
	if !shown {
		motif(Sketch{Result: r})
	}
	return inlay, r.Findings
}

// BuildDrawn is Build, with a picture of the motif that has all in its place that Build
// found.
func (g *Graph) BuildDrawn(file string, data []byte, o Options) (s Sketch) {
	s.Result = g.answer(file, func() Result {
		a := g.asking(o)
		r := a.build(file, data)
		a.sketch(&r, &s)
		return r
	})
	return s
}
