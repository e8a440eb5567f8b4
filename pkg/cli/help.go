package cli

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"strapwork/pkg/diag"
)

var helpCommand = command{
	name: "help", args: "[COMMAND | FILE [KEY] | words [WORD]]", about: "lists the commands, explains one, a word of the trade, or the keys of a job, a profile or a card",
	text: `FILE is the kind of a file: ` + strings.Join(fileNames(), ", ") + `. KEY is one of its keys, such as
router.rider, or one of its tables. WORD is one of the glossary, such as kerf or depth-pass
`,
	flags: []flag{
		{name: "schema", about: "print a kind of file as JSON Schema, for an editor that completes and checks TOML"},
		{name: "man", about: "print the manual page, for man"},
		jsonFlag("print the commands, or the keys, as JSON"),
	},
}

// It refers to the list of commands, which it is in.
func init() { helpCommand.run, helpCommand.operand = runHelp, helpWords }

func runHelp(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	schema, man := fs.Bool("schema", false, ""), fs.Bool("man", false, "")
	if status, done := e.parse(fs, c, args, 0, 2); done {
		return status
	}
	name := fs.Arg(0)
	if name == wordsTopic && !*schema {
		return e.glossary(c, fs.Arg(1))
	}
	for _, f := range files() {
		if f.Name == name {
			return e.explain(c, f, fs.Arg(1), *schema)
		}
	}
	switch {
	case *man && e.json:
		return e.printJSON(manualDocument{done(c.name, nil), manual()}, statusDone)
	case *man:
		return e.print(manual(), statusDone)
	case *schema:
		return e.usage(c.name, "--schema goes with a kind of file", "strapwork help job --schema")
	case fs.NArg() > 1:
		return e.usage(c.name, fmt.Sprintf("there is no kind of file %q", name), "kinds are "+strings.Join(fileNames(), ", "))
	case name == "" && e.json:
		return e.printJSON(listed(commands()), statusDone)
	case name == "":
		return e.print(overview(), statusDone)
	}
	for _, d := range commands() {
		if d.name != name {
			continue
		}
		if e.json {
			return e.printJSON(listed([]command{d}), statusDone)
		}
		return e.print(help(d), statusDone)
	}
	return e.unknownCommand(name)
}

// commandList is the JSON of help.
type commandList struct {
	document
	Commands []commandEntry `json:"commands"`
}

type commandEntry struct {
	Name  string `json:"name"`
	Usage string `json:"usage"`
	About string `json:"about"`
	Help  string `json:"help"`
}

func listed(cs []command) commandList {
	list := commandList{document: done("help", nil)}
	for _, c := range cs {
		list.Commands = append(list.Commands, commandEntry{c.name, c.usage(), c.about, c.body()})
	}
	return list
}

// done is the head of a document of a command that went well.
func done(command string, found diag.Findings) document {
	if found == nil {
		found = diag.Findings{}
	}
	return document{Schema: schema, Command: command, OK: true, Findings: found}
}

func (c command) usage() string { return strings.TrimSpace("strapwork " + c.name + " " + c.args) }

// help is the whole text about one command.
func help(c command) string {
	return fmt.Sprintf("usage: %s\n\n%s\n\n%s", c.usage(), c.about, c.body())
}

// body is what help says below a command's usage: its text, its flags and what is after.
func (c command) body() string {
	parts := []string{c.text, "flags:\n" + flagText(c.flags), c.after}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), "\n")
}

// about says what all of it is for.
const about = "strapwork makes router templates for interlaced strip inlay from a job file\n"

// firstSteps are what somebody new types.
const firstSteps = `  strapwork pattern                           see what patterns there are
  strapwork pattern border --out lid.toml     write a job that can be made as it is
  strapwork watch lid.toml                    see it change at each save
  strapwork build lid.toml                    make templates, paper, program, set-up sheet
`

const exitStatus = `exit status: 0 done, warnings allowed; 1 the job cannot be made as asked, or a
dry run found a fault; 2 usage, or a file that cannot be read or written
`

// overview is the text of help without a command.
func overview() string {
	var b strings.Builder
	b.WriteString(about + "\nto start:\n" + firstSteps + "\ncommands:\n")
	w := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	for _, c := range commands() {
		fmt.Fprintf(w, "  %s\t%s\n", c.name, c.about)
	}
	_ = w.Flush() // to a strings.Builder, which takes everything
	b.WriteString(`
strapwork help COMMAND lists its flags; strapwork help job lists the keys of a job file;
strapwork help words explains the trade's words, and ours
` + exitStatus)
	return b.String()
}
