package build

import "strapwork/pkg/diag"

// Inlay is the picture of a job's inlay, an SVG, for those who want nothing else of it. With
// errors among what was found there is none.
func (g *Graph) Inlay(file string, data []byte) ([]byte, diag.Findings) {
	var picture []byte
	r := g.answer(file, func() Result {
		a := g.asking(Options{})
		r := a.read(file, data, a.forProgram())
		if r.Job == nil {
			return r
		}
		a.plane(&r)
		picture = a.inlay(&r)
		return r
	})
	return picture, r.Findings
}

// inlay lays the strips and draws them; nil if there is an error by then.
func (a *asking) inlay(r *Result) []byte {
	a.layStrips(*r)
	if r.Findings.Add(a.strips.Found...); r.Findings.HasErrors() {
		return nil
	}
	p := ask(a.Graph, "picture", pictureIn{a.shown(*r), r.Job.Title, nil}, makePicture)
	r.Findings.Add(p.Found...)
	return p.Value.svg
}
