package report

import (
	"strings"
	"testing"

	"strapwork/pkg/unit"
)

// strips of a lay-up.
func lay(names ...string) inlayJSON {
	var in inlayJSON
	for _, n := range names {
		in.Strips = append(in.Strips, stripJSON{Material: n, Thickness: 1})
	}
	return in
}

// seasonSayings are boards that grow, shrink, do nothing, and aren't asked for.
func seasonSayings() (list []saying) {
	row := movedAlike{Pieces: []int{1, 2}, Material: "bronze", Parts: 3, Across: 66.2, Moves: 0.55, Shy: 0.3}
	many, filling := row, row
	many.More, filling.Material = 9, ""
	grows := seasonsJSON{
		Species: "walnut", As: "black walnut", Sawn: "flat", Coefficient: 0.00274, Source: "the book", Moisture: [2]num{8, 11}, Humidity: [2]num{42, 60}, Percent: 0.822,
		Metal: spanOf{0.2, 24.3309}, Wood: spanOf{0.5, 60.8}, Alike: []movedAlike{row, many, filling},
	}
	shrinks, none := grows, grows
	shrinks.Percent, shrinks.Shrinks, shrinks.Recalled, shrinks.Sawn = -0.822, true, true, "quarter"
	none.Percent, none.Metal.Across, none.Alike = 0, 0, nil
	for _, s := range []*seasonsJSON{&grows, &shrinks, &none, nil} {
		list = append(list, saying{"strips-seasons", &facts{manifest: manifest{Seasons: s}}})
	}
	return list
}

// glueSayings are each kind of glue with each lay-up.
func glueSayings() (list []saying) {
	kinds := []string{"any", "hide", "pva", "epoxy", "ca", "polyurethane"}
	for _, in := range []inlayJSON{lay("holly", "bronze"), lay("holly"), {}} {
		in.Proud = num(len(in.Strips))
		metal := len(in.Strips) > 1
		for i, fit := range []string{"right", "tight", "loose", "unknown"} {
			for _, k := range kinds {
				g := glueJSON{glueFact: glueFact{Kind: k, Fit: fit, Least: 0.1, Most: 0.2, HoldsMetal: i%2 == 0}, Voids: 1234, Clearance: 0.08, Metal: metal}
				if k == "any" {
					for _, one := range kinds[1:] {
						g.Kinds = append(g.Kinds, glueFact{Kind: one, Fit: fit, HoldsMetal: one != "pva"})
					}
				}
				list = append(list, saying{"strips-glue", &facts{manifest: manifest{Inlay: in, Glue: g}, Metal: metal}})
			}
		}
	}
	return list
}

// What the sheet says of seasons and glue, in millimetres and inches.
func TestSeasonsAreSaid(t *testing.T) {
	all := seasonSayings()
	for _, c := range []struct {
		of    saying
		u     unit.System
		wants []string
		lacks string
	}{
		{all[0], unit.MM, []string{"walnut (as black walnut) sawn flat, grows by 0.82 % across", "rooms of 42 and 60 % humidity", "0.00274 for 1 %: the book.", "cross up to 24.3 mm of the grain, wood 60.8 mm", "| 1 and 2 | bronze | 3 | 66.2 mm | 0.55 mm |", "| 1, 2 and 9 more |", "| the filling |", "what opens"}, "short at each end"},
		{all[1], unit.Inch, []string{"quarter-sawn, shrinks by 0.82 %", "from memory: look it up", "up to 0.96 in of the grain", "leave each end short", "| 0.012 in |"}, " mm "},
		{all[2], unit.MM, []string{"grows by 0 %", "No piece crosses more."}, "| pieces |"},
		{all[3], unit.MM, []string{"moisture = [now, expected] into [wood]"}, "humidity"},
	} {
		text, err := printed(c.u, c.of.name, c.of.facts)
		if err != nil {
			t.Fatal(err)
		}
		text = strings.Join(strings.Fields(text), " ")
		for _, want := range c.wants {
			if !strings.Contains(text, want) {
				t.Errorf("lacks %q:\n%s", want, text)
			}
		}
		if strings.Contains(text, c.lacks) {
			t.Errorf("has %q:\n%s", c.lacks, text)
		}
	}
}
