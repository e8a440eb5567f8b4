package cli

import (
	"fmt"

	"strapwork/pkg/conf"
	"strapwork/pkg/fit"
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/received"
	"strapwork/pkg/words"
)

// files are the kinds of file that people write.
func files() []*conf.Format {
	return append(append([]*conf.Format{job.Format()}, profile.Formats()...), received.Format(), fit.Format())
}

func fileNames() []string {
	var names []string
	for _, f := range files() {
		names = append(names, f.Name)
	}
	return names
}

// keyList is the JSON of help about a kind of file.
type keyList struct {
	document
	File   string       `json:"file"`
	Tables []tableEntry `json:"tables"`
}

type tableEntry struct {
	Table string     `json:"table"` // "" for the top
	About string     `json:"about"`
	Keys  []keyEntry `json:"keys"`
}

type keyEntry struct {
	Key     string   `json:"key"`
	Takes   string   `json:"takes"`
	Must    bool     `json:"must"`     // it can't be left out
	LeftOut string   `json:"left_out"` // what is taken then
	Help    string   `json:"help"`
	Guides  []string `json:"guides"` // that have a use for it; empty: all
	Words   []string `json:"words"`  // that it and its help use, of the glossary
}

// explain prints the keys of a kind of file, or one of them.
func (e *env) explain(c command, f *conf.Format, key string, schema bool) int {
	switch {
	case schema:
		return e.print(string(f.JSONSchema()), statusDone)
	case key == "" && e.json:
		return e.printJSON(keysOf(f), statusDone)
	case key == "":
		return e.print(f.Overview(), statusDone)
	}
	text, near, ok := f.Explain(key)
	switch {
	case ok && e.json:
		return e.printJSON(keysOf(f), statusDone)
	case ok && f.Table(key) != nil:
		return e.print(text, statusDone)
	case ok:
		return e.print(withWords(text), statusDone)
	}
	hint := "strapwork help " + f.Name + " lists them"
	if near != "" {
		hint = "did you mean " + near + "?"
	}
	return e.usage(c.name, fmt.Sprintf("there is no key %q in %s", key, f.What), hint)
}

func keysOf(f *conf.Format) keyList {
	list := keyList{document: done("help", nil), File: f.Name}
	for _, t := range f.Tables {
		entry := tableEntry{Table: t.Path, About: t.About, Keys: []keyEntry{}}
		for _, k := range t.Keys {
			entry.Keys = append(entry.Keys, keyEntry{k.Name, k.Takes(), k.Must, k.LeftOut(), k.Help, append([]string{}, k.For...), wordsOf(k.Name + " " + k.Help)})
		}
		list.Tables = append(list.Tables, entry)
	}
	return list
}

// wordsOf names the words of the glossary that a text uses.
func wordsOf(text string) []string {
	names := []string{}
	for _, w := range words.In(text) {
		names = append(names, w.Word)
	}
	return names
}
