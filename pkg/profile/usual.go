package profile

// What is usual for a straight bit that has no profile: the built-in bits' tables,
// interpolated by diameter. The tables are common practice for hardwood on a bench
// machine, from memory and on the gentle side: charts for stiff machines go to about
// twice their greatest chip loads.

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"strapwork/pkg/unit"
)

const (
	// UsualSpeed in rpm is where small spindles for wood run
	// quietly and still cut cleanly (common practice).
	UsualSpeed = 16000
	// speedStep is to what speeds that are worked out are rounded.
	speedStep = 100
	// plungePart is the part of the feed at which a bit goes straight down, where
	// its edges cut least and chips get out worst (common practice: a quarter to a
	// third).
	plungePart = 0.25
	// mostPlungePart of the greatest feed is the most that a bit stands straight
	// down (common practice).
	mostPlungePart = 0.5
)

// tables are the built-in bits by diameter.
var tables = sync.OnceValue(func() []Bit {
	list := Bits()
	slices.SortFunc(list, func(a, b Bit) int { return cmp.Compare(a.Diameter, b.Diameter) })
	return list
})

// Usual is what the built-in bits say of a straight bit of a diameter in mm whose
// profile nobody named. Between two of them its chip load and speeds are
// interpolated; below the smallest chip load and surface speed go with the diameter,
// so that the rpm stay; above the largest they are the largest's. How
// many flutes it has isn't known: it is taken to have one, since a bit with more
// only takes less a tooth. From says which bits its numbers come from.
func Usual(diameter float64) Bit {
	list := tables()
	first, last := list[0], list[len(list)-1]
	b := Bit{Diameter: diameter, Flutes: 1}
	switch {
	case !(diameter > first.Diameter):
		b.take(first, first, 0)
		share := diameter / first.Diameter
		for i := range b.ChipLoad {
			b.ChipLoad[i] *= share
			b.Surface[i] *= share
		}
	case diameter >= last.Diameter:
		b.take(last, last, 0)
	default:
		i, _ := slices.BinarySearchFunc(list, diameter, func(b Bit, d float64) int { return cmp.Compare(b.Diameter, d) })
		below, above := list[i-1], list[i]
		b.take(below, above, (diameter-below.Diameter)/(above.Diameter-below.Diameter))
	}
	return b
}

// take gives b the numbers between those of two bits, share of the way from the
// first.
func (b *Bit) take(below, above Bit, share float64) {
	between := func(u, v float64) float64 { return u + share*(v-u) }
	for i := range b.ChipLoad {
		b.ChipLoad[i] = between(below.ChipLoad[i], above.ChipLoad[i])
		b.Surface[i] = between(below.Surface[i], above.Surface[i])
	}
	b.MaxSpeed = math.Floor(between(below.MaxSpeed, above.MaxSpeed)/speedStep) * speedStep
	b.From = [2]float64{below.Diameter, above.Diameter}
	if share == 1 {
		b.From[0] = above.Diameter
	}
}

// Filled is b with what its profile leaves out as is usual for its diameter.
func (b Bit) Filled() Bit {
	u := Usual(b.Diameter)
	if b.ChipLoad[1] == 0 {
		b.ChipLoad, b.From = u.ChipLoad, u.From
	}
	if b.Surface[1] == 0 {
		b.Surface = u.Surface
	}
	if b.MaxSpeed == 0 {
		b.MaxSpeed = u.MaxSpeed
	}
	return b
}

// UsualChip is the chip load in mm at which a feed is worked out: the upper end of
// the lower half of the bit's range, which is its middle. A bit of two flutes that
// was taken to have one then still takes more than the least at each tooth, since
// the greatest is more than three times the least.
func (b Bit) UsualChip() float64 { return (b.ChipLoad[0] + b.ChipLoad[1]) / 2 }

// UsualFeed is the feed in mm/min that is usual at rpm.
func (b Bit) UsualFeed(rpm float64) float64 { return b.FeedFor(b.UsualChip(), rpm) }

// GreatestFeed is the feed in mm/min beyond which the bit may bend or break at
// rpm, LeastFeed that below which it rubs and burns; 0 where the
// chip load isn't known.
func (b Bit) GreatestFeed(rpm float64) float64 { return b.FeedFor(b.ChipLoad[1], rpm) }

// LeastFeed is described at GreatestFeed.
func (b Bit) LeastFeed(rpm float64) float64 { return b.FeedFor(b.ChipLoad[0], rpm) }

// GreatestPlunge is the feed straight down in mm/min beyond which the bit may
// bend or break at rpm; 0 where the chip load isn't known.
func (b Bit) GreatestPlunge(rpm float64) float64 { return b.GreatestFeed(rpm) * mostPlungePart }

// UsualPlunge is how fast a bit that is fed at a feed in mm/min goes straight
// down.
func UsualPlunge(feed float64) float64 { return feed * plungePart }

// Speeds are the least and the greatest rpm that the bit's surface
// speeds and its maker allow, rounded to the side on which they hold; 0 where
// that isn't known.
func (b Bit) Speeds() (least, most float64) {
	least = math.Ceil(b.SpeedFor(b.Surface[0])/speedStep-ratioSlack) * speedStep
	most = b.MaxSpeed
	if b.Surface[1] > 0 {
		v := math.Floor(b.SpeedFor(b.Surface[1])/speedStep+ratioSlack) * speedStep
		if most == 0 || v < most {
			most = v
		}
	}
	return least, most
}

// UsualSpeed is the usual rpm, within the bit's limits.
func (b Bit) UsualSpeed() float64 { return b.Within(UsualSpeed) }

// Within is the nearest to some rpm that is within the bit's limits.
func (b Bit) Within(rpm float64) float64 {
	least, most := b.Speeds()
	v := math.Max(rpm, least)
	if most > 0 {
		v = math.Min(v, most)
	}
	return v
}

// Source says where the bit's chip load comes from.
func (b Bit) Source() unit.Text {
	list := tables()
	switch {
	case b.From == [2]float64{}:
		return unit.Say("from the profile %s", b.Name)
	case b.Diameter < list[0].Diameter:
		return unit.Say("in proportion to its width, from the table for straight bits of %s", unit.Len(b.From[0]))
	case b.From[0] == b.From[1] && b.Diameter > b.From[0]:
		return unit.Say("from the table for straight bits of %s, the widest there is", unit.Len(b.From[0]))
	case b.From[0] == b.From[1] || b.Diameter == b.From[0]:
		return unit.Say("from the table for straight bits of %s", unit.Len(b.Diameter))
	}
	return unit.Say("from the table for straight bits of %s and %s", unit.Len(b.From[0]), unit.Len(b.From[1]))
}
