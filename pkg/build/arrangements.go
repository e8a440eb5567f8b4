package build

import (
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/table"
	"strapwork/pkg/unit"
)

// ArrangementRole is the role of the picture of an arrangement.
const ArrangementRole = "arrangement"

// lyings say how an arrangement lays the sections that were inlaid apart.
func lyings(t table.Table, laid Apart, a table.Arrangement) (list []inlay.Lying) {
	for _, s := range a.Sections {
		k := t.Kinds[s.Kind]
		by := geom.Shifting(geom.Pt(-laid.Lefts[k.First], 0))
		name := k.Name
		if s.Turned {
			name += " turned"
			by = by.Then(geom.TurningFraction(1, 2)).Then(geom.Shifting(geom.Pt(k.Length, t.Table.Width)))
		}
		list = append(list, inlay.Lying{Top: k.First, By: by.Then(geom.Shifting(geom.Pt(s.X, 0))), Name: name})
	}
	return list
}

type arrangementIn struct {
	Strips made[inlay.Inlay]
	Laid   made[Apart]
	Table  made[table.Table]
	Which  int // of those that are shown
	Title  string
}

func makeArrangement(in arrangementIn) (_ drawnPicture, found diag.Findings) {
	t := in.Table.Value
	a := t.Shown(table.MostShown)[in.Which]
	says := "no leaf"
	if a.Leaves > 0 {
		says = unit.Count(a.Leaves, "leaf", "leaves")
	}
	title := strings.TrimPrefix(in.Title+": "+says, ": ")
	p := in.Strips.Value.Arranged(lyings(t, in.Laid.Value, a)).Arrangement(title, t.Table.Grain)
	data, err := writePicture(p)
	if err != nil {
		found.Errorf("table", "picture", "the picture of an arrangement can't be drawn: %v", err).
			Hintf("build --only templates leaves it out")
	}
	return drawnPicture{p, data}, found
}

// arrangements draws the table as it can be put together.
func (w *writer) arrangements() {
	if w.Table == nil {
		return
	}
	n := make([]int, len(w.Table.Shown(table.MostShown)))
	for i := range n {
		n[i] = i
	}
	all := each(n, func(i int) made[drawnPicture] {
		in := arrangementIn{w.a.strips, w.a.apart, w.a.table, i, w.Job.Title}
		return ask(w.a.Graph, "arrangement", in, makeArrangement)
	})
	for i, p := range all {
		w.Findings.Add(p.Found...)
		if w.OK() {
			w.addPicture(ArrangementPath(i+1), ArrangementRole, p.Value)
		}
	}
}
