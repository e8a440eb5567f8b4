// Package profile holds what is known of the shops that cut templates (the
// machine, the bed, and the layers that its drawings want), of paper and
// printers, of the machines and bits that groove the board itself, and of how far the
// woods and metals of strips can be bent.
package profile

import (
	"strings"

	"strapwork/pkg/unit"
)

// Cutter is the kind of machine.
type Cutter int

const (
	// Laser burns a line of the kerf's width.
	Laser Cutter = iota
	// Router cuts with a round cutter, whose width its operator allows for.
	Router
)

var cutterWords = [...]string{
	Laser:  "laser",
	Router: "router",
}

// String is the cutter's word in a profile.
func (c Cutter) String() string { return unit.Word(cutterWords[:], c, "cutter") }

// Roles are the layers of a template drawing: what is cut first, the pin and
// screw holes, what is cut last, the marks, and what is not for the machine.
func Roles() []string { return []string{"OPENING", "PIN", "EDGE", "MARK", "NOTE"} }

// A Layer is what a shop wants a role's layer to be like.
type Layer struct {
	Name  string
	Color int // 1 to 255, as DXF group 62 has it (DXF Reference, common group codes)
}

// A Shop is a cutting profile.
type Shop struct {
	Name      string // of a built-in one, or the path it was read from
	About     string
	Cutter    Cutter
	Units     unit.System // of its drawings
	Bed       [2]float64  // mm
	Tolerance float64     // what the shop holds, mm
	// CutterDiameter is a router's, in mm, which bounds how sharp an inside
	// corner can be; 0 for a laser.
	CutterDiameter float64
	layers         map[string]Layer
}

// Layer is the layer for a role (OPENING, PIN, EDGE, MARK or NOTE). What the
// profile says nothing of is called like the role, in the colour 7, which is
// black on white and white on black.
func (s Shop) Layer(role string) Layer {
	if l, ok := s.layers[role]; ok {
		return l
	}
	return Layer{Name: role, Color: 7}
}

// Plain is the shop that a job gets which names none: millimetres, layers
// called like their roles, and a bed of unknown size (0).
func Plain() Shop { return Shop{Name: "", About: "no particular shop", Tolerance: 0.1} }

// List is all built-in profiles, by name.
func List() []Shop {
	var shops []Shop
	for _, n := range namesOf(kindShop) {
		if s, err := Open(n, nil); err == nil { // a test reads every one of them
			shops = append(shops, s)
		}
	}
	return shops
}

// Open finds a profile: a built-in one by its name, or a file if name holds a
// slash or ends in .toml, read with readFile, which takes a path as it is
// written in the job. The error is a diag.Findings. Findings about the name
// itself carry no position, for the caller to say where it was written.
func Open(name string, readFile func(path string) ([]byte, error)) (Shop, error) {
	data, file, err := open(kindShop, name, readFile)
	if err != nil {
		return Shop{}, err
	}
	return Parse(name, file, data)
}

// IsPath reports whether a profile is named by its file and not by a built-in name:
// it holds a slash or ends in .toml.
func IsPath(name string) bool {
	return strings.ContainsAny(name, `/\`) || strings.HasSuffix(name, ".toml")
}
