package cli

import (
	"fmt"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/words"
)

// wordsTopic is what help is asked for to get the glossary.
const wordsTopic = "words"

// wordList is the JSON of the glossary.
type wordList struct {
	document
	Words []wordEntry `json:"words"`
}

type wordEntry struct {
	Word  string `json:"word"`
	Ours  bool   `json:"ours"` // strapwork's own, or used in a sense of its own
	Means string `json:"means"`
}

// glossary prints all words, or the one that is asked for.
func (e *env) glossary(c command, name string) int {
	list := words.All()
	if name != "" {
		w, ok := words.Find(name)
		if !ok {
			return e.usage(c.name, fmt.Sprintf("there is no word %q in the glossary", name), nearWord(name, list))
		}
		list = []words.Word{w}
	}
	if e.json {
		return e.printJSON(wordList{done(c.name, nil), wordEntries(list)}, statusDone)
	}
	return e.print(glossaryText(list), statusDone)
}

// nearWord is the hint where a word isn't in the glossary.
func nearWord(name string, list []words.Word) string {
	var all []string
	for _, w := range list {
		all = append(all, w.Word)
	}
	if near := diag.Nearest(strings.ToLower(name), all); near != "" {
		return "did you mean " + near + "?"
	}
	return "strapwork help words lists them"
}

func wordEntries(list []words.Word) []wordEntry {
	entries := []wordEntry{}
	for _, w := range list {
		entries = append(entries, wordEntry{w.Word, w.Ours, w.Means})
	}
	return entries
}

// glossaryText is a list of words with what they mean, for a terminal.
func glossaryText(list []words.Word) string {
	var b strings.Builder
	for _, w := range list {
		b.WriteString(w.Word + "\n" + conf.Wrapped(w.Means, "  "))
	}
	return b.String()
}

// withWords is what is said of a key, followed by what the words in it mean.
func withWords(text string) string {
	if used := words.In(text); len(used) > 0 {
		return text + "\nwords:\n" + glossaryText(used)
	}
	return text
}
