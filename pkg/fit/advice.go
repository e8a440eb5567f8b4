package fit

import (
	"fmt"
	"math"

	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

// Advice is what to do about strips, in a few words.
func (s Strip) Advice() unit.Text {
	switch {
	case s.Thin == 0:
		return unit.Say("nothing")
	case len(s.Faces) > 1:
		return unit.Say("thin by %s, to %s: half off each face", unit.Len(s.Thin), unit.Len(s.After()))
	case len(s.Faces) == 1:
		return unit.Say("thin by %s, to %s: off the face of strip %s", unit.Len(s.Thin), unit.Len(s.After()), fmt.Sprint(s.Faces[0]))
	case s.Count() > 1:
		return unit.Say("thin each by %s, to %s", unit.Len(s.Thin), unit.Len(s.After()))
	}
	return unit.Say("thin by %s, to %s", unit.Len(s.Thin), unit.Len(s.After()))
}

// Advice is what to do about a groove, in a few words; the findings say more.
func (g Groove) Advice() unit.Text {
	switch g.Remedy {
	case Leave:
		return g.left()
	case Tape:
		return g.Track.Taped(g.Off, g.Tape)
	case File:
		return unit.Say("file %s off each wall", unit.Len(g.File/2))
	case Anew:
		return unit.Say("build the job again, as measured")
	case Narrow:
		return unit.Say("too narrow by %s for a file: a new panel", unit.Len(-g.Off))
	case Wide:
		return unit.Say("too wide by %s for tape: thicker strips, or a new panel", unit.Len(g.Off))
	}
	return unit.Say("")
}

// left says why a groove that is a little out is left alone.
func (g Groove) left() unit.Text {
	if g.Off > received.Tolerance+rounding && g.Track != nil {
		tapes := received.Tapes()
		return unit.Say("leave it: it is %s per side, and the thinnest tape is %s", unit.Len(g.Off/2), unit.Len(tapes[len(tapes)-1]))
	}
	return unit.Say("nothing")
}

// Footer is what holds for all that is to be done.
func (p Plan) Footer() []unit.Text {
	if !p.Repairs() {
		return []unit.Text{unit.Say("Every groove takes the strips as they are.")}
	}
	var lines []unit.Text
	thin, metal := false, false
	for _, s := range p.Strips {
		thin, metal = thin || s.Thin > 0, metal || s.Thin > 0 && s.metal()
	}
	if thin {
		lines = append(lines, unit.Say("Thin a strip over its whole length before it is cut into pieces, with a scraper or a sanding block, and measure it at three places."))
	}
	if metal {
		lines = append(lines, unit.Say("Metal: draw it over abrasive on a flat plate. It gets hot, its edges cut, and its dust is not for lungs."))
	}
	var taped []received.Taping
	least := math.Inf(1)
	for _, g := range p.Grooves {
		if g.Remedy == Tape {
			taped = append(taped, g.Tape)
			least = math.Min(least, g.Off)
		}
	}
	if len(taped) > 1 && len(taped) == len(p.Grooves) {
		lines = append(lines, unit.Say("Every groove is too wide, by %s or more: strips that are as much thicker together, or a veneer of that beside them, save you most of the tape.", unit.Len(least)))
	}
	lines = append(lines, received.Footer(taped)...)
	return append(lines, unit.Say("Then cut the grooves that were changed in scrap again, and try the strips dry."))
}

// Repairs reports whether anything is to be done.
func (p Plan) Repairs() bool {
	for _, s := range p.Strips {
		if s.Thin > 0 {
			return true
		}
	}
	for _, g := range p.Grooves {
		if g.Remedy != Leave {
			return true
		}
	}
	return false
}

// Out is how far in mm a groove's worse wall comes to lie from where the walls of a groove
// of the wanted width belong: by tape that is thicker on one wall, and by what tape and
// file don't hit.
func (p Plan) Out(g Groove) float64 {
	return math.Abs(g.Tape.Shift()) + math.Abs(g.Off+g.changed())/2
}
