package build

import (
	"bytes"
	"fmt"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/paper"
	"strapwork/pkg/setup"
	"strapwork/pkg/sheet"
	"strapwork/pkg/svg"
	"strapwork/pkg/template"
)

// SetUpPath is the path of the picture of a set-up, counted from 1 in the order
// of work.
func SetUpPath(number int) string { return fmt.Sprintf("templates/set-up-%d.svg", number) }

// setUpRole is the role of a set-up's picture.
const setUpRole = "set-up"

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
}
