package report

import (
	"fmt"

	"strapwork/pkg/geom"
	"strapwork/pkg/proof"
)

// chisel lists what the bit leaves, place by place.
func (b *bench) chisel() {
	b.heading("Corners and ends for the chisel")
	left := b.r.Proof.Leftovers
	if len(left) == 0 {
		b.para("Nothing: the bit reaches the whole groove.")
		return
	}
	when := ", after the set-up that is named"
	if b.alone() {
		when = ", once the machine is done"
	}
	b.para("The bit is round and leaves a little wood in corners and at square ends, %s in all. Pare it down to the groove's full depth of %s, guided by the groove's walls%s. The width left is seen from above, from the bit's reach to the furthest point.",
		plural(len(left), "place"), b.size(b.j.Inlay.Depth), when)
	head := []string{"where", "furthest point", "width left", "area", "after", "done"}
	if b.alone() {
		head = append(head[:4], "done")
	}
	if b.guided() {
		head = append(head[:5], "chisel guide", "done")
		b.para("A chisel guide lies on the work outside the groove, face up or turned over, its edges flush with the groove's two walls: offcuts of the strips, stood in the groove, put it there. Clamp it, and lean the chisel's back on it. Both hands stay behind the edge.")
	}
	var rows [][]string
	for _, l := range left {
		where := plain(withoutLines(l.Where))
		if l.MissedDepth > 0 {
			where += " (in part within the bit's reach)"
		}
		row := []string{where, b.place(l.At), b.size(l.Depth), b.area(l.Area), b.after(l), "[ ]"}
		if b.alone() {
			row = append(row[:4], "[ ]")
		}
		if b.guided() {
			row = append(row[:5], b.guideOf(l), "[ ]")
		}
		rows = append(rows, row)
	}
	b.table(head, rows)
}

// after is the last set-up with a cut to a leftover: before it there
// is more wood than what is listed.
func (b *bench) after(l proof.Leftover) string {
	if b.swung() {
		return "all swings"
	}
	return "set-up " + fixed(float64(b.r.Set.Plan.LastAt(b.r.Motif, l.Strand, l.S)), 0)
}

// splits tells where a smooth stretch is made in two goes, and what shows.
func (b *bench) splits() {
	all := splits(b.r)
	if len(all) == 0 {
		return
	}
	b.heading("Where one groove is cut in two goes")
	b.para("At these places two cuts meet in a smooth run of groove and overlap a little. If the panels don't lie in quite the same place there is a faint step in the groove's walls, as large as they are out. Feel for it with a strip, and pare it flush before the strips go in.")
	var rows [][]string
	for _, s := range all {
		shows := "in sight: take care"
		if s.hidden {
			shows = "hidden under " + plain(s.under)
		}
		names := make([]string, len(s.cuts))
		for i, n := range s.cuts {
			names[i] = plain(n)
		}
		rows = append(rows, []string{b.place(s.at), list(names), shows, "[ ]"})
	}
	b.table([]string{"place", "cuts", "the step is", "done"}, rows)
}

// interlace says who goes over whom.
func (b *bench) interlace() {
	if len(b.r.Weave.Crossings) == 0 {
		return
	}
	b.heading("Over and under")
	b.para("The groove is the same at every crossing; only the strips differ. The strips of the one above run through. Those of the one below are cut to butt against its two sides.")
	var rows [][]string
	broken := 0
	for i, x := range b.r.Weave.Crossings {
		over, under := passes(b.r.Motif, x)
		note := ""
		if x.Broken {
			note, broken = "*", broken+1
		}
		rows = append(rows, []string{fixed(float64(i+1), 0) + note, b.place(x.At), plain(over), plain(under), "[ ]"})
	}
	b.table([]string{"crossing", "place", "above", "below", "done"}, rows)
	if broken > 0 {
		b.para("\\* Over and under don't alternate between this crossing and a neighbour: the strands can't be woven otherwise.")
	}
}

// heads says which way a strand runs at its start.
func heads(c geom.Contour) string {
	p, t := c.At(0)
	switch d := compass(p, p.Add(t)); d {
	case "upper":
		return "up"
	case "lower":
		return "down"
	default:
		return d
	}
}

// strips writes the stack, how high it stands, which way it runs, and the
// pieces.
func (b *bench) strips() {
	b.heading("The strips")
	in := b.j.Inlay
	height := b.size(in.Depth + in.Proud)
	if len(in.Strips) == 0 {
		b.para("The job gives the groove's width and no strips: size the filling to the groove as measured, with a little clearance, %s high.%s", height, b.proud())
	} else {
		b.para("The stack, from left to right facing along the strand, in strips %s high.%s", height, b.proud())
		b.table([]string{"strip", "material", "thickness", "measured"}, b.stack())
	}
	b.para("Which way each strand runs, so that left and right are the same all along it:")
	var rows [][]string
	for _, s := range b.r.Motif.Strands {
		kind := "open"
		if s.Contour.Closed {
			kind = "closed"
		}
		rows = append(rows, []string{s.ID, kind, b.rough(s.Length()), b.place(s.Contour.Start()), heads(s.Contour), plain(b.r.Motif.Sources[s.Sources[0]].Name)})
	}
	b.table([]string{"strand", "is", "length", "starts at", "heading", "along"}, rows)
	b.pieces()
	b.tick("Make the strips to fit the groove as measured, not as planned. Fit every piece dry, at the crossings too, before any is glued.")
	level := "When the glue has set, level the strips a little at a time"
	if b.metal() {
		level += ", and let the metal cool in between"
	}
	b.tick("%s.", level)
	b.gap()
}

func (b *bench) proud() string {
	if b.j.Inlay.Proud <= 0 {
		return ""
	}
	return fmt.Sprintf(" They stand %s proud of the wood until they are levelled.", b.size(b.j.Inlay.Proud))
}

func (b *bench) stack() [][]string {
	in := b.j.Inlay
	var rows [][]string
	total := 0.0
	for i, s := range in.Strips {
		total += s.Thickness
		rows = append(rows, []string{fixed(float64(i+1), 0), plain(s.Material), b.size(s.Thickness), blank})
	}
	return append(rows,
		[]string{"", "together", b.size(total), blank},
		[]string{"", "clearance", b.size(in.Width - total), ""},
		[]string{"", "groove", b.size(in.Width), blank})
}
