package profile

import (
	"fmt"

	"strapwork/pkg/conf"
)

// maxSize in bytes is far more than a profile's dozen lines.
const maxSize = 64 << 10

// Formats are the kinds of file that this package reads: profiles of shops, machines,
// bits and materials, and a printer's file. Lengths in them are in mm unless they say
// otherwise.
func Formats() []*conf.Format {
	return []*conf.Format{&shopFormat, &machineFormat, &bitFormat, &materialFormat, &printerFormat}
}

func badProfile(conf.Fault) string { return RuleProfile }

// Keys that several kinds have.
var (
	aboutKey = conf.Key{Name: "about", Is: conf.Text, Example: conf.Typed{`"the one in the cellar"`}, Help: "what it is, in a few words, for lists"}
	unitsKey = conf.Key{Name: "units", Is: conf.Word, Must: true, Words: []string{"mm", "in"}, Example: conf.Typed{`"mm"`}}
)

// kindKey is what says what a profile is of.
func kindKey(k kind) conf.Key {
	return conf.Key{Name: "kind", Is: conf.Word, Must: true, Words: []string{k.String()}, Help: "what the profile is of"}
}

// of is a key with its help.
func of(k conf.Key, help string) conf.Key {
	k.Help = help
	return k
}

var shopFormat = conf.Format{
	Name: "shop", What: "a profile", Title: "A cutting shop", MaxSize: maxSize, Rule: badProfile,
	Tables: []conf.Table{
		{Keys: []conf.Key{
			aboutKey,
			{Name: "cutter", Is: conf.Word, Must: true, Words: []string{Laser.String(), Router.String()}, Example: conf.Typed{`"laser"`}, Ask: ` or "router"`, Help: "what the shop cuts with"},
			of(unitsKey, "of the drawings that the shop takes; all else here is in mm"),
			{Name: "bed", Is: conf.List(2, conf.Length), Must: true, Range: conf.UpTo(maxBed), Example: conf.Typed{"[900, 600]"}, Ask: "in mm", Help: "size of the machine's bed"},
			{Name: "tolerance", Is: conf.Length, Must: true, Range: conf.UpTo(maxTolerance), Example: conf.Typed{"0.1"}, Ask: "the shop's tolerance", Help: "the shop's tolerance"},
			{Name: "cutter_diameter", Is: conf.Length, Range: conf.UpTo(maxCutter), Default: conf.Typed{fmt.Sprint(usualCutter)}, Example: conf.Typed{fmt.Sprint(usualCutter)}, Ask: "the diameter of the cutter", Help: "of a router's cutter, which bounds how sharp an inside corner can be"},
			{Name: "layers", Is: conf.TableOf("layers"), Help: "what the shop's machine calls the layers"},
		}},
		{Path: "layers", About: "A layer that isn't given is called like its part, in colour 7.", Keys: []conf.Key{
			layerKey("OPENING", "what is cut first: the openings and holes"), layerKey("PIN", "pin and screw holes"), layerKey("EDGE", "the parts' outlines, cut last"),
			layerKey("MARK", "marks and lettering"), layerKey("NOTE", "what isn't for the machine"),
		}},
		{Path: "layers.NAME", About: "One layer.", Keys: []conf.Key{
			{Name: "name", Is: conf.Text, Must: true, Example: conf.Typed{`"CUT"`}, Ask: layerHint, Help: "its name: letters, digits, _ and -"},
			{Name: "color", Is: conf.Whole, Must: true, Range: conf.From(1, 255), Example: conf.Typed{"1"}, Help: "its colour, the number of DXF's group 62; give what is engraved another than what is cut"},
		}},
	},
}

func layerKey(name, help string) conf.Key {
	return conf.Key{Name: name, Is: conf.TableOf("layers.NAME"), Help: help}
}

var machineFormat = conf.Format{
	Name: kindMachine.String(), What: "a machine's profile", Title: "A machine", MaxSize: maxSize, Rule: badProfile,
	Tables: []conf.Table{{Keys: []conf.Key{
		kindKey(kindMachine), aboutKey,
		of(unitsKey, "of its programs; all else here is in mm"),
		{
			Name: "travel", Is: conf.List(3, conf.Either(conf.Length, conf.List(2, conf.Length))), Range: conf.UpTo(maxBed), Example: conf.Typed{"[600, 400, 80]"},
			Ask:  "x, y, z in mm; or, where the machine's coordinates run otherwise, from where to where: travel = [[-600, 0], [-400, 0], [-80, 0]]",
			Help: "how far x and y go up from 0 and z down from 0; or from where to where, in the machine's own coordinates",
		},
		{Name: "feed", Is: conf.List(2, conf.Feed), Range: conf.UpTo(maxRate), Example: conf.Typed{"[3000, 1000]"}, Ask: "in mm/min: across, up and down", Help: "greatest feed, mm/min: across; up and down"},
		{Name: "rapid", Is: conf.List(2, conf.Feed), Range: conf.UpTo(maxRate), Example: conf.Typed{"[5000, 1500]"}, Ask: "in mm/min: across, up and down", Help: "speed of rapids, mm/min: across, of x and y each; up and down"},
		{Name: "acceleration", Is: conf.List(2, conf.Number), Unit: "mm/s2", Range: conf.UpTo(maxAcceleration), Example: conf.Typed{"[300, 150]"}, Ask: "in mm/s2: across, up and down", Help: "across; up and down"},
		{Name: "spindle", Is: conf.List(2, conf.Number), Unit: "rpm", Range: conf.UpTo(maxTurns), Example: conf.Typed{"[8000, 24000]"}, Ask: "in rpm: least, greatest", Help: "least and greatest speed of the spindle"},
		{Name: "stickout", Is: conf.Length, Range: conf.UpTo(maxBody), Example: conf.Typed{"32"}, Ask: "from the collet nut's face to the bit's tip, in mm", Help: "from the collet nut's face to the bit's tip: clamps are held against what turns above the bit"},
		{Name: "nut", Is: conf.Length, Range: conf.UpTo(maxBody), Example: conf.Typed{"19"}, Ask: "the collet nut's diameter in mm", Help: "diameter of the collet nut"},
		{Name: "nut_length", Is: conf.Length, Range: conf.UpTo(maxBody), Example: conf.Typed{"18"}, Ask: "how far the nut reaches up from its face, in mm", Help: "how far the nut reaches up from its face"},
		{Name: "nose", Is: conf.Length, Range: conf.UpTo(maxBody), Example: conf.Typed{"43"}, Ask: "the spindle's diameter above the nut in mm", Help: "diameter of the spindle above the nut; all four may be in [router] of a job"},
		{Name: "spin_up", Is: conf.Number, Unit: "s", Range: conf.From(leastSpinUp, maxSpinUp), Default: conf.Typed{fmt.Sprint(usualSpinUp)}, Example: conf.Typed{"4"}, Ask: "the seconds until the spindle is at speed", Help: "how long the spindle takes to come to speed"},
		{Name: "dwell_again", Is: conf.Number, Unit: "s", Range: conf.NotNegative, Said: "as spin_up", Example: conf.Typed{"0"}, Ask: "the seconds to wait at later strands, where the spindle turns already", Help: "how long to wait at later strands, where the spindle turns already; at most spin_up"},
		{Name: "dwell", Is: conf.Word, Words: []string{"seconds", "milliseconds"}, Default: conf.Typed{`"seconds"`}, Example: conf.Typed{`"seconds"`}, Ask: ` or "milliseconds", as the manual has it for P of G4`, Help: "the unit of P in G4"},
		{Name: "decimals", Is: conf.Whole, Range: conf.From(leastDecimals, mostDecimals), Said: "4, in inches 5", Example: conf.Typed{"4"}, Ask: ", or remove the line", Help: "of its programs' lengths; in inches at least 4"},
		{Name: "arcs", Is: conf.Flag, Default: conf.Typed{"true"}, Help: "it takes arcs; else programs have lines, and chord is needed"},
		{Name: "chord", Is: conf.Length, Range: conf.From(leastChord, maxChord), Example: conf.Typed{"0.005"}, Ask: "by how much lines may leave an arc, in mm", Help: "by how much lines may leave an arc, where arcs = false"},
		{Name: "helix", Is: conf.Flag, Said: "true, where there are arcs", Help: "arcs may go down as they turn; else ramps along an arc are lines"},
		{Name: "path", Is: conf.Word, Words: []string{PathExact.String(), PathNone.String()}, Default: conf.Typed{`"exact"`}, Help: `"exact": programs state G61; "none": for a machine that knows no path modes`},
		{Name: "percent", Is: conf.Flag, Default: conf.Typed{"false"}, Help: "programs stand between two lines of %"},
		{Name: "line_numbers", Is: conf.Flag, Default: conf.Typed{"false"}, Help: "N before each block: its line in the file"},
		{Name: "repeat", Is: conf.Flag, Default: conf.Typed{"false"}, Help: "every word stands in every block"},
		{Name: "rewind", Is: conf.Flag, Default: conf.Typed{"false"}, Help: "programs end with M30, not M2"},
		{Name: "park", Is: conf.Either(conf.Word, conf.List(2, conf.Length)), Words: []string{"stay"}, Range: conf.From(-maxBed, maxBed), Default: conf.Typed{`"stay"`}, Example: conf.Typed{"[0, 0]"}, Ask: `: x and y in the program's coordinates, in mm; or park = "stay"`, Help: "where programs end, x and y in their own coordinates"},
		{
			Name: "starts_with", Is: conf.List(0, conf.Word), Words: startWords, Default: conf.Typed{"[]"}, Example: conf.Typed{`["G17", "G90"]`},
			Ask: "what the manual says every program starts in", Help: "modes that its manual says every program starts in: a program that is judged needn't state these",
		},
	}}},
}

var bitFormat = conf.Format{
	Name: kindBit.String(), What: "a bit's profile", Title: "A straight bit", MaxSize: maxSize, Rule: badProfile,
	Tables: []conf.Table{{Keys: []conf.Key{
		kindKey(kindBit), aboutKey,
		{Name: "diameter", Is: conf.Length, Must: true, Range: conf.UpTo(maxCutter), Example: conf.Typed{"3.175"}, Ask: "the bit's diameter in mm", Help: "its diameter"},
		{Name: "flutes", Is: conf.Whole, Must: true, Range: conf.From(1, maxFlutes), Example: conf.Typed{"2"}, Ask: "how many cutting edges the bit has", Help: "how many cutting edges it has"},
		{Name: "flute", Is: conf.Length, Range: conf.UpTo(maxBitLength), Example: conf.Typed{"12"}, Ask: "the cutting length in mm", Help: "cutting length"},
		{Name: "shank", Is: conf.Length, Range: conf.UpTo(maxCutter), Example: conf.Typed{"6.35"}, Ask: "the shank's diameter in mm", Help: "diameter of the shank"},
		{Name: "chip_load", Is: conf.List(2, conf.Number), Unit: "mm/tooth", Range: conf.UpTo(maxChip), Example: conf.Typed{"[0.015, 0.06]"}, Ask: "in mm/tooth: least, greatest", Help: "chip load: least, below which the bit rubs, and greatest"},
		{Name: "surface", Is: conf.List(2, conf.Number), Unit: "m/min", Range: conf.UpTo(maxSurface), Example: conf.Typed{"[80, 300]"}, Ask: "in m/min: least, greatest", Help: "surface speed: least and greatest"},
		{Name: "max_speed", Is: conf.Number, Unit: "rpm", Range: conf.UpTo(maxTurns), Example: conf.Typed{"30000"}, Ask: "the rpm that the cutter's maker allows", Help: "the speed that its maker allows"},
	}}},
}

var printerFormat = conf.Format{
	Name: "printer", What: "a printer's file", Title: "A printer", MaxSize: maxSize, Rule: func(conf.Fault) string { return RulePaper },
	Tables: []conf.Table{{Keys: []conf.Key{
		aboutKey,
		{Name: "paper", Is: conf.Text, Must: true, Example: conf.Typed{`"A4"`}, Ask: ` or "roll 610 mm"`, Help: `"A4", "A3", "Letter", "Legal", "Tabloid", or a roll such as "roll 610 mm"`},
		{Name: "margin", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{fmt.Sprint(DefaultMargin)}, Help: "non-printing edge of the paper, on each side"},
		{Name: "measured", Is: conf.List(2, conf.Length), Range: conf.Positive, Example: conf.Typed{`["148.9 mm", "150.3 mm"]`}, Ask: ", as you measured them", Help: "the 150 mm bars of page one as printed, x then y"},
		{Name: "diagonals", Is: conf.List(2, conf.Length), Range: conf.Positive, Example: conf.Typed{`["212.0 mm", "212.3 mm"]`}, Ask: ", as you measured them", Help: "the proof square's diagonals as printed"},
	}}},
}
