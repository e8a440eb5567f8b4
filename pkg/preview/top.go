package preview

import "strapwork/pkg/geom"

// Top is a table top that comes apart. InlayPicture and Strips have it with all sections in, from
// its front left corner.
type Top struct {
	Width        float64      // across, along every joint
	Sections     []TopSection // from left to right, all leaves in
	Arrangements []Arrangement
}

// TopSection is an end or a leaf.
type TopSection struct {
	Name    string       // "leaf 2"
	Left    float64      // where its left edge lies in InlayPicture
	Length  float64      // along x
	Outline geom.Contour // from its front left corner
}

// Arrangement is sections put together.
type Arrangement struct {
	Name   string // "no leaf", "2 leaves"
	Length float64
	Placed []Placed // from left to right
}

// Placed is a section in an arrangement.
type Placed struct {
	Section int     // index into Top.Sections
	X       float64 // of its left edge
	Turned  bool    // end for end
}

type headTop struct {
	Width        num               `json:"width"`
	Sections     []headTopSection  `json:"sections"`
	Arrangements []headArrangement `json:"arrangements"`
}

type headTopSection struct {
	Name    string  `json:"name"`
	Left    num     `json:"left"`
	Length  num     `json:"length"`
	Outline outline `json:"outline"`
}

type headArrangement struct {
	Name   string       `json:"name"`
	Length num          `json:"length"`
	Placed []headPlaced `json:"placed"`
}

type headPlaced struct {
	Section int  `json:"section"`
	X       num  `json:"x"`
	Turned  bool `json:"turned,omitempty"`
}

func topOf(t *Top) *headTop {
	if t == nil {
		return nil
	}
	return &headTop{
		Width: num(t.Width),
		Sections: each(t.Sections, func(s TopSection) headTopSection {
			return headTopSection{s.Name, num(s.Left), num(s.Length), outlineOf(s.Outline)}
		}),
		Arrangements: each(t.Arrangements, func(a Arrangement) headArrangement {
			return headArrangement{a.Name, num(a.Length), each(a.Placed, func(p Placed) headPlaced { return headPlaced{p.Section, num(p.X), p.Turned} })}
		}),
	}
}
