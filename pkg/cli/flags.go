package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"
)

// A flag is one of a command's flags. Help, the manual page and the shells' completion
// are made from these tables; parse holds that they agree with what is parsed.
type flag struct {
	name  string
	takes string          // what follows it: "DIR"; empty: nothing
	about string          // what it is for
	words func() []string // to choose from; nil: anything
}

var notesFlag = flag{name: allNotes, about: "show each note; without it one line says what they are about"}

// jsonFlag is the flag that every command has.
func jsonFlag(about string) flag { return flag{name: "json", about: about} }

// fixed are words that never change.
func fixed(words ...string) func() []string { return func() []string { return words } }

// typed is a flag as it is typed: "--out DIR".
func (f flag) typed() string { return strings.TrimSpace("--" + f.name + " " + f.takes) }

// helpWidth is how wide help is at most: that of a small terminal (common practice).
const helpWidth = 80

// flagText lists flags, each with what it is for beside it.
func flagText(flags []flag) string {
	wide := 0
	for _, f := range flags {
		wide = max(wide, len(f.typed()))
	}
	var b strings.Builder
	for _, f := range flags {
		head := f.typed()
		for _, line := range filled(f.about, helpWidth-wide-4) {
			fmt.Fprintf(&b, "  %-*s  %s\n", wide, head, line)
			head = ""
		}
	}
	return b.String()
}

// filled breaks a text into lines of at most so many letters; a longer word has its own.
func filled(text string, wide int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && len(line)+1+len(word) > wide {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	return append(lines, line)
}

// otherNames are flags that go by a second name, which parse takes and no list shows.
var otherNames = []string{"colour"}

// unlisted are the flags that are parsed and in no table, or the other way round.
func unlisted(fs *pflag.FlagSet, c command) (names []string) {
	fs.VisitAll(func(f *pflag.Flag) {
		if !slices.ContainsFunc(c.flags, func(g flag) bool { return g.name == f.Name }) && !slices.Contains(otherNames, f.Name) {
			names = append(names, f.Name)
		}
	})
	for _, f := range c.flags {
		if fs.Lookup(f.name) == nil {
			names = append(names, f.name)
		}
	}
	return names
}
