// Package bend says how strips are bent: how far each bend strains its strip, whether
// that wood or metal takes it, and how; which bends are alike; and round what radius
// they are formed. Lengths are mm, stresses MPa, angles radians.
//
// A strip of thickness t bent to the radius R of its middle is strained by t / 2R at its
// outermost fibre (plane sections stay plane; any text on the strength of materials).
package bend

import (
	"math"

	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// A Layer is a strip of the lay-up: what it is of, and how thick.
type Layer struct {
	Strips    []int  // of the lay-up, from 1, that are alike
	Material  string // as the job calls it
	Thickness float64
	// Of is what is known of the material, and Temper a metal's; Known is false of one that
	// no profile knows.
	Of     profile.Material
	Temper profile.Temper
	Known  bool
}

// A Stuff is what is bent as one: a strip, or, where the lay-up is glued before it is
// cut, all of it.
type Stuff []Layer

// Thickness is all layers'.
func (s Stuff) Thickness() float64 {
	sum := 0.0
	for _, l := range s {
		sum += l.Thickness
	}
	return sum
}

// Way is how a bend is made.
type Way int

const (
	// Unknown is a bend of a material that no profile knows.
	Unknown Way = iota
	// Dry is a wood's that is sprung into the groove cold, or a metal's within its spring.
	Dry
	// Cold is a metal's, bent round a form tighter than it is to be.
	Cold
	// Heated is a wood's, damp, on a hot pipe or iron.
	Heated
	// Steamed is a wood's, hot from the steam, with a strap round it.
	Steamed
	// Tight is one that the material doesn't take.
	Tight
)

var wayWords = [...]string{Unknown: "unknown", Dry: "dry", Cold: "cold", Heated: "heated", Steamed: "steamed", Tight: "too tight"}

// String is the way's word.
func (w Way) String() string { return unit.Word(wayWords[:], w, "way") }

// Formed reports whether the bend is made round a form.
func (w Way) Formed() bool {
	switch w {
	case Cold, Heated, Steamed:
		return true
	case Unknown, Dry, Tight:
	}
	return false
}

// Strain is t / 2R.
func Strain(thickness, radius float64) float64 { return thickness / (2 * radius) }

// Thickest is the thickness that is strained by so much at a radius.
func Thickest(strain, radius float64) float64 { return 2 * radius * strain }

// Dry is the strain up to which a layer needs no form: a wood's limit, or where a metal
// of the usual yield stress begins to yield; 0 where that isn't known.
func (l Layer) Dry() float64 {
	switch {
	case !l.Known:
		return 0
	case l.Of.Metal():
		return l.Temper.Yield[1] / l.Of.Modulus
	}
	return l.Of.Dry.Strain
}

// Most is the greatest strain that the layer takes in any way; 0 where that isn't known.
func (l Layer) Most() float64 {
	switch {
	case !l.Known:
		return 0
	case l.Of.Metal():
		return l.Temper.Strain
	}
	return max(l.Of.Dry.Strain, l.Of.Heated.Strain, l.Of.Steamed.Strain)
}

// slack is the part of a limit by which a strain may pass it: drawings are rounded, and
// no limit is known to a thousandth.
const slack = 1e-3

// Way is how a layer takes a strain.
func (l Layer) Way(strain float64) Way {
	within := func(limit float64) bool { return strain <= limit*(1+slack) }
	switch {
	case !l.Known:
		return Unknown
	case within(l.Dry()):
		return Dry
	case l.Of.Metal() && within(l.Temper.Strain):
		return Cold
	case !l.Of.Metal() && within(l.Of.Heated.Strain):
		return Heated
	case !l.Of.Metal() && within(l.Of.Steamed.Strain):
		return Steamed
	}
	return Tight
}

// A Verdict is how a bend of some radius is made.
type Verdict struct {
	Way Way
	// Strain is the outermost fibre's of the layer that decides, and Layer which that is.
	Strain float64
	Layer  int
	// Glued says that a lay-up takes the bend glued. Else its layers are bent alone and
	// glued up round the form, where they slide on one another.
	Glued bool
}

// Judge says how a bend of a radius is made.
func (s Stuff) Judge(radius float64) Verdict {
	if len(s) == 1 {
		e := Strain(s[0].Thickness, radius)
		return Verdict{Way: s[0].Way(e), Strain: e, Glued: true}
	}
	// Glued, the lay-up bends about its middle.
	glued, at := Verdict{Glued: true}, -s.Thickness()/2
	alone := Verdict{}
	for i, l := range s {
		far := max(math.Abs(at), math.Abs(at+l.Thickness)) / radius
		glued.worse(l.Way(far), far, i)
		e := Strain(l.Thickness, radius+at+l.Thickness/2)
		if at+l.Thickness/2 > 0 {
			e = Strain(l.Thickness, radius-at-l.Thickness/2) // whichever way it turns
		}
		alone.worse(l.Way(e), e, i)
		at += l.Thickness
	}
	if glued.Way == Dry || glued.Way == Unknown {
		return glued
	}
	return alone
}

// worse takes a layer's way where it is worse than what there is.
func (v *Verdict) worse(w Way, strain float64, layer int) {
	if layer == 0 || w > v.Way {
		v.Way, v.Strain, v.Layer = w, strain, layer
	}
}

// Laminations are equal layers that a strip is glued up of round a form, in place of one
// that is bent.
type Laminations struct {
	N    int // 0: there are none that would do
	Each float64
	Way  Way // Dry, or Heated where those that bend dry are too thin
}

const (
	// mostLaminations is more than anybody glues up for a strip.
	mostLaminations = 12
	// thinnest in mm is sliced veneer (common practice): what is thinner isn't to be had.
	thinnest = 0.4
)

// Laminate is how few laminations of a wood do at a radius of the strip's middle. The
// innermost is bent tightest.
func (l Layer) Laminate(radius float64) Laminations {
	if !l.Known || l.Of.Metal() || l.Thickness/2 >= radius {
		return Laminations{}
	}
	for _, w := range []struct {
		way   Way
		limit float64
	}{{Dry, l.Of.Dry.Strain}, {Heated, l.Of.Heated.Strain}} {
		for n := 1; n <= mostLaminations && l.Thickness/float64(n) >= thinnest; n++ {
			each := l.Thickness / float64(n)
			if Strain(each, radius-l.Thickness/2+each/2) <= w.limit*(1+slack) {
				return Laminations{n, each, w.way}
			}
		}
	}
	return Laminations{}
}

// Rounds are the radii of the middle round which a metal strip is bent to be left with a
// radius: for its low, usual and high yield stress, the largest first.
func (l Layer) Rounds(radius float64) [3]float64 {
	var r [3]float64
	for i, y := range l.Temper.Yield {
		r[i] = Round(radius, l.Thickness, y, l.Of.Modulus)
	}
	return r
}
