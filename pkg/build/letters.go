package build

import (
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/job"
	"strapwork/pkg/lettering"
	"strapwork/pkg/paper"
)

// ruleLetters is that words of the job can't be printed or engraved as they are.
const ruleLetters = "letters"

// letters warns, once, of letters that the patterns' font lacks, and of those of
// the title that can't be engraved.
func letters(j *job.Job) (found diag.Findings) {
	printed := paper.Lacks(j.Title)
	key := diag.Key("title")
	add := func(words string, at diag.Key) {
		lacks := paper.Lacks(words)
		if len(printed) == 0 && len(lacks) > 0 {
			key = at
		}
		printed = append(printed, lacks...)
	}
	for _, e := range j.Motif.Elements {
		add(e.Name, e.Key)
	}
	for _, s := range j.Inlay.Strips {
		add(s.Material, "inlay.strips")
	}
	if len(printed) > 0 {
		found.Warnf(key, ruleLetters, "the patterns' font has no %s: a question mark stands in its place", listed(printed)).
			Hintf("write it in Latin letters")
		return found
	}
	var engraved []rune
	for _, c := range j.Title {
		if c != '?' && lettering.ASCII(string(c)) == "?" {
			engraved = append(engraved, c)
		}
	}
	if len(engraved) > 0 {
		found.Warnf(key, ruleLetters, "the engraver has no %s: a question mark stands in its place on the parts", listed(engraved)).
			Hintf("write it in plain letters")
	}
	return found
}

// listed are different letters in quotes, the first few.
func listed(letters []rune) string {
	const most = 8
	var said []string
	slices.Sort(letters)
	for _, c := range slices.Compact(letters) {
		if said = append(said, `"`+string(c)+`"`); len(said) == most {
			said = append(said, "...")
			break
		}
	}
	return strings.Join(said, ", ")
}
