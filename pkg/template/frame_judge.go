package template

// What a frame lacks, and what would give it that.

import (
	"math"

	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// judge tells what the frame lacks in itself.
func (f *LocatingFrame) judge(j Params, panels Shape, shop profile.Shop) {
	const key = "template.frame"
	n := panels.Len()
	if f.Key.Radius == 0 {
		// A side grows by this tangent at either end for each mm of margin.
		short := keySide(keyFor(f.Gap), j.Template.Web) - panels.Length(0)
		margin := unit.AtLeast(drawnMargin(j) + short/(2*math.Tan(math.Pi/float64(n))))
		f.found.Warnf(key, "key-none", "panels with %d sides of %s have no room for a key: nothing stops them being laid the wrong way", n, unit.Len(panels.Length(0))).
			Hintf("go by the positions' marks; or make margin at least %s", margin).Propose("template.margin", margin)
	} else if least := f.Key.Radius + keyBehind + j.Template.Web; f.Width < least {
		f.found.Warnf(key, "frame-thin", "a frame of %s is weak at the key's recess", unit.Len(f.Width)).
			Hintf("make frame at least %s", unit.AtLeast(least)).Propose("template.frame", unit.AtLeast(least))
	}
	if f.Clear < clampRoom {
		wider := unit.AtLeast(f.Width + clampRoom - f.Clear)
		f.found.Warnf(key, "clamp-room", "the router's base passes within %s of the frame's outer edge: there is no room for clamps", unit.Len(math.Max(0, f.Clear))).
			Hintf("make frame at least %s, or fix the frame with screws only", wider).Propose("template.frame", wider)
	}
	f.judgeBed(j, shop)
}

// judgeScrews tells of screws that found no place, and how wide a frame would
// have room for them.
func (s *Set) judgeScrews(j Params, draw func(j Params) *LocatingFrame) {
	f := s.Frame
	if len(f.Screws) >= f.wanted || f.found.HasErrors() {
		return
	}
	found := s.Found.Warnf("template.frame", "screw-none", "there is room for only %d of %d screws that the base would not run into", len(f.Screws), f.wanted)
	step := widerStep
	if j.Units == unit.Inch {
		step = unit.MMPerInch / 4
	}
	for i := 1; i <= widerMost; i++ {
		k := j
		k.Template.Frame = (math.Floor(f.Width/step) + float64(i)) * step
		if g := draw(k); len(g.Screws) >= g.wanted {
			wider := unit.Len(k.Template.Frame)
			found.Hintf("make frame at least %s, or clamp it", wider).Propose("template.frame", wider)
			return
		}
	}
	found.Hintf("clamp it")
}

const (
	widerStep = 5.0 // mm, between the widths of a frame that are tried
	widerMost = 20  // of them
)
