package build

import (
	"strconv"

	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/table"
	"strapwork/pkg/weave"
)

// TableParams are what the job's table is laid out by.
func TableParams(j *job.Job) table.Params {
	return table.Params{Table: *j.Table, Groove: j.Inlay.Width, Bit: j.Router.Bit, Strips: j.Inlay.Strips, Weaving: j.Weave}
}

type tableIn struct {
	Params table.Params
	Motif  made[motif.Motif]
}

func makeTable(in tableIn) (table.Table, diag.Findings) {
	return table.New(in.Params, in.Motif.Value)
}

// makePlaces finds the motif's own crossings, where a table decides what is over.
func makePlaces(m made[motif.Motif]) (weave.Weave, diag.Findings) { return weave.Find(m.Value) }

type tableWeaveIn struct {
	Table  made[table.Table]
	Motif  made[motif.Motif]
	Places made[weave.Weave]
}

func makeTableWeave(in tableWeaveIn) (weave.Weave, diag.Findings) {
	return in.Table.Value.OfMotif(in.Motif.Value, in.Places.Value), nil
}

// A Sectioned is a kind of section in its own coordinates, its strands running on past its
// edges, with the groove that they make. What of that lies within the kind's outline is the
// section's own.
type Sectioned struct {
	table.Cut
	Groove groove.Groove
}

type sectionedIn struct {
	Table made[table.Table]
	Kind  int
	Size  groove.Size
}

func makeSectioned(in sectionedIn) (s Sectioned, found diag.Findings) {
	t := in.Table.Value
	s.Cut = t.Section(in.Kind, 0)
	s.Groove, found = groove.Build(in.Size, s.Motif, s.Weave)
	for i := range found {
		found[i].Addf(" (in the section %s, from its own front left corner)", t.Kinds[in.Kind].Name)
	}
	return s, found
}

// onTable lays the motif on the table, weaves what is there, and cuts it into sections.
func (a *asking) onTable(r *Result) {
	a.Step("laying the motif at its stations")
	whole := r.Reached == Joined
	places := ask(a.Graph, "places", a.motif, makePlaces)
	a.weave, r.Weave = places, places.Value
	found := places.Found
	if !whole && !(len(found) == 1 && found[0].Rule == weave.RuleMany) {
		found = nil // ends that could not be joined lie on one another's strands
	}
	r.Findings.Add(found...)
	if !whole || found.HasErrors() {
		return
	}
	a.table = ask(a.Graph, "table", tableIn{TableParams(r.Job), a.motif}, makeTable)
	r.Table = &a.table.Value
	r.Findings.Add(a.table.Found...)
	a.weave = ask(a.Graph, "weave on the table", tableWeaveIn{a.table, a.motif, places}, makeTableWeave)
	r.Weave = a.weave.Value
	r.reach(Woven, !without(a.table.Found, ruleFlipNothing).HasErrors())
}

// cutSections makes the sections' grooves, and reports what the motif's own hasn't.
func (a *asking) cutSections(r *Result) {
	known := r.Findings.HasErrors()
	a.sections = each(r.kinds(), func(k int) made[Sectioned] {
		return ask(a.Graph, "section", sectionedIn{a.table, k, GrooveSize(r.Job)}, makeSectioned)
	})
	for k, s := range a.sections {
		r.Sectioned = append(r.Sectioned, s.Value)
		if known {
			continue
		}
		for _, f := range s.Found {
			if f.Severity != diag.Error {
				continue
			}
			f.Key = r.Table.Kinds[k].Key
			r.Findings.Add(f)
			return
		}
	}
}

// ArrangementPath is the path of the n-th picture of an arrangement, from 1.
func ArrangementPath(n int) string { return "arrangement-" + strconv.Itoa(n) + ".svg" }
