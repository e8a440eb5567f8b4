package template

import (
	"strapwork/pkg/fixture"
	"strapwork/pkg/profile"
	"strapwork/pkg/work"
)

// Fits reports whether all panels fit a bed, whole or in parts.
func (s Set) Fits(t work.Template, bed [2]float64) bool {
	for _, p := range s.Panels {
		if !fixture.FitsBed(p.Outline, bed) && p.divide(s.Shape, bed, t.Web, panelKey(profile.Plain())) == nil {
			return false
		}
	}
	return true
}

// panelKey is the key for the joints of panels as a shop cuts it.
func panelKey(shop profile.Shop) fixture.JointKey {
	return fixture.NewJointKey(wholeWidth, fixture.ReliefRadius(shop))
}
