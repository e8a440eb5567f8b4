package template

// Panels that are stepped slide along a rail, and no frame goes round them.

import (
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
)

// alongRail gives panels that are stepped their outlines, and their rail and index plates
// where the job wants any. offset is of the bit's middle to either side of the cuts' lines,
// mm.
func (s *Set) alongRail(want fixture.Params, offset float64, shop profile.Shop) {
	list := make([]fixture.Sliding, len(s.Panels))
	for i, p := range s.Panels {
		list[i] = fixture.Sliding{ID: p.ID}
		for _, o := range p.Openings {
			list[i].Areas, list[i].Lines = append(list[i].Areas, o.Area), append(list[i].Lines, o.Cut.Line)
		}
	}
	for _, u := range s.Plan.SetUps {
		list[u.Panel].Lays = append(list[u.Panel].Lays, fixture.Lay{SetUp: u.Number, Position: u.Position})
	}
	rail, slides, found := fixture.NewRail(want, offset, list, s.Plan.Step.Pitch, shop)
	s.Found.Add(found...)
	if s.Rail = rail; rail == nil {
		return
	}
	for i := range s.Panels {
		p := &s.Panels[i]
		p.Shape, p.Plates = slides[i].Shape, slides[i].Plates
		s.finish(want.Template, p, fixture.Key{}, shop)
	}
	s.Shape = s.Panels[0].Shape
}

// plates are the index plates of all panels.
func (s Set) plates() []fixture.Plate {
	var all []fixture.Plate
	for _, p := range s.Panels {
		all = append(all, p.Plates...)
	}
	return all
}

// PlatePins are the holes by which a panel's index plates are pinned to it.
func (p Panel) PlatePins() []geom.Point {
	var all []geom.Point
	for _, q := range p.Plates {
		all = append(all, q.Pins()...)
	}
	return all
}
