package build

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/dxf"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/nest"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// SheetNeed is how much sheet of one thickness a job's parts take.
type SheetNeed struct {
	Thickness float64 // mm
	Parts     int
	Area      float64 // mm2 within the parts' outlines, not counting waste between them
	Longest   float64 // mm: the longest side of a part
}

// A NestedSheet is one sheet of the bed's size with parts on it.
type NestedSheet struct {
	Name   string      // "sheet-1"; its files are templates/sheet-1.dxf and .svg
	Layout nest.Layout // thickness, size and places; Placed.Item is an index in Result.Parts
	Parts  []string    // names of the parts on it, each copy once, by shelf
	Used   float64     // mm2 within their outlines
	Waste  float64     // the share of the sheet, 0 to 1, that is in no part
}

// leastWood is the wood in mm that is left between the cuts round two parts, so
// that the sheet holds together until the last is out (common practice).
const leastWood = 6.0

// nestOptions are the sheets' size and the parts' distance: the wood that is
// left, and what the cutter or the burnt line takes of it.
func (r Result) nestOptions() nest.Options {
	lost := 0.0
	if c := r.Job.Cutting; c != nil {
		lost = c.Kerf
	}
	if r.Shop.Cutter == profile.Router {
		lost = max(lost, r.Shop.CutterDiameter)
	}
	return nest.Options{Bed: geom.Pt(r.Shop.Bed[0], r.Shop.Bed[1]), Spacing: leastWood + lost}
}

// wantBed says if parts are to be put on sheets of no known size.
func (r Result) wantBed() (found diag.Findings) {
	if r.Findings.HasErrors() || r.Shop.Bed[0] > 0 && r.Shop.Bed[1] > 0 {
		return nil
	}
	found.Errorf("cutting", "nest-bed", "the parts can't be put on sheets: the job names no cutting profile, which has the bed's size").
		Hintf("write profile = \"laser-900x600\" or another under [cutting] (strapwork profiles lists them); or leave out --nest")
	return found
}

// folder is where the drawings of single parts go. What is in templates is what
// the shop gets: the parts, or else the sheets that they are on. With sheets,
// single parts are for reference, and so that nobody cuts them again they are
// in a folder of their own.
func (o Options) folder() string {
	if o.Nest {
		return "parts/"
	}
	return "templates/"
}

// PartPath is the path of a part's files, without the ending.
func (r Result) PartPath(p sheet.Part) string {
	return Options{Nest: len(r.Sheets) > 0}.folder() + p.Sheet.Name
}

// items are the parts as they are put on sheets.
func items(parts []sheet.Part) []nest.Item {
	list := make([]nest.Item, len(parts))
	for i, p := range parts {
		list[i] = nest.Item{Sheet: p.Sheet, Thickness: p.Thickness, Quantity: p.Quantity}
	}
	return list
}

// sheetNeeds adds parts up by thickness, the thickest first.
func sheetNeeds(parts []sheet.Part) (list []SheetNeed) {
	for _, p := range parts {
		i := slices.IndexFunc(list, func(s SheetNeed) bool { return s.Thickness == p.Thickness })
		if i < 0 {
			i = len(list)
			list = append(list, SheetNeed{Thickness: p.Thickness})
		}
		s, size := &list[i], nest.Box(p.Sheet).Size()
		s.Parts += p.Quantity
		s.Area += float64(p.Quantity) * nest.Outline(p.Sheet)
		s.Longest = max(s.Longest, size.X, size.Y)
	}
	slices.SortFunc(list, func(a, b SheetNeed) int { return cmp.Compare(b.Thickness, a.Thickness) })
	return list
}

// writeStock adds up what sheet the parts take, puts them on sheets if that is
// wanted, and writes the list of sheets.
func (w *writer) writeStock() {
	w.SheetNeeds = sheetNeeds(w.Parts)
	if w.a.Nest && w.OK() {
		w.writeNested()
	}
	w.Files = append(w.Files, w.sheetList())
}

// writeNested puts the parts on sheets, writes these, reads them back and
// proves what is on them.
func (w *writer) writeNested() {
	w.a.Step("putting the parts on sheets")
	list := items(w.Parts)
	layouts, left := nest.Pack(list, w.nestOptions())
	if len(left) > 0 {
		w.Findings.Add(w.tooLarge(left)...)
		return
	}
	var names []NestedSheet
	var all []drawing
	for i, l := range layouts {
		n := nested(w.Parts, list, l, fmt.Sprintf("sheet-%d", i+1))
		drawn := l.Draw(list, n.Name, fmt.Sprintf("sheet %d of %d, %s: %s", i+1, len(layouts), unit.Len(l.Thickness).In(w.Job.Units), strings.Join(n.Parts, ", ")))
		names = append(names, n)
		all = append(all, drawing{File{Path: "templates/" + n.Name, Role: "sheet"}, drawn, sheet.CheckParts(drawn, len(l.Placed))})
	}
	read := onSheets{openings: map[string][]geom.Contour{}}
	for i, data := range w.writeDrawings(all) {
		if data == nil {
			continue
		}
		if err := read.add(data, w.layout, layouts[i], w.Parts); err != nil {
			w.Findings.Errorf("template", "dxf", "the sheet %s can't be read back: %v", names[i].Name, err).
				Hintf("leave out --nest")
			continue
		}
		w.Sheets = append(w.Sheets, names[i])
	}
	if !w.OK() {
		return
	}
	if len(w.Pivot.Holes) > 0 {
		w.proveBar(read.pins)
	} else {
		w.prove(read.openings)
	}
}

func nested(parts []sheet.Part, list []nest.Item, l nest.Layout, name string) NestedSheet {
	n := NestedSheet{Name: name, Layout: l, Used: l.Used(list), Waste: l.Waste(list)}
	for _, p := range l.Placed {
		n.Parts = append(n.Parts, parts[p.Item].Sheet.Name)
	}
	return n
}

// tooLarge says which parts fit on no sheet.
func (r Result) tooLarge(left []int) (found diag.Findings) {
	o := r.nestOptions()
	for _, i := range left {
		p := r.Parts[i]
		size := nest.Box(p.Sheet).Size()
		f := found.Errorf("cutting.profile", "nest-large", "the part %s of %s, with %s round it, doesn't fit on a sheet of %s",
			p.Sheet.Name, fixture.BySize(size.X, size.Y), unit.Len(o.Spacing/2), fixture.BySize(o.Bed.X, o.Bed.Y))
		if s, ok := r.largerShop(p.Sheet, o.Spacing); ok {
			f.Hintf("profile = %q has a bed of %s; or leave out --nest", s.Name, fixture.BySize(s.Bed[0], s.Bed[1])).
				Propose("cutting.profile", unit.Say("%q", s.Name))
		} else {
			f.Hintf("find a shop with a larger bed; or leave out --nest")
		}
	}
	return found
}

// largerShop finds the built-in profile of the same kind of machine with the
// smallest bed on which a part fits.
func (r Result) largerShop(s sheet.Sheet, spacing float64) (profile.Shop, bool) {
	var found []profile.Shop
	for _, shop := range profile.List() {
		o := nest.Options{Bed: geom.Pt(shop.Bed[0], shop.Bed[1]), Spacing: spacing}
		if shop.Cutter == r.Shop.Cutter && o.Fits(s) {
			found = append(found, shop)
		}
	}
	if len(found) == 0 {
		return profile.Shop{}, false
	}
	area := func(s profile.Shop) float64 { return s.Bed[0] * s.Bed[1] }
	return slices.MinFunc(found, func(a, b profile.Shop) int { return cmp.Compare(area(a), area(b)) }), true
}

// onSheets is what was read back of parts, each brought back to where it was
// drawn. Copies of a part are all there.
type onSheets struct {
	openings map[string][]geom.Contour // of the walls, by panel
	pins     []sheet.Hole              // of the pivot bar
}

// add reads one sheet's file.
func (on *onSheets) add(data []byte, layout dxf.Options, l nest.Layout, parts []sheet.Part) error {
	contours, err := closedLines(data, layout)
	if err != nil {
		return err
	}
	byPart := make([][]geom.Contour, len(l.Placed))
	for _, c := range contours {
		i := slices.IndexFunc(l.Placed, func(p nest.Placed) bool { return p.Holds(c) })
		if i < 0 {
			return unit.Errorf("an opening at %s is in no part", motif.Place(c.Start()))
		}
		byPart[i] = append(byPart[i], l.Placed[i].Back.Contour(c))
	}
	holes, err := pins(data, layout)
	if err != nil {
		return err
	}
	for i, p := range l.Placed {
		part := parts[p.Item]
		switch part.Ply {
		case sheet.Wall:
			if !hasTracks(part) {
				continue
			}
			own, err := within(byPart[i], layout)
			if err != nil {
				return unit.Errorf("%s: %v", part.Sheet.Name, err)
			}
			on.openings[part.Panel] = append(on.openings[part.Panel], own...)
		case sheet.PivotBar:
			for _, h := range holes {
				if p.Box.Holds(h.Center) {
					on.pins = append(on.pins, sheet.Hole{Role: h.Role, Center: p.Back.Apply(h.Center), Radius: h.Radius})
				}
			}
		case sheet.Floor, sheet.Frame, sheet.Wedge, sheet.Key, sheet.Aid, sheet.Form, sheet.Holder, sheet.Rail, sheet.Splice, sheet.Index, sheet.Stick:
		}
	}
	return nil
}

// sheetList is sheets.csv: a line for every sheet with parts on it, or else for
// every thickness, and the area of the parts.
func (r Result) sheetList() File {
	rows := [][]string{{"sheet", "thickness_mm", "width_mm", "height_mm", "parts", "area_m2", "waste_percent", "names"}}
	for _, s := range r.Sheets {
		size := s.Layout.Size
		rows = append(rows, []string{
			s.Name, unit.Decimal(s.Layout.Thickness, 3), unit.Decimal(size.X, 3), unit.Decimal(size.Y, 3), strconv.Itoa(len(s.Parts)),
			unit.Decimal(s.Used/mm2InM2, 4), unit.Decimal(100*s.Waste, 1), strings.Join(s.Parts, " "),
		})
	}
	if len(r.Sheets) == 0 {
		for _, s := range r.SheetNeeds {
			rows = append(rows, []string{"", unit.Decimal(s.Thickness, 3), "", "", strconv.Itoa(s.Parts), unit.Decimal(s.Area/mm2InM2, 4), "", r.partsOf(s.Thickness)})
		}
	}
	var b bytes.Buffer
	_ = csv.NewWriter(&b).WriteAll(rows) // to a buffer, which takes everything
	return File{Path: "sheets.csv", Kind: CSV, Role: "sheets", Data: b.Bytes()}
}

// mm2InM2 is the number of square millimetres in a square metre.
const mm2InM2 = 1e6

// partsOf names the parts of one thickness, each as often as it is wanted.
func (r Result) partsOf(thickness float64) string {
	var names []string
	for _, p := range r.Parts {
		if p.Thickness == thickness {
			names = append(names, slices.Repeat([]string{p.Sheet.Name}, p.Quantity)...)
		}
	}
	return strings.Join(names, " ")
}
