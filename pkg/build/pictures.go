package build

import (
	"bytes"
	"fmt"
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/paper"
	"strapwork/pkg/setup"
	"strapwork/pkg/sheet"
	"strapwork/pkg/svg"
	"strapwork/pkg/template"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// SetUpPath is the path of the picture of a set-up, counted from 1 in the order
// of work.
func SetUpPath(number int) string { return fmt.Sprintf("templates/set-up-%d.svg", number) }

// setUpRole is the role of a set-up's picture, and stepsRole that of the one of the rail that
// panels are stepped along, at StepsPath.
const (
	setUpRole = "set-up"
	stepsRole = "steps"
	StepsPath = "templates/steps.svg"
)

// A drawnPicture is a picture and its file.
type drawnPicture struct {
	picture sheet.Picture
	svg     []byte
}

func writePicture(p sheet.Picture) ([]byte, error) {
	var b bytes.Buffer
	err := svg.WritePicture(&b, p)
	return b.Bytes(), err
}

func (w *writer) addPicture(path, role string, p drawnPicture) {
	w.Pictures = append(w.Pictures, paper.Illustration{Path: path, Picture: p.picture})
	w.Files = append(w.Files, File{Path: path, Kind: SVG, Role: role, Data: p.svg})
}

type setUpsIn struct {
	Params setup.Params
	Groove made[groove.Groove]
	Set    made[template.Set]
}

func makeSetUps(in setUpsIn) (list []drawnPicture, found diag.Findings) {
	for i, p := range setup.Pictures(in.Params, in.Groove.Value, in.Set.Value) {
		data, err := writePicture(p)
		if err != nil {
			found.Errorf("template", "picture", "the picture of set-up %d can't be drawn: %v", i+1, err).
				Hintf("make the motif a little smaller")
			break
		}
		list = append(list, drawnPicture{p, data})
	}
	return list, found
}

// makeSteps draws the whole rail; nothing where there is none.
func makeSteps(in setUpsIn) (_ drawnPicture, found diag.Findings) {
	p, ok := setup.Steps(in.Params, in.Groove.Value, in.Set.Value)
	if !ok {
		return drawnPicture{}, nil
	}
	data, err := writePicture(p)
	if err != nil {
		found.Errorf("template", "picture", "the picture of the rail can't be drawn: %v", err).
			Hintf("make the motif a little smaller")
	}
	return drawnPicture{p, data}, found
}

// Cards are the pictures of the set-ups for the cutting card, each printed at a size in
// mm; none where nothing is cut through panels.
func (r Result) Cards(size geom.Point) []setup.Card {
	return setup.Cards(SetupParams(r.Job), r.Groove, r.Set, size)
}

// setUpPictures draws every set-up.
func (w *writer) setUpPictures() {
	p := ask(w.a.Graph, "set-ups", setUpsIn{SetupParams(w.Job), w.a.groove, w.marked}, makeSetUps)
	w.Findings.Add(p.Found...)
	for i, p := range p.Value {
		w.addPicture(SetUpPath(i+1), setUpRole, p)
	}
	if w.Set.Rail == nil {
		return
	}
	steps := ask(w.a.Graph, "steps", setUpsIn{SetupParams(w.Job), w.a.groove, w.marked}, makeSteps)
	w.Findings.Add(steps.Found...)
	w.addPicture(StepsPath, stepsRole, steps.Value)
}

type detailedIn struct {
	pictureIn
	Groove work.Inlay
	Motif  made[motif.Motif]
	Weave  made[weave.Weave]
	Joints []float64 // x of a table's
}

// makeDetailed draws the inlay with a groove's section and a crossing enlarged.
func makeDetailed(in detailedIn) (_ drawnPicture, found diag.Findings) {
	d := inlay.Detail{Groove: in.Groove, Crossing: clearest(in.Motif.Value, in.Weave.Value, in.Groove.Width, in.Joints)}
	pic := in.Strips.Value.Detailed(in.Title, d, in.Numbers...)
	data, err := writePicture(pic)
	if err != nil {
		found.Errorf("inlay", "picture", "the picture of the inlay can't be drawn: %v", err).
			Hintf("build --only templates leaves it out")
	}
	return drawnPicture{pic, data}, found
}

// clearest is the first crossing that has nothing of another or a joint near it, or else the one
// that is furthest from them; nil where there is none.
func clearest(m motif.Motif, w weave.Weave, wide float64, joints []float64) *inlay.Crossing {
	const enough = 6 // widths of the groove
	best, at := -1.0, -1
	for i, c := range w.Crossings {
		apart := enough * wide
		for k, o := range w.Crossings {
			if k != i {
				apart = math.Min(apart, c.At.Dist(o.At))
			}
		}
		for _, x := range joints {
			apart = math.Min(apart, math.Abs(c.At.X-x))
		}
		if apart > best+geom.Coincident {
			best, at = apart, i
		}
	}
	if at < 0 {
		return nil
	}
	of := func(v weave.Visit) inlay.Passage {
		s := m.Strands[v.Strand]
		_, along := s.Contour.At(v.S)
		return inlay.Passage{Name: m.Sources[s.Source(v.S)].Name, Along: along}
	}
	c := w.Crossings[at]
	return &inlay.Crossing{At: c.At, Over: of(c.Upper()), Under: of(c.Lower())}
}
