package report

import "strapwork/pkg/aids"

// barFacts is the bar on which a router swings about a pin, in place of panels and
// set-ups.
type barFacts struct {
	Pin     num
	Holes   []holeFacts // from the bit outwards
	Circles []circleFacts
}

type holeFacts struct {
	Label    string
	Distance num // from the bit's centre
}

// circleFacts is what is swung about one place of the pin.
type circleFacts struct {
	Elements []string
	Center   xy
	Radius   num
	Full     bool        // a whole turn
	Holes    []holeFacts // from the inner wall to the outer
}

func newBar(p aids.Pivot) barFacts {
	out := barFacts{Pin: aids.PivotPin}
	for _, h := range p.Holes {
		out.Holes = append(out.Holes, holeFacts{h.Label, num(h.Distance)})
	}
	for _, c := range p.Circles {
		out.Circles = append(out.Circles, circleFacts{
			c.Elements, toXY(c.Center), num(c.Radius), c.Full, each(c.Holes, func(i int) holeFacts { return out.Holes[i] }),
		})
	}
	return out
}
