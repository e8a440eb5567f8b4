package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var guillocheFamily = Family{
	Name: "guilloche", About: "bands that wave about a line or a ring and cross between round eyes", Size: "pitch", Other: "ring",
	keys: []conf.Key{
		sizeKey("pitch", "from one crossing to the next", conf.Typed{"40", "1.5"}),
		{Name: "eyes", Is: conf.Whole, Range: conf.From(2, 60), Said: "6", Quiet: true, Example: conf.Typed{"6"}, Help: "how many eyes a straight one has"},
		{Name: "count", Is: conf.Whole, Range: conf.From(4, 96), Said: "it is straight", Quiet: true, Example: conf.Typed{"12"}, Help: "how many eyes a round one has: with it the guilloche is round"},
		{Name: "ring", Is: conf.Length, Range: conf.Positive, Said: "from the pitch", Quiet: true, Example: conf.Typed{"80", "3"}, Help: "of a round one, in place of pitch: radius of the circle on which its bands cross"},
		proportionKey("rise", "how far the bands of a straight one rise above the line", "a quarter of the pitch", conf.Typed{"10", "3/8"}),
		{Name: "angle", Is: conf.Angle, Range: conf.Positive, Said: "from the rise; 50 if it is round", Quiet: true, Example: conf.Typed{"50"}, Help: "how steeply the bands cross the line; with rise as well, they are straight where they cross"},
		{Name: "bands", Is: conf.Whole, Range: conf.From(2, 4), Said: "2", Quiet: true, Example: conf.Typed{"3"}, Help: "how many bands a straight one has"},
		{Name: "ends", Is: conf.Word, Words: []string{"meet", "loose"}, Said: "meet for two bands", Quiet: true, Example: conf.Typed{`"loose"`}, Help: "two bands meet at the ends, as one strand, or end half-way between crossings; three or four are loose"},
	},
	read: func(t conf.Section) family.Pattern {
		if t.Given("count") {
			if at := firstGiven(t, "eyes", "rise", "ends", "bands"); at != "" {
				t.Errorf(t.Get(at), ruleConflict, "%s is for a straight guilloche, and count makes it round", at).Hintf("remove one of them")
				return nil
			}
		} else if at := t.Get("ring"); at != nil {
			t.Errorf(at, ruleConflict, "ring is for a round guilloche, which has count").Hintf("write count = 12, or pitch in place of ring")
			return nil
		}
		p := family.Guilloche{Pitch: t.Length("pitch"), Eyes: 6, Bands: 2}
		ok := optional(t, "ring", &p.Ring) && optional(t, "rise", &p.Rise)
		for _, whole := range []struct {
			key string
			to  *int
		}{{"count", &p.Count}, {"eyes", &p.Eyes}, {"bands", &p.Bands}} {
			if t.Given(whole.key) {
				*whole.to = t.Count(whole.key)
				ok = ok && *whole.to > 0
			}
		}
		if t.Given("angle") {
			p.Angle = t.Angle("angle")
			ok = ok && !math.IsNaN(p.Angle)
		}
		p.Loose = p.Bands > 2
		if t.Given("ends") {
			ends := t.Word("ends")
			p.Loose = ends == 1
			ok = ok && ends >= 0
		}
		if !ok {
			return nil
		}
		return p
	},
}

// firstGiven is the first of some keys that is given; "" if none is.
func firstGiven(t conf.Section, keys ...string) string {
	for _, key := range keys {
		if t.Given(key) {
			return key
		}
	}
	return ""
}
