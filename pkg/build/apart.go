package build

import (
	"math"
	"strconv"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/table"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// An Apart is the whole table as its strips are laid: its sections apart, or where inlays across
// joints are sawn through afterwards the top with all leaves in, and nothing in Of.
type Apart struct {
	table.Cut
	Lefts []float64 // x of each section's left edge there
}

func makeApart(t made[table.Table]) (a Apart, _ diag.Findings) {
	top := t.Value
	if top.Table.Saw > 0 {
		a.Motif, a.Weave = top.Top, top.Weave
		for _, s := range top.Sections {
			a.Lefts = append(a.Lefts, s.X)
		}
		return a, nil
	}
	a.Cut, a.Lefts = top.Apart(0)
	for i, p := range a.Of { // alike sections' stretches are called alike
		a.Motif.Strands[i].ID = "s" + strconv.Itoa(p.Stretch+1)
	}
	return a, nil
}

func apartMotif(a made[Apart]) (motif.Motif, diag.Findings) { return a.Value.Motif, nil }

func apartWeave(a made[Apart]) (weave.Weave, diag.Findings) { return a.Value.Weave, nil }

// Laid is the motif that the strips are laid by: of a table its sections, laid apart.
func (r Result) Laid() motif.Motif {
	if r.Apart != nil {
		return r.Apart.Motif
	}
	return r.Motif
}

// LaidAt is where a section's own coordinates lie in Laid's.
func (r Result) LaidAt(section int) geom.Point { return geom.Pt(r.Apart.Lefts[section], 0) }

type shownIn struct {
	Strips made[inlay.Inlay]
	Lie    []inlay.Lying
}

func makeShown(in shownIn) (inlay.Inlay, diag.Findings) { return in.Strips.Value.Arranged(in.Lie), nil }

// shown is the inlay as it is seen: of a table with all leaves in.
func (a *asking) shown(r Result) made[inlay.Inlay] {
	if r.Apart == nil {
		return a.strips
	}
	in := shownIn{Strips: a.strips}
	for i, s := range r.Table.Sections {
		in.Lie = append(in.Lie, inlay.Lying{Top: i, By: geom.Shifting(geom.Pt(s.X-r.LaidAt(i).X, 0))})
	}
	return ask(a.Graph, "strips shown", in, makeShown)
}

func topMotif(t made[table.Table]) (motif.Motif, diag.Findings) { return t.Value.Top, nil }

func topWeave(t made[table.Table]) (weave.Weave, diag.Findings) { return t.Value.Weave, nil }

// detail is what the picture of the inlay enlarges.
func (a *asking) detail(r Result) (in detailedIn) {
	in.Groove, in.Motif, in.Weave = r.Job.Inlay, a.motif, a.weave
	if r.Table != nil {
		in.Motif, in.Weave = ask(a.Graph, "strands of the top", a.table, topMotif), ask(a.Graph, "weave of the top", a.table, topWeave)
		in.Joints = r.Table.Joints
	}
	return in
}

// inlayParams are what the strips are laid by: on a table up to the joints.
func (r Result) inlayParams() inlay.Params {
	p := InlayParams(r.Job)
	if r.Apart == nil {
		return p
	}
	sections := r.laidSections()
	for i := range sections {
		k := r.Table.KindOf(i)
		p.Tops = append(p.Tops, inlay.Top{Name: sections[i].String(), Outline: geom.Shifting(r.LaidAt(i)).Contour(k.Outline), Origin: r.LaidAt(i)})
	}
	for _, of := range r.Apart.Of {
		s := sections[of.Section]
		span := inlay.Span{From: s.From, To: s.To}
		if of.Section == 0 {
			span.From = math.Inf(-1)
		}
		if of.Section == len(sections)-1 {
			span.To = math.Inf(1)
		}
		p.Spans = append(p.Spans, span)
	}
	return p
}

// listParams are what the pieces are listed by. The layers are those of the lay-up.
func (a *asking) listParams(r Result) cutlist.Params {
	p := ListParams(r.Job, a.layers)
	if r.Apart != nil {
		p.Sections = r.laidSections()
	}
	return p
}

// laidSections are a table's sections where its strips are laid.
func (r Result) laidSections() (all []cutlist.Section) {
	for i, s := range r.Table.Sections {
		k := r.Table.KindOf(i)
		left := r.LaidAt(i).X
		out := cutlist.Section{Name: k.Name, From: left, To: left + k.Length}
		if k.Count > 1 {
			out.Nth = s.Nth
		}
		all = append(all, out)
	}
	return all
}

// sectionAt is the origin of the section that a place of Laid lies in; 0 where there are none.
func (r Result) sectionAt(p geom.Point) (origin geom.Point) {
	if r.Apart == nil {
		return origin
	}
	for i, left := range r.Apart.Lefts {
		if i == 0 || left <= p.X {
			origin = r.LaidAt(i)
		}
	}
	return origin
}

// onTop are numbers of the motif where it is laid: on a table at every station.
func (r Result) onTop(numbers []work.Numbers) (all []work.Numbers) {
	if r.Table == nil {
		return numbers
	}
	for _, s := range r.Table.Stations {
		for _, n := range numbers {
			all = append(all, n.Placed(geom.Shifting(s.At)))
		}
	}
	return all
}
