// Package fit holds the strips as they came out against the test grooves as they came
// out, both measured, and finds what makes every groove take the same lay-up with its
// clearance: which strips to thin and by how much, and which walls to tape.
//
// Wood can't be put back, so the narrowest groove says how thick the lay-up may be, and
// tape brings the others down to it. A groove that is too narrow for what strips can give
// is for a file. The widest reading of a strip and the narrowest of a groove count, since
// that is where it jams.
//
// Lengths are mm.
package fit

import (
	"slices"

	"strapwork/pkg/measured"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// What a shop holds and a strip stands, in mm (common practice).
const (
	// step is what calipers show, and what strips are thinned by.
	step = 0.01
	// leastStrip is the thickness below which a strip is too frail to be scraped.
	leastStrip = 0.4
	// mostThin is the part of its thickness that a strip loses at most: a line that is
	// a fifth thinner than its neighbours is seen.
	mostThin = 0.2
	// outlier is by how much a groove is narrower than the middle one when its own track
	// is at fault, and not the strips.
	outlier = 0.1
	// mostFile is what a file takes off the two walls of a track and leaves them true.
	mostFile = 0.5
	// rounding is far under a caliper's last digit, and over the noise of arithmetic
	// with its readings.
	rounding = 1e-6
)

// Params are what strips and grooves are held to.
type Params struct {
	Inlay work.Inlay
	Bit   float64 // the slot that the bit cuts
}

// sandwiched is what a card calls a lay-up that is glued first.
const sandwiched = "sandwich"

// A Strip is the strips of a lay-up that are alike.
type Strip struct {
	Numbers     []int // in the lay-up, from 1 at the left
	Material    string
	Planned     float64 // 0 where the job gives no strips
	Least, Most float64 // of what was measured
	Thin        float64 // to be taken off each
	Sandwich    bool    // they are glued together already, and one
	Faces       []int   // of a sandwich: the strips at its faces that can be thinned

	room    float64 // of a sandwich: what its faces can give together
	hard    bool    // and whether they are of metal
	reading measured.Reading
}

// Count is how many are laid side by side.
func (s Strip) Count() int {
	if s.Sandwich {
		return 1
	}
	return len(s.Numbers)
}

// After is the thickness, where it is thickest, that each is to be brought to.
func (s Strip) After() float64 { return s.Most - s.Thin }

// A Remedy is what is done about a groove.
type Remedy int

// The remedies.
const (
	// Leave: it takes the lay-up as it is.
	Leave Remedy = iota
	// Tape on the track's walls makes it narrower.
	Tape
	// File: the track's walls are filed.
	File
	// Anew: the job is to be built again with what was measured; no walls make the groove.
	Anew
	// Narrow: it is too narrow for a file.
	Narrow
	// Wide: it is too wide for tape.
	Wide
)

var remedyWords = [...]string{Leave: "nothing", Tape: "tape", File: "file", Anew: "anew", Narrow: "narrow", Wide: "wide"}

// String is the remedy's word in JSON.
func (r Remedy) String() string { return unit.Word(remedyWords[:], r, "remedy") }

// A Groove is the test grooves of one way, and what is done about it.
type Groove struct {
	Way
	Narrow, Broad float64 // as measured
	Remedy        Remedy
	Off           float64         // Narrow less what is wanted once the strips are thinned
	Tape          received.Taping // with the remedy Tape
	File          float64         // with the remedy File: to be taken off the walls together
	Tight, Loose  float64         // clearance of the lay-up afterwards, at the tightest and the loosest place

	reading measured.Reading
}

// changed is by how much the groove gets wider.
func (g Groove) changed() float64 { return g.File - g.Tape.Total() }

// A Plan is what makes every groove take the lay-up.
type Plan struct {
	Strips    []Strip  // in the order of the lay-up
	Grooves   []Groove // in the order of the ways
	Clearance float64  // that is wanted
	Bit       float64  // with the remedy Anew: the slot that the bit cuts, by the grooves that it made
}

// Together is how thick the lay-up is as measured.
func (p Plan) Together() (sum float64) {
	for _, s := range p.Strips {
		sum += s.Most * float64(s.Count())
	}
	return sum
}

// Thinned is how thick it is once strips are thinned.
func (p Plan) Thinned() (sum float64) {
	for _, s := range p.Strips {
		sum += s.After() * float64(s.Count())
	}
	return sum
}

// thinnest is how thick it is then where all strips are thinnest.
func (p Plan) thinnest() (sum float64) {
	for _, s := range p.Strips {
		sum += min(s.Least, s.After()) * float64(s.Count())
	}
	return sum
}

// Wanted is the width that every groove is to have.
func (p Plan) Wanted() float64 { return p.Thinned() + p.Clearance }

// Taped reports whether walls of panels are to be changed, by tape or by a file.
func (p Plan) Taped() bool {
	return slices.ContainsFunc(p.Grooves, func(g Groove) bool { return g.Remedy == Tape || g.Remedy == File })
}
