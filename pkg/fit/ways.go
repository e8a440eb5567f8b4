package fit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/received"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
)

// A Way is what makes grooves of one width: a track of a panel; without panels a strand,
// by a machine or a bar on a pivot.
type Way struct {
	ID    string            // "A1"; of a strand its first element's name
	Track *received.Opening // nil without panels
	Names []string          // of the cuts that it makes, or of the strand and its elements
}

// Ways lists what makes the grooves of a job, in the order of work.
func Ways(set template.Set, size groove.Size, m motif.Motif) []Way {
	var list []Way
	names := namesOf(set.Plan)
	for _, o := range received.Openings(set, size) {
		list = append(list, Way{ID: o.ID, Track: &o, Names: names[o.ID]})
	}
	if len(list) > 0 {
		return list
	}
	for _, s := range m.Strands {
		w := Way{ID: m.Sources[s.Sources[0]].Name, Names: []string{s.ID}}
		for _, i := range s.Sources {
			w.Names = append(w.Names, m.Sources[i].Name)
		}
		list = append(list, w)
	}
	return list
}

// namesOf are the names of the cuts that a plan's tracks make, by track.
func namesOf(p plan.Plan) map[string][]string {
	all := map[string][]string{}
	for _, s := range p.SetUps {
		for _, t := range s.Made() {
			all[t.ID] = append(all[t.ID], t.Cut.Name)
		}
	}
	return all
}

// numbers are those of the way's cuts through the job.
func (w Way) numbers() (list []int) {
	if w.Track == nil {
		return nil
	}
	for _, c := range w.Track.Cuts {
		list = append(list, c.Number)
	}
	return list
}

// said is what the way is called in findings: "cut 1 (track A1)".
func (w Way) said() string {
	if n := w.numbers(); len(n) > 0 {
		return fmt.Sprintf("cut %d (track %s)", n[0], w.ID)
	}
	if w.Track != nil {
		return "track " + w.ID
	}
	return w.ID
}

// key is the way as the card has it.
func (w Way) key() string {
	if n := w.numbers(); len(n) > 0 {
		return fmt.Sprint(n[0])
	}
	return fmt.Sprintf("%q", w.ID)
}

// remark says what the way makes, for the card.
func (w Way) remark() string {
	if w.Track == nil {
		return "strand " + w.Names[0]
	}
	numbers := w.numbers()
	says := make([]string, len(numbers))
	for i, n := range numbers {
		says[i] = strconv.Itoa(n)
	}
	return fmt.Sprintf("track %s, for %s", w.ID, words(says, "cut"))
}

// words are numbers of things: "cut 1", "cuts 1, 5 and 9".
func words(list []string, thing string) string {
	if len(list) > 1 {
		thing = unit.Plural(thing)
	}
	says := make([]unit.Text, len(list))
	for i, s := range list {
		says[i] = unit.Say("%s", s)
	}
	return thing + " " + unit.List(says).String()
}

// byNumber is the way that makes a cut; -1 if there is none.
func byNumber(ways []Way, n int) int {
	return slices.IndexFunc(ways, func(w Way) bool { return slices.Contains(w.numbers(), n) })
}

// byName is the way of a track's or a cut's name; -1 if there is none.
func byName(ways []Way, name string) int {
	if i := slices.IndexFunc(ways, func(w Way) bool { return strings.EqualFold(w.ID, name) }); i >= 0 {
		return i
	}
	return slices.IndexFunc(ways, func(w Way) bool { return slices.Contains(w.Names, name) })
}
