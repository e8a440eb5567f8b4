package job

import (
	"strapwork/pkg/conf"
	"strapwork/pkg/work"
)

// stationsAtJoints is the word for stations on every joint.
const stationsAtJoints = "joints"

// What inlay = "last" and "by station" are.
var inlayOrders = []string{"last", "by station"}

// What a section's free end is.
var sectionEnds = []string{"square", "round"}

var tableTable = conf.Table{
	Path: "table",
	About: "A top of sections side by side along x, two ends and the leaves between them, that meet at joints parallel to y. The table's coordinates begin at its front left corner with all leaves in. " +
		"The motif is laid at stations, one of them on every joint by default, and every arrangement of the leaves is checked.",
	Keys: []conf.Key{
		{Name: "width", Is: conf.Length, Must: true, Range: conf.UpTo(maxBoard), Example: conf.Typed{"900", "36"}, Ask: "how wide the top is, along the joints", Help: "how wide the top is, along every joint"},
		{Name: "thickness", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"22", `"3/4"`}, Help: "thickness of the top"},
		{Name: "grain", Is: conf.Angle, Default: conf.Typed{"90"}, Said: "along the joints", Help: "direction of the grain, counter-clockwise from +x"},
		{Name: "core", Is: conf.Word, Words: []string{"solid", "stable"}, Default: conf.Typed{`"solid"`}, Help: `"stable": veneer on a sheet that doesn't move`},
		{Name: "stations", Is: conf.Either(conf.Word, conf.List(0, conf.TableOf("table.stations"))), Words: []string{stationsAtJoints}, Default: conf.Typed{`"joints"`}, Quiet: true, Example: conf.Typed{`"joints", or [{ x = 600, y = 450 }]`, `"joints", or [{ x = 24, y = 18 }]`}, Help: "where the motif's origin lies: on every joint, or at places in the table's coordinates"},
		{Name: "across", Is: conf.Length, Range: conf.NotNegative, Said: "in the middle", Example: conf.Typed{"450", "18"}, Ask: "where the motif's origin lies on the joints, from the front", Help: "where on the joints the motif's origin lies, from the front edge"},
		{Name: "groove", Is: conf.Word, Words: words(work.GrooveClosed, work.GrooveApart, work.GrooveGap), Default: conf.Typed{`"closed"`}, Help: "how the sections lie while they are grooved: clamped tight together, each by itself against scrap, or with a gap between them"},
		{Name: "gap", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"2", `"1/16"`}, Help: `the gap between them, with groove = "gap"`},
		{Name: "saw", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"2.5", `"3/32"`}, Help: `with groove = "closed": what is lost where an inlay across a joint is sawn through, the kerf and what is planed off both edges; 0: each side is inlaid by itself`},
		{Name: "inlay", Is: conf.Word, Words: inlayOrders, Default: conf.Typed{`"last"`}, Quiet: true, Help: "all grooves first and then the inlay, or station by station"},
		{Name: "turn_leaves", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "leaves may be put in end for end"},
		{Name: "joint_crossings", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "strands may cross on a joint"},
		// Aligners that slide in by hand (common practice).
		{Name: "play", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0.1", "0.004"}, Quiet: true, Example: conf.Typed{"0.1", "0.004"}, Help: "play of the pins or aligners between sections"},
		{Name: "section", Is: conf.List(0, conf.TableOf("table.section")), Must: true, Ask: "add [[table.section]] for each end and leaf, from left to right", Help: "an end or a leaf, from left to right"},
		{Name: "dowel", Is: conf.List(0, conf.TableOf("table.dowel")), Help: "pins or aligners in every joint"},
		{Name: "tongue", Is: conf.TableOf("table.tongue"), Help: "a tongue along every joint"},
	},
}

var sectionTable = conf.Table{
	Path:  "table.section",
	About: "Sections of one name are alike: one groove, one program, one list of pieces.",
	Keys: []conf.Key{
		{Name: "name", Is: conf.Text, Must: true, Example: conf.Typed{`"leaf"`}, Help: "its name: letters, digits, - and _"},
		{Name: "length", Is: conf.Length, Must: true, Range: conf.UpTo(maxBoard), Example: conf.Typed{"420", "17"}, Ask: "how long it is, along x", Help: "how long it is, along x"},
		{Name: "count", Is: conf.Whole, Range: conf.From(1, maxSections), Default: conf.Typed{"1"}, Quiet: true, Example: conf.Typed{"2"}, Help: "how many alike ones there are side by side"},
		{Name: "loose", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "it can be left out; the first and the last section never can"},
		{Name: "end", Is: conf.Word, Words: sectionEnds, Default: conf.Typed{`"square"`}, Quiet: true, Help: "the free end of the first or the last section: square, or a half round of the table's width"},
	},
}

var stationTable = conf.Table{
	Path:  "table.stations",
	About: "A place of the motif's origin, in the table's coordinates.",
	Keys: []conf.Key{
		{Name: "x", Is: conf.Length, Must: true, Example: conf.Typed{"600", "24"}, Help: "along the table, from its left end"},
		{Name: "y", Is: conf.Length, Must: true, Example: conf.Typed{"450", "18"}, Help: "across it, from the front"},
	},
}

var dowelTable = conf.Table{
	Path:  "table.dowel",
	About: "Pins or aligners that every joint has.",
	Keys: []conf.Key{
		{Name: "at", Is: conf.List(0, conf.Length), Must: true, Example: conf.Typed{"[100, 800]", "[4, 32]"}, Ask: ", their distances from the front edge", Help: "where they are, from the front edge"},
		{Name: "diameter", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"8", `"5/16"`}, Help: "their diameter"},
		{Name: "below", Is: conf.Length, Range: conf.Positive, Said: "half-way down the top", Example: conf.Typed{"11", `"3/8"`}, Help: "their middle, under the top"},
		{Name: "length", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"40", "1.5"}, Help: "their length, half of it in each section"},
		{Name: "in", Is: conf.Word, Words: words(work.Left, work.Right), Default: conf.Typed{`"left"`}, Quiet: true, Help: "the edges of sections that they stand in; the others have holes"},
	},
}

var tongueTable = conf.Table{
	Path: "table.tongue",
	Keys: []conf.Key{
		{Name: "thickness", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"6", `"1/4"`}, Help: "its thickness"},
		{Name: "below", Is: conf.Length, Range: conf.Positive, Said: "half-way down the top", Example: conf.Typed{"11", `"3/8"`}, Help: "its middle, under the top"},
		{Name: "length", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"16", `"5/8"`}, Ask: "its width, across the joint", Help: "how wide it is across the joint, half of it in each section"},
	},
}
