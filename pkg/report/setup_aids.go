package report

// Where the shop aids are used. An aid is spoken of only if it is made.

import (
	"fmt"
	"slices"

	"strapwork/pkg/aids"
	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
)

// aid is a link to an aid's picture; false where it isn't made.
func (b *bench) aid(name string) (string, bool) {
	i := slices.IndexFunc(b.r.Parts, func(p sheet.Part) bool { return p.Ply == sheet.Aid && p.Sheet.Name == name })
	if i < 0 {
		return "", false
	}
	return b.drawing(b.r.Parts[i]), true
}

// traceOnPaper is the first trial, without a bit.
func (b *bench) traceOnPaper() string {
	disc := fmt.Sprintf("a disc as wide as the %s, with a hole in its middle for a pencil", b.rider())
	if link, ok := b.aid(aids.TracingDisc); ok {
		disc = "the disc " + link + ", a pencil through its middle"
	}
	return "On paper: " + disc + ", run round every track of every set-up, traces the pattern. Hold it against the drawing before a bit is near anything."
}

// subBase says how a base is made that runs true.
func (b *bench) subBase() {
	link, ok := b.aid(aids.SubBase)
	if !ok {
		return
	}
	b.para("**A base that runs true.** %s is a blank for one, and ends off-centre trouble:", link)
	for i, s := range []string{
		"With the plug pulled, screw the blank under the router, the screws' heads sunk, its pilot hole over the collet.",
		"Put in this job's bit. Clamp scrap under the blank, let the router come to speed, and plunge slowly through it: the hole is now true to the spindle.",
		fmt.Sprintf("Take the blank off. On a peg of %s through that hole swing it against a sander's disc, clamped to its table, until it is %s across, round to %s. Keep fingers well away from the disc.", b.size(b.j.Router.Bit), b.size(b.j.Router.Rider), b.hundredths()),
		"Measure it three ways, write `rider` and `off_center = 0` into the job file, and build again.",
	} {
		b.step(i+1, "%s", s)
	}
	b.gap()
}

// depthGauge says how a depth is set without measuring the bit.
func (b *bench) depthGauge() string {
	link, ok := b.aid(aids.DepthGauge)
	if !ok {
		return ""
	}
	return fmt.Sprintf(" Or lay the depth gauge %s on shims as thick as the pass is deep, %s for the last, over a flat surface; stand the router on it, the plug pulled, and let the bit down through its hole until it touches.", link, b.size(build.AidsParams(b.j).Shim()))
}

// guideOf is the chisel guide that fits a leftover; "" for none.
func (b *bench) guideOf(l proof.Leftover) string {
	if b.guides == nil {
		b.findGuides()
	}
	return b.guides[l.At]
}

// findGuides finds once which guide serves which leftover: among thousands it takes
// a while.
func (b *bench) findGuides() {
	b.guides = map[geom.Point]string{}
	if b.alone() {
		return
	}
	for _, g := range aids.ChiselGuides(b.r.Groove, b.r.Proof.Leftovers) {
		if _, made := b.aid(g.Name); !made {
			continue
		}
		for _, l := range g.Serves {
			if b.guides[l.At] == "" {
				b.guides[l.At] = g.Name
			}
		}
	}
}

// guided reports whether a chisel guide is made.
func (b *bench) guided() bool {
	return slices.ContainsFunc(b.r.Proof.Leftovers, func(l proof.Leftover) bool { return b.guideOf(l) != "" })
}
