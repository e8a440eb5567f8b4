package job

import (
	"fmt"
	"slices"

	"strapwork/pkg/conf"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// MaxSize is the size in bytes beyond which a job file is not read: drawings
// by hand have a few kilobytes.
const MaxSize = 8 << 20

// Format is every key of the job file. What is taken where a key is left out stands
// here alone; what depends on several keys is in the reader.
func Format() *conf.Format { return &format }

// words are how the values of an enumeration are written.
func words[T fmt.Stringer](values ...T) []string {
	list := make([]string, len(values))
	for i, v := range values {
		list[i] = v.String()
	}
	return list
}

// The guides that keys are for.
var (
	byHand           = words(work.Guides(work.Guide.HasTemplates)...)
	onTemplate       = words(work.Guides(work.Guide.HasPanels)...)
	onFloor          = words(work.Guides(work.Guide.TakesFloor)...)
	besideBase       = words(work.Guides(work.Guide.HasTemplates, func(g work.Guide) bool { return !g.RidesBase() })...)
	stripsExample    = conf.Typed{`[{ material = "holly", thickness = 0.9 }]`, `[{ material = "holly", thickness = "1/32" }]`}
	colorKey         = conf.Key{Name: "color", Is: conf.Text, Said: "the material's", Quiet: true, Example: conf.Typed{`"#c8a165"`}, Help: "its colour in pictures: red, green and blue, two digits of hexadecimal each"}
	thicknessExample = conf.Typed{"0.9", `"1/32"`}
)

// The bounds of what is wood at all: none is drier in a room nor wetter than the tree; no
// wood moves less than half as much as the least, or twice as much as the most, of the Wood
// Handbook's table.
const (
	leastMoisture, mostMoisture       = 1, 30
	leastHumidity, mostHumidity       = 2, 98
	leastCoefficient, mostCoefficient = 0.0003, 0.01

	coefficientAsk = `, for 1 % of moisture; of a shrinkage of S % from green to dry write "S / (3000 - 20*S)"`
)

var format = conf.Format{
	Name: "job", What: "a job file", Title: "The job file", MaxSize: MaxSize, Rule: conf.Named("job"),
	Tables: slices.Concat([]conf.Table{
		{Keys: []conf.Key{
			{Name: "title", Is: conf.Text, Said: "the file's name", Example: conf.Typed{`"Walnut games table"`}, Help: "what the job is called on drawings, sheets and the page"},
			{Name: "units", Is: conf.Word, Must: true, Words: []string{"mm", "in"}, Help: "what a bare number means in the file"},
			{Name: "let", Is: conf.TableOf("let"), Help: "named dimensions for use in expressions"},
			{Name: "points", Is: conf.TableOf("points"), Help: "named points, for use wherever a point is read"},
			{Name: "motif", Is: conf.TableOf("motif"), Must: true, Ask: "add [motif] and its elements, such as [[motif.line]]", Help: "the centre lines of the bands"},
			{Name: "weave", Is: conf.TableOf("weave"), Help: "over and under"},
			{Name: "inlay", Is: conf.TableOf("inlay"), Must: true, Ask: "add [inlay] with depth, and strips or width", Help: "the groove and the strips in it"},
			{Name: "router", Is: conf.TableOf("router"), Must: true, Ask: "add [router] with guide, rider and bit", Help: "the router, its bit and what rides the template"},
			{Name: "template", Is: conf.TableOf("template"), Help: "the panels and their frame"},
			{Name: "board", Is: conf.TableOf("board"), Help: "the work"},
			{Name: "table", Is: conf.TableOf("table"), Help: "the work, in place of [board], where it is a table top that comes apart"},
			{Name: "wood", Is: conf.TableOf("wood"), Help: "the board's wood, and the seasons that it goes through"},
			{Name: "cutting", Is: conf.TableOf("cutting"), Help: "who cuts the templates, and who allows for the kerf"},
			{Name: "paper", Is: conf.TableOf("paper"), Help: "the printer and its paper"},
			{Name: "program", Is: conf.TableOf("program"), Help: "the machine that grooves the board, and how"},
			{Name: "stock", Is: conf.TableOf("stock"), Help: "what the strips are cut from; and how the board is held on the machine"},
		}},
		{
			Path: "let", Any: &conf.Length,
			About: "Any name of letters, digits and _, in any order; a name may use others. It may not be a unit, `pi` or a function.",
		},
		{
			Path: "points", Any: &conf.Place,
			About: "Any name of letters, digits and _, in any order. A point is [x, y], the name of another, or worked out as in the table below; so it is wherever a point is read: `from = \"A\"`, `center = { r = 80, a = 30 }`.",
		},
		{Path: "points.NAME", About: "Either by distance and direction, or between two others, or where two elements meet, as they are drawn.", Keys: []conf.Key{
			{Name: "r", Is: conf.Length, Example: conf.Typed{"80", "3"}, Ask: "with a, its direction; or between = [point, point]", Help: "how far it is from the origin, or from another point"},
			{Name: "a", Is: conf.Angle, Example: conf.Typed{"30"}, Ask: "degrees, counter-clockwise from +x", Help: "the direction in which it lies, counter-clockwise from +x"},
			{Name: "from", Is: conf.Place, Said: "the origin", Quiet: true, Example: conf.Typed{`"A"`}, Help: "the point that it is measured from"},
			{Name: "between", Is: conf.List(2, conf.Place), Example: conf.Typed{`["A", "B"]`}, Help: "the two points that it lies between"},
			{Name: "at", Is: conf.Ratio, Range: conf.From(-1000, 1000), Default: conf.Typed{"0.5"}, Quiet: true, Example: conf.Typed{"0.5"}, Help: "how far along from the first to the second: 0 is at the first, 1 at the second"},
			{Name: "meet", Is: conf.List(2, conf.Text), Example: conf.Typed{`["bar", "rail"]`}, Ask: ", the names of two elements", Help: "the two elements, by name, that cross or touch there; bar.2 is bar's second copy, as its group or else [motif] turns and mirrors it"},
			{Name: "near", Is: conf.Place, Said: "they meet once", Quiet: true, Example: conf.Typed{"[10, 0]", "[0.5, 0]"}, Ask: "a place near the one that is meant", Help: "a place near the one that is meant, where they meet several times"},
		}},
		{
			Path:  "motif",
			About: "Draw the centre lines of the bands. Ends that meet within 0.05 mm are joined; an end on the middle of another strand is a tee.",
			Keys: slices.Concat([]conf.Key{
				{Name: "copies", Is: conf.Whole, Range: conf.From(1, maxCopies), Default: conf.Typed{"1"}, Quiet: true, Example: conf.Typed{"4"}, Ask: "how often the elements are repeated", Help: "how often each element is drawn, turned about the origin by 360 degrees / copies each time"},
				{Name: "mirror", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "each element is drawn reflected in the x axis as well, before it is turned"},
				{Name: "line", Is: conf.List(0, conf.TableOf("motif.line")), Help: "a straight, or several joined end to end"},
				{Name: "arc", Is: conf.List(0, conf.TableOf("motif.arc")), Help: "an arc of a circle"},
				{Name: "circle", Is: conf.List(0, conf.TableOf("motif.circle")), Help: "a whole circle"},
				{Name: "path", Is: conf.List(0, conf.TableOf("motif.path")), Help: "lines and arcs as SVG path data"},
				{Name: "strand", Is: conf.List(0, conf.TableOf("motif.strand")), Help: "a band as one walks along it"},
				{Name: "group", Is: conf.List(0, conf.TableOf("motif.group")), Help: "elements that are copied, sized and placed together"},
				{Name: "drawing", Is: conf.List(0, conf.TableOf("motif.drawing")), Help: "lines of a drawing, SVG or DXF, as lines and arcs"},
			}, familyKeys()),
		},
		{Path: "motif.line", About: "Either `from` and `to`, or `points`.", Keys: []conf.Key{
			nameKey,
			{Name: "from", Is: conf.Place, Example: conf.Typed{"[0, 0]"}, Ask: ", and to, or points = [[x, y], ...]", Help: "where a single straight starts"},
			{Name: "to", Is: conf.Place, Example: conf.Typed{"[100, 0]", "[4, 0]"}, Help: "where it ends"},
			{Name: "points", Is: conf.List(0, conf.Place), Example: conf.Typed{"[[0, 0], [100, 0], [100, 50]]", "[[0, 0], [4, 0], [4, 2]]"}, Help: "corners of several straights, in order; in place of from and to"},
			{Name: "closed", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "the last of the points is joined to the first"},
			{Name: "round", Is: conf.Either(conf.Length, conf.List(0, conf.Length)), Said: "sharp corners", Quiet: true, Range: conf.NotNegative, Example: conf.Typed{"12", `"1/2"`}, Ask: ", or a list with one for each point, 0 where it stays sharp", Help: "radius of the arcs that round the corners at points: one for all, or a list with one for each point"},
			openKey, smoothKey, fitKey,
		}},
		{Path: "motif.arc", About: "Either `center`, `radius`, `start` and `sweep` or `end`; or `from`, `to` and `radius`; or `from`, `through` and `to`; or `tangent` and `radius`.", Keys: []conf.Key{
			nameKey,
			{Name: "center", Is: conf.Place, Example: conf.Typed{"[0, 0]"}, Ask: ", or the arc's ends: from and to, with radius or through", Help: "its centre"},
			{Name: "radius", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"30", "1.25"}, Help: "its radius"},
			{Name: "start", Is: conf.Angle, Example: conf.Typed{"0"}, Ask: "degrees, counter-clockwise from +x", Help: "the direction from the centre in which it starts, counter-clockwise from +x"},
			{Name: "sweep", Is: conf.Angle, Example: conf.Typed{"90"}, Ask: "degrees, counter-clockwise positive", Help: "how far it goes round, counter-clockwise positive; at most a full turn"},
			{Name: "end", Is: conf.Angle, Example: conf.Typed{"90"}, Ask: "degrees, counter-clockwise from +x", Help: "in place of sweep: the direction in which it ends; it goes there counter-clockwise"},
			{Name: "from", Is: conf.Place, Example: conf.Typed{"[0, 0]"}, Ask: "where the arc starts", Help: "where it starts, in place of center and start"},
			{Name: "to", Is: conf.Place, Example: conf.Typed{"[40, 0]", "[2, 0]"}, Ask: "where the arc ends", Help: "where it ends"},
			{Name: "through", Is: conf.Place, Example: conf.Typed{"[20, 10]", "[1, 0.5]"}, Help: "a place between from and to that it passes, in place of a radius"},
			{Name: "side", Is: conf.Word, Words: []string{bowLeft, bowRight}, Default: conf.Typed{`"left"`}, Quiet: true, Help: "with a radius: the side to which it bows out, as you go from its start to its end"},
			{Name: "long", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "of the two arcs of a radius that bow out to that side, or that touch two elements at the same places, the one of more than a half turn"},
			{Name: "tangent", Is: conf.List(2, conf.Text), Example: conf.Typed{`["bar", "rail"]`}, Ask: ", the names of two elements, with radius", Help: "the two elements, by name, that it joins smoothly, from the first to the second; bar.2 is bar's second copy"},
			{Name: "near", Is: conf.Place, Said: "the one that leaves the most of the two elements", Quiet: true, Example: conf.Typed{"[10, 0]", "[0.5, 0]"}, Ask: "a place near the arc that is meant", Help: "with tangent: a place near the arc that is meant, or near its centre, where several of the radius touch both"},
			{Name: "trim", Is: conf.Flag, Default: conf.Typed{"true"}, Quiet: true, Help: "with tangent: what runs on past the arc's ends is left out"},
			openKey, smoothKey,
		}},
		{Path: "motif.circle", Keys: []conf.Key{nameKey, centerKey, radiusKey}},
		{Path: "motif.path", Keys: []conf.Key{
			nameKey,
			{Name: "d", Is: conf.Data, Must: true, Example: conf.Typed{`"M 0 0 L 100 0"`, `"M 0 0 L 4 0"`}, Help: "path data with M, L, H, V, A and Z, in the file's units and y upwards; no curves; names, units and sums in braces: L {reach + 2} 0"},
			{Name: "scale", Is: conf.Length, Range: conf.Positive, Said: "the file's unit", Quiet: true, Example: conf.Typed{"12", `"1/2"`}, Ask: "the length that 1 stands for in d", Help: "the length that 1 stands for in d: a pitch or a module; what stands in braces is a length as it is"},
			openKey, smoothKey, fitKey,
		}},
		{
			Path: "motif.strand",
			About: "Each step begins in the direction in which the one before it ended, so that all is smooth but at a `corner`. Steps: `straight 40`, `straight to B`, " +
				"`left 90 radius 25`, `right 180 radius 12`, `tangent to C` (the arc that ends there), `corner 45` (to the left), `close` (back to the start, smoothly).",
			Keys: []conf.Key{
				nameKey,
				{Name: "start", Is: conf.Place, Must: true, Example: conf.Typed{"[0, 0]"}, Ask: "where it begins", Help: "where it begins"},
				{Name: "heading", Is: conf.Angle, Said: "towards where the first step ends", Quiet: true, Example: conf.Typed{"30"}, Ask: "degrees, counter-clockwise from +x", Help: "the direction in which it sets out, counter-clockwise from +x; not needed if it first goes straight to a point"},
				{Name: "go", Is: conf.List(0, conf.Text), Must: true, Example: conf.Typed{`["straight 40", "left 90 radius 25", "straight 10"]`, `["straight 2", "left 90 radius 1", "straight 1/2"]`}, Help: "its steps, in order; points are names of [points]"},
				openKey, smoothKey,
			},
		},
		{
			Path: "motif.group",
			About: "Elements, or other groups, that make a pattern of their own about the origin: they are copied by turning as [motif] does, then sized, turned and moved to `at`, and all that repeated. " +
				"Points, `meet` and `tangent` go by the elements as they are drawn, about that origin.",
			Keys: []conf.Key{
				{Name: "name", Is: conf.Text, Said: "group, numbered", Quiet: true, Example: conf.Typed{`"middle"`}, Help: "its name, by which another group may take it in"},
				{Name: "of", Is: conf.List(0, conf.Text), Must: true, Example: conf.Typed{`["bar", "ring"]`}, Ask: ", the names of elements or groups", Help: "the elements, or groups, by name; each is in one group at most"},
				{Name: "copies", Is: conf.Whole, Range: conf.From(1, maxCopies), Default: conf.Typed{"1"}, Quiet: true, Example: conf.Typed{"4"}, Ask: "how often the group's elements are repeated", Help: "how often they are drawn, turned about the origin by 360 degrees / copies each time"},
				{Name: "mirror", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "they are drawn reflected in the x axis as well, before they are turned"},
				{Name: "scale", Is: conf.Ratio, Range: conf.Positive, Default: conf.Typed{"1"}, Quiet: true, Example: conf.Typed{"0.5"}, Ask: "how many times as large as drawn", Help: "how many times as large as drawn, copies and all"},
				{Name: "size", Is: conf.Point, Said: "as drawn", Quiet: true, Example: conf.Typed{"[300, 200]", "[12, 8]"}, Ask: "the width and height that it must fit into", Help: "in place of scale: the width and height that it must fit into, copies and all, before it is turned"},
				{Name: "turn", Is: conf.Angle, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"45"}, Help: "how far all that is turned about the origin, counter-clockwise"},
				{Name: "at", Is: conf.Place, Said: "the origin", Quiet: true, Example: conf.Typed{"[100, 50]", "[4, 2]"}, Help: "where the origin of all that is moved to"},
				{
					Name: "repeat", Is: conf.Either(conf.List(3, conf.Length), conf.List(2, conf.List(3, conf.Length))), Said: "once", Quiet: true,
					Example: conf.Typed{"[3, 40, 0]", "[3, 1.5, 0]"}, Ask: ": how often, the first counted, and how far along x and y each time; two of these in a list make a grid",
					Help: "how often all that stands side by side, the first counted, and how far along x and y each time; two of these make a grid: [[3, 40, 0], [2, 0, 60]]",
				},
			},
		},
		{
			Path:  "motif.drawing",
			About: "Real drawings are exact or nearly so: lines, circles and arcs are taken as they are, other curves get the fewest tangent lines and arcs within the tolerance. How large it is is never guessed.",
			Keys:  drawingKeys,
		},
	}, familyTables(), []conf.Table{
		{Path: "weave", About: "Over and under alternate along every strand by themselves.", Keys: []conf.Key{
			{Name: "first", Is: conf.Word, Words: []string{"over", "under"}, Default: conf.Typed{`"over"`}, Help: "how the first strand of each connected piece meets its first crossing"},
			{Name: "flip", Is: conf.List(0, conf.Place), Example: conf.Typed{"[[0, -80]]", "[[0, -3]]"}, Help: "crossings at which over and under are exchanged, each given to within 1 mm; copies don't repeat them"},
			{Name: "breaks", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "on a [table]: accepts the fewest breaks of over and under where they can't alternate in all arrangements"},
		}},
		{Path: "inlay", About: "Give `strips`, which make the groove's width, or `width`: never both.", Keys: []conf.Key{
			{Name: "depth", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"3", `"1/8"`}, Ask: "the groove's depth", Help: "depth of the groove"},
			// A few strokes of a scraper (common practice).
			{Name: "proud", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0.3", "0.012"}, Help: "how far the strips stand above the wood until they are levelled"},
			{Name: "clearance", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0"}, Help: "how much wider the groove is than the strips together"},
			{Name: "width", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"5", `"3/16"`}, Help: "width of the groove, in place of strips"},
			{Name: "strips", Is: conf.List(0, conf.TableOf("inlay.strips")), Example: stripsExample, Help: "the lay-up across the groove, left to right looking along the strand as its first element is drawn"},
			{Name: "laid", Is: conf.Word, Words: words(work.LaidStrips, work.LaidSandwich), Default: conf.Typed{`"strips"`}, Quiet: true, Help: "strip by strip, or as a sandwich: the lay-up glued first and cut as one"},
			// A saw's width or two (common practice).
			{Name: "allowance", Is: conf.Length, Range: conf.UpTo(maxAllowance), Default: conf.Typed{"1", "1/32"}, Example: conf.Typed{"1", `"1/32"`}, Quiet: true, Help: "how much longer than listed every piece is cut, to be trimmed to fit"},
			{Name: "glue", Is: conf.Word, Words: words(work.Glues()...), Said: "any", Quiet: true, Example: conf.Typed{`"epoxy"`}, Help: "what the strips are glued with, for advice and cautions: hide glue, white or yellow wood glue (pva), epoxy, cyanoacrylate (ca), polyurethane"},
			{Name: "forms", Is: conf.Flag, Default: conf.Typed{"true"}, Quiet: true, Help: "draws forms for bends that need one, and holders to trim bent ends in, with the templates"},
		}},
		{Path: "inlay.strips", About: "One strip of the lay-up.", Keys: []conf.Key{
			{Name: "material", Is: conf.Text, Must: true, Example: conf.Typed{`"holly"`}, Help: "the strip's material; woods, dyed ones too, metals and shell have their colours in pictures"},
			{Name: "thickness", Is: conf.Length, Must: true, Range: conf.Positive, Example: thicknessExample, Help: "thickness of the strip, across the groove"},
			{Name: "temper", Is: conf.Text, Said: "the metal's usual one", Quiet: true, Example: conf.Typed{`"annealed"`}, Ask: ", or another that strapwork profiles lists for the metal", Help: "how hard a metal strip is: it decides how far its bends spring back"},
			{Name: "bends_like", Is: conf.Text, Said: "the material's own", Quiet: true, Example: conf.Typed{`"maple"`}, Ask: ", another material of strapwork profiles, or a file of yours", Help: "the wood or metal whose limits of bending hold for it, or a file of yours"},
			colorKey,
		}},
		{
			Path: "router",
			About: "Measure the rider's diameter in three directions, and the bit by the slot it cuts in scrap: the templates are right for those two numbers only. " +
				"The rest lets heights and clamps be checked; what isn't given isn't checked.",
			Keys: routerKeys,
		},
		{Path: "template", About: "The wall is the sheet that the rider bears on; the floor, under it, is what a router's base stands on.", Keys: templateKeys},
		{Path: "board", About: "With it cuts are held against the work's edges and thickness, and it is drawn.", Keys: []conf.Key{
			{Name: "size", Is: conf.Point, Must: true, Example: conf.Typed{"[600, 400]", "[24, 16]"}, Ask: "the board's width and height", Help: "width and height of the work"},
			{Name: "thickness", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"22", `"3/4"`}, Help: "thickness of the work"},
			{Name: "grain", Is: conf.Angle, Default: conf.Typed{"0"}, Said: "along x", Help: "direction of the grain, counter-clockwise from +x"},
			{Name: "origin", Is: conf.Point, Said: "in the middle", Example: conf.Typed{"[300, 200]", "[12, 8]"}, Help: "where the motif's origin lies, from the board's lower left corner"},
		}},
		tableTable, sectionTable, stationTable, dowelTable, tongueTable,
		{Path: "wood", About: "The board's wood, as pictures of the finished work show it; pictures of set-ups and the page have a pale tint of it, to be drawn upon. With moisture, or humidity, given it is worked out which strips cross too much of its grain.", Keys: []conf.Key{
			{Name: "species", Is: conf.Text, Default: conf.Typed{`"` + wood.Board + `"`}, Example: conf.Typed{`"` + wood.Board + `"`}, Help: "the board's wood"},
			colorKey,
			{Name: "moisture", Is: conf.List(2, conf.Number), Range: conf.From(leastMoisture, mostMoisture), Said: "seasons aren't worked out", Quiet: true, Example: conf.Typed{"[8, 11]"}, Ask: "per cent, when it is inlaid and as expected in use", Help: "moisture of the wood in per cent, when it is inlaid and at worst in use: which strips its movement loosens"},
			{Name: "humidity", Is: conf.List(2, conf.Number), Range: conf.From(leastHumidity, mostHumidity), Said: "by moisture", Quiet: true, Example: conf.Typed{"[45, 60]"}, Ask: "per cent, of the shop and of the room where it will be", Help: "in place of moisture: relative humidity in per cent of the rooms, at 21 °C (70 °F), in which the board is inlaid and used; wood takes weeks to come to it"},
			{Name: "sawn", Is: conf.Word, Words: words(work.SawnFlat, work.SawnQuarter), Default: conf.Typed{`"flat"`}, Quiet: true, Help: "how the board is sawn: flat moves tangentially across its width, quarter radially, about half as much"},
			{Name: "radial", Is: conf.Ratio, Range: conf.From(leastCoefficient, mostCoefficient), Said: "the Wood Handbook's for the species", Quiet: true, Example: conf.Typed{"0.0019"}, Ask: coefficientAsk, Help: "a coefficient of your own, of a board sawn on the quarter: its change of width for 1 % of moisture, as a part of the width"},
			{Name: "tangential", Is: conf.Ratio, Range: conf.From(leastCoefficient, mostCoefficient), Said: "the Wood Handbook's for the species", Quiet: true, Example: conf.Typed{"0.0027"}, Ask: coefficientAsk, Help: "a coefficient of your own, of a board sawn flat: its change of width for 1 % of moisture, as a part of the width"},
			{Name: "source", Is: conf.Text, Quiet: true, Example: conf.Typed{`"measured, winter to summer"`}, Ask: ": where radial or tangential is from", Help: "where radial or tangential is from; it is printed with them"},
		}},
		{
			Path:  "cutting",
			About: "Without it outlines are drawn at true size, and the shop allows for the kerf. Naming a shop without saying who allows for it is an error, since guessing ruins the part.",
			Keys: []conf.Key{
				{Name: "profile", Is: conf.Text, Said: "no particular shop", Quiet: true, Example: conf.Typed{`"laser-900x600"`}, Ask: ", or remove the key", Help: "the shop: a built-in profile (strapwork profiles lists them), or a path to your own"},
				{
					Name: "kerf", Is: conf.Length, Range: conf.Range{Low: true, Most: maxKerf}, Example: conf.Typed{"0.18", "0.007"},
					Ask: "the cut's full width as measured in a test cut; lasers burn 0.1 to 0.3 mm, and a router's is the slot that its cutter makes", Help: "full width of the burnt line, or of the slot that the shop's cutter makes, measured in a test cut",
				},
				{Name: "kerf_by", Is: conf.Word, Must: true, Words: words(work.KerfByMe, work.KerfByShop), Example: conf.Typed{`"me"`}, Ask: ` to draw outlines that allow for the kerf, or "shop" if the shop does: never both, never neither`, Help: `"me": outlines already allow for the kerf; "shop": they are drawn true size`},
			},
		},
		{Path: "paper", About: "Page 1 of the patterns has bars and a square to measure: give what you measured, and the pages are drawn to come out right.", Keys: paperKeys},
		{
			Path: "program",
			About: "For a machine that grooves the board itself. Feeds, speed and step that aren't given are worked out from the bit, " +
				"and machine.md says from what.",
			Keys: programKeys,
		},
		{Path: "stock", Keys: []conf.Key{
			// More than a clamp is put out of place by (common practice).
			{Name: "clearance", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"3", "1/8"}, Example: conf.Typed{"3", "0.125"}, Ask: "what stays clear between bit and clamps", Help: "what must stay clear between the bit and the clamps"},
			{Name: "clamp", Is: conf.List(0, conf.TableOf("stock.clamp")), Help: "a clamp; give one table for each"},
			{Name: "board", Is: conf.List(0, conf.TableOf("stock.board")), Help: "a kind of board, sheet or veneer that strips are cut from; give one table for each"},
			// A thin saw blade's kerf, and a few strokes on each sawn face (common practice).
			{Name: "kerf", Is: conf.Length, Range: conf.Range{Low: true, Most: maxKerf}, Default: conf.Typed{"1", "0.04"}, Example: conf.Typed{"1", "0.04"}, Help: "kerf of the saw that rips the boards and cuts strips to length"},
			{Name: "sanding", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0.1", "0.004"}, Example: conf.Typed{"0.1", "0.004"}, Help: "what is sanded or planed off each sawn face"},
			{Name: "spares", Is: conf.Ratio, Range: conf.From(0, 1), Default: conf.Typed{"0.1"}, Example: conf.Typed{"0.1"}, Help: "share of the pieces of each strip that are cut twice, by length from the longest down: 0.1 is one in ten; 0 for none"},
			{Name: "match", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "all pieces of a strip along one strand come from one board, for colour"},
		}},
		{Path: "stock.board", About: "Boards, sheets or veneers that are alike. Grain runs along their length, as it does along the strips.", Keys: []conf.Key{
			{Name: "material", Is: conf.Text, Must: true, Example: conf.Typed{`"holly"`}, Help: "its material, as [inlay] strips names it"},
			{Name: "length", Is: conf.Length, Must: true, Range: conf.UpTo(maxBoard), Example: conf.Typed{"900", "36"}, Ask: "how long it is, along the grain", Help: "how long it is, along the grain"},
			{Name: "width", Is: conf.Length, Must: true, Range: conf.UpTo(maxBoard), Example: conf.Typed{"100", "4"}, Help: "how wide it is"},
			{Name: "thickness", Is: conf.Length, Must: true, Range: conf.UpTo(maxBoard), Example: conf.Typed{"12", `"1/2"`}, Help: "how thick it is; one as thick as the strip needs no thicknessing"},
			{Name: "price", Is: conf.Number, Range: conf.From(0, maxPrice), Example: conf.Typed{"18.5"}, Help: "price of one; where every board of a material has one the cheapest are taken, else the fewest"},
			{Name: "count", Is: conf.Whole, Range: conf.From(1, maxBoards), Said: "as many as are wanted", Quiet: true, Example: conf.Typed{"3"}, Help: "how many there are"},
		}},
		{Path: "stock.clamp", About: "A box that stands on the work, in the motif's coordinates; of a table that a machine grooves, about the motif's origin on each section.", Keys: []conf.Key{
			{Name: "from", Is: conf.Place, Must: true, Example: conf.Typed{"[-300, -200]", "[-12, -8]"}, Ask: "the corner's place", Help: "one corner of the clamp, from the motif's origin"},
			{Name: "to", Is: conf.Place, Must: true, Example: conf.Typed{"[-260, -150]", "[-10, -6]"}, Ask: "the corner's place", Help: "the opposite corner"},
			{Name: "height", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"25", "1"}, Ask: "how far it stands above the work", Help: "how far it stands up from the top of the work"},
		}},
	}),
}

// Keys that several kinds of element have.
var (
	nameKey   = conf.Key{Name: "name", Is: conf.Text, Said: "the element's kind, numbered", Quiet: true, Example: conf.Typed{`"bar"`}, Help: "its name in lists and findings: letters, digits, - and _; its copies are name.2, name.3"}
	centerKey = conf.Key{Name: "center", Is: conf.Place, Must: true, Example: conf.Typed{"[0, 0]"}, Help: "its centre"}
	radiusKey = conf.Key{Name: "radius", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"30", "1.25"}, Help: "its radius"}
	openKey   = conf.Key{Name: "open", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "its ends are meant to lie near others, within 1 mm, without being joined to them"}
	smoothKey = conf.Key{Name: "smooth", Is: conf.Word, Words: words(work.SmoothStart, work.SmoothEnd, work.SmoothBoth), Said: "as drawn", Quiet: true, Help: "which end meets its neighbour smoothly, though it is drawn up to 3 degrees out"}
	fitKey    = conf.Key{Name: "fit", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "many short lines that stand for an arc become that arc"}
)

var routerKeys = []conf.Key{
	{
		Name: "guide", Is: conf.Word, Must: true, Words: words(work.Guides()...),
		Example: conf.Typed{work.Either(work.Guides(work.Guide.HasTemplates))}, Ask: `: what rides the template; or "none" for a machine's program without templates`,
		Help: "what rides the template: " + work.WhatRides() + `; "pivot" swings it on a bar about a pin, for rings; "none" makes a machine's program alone`,
	},
	{Name: "rider", Is: conf.Length, Range: conf.Positive, Said: "as wide as the bit, for a bearing", Quiet: true, Example: conf.Typed{"100", "4"}, Ask: "the diameter of what touches the template, as measured", Help: "diameter of what touches the template, as measured", For: onTemplate},
	{Name: "bit", Is: conf.Length, Must: true, Range: conf.From(leastBit, 0), Example: conf.Typed{`"1/8 in"`}, Ask: "the width of the slot it cuts, as measured", Help: "width of the slot that the bit cuts, as measured in scrap"},
	{Name: "flute", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"16", `"5/8"`}, Help: "cutting length of the bit"},
	{Name: "shank", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"6.35", `"1/4"`}, Help: "diameter of the shank above it"},
	{Name: "base", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"150", "6"}, Help: "diameter of the router's base, where the rider is something else", For: besideBase, Else: "the rider is the base"},
	{Name: "collar", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"8", `"5/16"`}, Help: "how far the bushing reaches below the base", For: words(work.GuideBushing), Else: "the guide is not a bushing"},
	{Name: "plunge", Is: conf.Flag, Default: conf.Typed{"true"}, Help: "the router plunges; if it doesn't, a pilot hole is marked at each start", For: byHand},
	{Name: "off_center", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0"}, Help: "how far the bit is from the base's centre, as measured; it goes into the expected accuracy", For: byHand},
	{Name: "stickout", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"32", "1.25"}, Help: "from the collet nut's face to the bit's tip; clamps are held against what turns above it"},
	{Name: "nut", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"19", "0.75"}, Help: "diameter of the collet nut"},
	{Name: "nut_length", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"18", "0.7"}, Help: "how far the nut reaches up from its face"},
	{Name: "nose", Is: conf.Length, Range: conf.Positive, Example: conf.Typed{"43", "1.7"}, Help: "diameter of the spindle above the nut"},
}

var templateKeys = []conf.Key{
	{Name: "web", Is: conf.Length, Range: conf.Positive, Default: conf.Typed{"8", "5/16"}, Help: "least wood between openings; less than the wall's thickness is a warning"},
	{Name: "margin", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"25", "1"}, Help: "from the outermost opening to the panel's edge"},
	{Name: "wall", Is: conf.Length, Range: conf.Positive, Default: conf.Typed{"9", "3/8"}, Help: "thickness of the sheet that the walls are cut from"},
	{Name: "floor", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"3", "1/8"}, Help: "thickness of the floor under the wall; 0: the base stands on the work", For: onFloor, Else: "only a base stands on a floor"},
	{Name: "turn", Is: conf.Flag, Default: conf.Typed{"true"}, Help: "panels may be used again turned in the frame"},
	{Name: "flip", Is: conf.Flag, Default: conf.Typed{"false"}, Help: "panels may be used turned over as well; not where a base rides over a floor"},
	{Name: "prefer", Is: conf.Word, Words: words(work.PreferClean, work.PreferSetups, work.PreferPanels), Default: conf.Typed{`"clean"`}, Help: "what there are to be fewest of: visible splits, set-ups or panels"},
	{Name: "step", Is: conf.Whole, Range: conf.From(0, maxCopies), Said: "stepped where a panel is too long for the shop's bed", Quiet: true, Example: conf.Typed{"3"}, Ask: "how many repeats of the pattern a panel holds", Help: "how many repeats of a pattern that repeats a panel holds: it is slid along a rail by as many; 0 for whole panels only"},
	{Name: "frame", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"60", "2 3/8"}, Help: "width of the locating frame's sides; 0 for no frame"},
	{Name: "play", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0.1", "0.004"}, Help: "how much larger than the panel the frame's opening is, on each side"},
}

var paperKeys = []conf.Key{
	{Name: "paper", Is: conf.Text, Default: conf.Typed{`"A4"`, `"Letter"`}, Quiet: true, Example: conf.Typed{`"A4"`, `"Letter"`}, Ask: ", or remove the key", Help: `"A4", "A3", "Letter", "Legal", "Tabloid", a roll such as "roll 610 mm", or a path to a printer's file`},
	{Name: "margin", Is: conf.Length, Range: conf.NotNegative, Said: "as in the printer's file, else 10 mm or 0.4 in", Quiet: true, Help: "non-printing edge of the paper, on each side"},
	{Name: "measured", Is: conf.List(2, conf.Length), Range: conf.Positive, Example: conf.Typed{`["148.9 mm", "150.3 mm"]`}, Ask: ", as you measured them", Help: "the 150 mm bars as printed, x then y"},
	{Name: "diagonals", Is: conf.List(2, conf.Length), Range: conf.Positive, Example: conf.Typed{`["212.0 mm", "212.3 mm"]`}, Ask: ", as you measured them", Help: "the proof square's diagonals as printed; where they differ the printer is out of square, and that is reported"},
	{Name: "revision", Is: conf.Text, Example: conf.Typed{`"B"`}, Help: "for the title block"},
	{Name: "date", Is: conf.Date, Example: conf.Typed{`"2026-11-28"`}, Help: "for the title block, as you want it printed; without it there is none"},
}

var programKeys = []conf.Key{
	{Name: "machine", Is: conf.Text, Said: "generic (no limits known)", Example: conf.Typed{`"machine-600x400"`}, Ask: ", or remove the key", Help: "the machine: a built-in profile (strapwork profiles lists them), or a path to your own"},
	{Name: "cutter", Is: conf.Text, Said: "one flute, by the tables of the built-in bits", Quiet: true, Example: conf.Typed{`"straight-3.175"`}, Ask: ", or remove the key", Help: "the bit's profile, for chip load and surface speed: built-in, or a path to your own"},
	{Name: "zero", Is: conf.Word, Words: []string{"motif", "board"}, Default: conf.Typed{`"motif"`}, Help: `where x0 y0 is: the motif's origin, or the lower left corner of the board, of a table's section its front left one; z0 is the top of the work`},
	{Name: "at", Is: conf.List(3, conf.Length), Example: conf.Typed{"[310, 205, -62]", "[12, 8, -2.5]"}, Ask: "x, y and z of the program's zero in the machine's own coordinates", Help: "where the program's zero is in the machine's own coordinates, x, y and z: travel is checked by it"},
	// Examples of feed, plunge and speed are gentle ones for a small bit in hardwood (common practice).
	{Name: "feed", Is: conf.Feed, Range: conf.UpTo(maxFeed), Said: "from the bit", Quiet: true, Example: conf.Typed{"1000", "40"}, Ask: "a length per minute", Help: "feed, a length per minute"},
	{Name: "plunge", Is: conf.Feed, Range: conf.UpTo(maxFeed), Said: "a quarter of the feed", Quiet: true, Example: conf.Typed{"250", "10"}, Ask: "a length per minute", Help: "plunge feed, a length per minute"},
	{Name: "speed", Is: conf.Number, Unit: "rpm", Range: conf.From(leastSpeed, greatestSpeed), Said: "from the bit", Quiet: true, Example: conf.Typed{"16000"}, Ask: "the spindle's rpm", Help: "spindle speed"},
	{Name: "climb", Is: conf.Flag, Default: conf.Typed{"false"}, Help: "climb cut along the walls, for a stiff machine; else conventional"},
	// Thick enough to cut and not to rub (common practice).
	{Name: "rough", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0.15", "0.006"}, Example: conf.Typed{"0.15", "0.006"}, Ask: "the stock to leave per side; 0 for no roughing pass", Help: "stock to leave, per side, by a roughing pass down the middle; 0: no such pass"},
	{Name: "ramp", Is: conf.Angle, Range: conf.From(leastRamp, maxRamp).OrZero(), Default: conf.Typed{"3"}, Example: conf.Typed{"3"}, Ask: "the entry's angle in degrees; 0 plunges straight down", Help: "slope of the entry along the path; 0 plunges straight down"},
	{Name: "step", Is: conf.Length, Range: conf.Positive, Said: "half the bit, a third under 1.5 mm", Quiet: true, Example: conf.Typed{"1.5", "0.06"}, Ask: ", the deepest step, or remove the key", Help: "deepest stepdown"},
	// Over clamps' lower parts (common practice).
	{Name: "safe", Is: conf.Length, Range: conf.Positive, Default: conf.Typed{"10", "0.4"}, Example: conf.Typed{"10", "0.4"}, Ask: "the clearance height above the work", Help: "clearance height above the work, for traverse moves"},
	{Name: "order", Is: conf.Either(conf.Word, conf.List(0, conf.Text)), Words: []string{OrderShort, OrderDrawn}, Default: conf.Typed{`"` + OrderShort + `"`}, Example: conf.Typed{`"short" or "drawn"`}, Ask: `, or what is cut first: order = ["ring", "bar.2"]`, Help: "shortest way between the strands, or as drawn; or the names of what is cut first"},
	{Name: "widen", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"0.1", "0.004"}, Ask: ", by how much the groove gets wider, or remove the key", Help: "writes a recut too, this much wider overall, for strips that are tight"},
	{Name: "split", Is: conf.Word, Words: words(SplitNone, SplitStrand, SplitDepth), Default: conf.Typed{`"none"`}, Quiet: true, Help: "writes a program for each strand, or for each depth, besides the whole one"},
	{Name: "comments", Is: conf.Flag, Default: conf.Typed{"true"}, Quiet: true, Help: "programs carry comments"},
}
