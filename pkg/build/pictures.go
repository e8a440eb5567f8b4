package build

import (
	"bytes"
	"fmt"

	"strapwork/pkg/paper"
	"strapwork/pkg/setup"
	"strapwork/pkg/svg"
)

// SetUpPath is the path of the picture of a set-up, counted from 1 in the order
// of work.
func SetUpPath(number int) string { return fmt.Sprintf("templates/set-up-%d.svg", number) }

// setUpRole is the role of a set-up's picture.
const setUpRole = "set-up"

// setUpPictures draws every set-up.
func (r *Result) setUpPictures() {
	for i, p := range setup.Pictures(SetupParams(r.Job), r.Groove, r.Set) {
		var b bytes.Buffer
		if err := svg.WritePicture(&b, p); err != nil {
			r.Findings.Errorf("template", "picture", "the picture of set-up %d can't be drawn: %v", i+1, err).
				Hintf("make the motif a little smaller")
			return
		}
		r.Pictures = append(r.Pictures, paper.Illustration{Path: SetUpPath(i + 1), Picture: p})
		r.Files = append(r.Files, File{Path: SetUpPath(i + 1), Kind: SVG, Role: setUpRole, Data: b.Bytes()})
	}
}
