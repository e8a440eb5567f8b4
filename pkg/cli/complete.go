package cli

import (
	"maps"
	"slices"
	"strings"

	"strapwork/pkg/job"
	"strapwork/pkg/words"
)

var completionCommand = command{
	name: "completion", args: "SHELL", about: "prints what makes a shell complete commands, flags and values",
	text: `SHELL is bash, zsh, fish or powershell. Put the line for yours where it reads its settings:

  bash         source <(strapwork completion bash)             in ~/.bashrc
  zsh          source <(strapwork completion zsh)              in ~/.zshrc, after compinit
  fish         strapwork completion fish | source              in ~/.config/fish/config.fish
  powershell   strapwork completion powershell | Out-String | Invoke-Expression    in $PROFILE
`,
	flags:   []flag{jsonFlag("print it as JSON")},
	operand: first(shellNames),
	run:     runCompletion,
}

type completionDocument struct {
	document
	Script string `json:"script"`
}

func runCompletion(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	if status, done := e.parse(fs, c, args, 1, 1); done {
		return status
	}
	script, ok := shells[fs.Arg(0)]
	switch {
	case !ok:
		return e.usage(c.name, "there is no completion for "+fs.Arg(0), "strapwork completion "+strings.Join(shellNames(), ", or "))
	case e.json:
		return e.printJSON(completionDocument{done(c.name, nil), script}, statusDone)
	}
	return e.print(script, statusDone)
}

func shellNames() []string { return slices.Sorted(maps.Keys(shells)) }

// completeWord is what the shells' scripts call strapwork with: it stands in no list.
// What follows is what has been typed, the word at the cursor last, which may be empty.
// Each line of the answer is a word, a tab, and what it is for; one that begins with a
// colon asks for names of files, with these endings if there are any, or of folders.
const completeWord = "__complete"

// The lines that ask for names.
const (
	anyFile   = ":files"
	anyFolder = ":folders"
)

func (e *env) complete(typed []string) int {
	if len(typed) == 0 {
		typed = []string{""}
	}
	if last := len(typed) - 1; typed[last] == `""` { // an empty word, from a shell that drops empty ones
		typed[last] = ""
	}
	var b strings.Builder
	for _, s := range suggest(typed) {
		b.WriteString(s + "\n")
	}
	return e.print(b.String(), statusDone)
}

// suggest lists what the last word of a line may become.
func suggest(typed []string) []string {
	last := typed[len(typed)-1]
	if len(typed) == 1 {
		return matching(last, described(commands()))
	}
	i := slices.IndexFunc(commands(), func(c command) bool { return c.name == typed[0] })
	if i < 0 {
		return nil
	}
	c := commands()[i]
	given, waiting := operands(c, typed[1:len(typed)-1])
	if name, value, ok := strings.Cut(last, "="); ok && strings.HasPrefix(name, "--") {
		return prefixed(name+"=", c.values(name, value))
	}
	switch {
	case waiting != "":
		return c.values(waiting, last)
	case strings.HasPrefix(last, "-"):
		return matching(last, c.flagLines())
	case c.operand == nil:
		return nil
	}
	return matching(last, c.operand(given))
}

// operands are the words of a line that belong to no flag; waiting is the flag whose
// value comes next, if one does.
func operands(c command, words []string) (given []string, waiting string) {
	for _, w := range words {
		switch f, ok := c.flag(w); {
		case waiting != "":
			waiting = ""
		case ok && f.takes != "":
			waiting = w
		case !strings.HasPrefix(w, "-"):
			given = append(given, w)
		}
	}
	return given, waiting
}

func (c command) flag(typed string) (flag, bool) {
	i := slices.IndexFunc(c.flags, func(f flag) bool { return "--"+f.name == typed })
	if i < 0 {
		return flag{}, false
	}
	return c.flags[i], true
}

func (c command) flagLines() []string {
	var lines []string
	for _, f := range c.flags {
		lines = append(lines, "--"+f.name+"\t"+f.about)
	}
	return lines
}

// values are what a flag's value may become. Of several with commas between them it is
// the last.
func (c command) values(typed, value string) []string {
	f, ok := c.flag(typed)
	if !ok {
		return nil
	}
	if f.words == nil {
		return placeholders(f.takes)
	}
	before := ""
	if strings.Contains(f.takes, ",") {
		cut := strings.LastIndex(value, ",") + 1
		before, value = value[:cut], value[cut:]
	}
	return prefixed(before, matching(value, f.words()))
}

// placeholders are the files that a word of a usage line stands for.
func placeholders(word string) []string {
	switch {
	case strings.HasSuffix(word, ".toml"):
		return []string{anyFile + " toml"}
	case word == "FILE":
		return []string{anyFile}
	case word == "DIR":
		return []string{anyFolder}
	}
	return nil
}

// tomlFiles are one operand, or more, that are files of ours.
func tomlFiles(most int) func(given []string) []string {
	return func(given []string) []string {
		if len(given) >= most {
			return nil
		}
		return []string{anyFile + " toml"}
	}
}

// first is an operand alone.
func first(words func() []string) func(given []string) []string {
	return func(given []string) []string {
		if len(given) > 0 {
			return nil
		}
		return words()
	}
}

// patternWords are the patterns, and then the keys of one.
func patternWords(given []string) (lines []string) {
	if len(given) == 0 {
		for _, f := range job.Families() {
			lines = append(lines, f.Name+"\t"+f.About)
		}
		return lines
	}
	for _, t := range job.Format().Tables {
		if t.Path != "motif."+given[0] {
			continue
		}
		for _, k := range t.Keys {
			lines = append(lines, k.Name+"=\t"+k.Help)
		}
	}
	return lines
}

// helpWords are what help explains.
func helpWords(given []string) (lines []string) {
	if len(given) == 0 {
		return append(append(described(commands()), fileNames()...), wordsTopic)
	}
	if given[0] == wordsTopic {
		for _, w := range words.All() {
			lines = append(lines, strings.ReplaceAll(w.Word, " ", "-"))
		}
	}
	for _, f := range files() {
		if f.Name != given[0] {
			continue
		}
		for _, t := range f.Tables {
			for _, k := range t.Keys {
				lines = append(lines, strings.TrimPrefix(t.Path+"."+k.Name, ".")+"\t"+k.Help)
			}
		}
	}
	return lines
}

func described(cs []command) (lines []string) {
	for _, c := range cs {
		lines = append(lines, c.name+"\t"+c.about)
	}
	return lines
}

// matching are the lines that begin with what is typed; those that ask for files do.
func matching(typed string, lines []string) []string {
	return slices.DeleteFunc(slices.Clone(lines), func(l string) bool {
		return !strings.HasPrefix(l, ":") && !strings.HasPrefix(l, typed)
	})
}

func prefixed(before string, lines []string) []string {
	out := slices.Clone(lines)
	for i, l := range out {
		if !strings.HasPrefix(l, ":") {
			out[i] = before + l
		}
	}
	return out
}
