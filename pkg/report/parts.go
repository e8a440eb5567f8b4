package report

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/received"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
)

// looseFit in mm is what slots and the frame's opening may be out by: a rule shows
// it, and half of the slots' room and of the wedges' way are left.
const looseFit = 0.5

// partsFacts is what is cut from sheet.
type partsFacts struct {
	Parts       []partFacts // all but the aids, forms and holders
	ShopAids    []partFacts
	Forms       []partFacts  // that strips are bent round
	Holders     []partFacts  // that bent strips are trimmed in
	Ordered     []orderFacts // those of Parts, alike ones together
	Floored     []floorFacts // floors that are fixed under walls, alike ones together
	Aids        aidFacts
	PanelKey    partFacts // that joins a panel's parts
	Marked      bool      // the panels carry lettering
	Floors      bool      // there are floors under walls
	Slot        slotFacts
	LooseFit    num    // what slots and the frame's opening may be out by
	Holds       num    // what a cutting shop holds
	Step        num    // of tape, by which a trial goes from groove to groove
	Drawings    bool   // there are drawings for a machine that cuts the parts
	Patterns    string // path of the patterns for printing
	Thicknesses []num  // of sheet, as they first occur
	SheetNeeds  []needFacts
	Sheets      []sheetFacts
	Kerf        kerfFacts
	Drilled     []num     // diameters of holes too small for the cutter
	Shop        shopFacts // empty where the job names none
}

// partFacts is a part. Its title is that of its drawing as far as it says what the
// part is; the rest says how or where it is used.
type partFacts struct {
	Name      string
	Picture   string // path; "" for none
	Title     string
	Ply       string // "wall", "floor", "frame", "key", "wedge", "aid", "pivot"
	Quantity  int
	Openings  int
	Thickness num
	Size      xy   // once it is cut: its drawing may be larger by the width of the cut
	Flat      bool // its outline is measured: others fit, or are made to
}

// orderFacts are parts of one sheet, size and quantity each.
type orderFacts struct {
	Names []string
	partFacts
}

// Each reports whether the quantity is of each of several.
func (o orderFacts) Each() bool { return len(o.Names) > 1 }

// newOrdered puts parts together that differ only in their openings.
func newOrdered(parts []partFacts) (list []orderFacts) {
	for _, p := range parts {
		i := slices.IndexFunc(list, func(o orderFacts) bool {
			return o.Ply == p.Ply && o.Quantity == p.Quantity && o.Thickness == p.Thickness && o.Flat == p.Flat && sameSize(o.Size, p.Size)
		})
		if i < 0 {
			i = len(list)
			list = append(list, orderFacts{partFacts: p})
		}
		list[i].Names = append(list[i].Names, p.Name)
	}
	return list
}

// alike is by how much in mm the sizes of two parts that are ordered as one may differ: what
// no saw holds.
const alike = 0.05

func sameSize(a, b xy) bool {
	return math.Abs(float64(a[0]-b[0])) < alike && math.Abs(float64(a[1]-b[1])) < alike
}

// floorFacts are floors that go under their walls in the same way.
type floorFacts struct {
	Floors, Walls []string
	Dowels        int  // through both
	InParts       bool // the panel is made in parts
}

func newFloored(panels []panelJSON) (list []floorFacts) {
	for _, p := range panels {
		if !p.Floor {
			continue
		}
		i := slices.IndexFunc(list, func(f floorFacts) bool { return f.Dowels == p.Dowels && f.InParts == (len(p.Joints) > 0) })
		if i < 0 {
			i = len(list)
			list = append(list, floorFacts{Dowels: p.Dowels, InParts: len(p.Joints) > 0})
		}
		list[i].Floors, list[i].Walls = append(list[i].Floors, p.ID+"-floor"), append(list[i].Walls, p.ID+"-wall")
	}
	return list
}

// slotFacts is a floor's slot, along a straight cut, and the room in it at either side
// of the bit's way.
type slotFacts struct{ Width, Room num }

// needFacts is how much sheet of one thickness the parts take.
type needFacts struct {
	Thickness num
	Parts     int
	Area      num
	Longest   num // side of a part
}

// sheetFacts is a sheet with parts on it.
type sheetFacts struct {
	Name      string
	Picture   string
	Thickness num
	Size      xy
	Pieces    int
	Used      num
	Lost      num // per cent
}

// kerfFacts says who allows for the width of the cut: "me", "shop" or "unknown".
type kerfFacts struct {
	By    string
	Width num
	Given bool
}

type shopFacts struct{ About string }

func newParts(r build.Result) partsFacts {
	size := r.Groove.Size
	width := template.SlotWidth(size)
	out := partsFacts{
		Aids: newAids(r), PanelKey: pieceOf(r, "panel-"+fixture.JointKeyName),
		Marked: marked(r), Floors: slices.ContainsFunc(r.Parts, func(p sheet.Part) bool { return p.Ply == sheet.Floor }),
		Slot: slotFacts{num(width), num(width-size.Width) / 2}, LooseFit: looseFit, Holds: num(tolerance(r.Shop)), Step: num(received.Step(tolerance(r.Shop))),
		SheetNeeds: each(r.SheetNeeds, func(s build.SheetNeed) needFacts {
			return needFacts{num(s.Thickness), s.Parts, num(s.Area), num(s.Longest)}
		}),
		Sheets: each(r.Sheets, func(s build.NestedSheet) sheetFacts { return newSheet(r, s) }),
		Kerf:   newKerf(r), Drilled: nums(r.Set.Drilled(r.Kerf())),
	}
	for _, p := range r.Parts {
		switch p.Ply {
		case sheet.Aid:
			out.ShopAids = append(out.ShopAids, newPart(r, p))
		case sheet.Form:
			out.Forms = append(out.Forms, newPart(r, p))
		case sheet.Holder:
			out.Holders = append(out.Holders, newPart(r, p))
		case sheet.Wall, sheet.Floor, sheet.Frame, sheet.Wedge, sheet.Key, sheet.PivotBar, sheet.Rail, sheet.Splice, sheet.Index, sheet.Stick:
			out.Parts = append(out.Parts, newPart(r, p))
		}
		if t := num(p.Thickness); !slices.Contains(out.Thicknesses, t) {
			out.Thicknesses = append(out.Thicknesses, t)
		}
	}
	if len(r.Parts) > 0 {
		_, out.Drawings = partFile(r, r.Parts[0], build.DXF)
	}
	for _, role := range []string{"groove", "patterns"} {
		if i := slices.IndexFunc(r.Files, func(f build.File) bool { return f.Kind == build.PDF && f.Role == role }); i >= 0 {
			out.Patterns = r.Files[i].Path
		}
	}
	out.Ordered = newOrdered(out.Parts)
	if r.Shop.Name != "" {
		out.Shop.About = r.Shop.About
	}
	return out
}

func newPart(r build.Result, p sheet.Part) partFacts {
	out := partFacts{
		Name: p.Sheet.Name, Title: shortTitle(p), Ply: p.Ply.String(), Quantity: p.Quantity,
		Thickness: num(p.Thickness), Size: toXY(finished(r, p)),
		Flat: p.Ply == sheet.Wall || p.Ply == sheet.Floor || p.Ply == sheet.Frame || p.Ply == sheet.Rail,
	}
	out.Picture, _ = partFile(r, p, build.SVG)
	for _, l := range p.Sheet.Lines {
		if l.Role == sheet.Opening {
			out.Openings++
		}
	}
	return out
}

func shortTitle(p sheet.Part) string {
	word, _, _ := strings.Cut(p.Sheet.Title, ":")
	word, _, _ = strings.Cut(word, " for ")
	if p.Ply == sheet.Aid {
		word, _, _ = strings.Cut(word, ",")
	}
	return word
}

func finished(r build.Result, p sheet.Part) geom.Point {
	return p.Sheet.BoundsOf(sheet.Edge).Size().Sub(geom.Pt(r.Kerf(), r.Kerf()))
}

// pieceOf is the part of a name; one that isn't made has its name alone.
func pieceOf(r build.Result, name string) partFacts {
	if i := slices.IndexFunc(r.Parts, func(p sheet.Part) bool { return p.Sheet.Name == name }); i >= 0 {
		return newPart(r, r.Parts[i])
	}
	return partFacts{Name: name, Quantity: 1}
}

// marked reports whether the panels' parts carry lettering.
func marked(r build.Result) bool {
	return slices.ContainsFunc(r.Parts, func(p sheet.Part) bool { return p.Panel != "" && hasMark(p) })
}

func hasMark(p sheet.Part) bool {
	return slices.ContainsFunc(p.Sheet.Lines, func(l sheet.Line) bool { return l.Role == sheet.Mark })
}

func newSheet(r build.Result, s build.NestedSheet) sheetFacts {
	out := sheetFacts{
		Name: s.Name, Thickness: num(s.Layout.Thickness), Size: toXY(s.Layout.Size), Pieces: len(s.Parts),
		Used: num(s.Used), Lost: num(100 * s.Waste),
	}
	path := "templates/" + s.Name + ".svg"
	if hasFile(r, path) {
		out.Picture = path
	}
	return out
}

func newKerf(r build.Result) kerfFacts {
	c := r.Job.Cutting
	if c == nil {
		return kerfFacts{By: "unknown"}
	}
	return kerfFacts{By: c.KerfBy.String(), Width: num(c.Kerf), Given: c.KerfGiven}
}

// tolerance is what a shop holds; that of one about which nothing is known.
func tolerance(s profile.Shop) float64 {
	if s.Tolerance > 0 {
		return s.Tolerance
	}
	return profile.Plain().Tolerance
}
