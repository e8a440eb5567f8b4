package cli

import (
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/profile"
)

// allNotes is the flag that shows every note by itself.
const allNotes = "notes"

// show writes findings for people: errors first, then warnings, and the notes in
// one line unless they were asked for.
func (e *env) show(found diag.Findings) error {
	found = found.InOrder()
	if !e.notes {
		found = found.FoldNotes("--"+allNotes, noteWords, ruleRepaired, ruleKept, ruleReplaced, build.RuleWhyMany, ruleSharp)
	}
	return diag.Fprint(e.stderr, found)
}

// Rules of notes about what became of files, which are never folded: nobody asks to
// see what he doesn't know of.
const (
	ruleRepaired = "mended"
	ruleKept     = "kept"
	ruleReplaced = "replaced"
)

// ruleSharp is of ends of strips that are hard to make: the maker may still change the
// drawing.
const ruleSharp = "strip-sharp"

// noteWords says what a note is about.
func noteWords(rule string) string {
	switch rule {
	case "assumed", profile.RulePaper:
		return "defaults used"
	case "no-effect":
		return "keys without effect"
	case "flute-unknown":
		return "flute not given"
	case "collar-unknown":
		return "collar not given"
	case "shank-unknown":
		return "shank not given"
	case "base-unknown":
		return "base not given"
	case "board-unknown":
		return "board not given"
	case "frame-overhang":
		return "the frame overhangs the board"
	case "frame-bars":
		return "the frame in bars"
	case "panel-split":
		return "a panel in parts"
	case "plan-bed":
		return "a plan made for the bed"
	case "plan-step":
		return "panels that are stepped along"
	case "margin-keys":
		return "a wider margin"
	case "joined":
		return "ends joined"
	case "smoothed":
		return "made smooth"
	case "fitted":
		return "lines made arcs"
	case "feed-worked-out":
		return "feeds worked out"
	}
	return strings.ReplaceAll(rule, "-", " ")
}
