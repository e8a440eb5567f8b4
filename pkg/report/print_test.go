package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"text/template/parse"

	"strapwork/pkg/unit"
)

// A branches writes a mark at the beginning of every branch of the templates, so that
// what they print shows which were taken.
type branches struct {
	texts []string // by number
}

const branchMark = "\x01"

func (b *branches) in(name string, list *parse.ListNode) {
	if list == nil {
		return
	}
	for _, n := range list.Nodes {
		switch n := n.(type) {
		case *parse.IfNode:
			b.of(name, n.BranchNode)
		case *parse.WithNode:
			b.of(name, n.BranchNode)
		case *parse.RangeNode:
			b.of(name, n.BranchNode)
		}
	}
}

func (b *branches) of(name string, n parse.BranchNode) {
	for _, list := range []*parse.ListNode{n.List, n.ElseList} {
		if list == nil {
			continue
		}
		b.in(name, list)
		mark := &parse.TextNode{NodeType: parse.NodeText, Text: fmt.Appendf(nil, "%s%d%[1]s", branchMark, len(b.texts))}
		b.texts = append(b.texts, name+": "+strings.TrimSpace(list.String()))
		list.Nodes = slices.Insert(list.Nodes, 0, parse.Node(mark))
	}
}

// Every branch of every template is taken by some job's facts or by facts that a job
// could have: what no compiler checks, a field that isn't there or a value of another
// type, is found here.
func TestEveryBranchIsPrinted(t *testing.T) {
	for _, u := range []unit.System{unit.MM, unit.Inch} {
		all := readTemplates(u)
		var b branches
		for _, one := range all.Templates() {
			if one.Tree != nil {
				b.in(one.Name(), one.Root)
			}
		}
		taken := map[string]bool{"": true}
		for _, c := range sayings(t) {
			text, err := execute(all, c.name, c.facts)
			if err != nil {
				t.Fatal(err)
			}
			for i, part := range strings.Split(text, branchMark) {
				taken[part] = taken[part] || i%2 == 1
			}
		}
		for i, text := range b.texts {
			other := slices.ContainsFunc([]string{"hundredths: ", "twentieth: ", "setup.md.tmpl: Lengths", "facing: 0.0", "facing: 0.1"}, func(of string) bool { return strings.HasPrefix(text, of) }) // of the other units
			if !taken[strconv.Itoa(i)] && !other {
				t.Errorf("in %s nothing prints the branch of %s", u, text)
			}
		}
		if len(b.texts) < 200 {
			t.Errorf("only %d branches were found", len(b.texts))
		}
	}
}

// saying is a template and facts for it.
type saying struct {
	name  string
	facts any
}

// sayings are those of the examples, and of the triangle, the bars and a job without
// templates with facts changed that these don't have.
func sayings(t *testing.T) (list []saying) {
	t.Helper()
	sheet := func(f facts) {
		list = append(list, saying{"setup.md.tmpl", &f}, saying{"machine.md.tmpl", &f}, saying{"strips.md.tmpl", &f})
		if f.Places != (placesFacts{}) {
			list = append(list, saying{"stations.md.tmpl", &f})
		}
		if f.Alone {
			return // nothing is cut by hand
		}
		list = append(list, saying{"card head", &f}, saying{"card care", &f})
		for _, s := range f.SetUps {
			list = append(list, saying{"card title", s}, saying{"card lay", cardLay{s, f.Marked}})
			for _, spare := range s.Spare {
				list = append(list, saying{"card spare", spare})
			}
			for i, c := range s.Made {
				list = append(list, saying{"card again", againFacts{i + 1, c.Again}})
			}
		}
	}
	for _, r := range examples(t) {
		sheet(*r.facts)
		list = append(list, saying{"check", newSummaryFacts(r.Result)}, saying{"made", newSummaryFacts(r.Result)})
	}
	for _, b := range bendings {
		list = append(list, saying{"strips-bends", &facts{Bends: &b}})
	}
	for _, of := range ofGuides() {
		list = append(list, of...)
	}
	list = append(list, seasonSayings()...)
	list = append(list, glueSayings()...)
	list = append(list, jointSayings()...)
	list = append(list, stationSayings()...)
	list = append(list,
		saying{"card spare", spareJSON{By: make([]overlapJSON, 2)}},
		saying{"edge up", setUpJSON{Along: "shifted"}}, saying{"card lay", cardLay{setUpJSON{Along: "shifted"}, true}},
		saying{"check", summaryFacts{OK: true, Sections: 2, Arrangements: 1, Stations: 1}}, saying{"check", summaryFacts{OK: true, Sections: 2, Arrangements: 2}}, saying{"check", summaryFacts{Errors: 1}}, saying{"check", summaryFacts{OK: true, Depths: 2}},
		saying{"made", summaryFacts{Templates: true, Sheets: 2, Overcut: 0.01, Places: 2, Uncut: 2, Missed: 1, Program: &dryRunJSON{Warnings: 1}}},
	)
	for _, run := range []dryRunJSON{
		{Length: 1, From: &xyz{}, To: &xyz{}, GougeMax: 1, GougeLine: 3, GougeAt: &xy{}, GougeAtLeast: true, Faults: 1, BodyUnseen: true},
		{GougeMax: 1, GougeLine: 3, GougeAt: &xy{}, Partial: true, Warnings: 1},
		{CutsNothing: true},
		{Broken: true, Left: make([]leftJSON, 1), MissedArea: 1},
		{Left: make([]leftJSON, 1)},
		{Left: make([]leftJSON, 1), MissedArea: 1},
		{Section: "leaf", SectionBy: "as asked for", Edges: make([]edgeRuns, 1)},
	} {
		list = append(list, saying{"dry run", run})
	}
	for _, of := range []string{"seat", "outline", "walls", "kerf", "off_center", "moisture", "rider", "bit", "sheet", "holes", "pin", "bearing", "index", "splices", "other"} {
		list = append(list, saying{"source", termJSON{Source: of, Assumed: of == "bit"}})
	}
	list = append(list, saying{"source", termJSON{Source: "outline", Times: 1}})
	for _, s := range stocks(t) {
		list = append(list, saying{"strips-stock", &facts{manifest: manifest{Boards: s}}})
	}
	table := *drawn(t, pearTable).facts
	sheet(table)
	own, ownPlaces := *table.Places.Stations, table
	own.OnJoints, ownPlaces.Places.Stations = false, &own
	sheet(ownPlaces)
	bySection := *table.Program // cut from the sections' corners, again, and with clamps
	table.Program = &bySection
	bySection.AtBoard, bySection.Saw, bySection.Widen, bySection.DryRun.Clamps, bySection.Page = true, 3, 0.1, 1, "p"
	sheet(table)
	over := *table.Heights
	over.Rim, table.Heights = "over", &over
	rail := railJSON{Holes: []railHoleJSON{{SetUp: 1, Panel: "A", InName: "rail-1"}}}
	for _, f := range []stepsFacts{
		{Pieces: []string{"rail-1"}, Plates: []string{"A-index"}},
		{
			Pieces: []string{"rail-1", "rail-2"}, Plates: []string{"A-index-1", "A-index-2"}, Loose: true, Floor: 3,
			Between: 100, Board: true, Beyond: true, Reaches: unit.Say("a little on the left"),
		},
	} {
		table.Places, table.Rail, table.Frame, table.Battens = placesFacts{Steps: &f}, &rail, nil, nil
		sheet(table)
	}
	triangle := *whole(t, loopedTriangle).facts
	for _, change := range changes {
		f := triangle
		frame, heights, program := *f.Frame, *f.Heights, *f.Program
		f.Frame, f.Heights, f.Program = &frame, &heights, &program
		f.SetUps, f.Panels = slices.Clone(f.SetUps), slices.Clone(f.Panels)
		change(&f)
		sheet(f)
	}
	return list
}

// bendings are what there may be to say of bends.
var bendings = []bendsFacts{
	{
		Dry: true, Sprung: true, Cold: true, Heated: true, Steamed: true, Wood: true, Rods: true, Left: true, Stack: true, Undrawn: 1,
		Rows: []bendFacts{
			{Strips: []int{1}, Way: "dry", Radius: 1, Widest: 2},
			{Strips: []int{1}, Way: "dry", Sprung: true, Widest: 0.001},
			{Strips: []int{1}, Way: "cold", Rounds: []num{1, 2, 3}, Forms: []formUse{{"a", 1, false}, {"", 2, true}, {"", 3, false}}},
			{Strips: []int{1}, Way: "steamed", Laminations: 2},
		},
		Holders: []holderFacts{{"a", []tipFacts{{1, []int{1}}}}, {"b", []tipFacts{{1, []int{1}}, {2, []int{2}}}}},
		Stuff:   []stuffFacts{{Strips: []int{1}, Known: true, Of: "a", Thickest: 1}, {Strips: []int{1, 2}, Known: true, Metal: true, Limits: make([]limitFacts, 2)}},
	},
	{Unknown: true, Tight: true, Alone: true, Glued: true, Undrawn: 2, Rows: []bendFacts{{Way: "unknown", Alone: true}}, Stuff: []stuffFacts{{}}},
}

// changes make facts of the triangle's that the examples don't have.
var changes = []func(*facts){
	func(f *facts) { // a machine does it all
		f.Alone, f.Metal, f.Guide.By = true, false, "none"
		f.Traced = []drawingJSON{{"knot.svg", strings.Repeat("0", 64)}}
		f.Proof.Leftovers = []leftoverJSON{{Name: "end", MissedDepth: 1}}
		f.Program.AtBoard, f.Program.Machine, f.Program.Widen, f.Program.SpindleWait = true, "", 0.1, 2
		f.Program.DryRun.Warnings, f.Program.DryRun.BodyUnseen, f.Program.DryRun.Clamps = 1, true, 2
		f.Program.Parts, f.Program.Deep = []programFacts{{Path: "a"}, {"b", 1, "a"}}, true
		f.Crossings, f.Broken = []crossJSON{{Broken: true}}, true
	},
	func(f *facts) { f.Alone, f.Proof.Leftovers, f.ByWeight, f.Assumed = true, nil, nil, nil },
	func(f *facts) { // swung
		f.Swung, f.Frame, f.Guide.By, f.Passes = true, nil, "pivot", f.Passes[:1]
		f.Bar = barFacts{Holes: []holeFacts{{"1", 2}}, Circles: []circleFacts{{Elements: []string{"a"}, Holes: []holeFacts{{"1", 2}, {"2", 3}}}}}
		f.Proof.Leftovers = []leftoverJSON{{}}
	},
	func(f *facts) { // battens, all alike
		f.Frame, f.Marked, f.paths, f.Board = nil, false, nil, nil
		f.Battens = &battenFacts{Panels: []laidFacts{{SetUp: 1}}, Alike: true}
		f.ShopAids, f.Aids, f.Patterns, f.Drawings = nil, aidFacts{}, "", false
		f.SetUps[0].Laid, f.SetUps[0].Wall = "", "a"
		f.SetUps[1].Laid, f.SetUps[1].Wall, f.SetUps[1].Flip, f.SetUps[1].Arrow, f.Flipped, f.Arrows = "", "", true, false, true, false
	},
	func(f *facts) { // battens beside a board
		f.Frame, f.Board = nil, &boardFacts{}
		f.Battens = &battenFacts{Panels: []laidFacts{{SetUp: 1}}, Beyond: []beyondSide{{1, "left"}}}
		f.Program.Page, f.Program.Parts, f.Program.Depths = "", []programFacts{{Path: "a"}}, []num{1}
		f.Drilled, f.Sheets = []num{1, 2}, []sheetFacts{{}, {Picture: "a"}}
		f.Panels[0].Joints, f.Panels[0].Dowels, f.Panels[0].Floor = []jointFacts{{[]string{"a"}, []string{"b"}, 2}, {[]string{"a", "b"}, []string{"c"}, 2}}, 0, true
		f.PanelKey, f.Kerf, f.Plan.InParts = partFacts{Quantity: 2}, kerfFacts{By: "shop", Given: true}, true
	},
	func(f *facts) { // a frame in bars round the board
		f.Frame.JointKey.Quantity = 2
		f.Frame.Bars, f.Frame.Marked, f.Frame.Beyond, f.Frame.Lies, f.Frame.Reaches = 4, false, true, "round", unit.Say("all round")
		f.Frame.Notches = notchFacts{[]string{"left"}, []string{"upper", "lower"}, []besideFacts{{"left", 300}}}
		f.Frame.Pairs, f.Frame.Against, f.Frame.Key = []pairFacts{{At: []num{1}}, {At: []num{1, 2}}}, []string{"left"}, nil
		f.Frame.Meet, f.Frame.ClampsOn, f.Board = meetFacts{OverBoard: 2}, 0, &boardFacts{}
		f.Kerf = kerfFacts{By: "me"}
	},
	func(f *facts) { // a frame over the board's edge
		f.Frame.Beyond, f.Frame.Lies, f.Frame.Reaches, f.Frame.ClampsOn = true, "over", unit.Say("below"), 12
		f.Frame.Notches = notchFacts{Level: []string{"left", "right"}}
		f.Frame.Meet, f.Board = meetFacts{2, 2, []sideCount{{"left", 2}}, []sideCount{{"upper", 1}, {"lower", 1}}}, &boardFacts{}
		f.Kerf = kerfFacts{By: "shop"}
	},
	func(f *facts) { // screws that all miss the board
		f.Frame.Meet, f.Frame.Notches, f.Board = meetFacts{Packed: 2}, notchFacts{Upright: []string{"upper"}}, &boardFacts{}
	},
	func(f *facts) { // a router that doesn't plunge, and a bit that fills the groove
		f.Guide.Plunge, f.Thin, f.Guide.OffCenter, f.Marked = false, true, 0.1, false
		f.SetUps[0].Made = []cutJSON{{Shown: []string{"a", "b"}, Unshown: 2, Again: []overlapJSON{{"a", 1, 2, 1}, {"b", 2, 3, 2}}}}
		f.SetUps[0].Spare = []spareJSON{{By: []overlapJSON{{"a", 1, 2, 1}}}, {By: make([]overlapJSON, 2)}}
		f.SetUps[0].Edge, f.Cuts, f.Turned = "", f.SetUps[0].Made, true
		f.SetUps[1].Edge, f.SetUps[2].Edge = "right", "left"
		f.Splits = []splitFacts{{Cuts: []string{"a", "b"}}, {Hidden: true, Under: "c"}}
		f.Order = layFacts{Dummies: 1, Placed: true, Steps: []layStep{{Plain: "1", Dummies: make([]dummyFacts, 1)}}}
		f.Cut = listFacts{Short: true, Sandwich: true, OneWay: true, AnyCope: true, Batches: []batchFacts{{Whole: true, Strips: make([]totalFacts, 1), Stops: []stopFacts{{Kinds: []kindFacts{{Ends: [2]cutFacts{{Cope: true}, {Cope: true, Radius: 1, Hollow: true}}}}}}}}}
		f.Compact, f.Unstated = false, []findingJSON{{Message: "a"}}
	},
	func(f *facts) { // what the bit could have reached
		f.Proof.Leftovers, f.Proof.MissedMax, f.Proof.Why = []leftoverJSON{{Guide: "g"}}, 1, unit.Say("why")
		f.Guided, f.Plan = true, planFacts{Visible: 2, LeastVisible: 1}
	},
	func(f *facts) { f.Plan = planFacts{SetUps: 2, LeastSetUps: 2, LeastPanels: 2} },
	func(f *facts) { f.Plan = planFacts{SetUps: 2, LeastSetUps: 1} },
	func(f *facts) { // a table's strips, laid section by section
		alike := []movedAlike{{Pieces: []int{1}, Joint: true, Shy: 1}, {Pieces: []int{2}, Parts: 2}}
		f.Seasons = &seasonsJSON{Alike: alike, Shrinks: true, Metal: spanOf{1, 1}, Joint: spanOf{1, 1}}
		f.Cut.Heads, f.Cut.AnyJoint = []headFacts{{}, {Strip: 1}, {Strip: 2, Material: "pear"}}, true
		f.Cut.Sections = []sectionFacts{{Name: "left", Strips: []int{1, 2}}}
		f.Cut.Ways = []wayFacts{{Section: "left", Stretches: make([]strandJSON, 2)}, {Section: "leaf", Alike: true}}
		steps := []layStep{{Section: "left", Plain: "1", Dummies: []dummyFacts{{For: "2"}, {For: "3"}}}, {Plain: "2"}}
		f.Order = layFacts{Apart: true, Placed: true, Dummies: 2, Steps: steps}
	},
	func(f *facts) { // a table's that is laid together, on a stable core
		f.Seasons, f.Stable, f.Cut.Sections = nil, true, make([]sectionFacts, 1)
		f.Order = layFacts{Station: true, Placed: true, Dummies: 1, Steps: make([]layStep, 2)}
	},
	func(f *facts) { // one step to lay all of it in
		f.Plan.Proved = true
		f.Order = layFacts{Mitred: true, Steps: []layStep{{Mitred: "1", Plain: "2"}}}
	},
	func(f *facts) { // many cuts, and places for the chisel
		f.Compact, f.ManyLeft, f.Proof.Leftovers = true, true, []leftoverJSON{{}}
		f.LeftAlike = []leftFacts{{Number: 20, Missed: true, Guide: "g"}, {Number: 2, Places: []xy{{}, {}}}}
		f.Guide.Plunge, f.ShopAids = false, []partFacts{{Quantity: 2}, {Quantity: 1}}
		f.Ordered = []orderFacts{{[]string{"a", "b"}, partFacts{Quantity: 2}}}
		f.Floored = []floorFacts{{Floors: []string{"a", "b"}, InParts: true}, {Floors: []string{"a"}, Walls: []string{"b"}, Dowels: 3}}
		f.Floors, f.Crossings = true, nil
	},
	heights("unstated, through a floor", "unstated, in the bearing", "unstated", 0, "unstated"),
	heights("unstated", "in the bearing", "stated", 2, "on the frame"),
	heights("shank in the slot", "unstated, in the collar", "", 0, "over"),
	heights("shank in the groove", "in the collar", "", 0, "within"),
	heights("long, through a floor", "", "", 0, ""),
}

// heights are facts with these outcomes.
func heights(flute, shank, collar string, bearing num, rim string) func(*facts) {
	return func(f *facts) {
		h := f.Heights
		h.Flute, h.Shank, h.Collar, h.Bearing, h.Rim = flute, shank, collar, bearing, rim
	}
}
