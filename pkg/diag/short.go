package diag

import (
	"fmt"
	"slices"
	"strings"
)

// Most is how many findings are shown about one job or program: whoever has a
// hundred mistakes to repair has read enough.
const Most = 100

// Rules of findings that stand for others.
const (
	ruleMore  = "more-findings" // counts those not shown
	ruleNotes = "notes"         // says of which kinds the notes are
)

// Counts is a number of findings of each severity.
type Counts [Error + 1]int

// Sum is how many there are of all severities.
func (c Counts) Sum() int { return c[Note] + c[Warning] + c[Error] }

// worst is the severity of the worst of them.
func (c Counts) worst() Severity {
	for s := Error; s > Note; s-- {
		if c[s] > 0 {
			return s
		}
	}
	return Note
}

// add counts a finding, or those that it stands for.
func (c *Counts) add(f Finding) {
	if f.More == (Counts{}) {
		c[f.Severity]++
		return
	}
	for s, n := range f.More {
		c[s] += n
	}
}

// Shorten leaves the first of sorted findings, Most in all, errors before
// warnings before notes, and ends them with how many are left out.
func (fs Findings) Shorten() Findings {
	if len(fs) <= Most {
		return fs
	}
	room := Most
	var more Counts
	drop := make([]bool, len(fs))
	for s := Error; s >= Note; s-- {
		for i, f := range fs {
			switch {
			case f.Severity != s:
			case f.More == (Counts{}) && room > 0:
				room--
			default:
				drop[i] = true
				more.add(f)
			}
		}
	}
	var kept Findings
	for i, f := range fs {
		if !drop[i] {
			kept = append(kept, f)
		}
	}
	return kept.AndMore(more)
}

// AndMore ends findings with the number of those that are not among them.
func (fs Findings) AndMore(more Counts) Findings {
	if n := more.Sum(); n > 0 {
		f := NewAt(more.worst(), fs[len(fs)-1].Pos, ruleMore, "and %d more not shown", n)
		f.More = more
		fs = append(fs, f)
	}
	return fs
}

// FoldNotes puts the notes among sorted findings into one line that says how many
// there are and of which kinds, as words has them by rule; how is what shows them
// all. A note that stands alone stays, as do those of the rules in kept.
func (fs Findings) FoldNotes(how string, words func(rule string) string, kept ...string) Findings {
	var out, notes Findings
	for _, f := range fs {
		if f.Severity == Note && f.More == (Counts{}) && !slices.Contains(kept, f.Rule) {
			notes.Add(f)
		} else {
			out.Add(f)
		}
	}
	if len(notes) < 2 {
		return fs
	}
	out.NoteAt(Position{}, ruleNotes, "%d notes, shown by %s: %s", len(notes), how, notes.kinds(words))
	return out
}

// kinds lists the findings' kinds in the order in which they come, with how many
// there are of those that come more than once.
func (fs Findings) kinds(words func(rule string) string) string {
	var order []string
	times := map[string]int{}
	for _, f := range fs {
		kind := words(f.Rule)
		if times[kind]++; times[kind] == 1 {
			order = append(order, kind)
		}
	}
	for i, kind := range order {
		if n := times[kind]; n > 1 {
			order[i] = fmt.Sprintf("%s (%d)", kind, n)
		}
	}
	return strings.Join(order, ", ")
}
