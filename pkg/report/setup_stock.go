package report

// What sheet the parts take.

import "strings"

// stock says how much sheet is needed, and on which sheets the parts lie.
func (b *bench) stock() {
	var needs []string
	for _, s := range b.r.SheetNeeds {
		needs = append(needs, b.size(s.Thickness)+" thick, "+plural(s.Parts, "piece")+" of "+b.sheetArea(s.Area)+" in all, the longest "+b.rough(s.Longest))
	}
	if len(needs) > 0 {
		b.item("Sheet, without what is lost between the parts: %s%s.", strings.Join(needs, "; "), b.sheetsFile())
	}
	if len(b.r.Sheets) == 0 {
		return
	}
	b.item("**The parts lie on %s ready to cut: have those cut, and not the single parts as well.**", plural(len(b.r.Sheets), "sheet"))
	b.gap()
	var rows [][]string
	for _, s := range b.r.Sheets {
		name := s.Name
		if path := "templates/" + s.Name + ".svg"; b.has(path) {
			name = "[" + s.Name + "](" + path + ")"
		}
		rows = append(rows, []string{name, b.size(s.Layout.Thickness), b.by(s.Layout.Size), fixed(float64(len(s.Parts)), 0), b.sheetArea(s.Used), fixed(100*s.Waste, 0) + " %"})
	}
	b.table([]string{"sheet", "thick", "size", "pieces", "area", "lost"}, rows)
}

// sheetsFile refers to the list of sheets.
func (b *bench) sheetsFile() string {
	const path = "sheets.csv"
	if !b.has(path) {
		return ""
	}
	return " ([" + path + "](" + path + ") lists it)"
}

// sheetArea is an area of sheet: "0.71 sq m".
func (b *bench) sheetArea(mm2 float64) string { return fixed(mm2/1e6, 3) + " sq m" }
