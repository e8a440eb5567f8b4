// Package cli is the command line: what is typed, what is read and written,
// and how it is shown. It decides nothing about a job.
//
// Results go to standard output, findings and progress to standard error. With
// --json one document goes to standard output and nothing else anywhere.
package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"strapwork/pkg/diag"
)

// Exit statuses.
const (
	statusDone   = 0 // warnings allowed
	statusFailed = 1 // the job cannot be made as asked
	statusUsage  = 2 // usage, a file that cannot be read or written, or an inner error
)

// schema is the version of the JSON documents: fields are added, never renamed.
const schema = 1

// A command is one word after the program's name.
type command struct {
	name  string
	args  string // what follows it, for the usage line
	about string
	text  string // what else is to be known of it, for help
	flags []flag
	after string // stands below the flags
	// operand lists what the next word that is no flag's may be, for completion, after
	// those that are given; nil: nothing is known of it.
	operand func(given []string) []string
	run     func(e *env, c command, args []string) int
}

// commands lists them in the order in which a job goes through them.
func commands() []command {
	return []command{patternCommand, traceCommand, drawCommand, watchCommand, checkCommand, buildCommand, receivedCommand, fitCommand, dryRunCommand, profilesCommand, helpCommand, completionCommand, versionCommand}
}

// env is where a command reads and writes.
type env struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	json           bool
	notes          bool      // shows each note
	jobFile        string    // the job's name for findings, once it is known
	shown          *progress // nil where none is shown
}

// Run runs the command line args, without the program's name, and returns the
// exit status: 0 done, warnings allowed; 1 the job cannot be made as asked; 2
// usage, a file that cannot be read or written, or an inner error.
func Run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	e := &env{stdin: stdin, stdout: stdout, stderr: stderr, json: asksJSON(args)}
	if len(args) == 0 {
		fmt.Fprint(stderr, about, "\nto start:\n", firstSteps, "\nstrapwork help lists all commands\n")
		return statusUsage
	}
	name := args[0]
	switch name {
	case completeWord:
		return e.complete(args[1:])
	case "-h", "--help":
		name = helpCommand.name
	case "--version":
		name = versionCommand.name
	}
	for _, c := range commands() {
		if c.name == name {
			return e.guard(c, args[1:])
		}
	}
	return e.unknownCommand(name)
}

// asksJSON looks for --json before the flags are parsed, so that a mistake in
// them is reported as JSON too.
func asksJSON(args []string) bool {
	if end := slices.Index(args, "--"); end >= 0 {
		args = args[:end]
	}
	return slices.Contains(args, "--json")
}

func (e *env) unknownCommand(name string) int {
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	hint := "strapwork help lists the commands"
	switch near := diag.Nearest(name, names); {
	case near != "":
		hint = "did you mean " + near + "?"
	case strings.HasSuffix(name, ".toml"):
		hint = "strapwork build " + diag.Typed(name)
	case strings.HasPrefix(name, "-"):
		hint = "flags come after the command"
	}
	return e.usage("", fmt.Sprintf("there is no command %q", name), hint)
}

// usage reports a mistake on the command line.
func (e *env) usage(command, text, hint string) int {
	var found diag.Findings
	found.ErrorAt(diag.Position{}, "usage", "%s", text).Hintf("%s", hint)
	return e.fail(command, statusUsage, found)
}

// fail shows findings, with errors among them, and returns status.
func (e *env) fail(command string, status int, found diag.Findings) int {
	if e.json {
		return e.printJSON(document{Command: command, Findings: found}, status)
	}
	if err := e.show(found); err != nil {
		return statusUsage
	}
	return status
}

// A document is what --json prints, whatever comes of the command. Results of
// a command that went well are its own fields beside these.
type document struct {
	Schema   int           `json:"schema"`
	Command  string        `json:"command,omitempty"`
	OK       bool          `json:"ok"`
	Findings diag.Findings `json:"findings"`
}

// printJSON prints a document of the failure's or of another form.
func (e *env) printJSON(doc any, status int) int {
	if d, ok := doc.(document); ok {
		d.Schema = schema
		if d.Findings == nil {
			d.Findings = diag.Findings{}
		}
		doc = d
	}
	out := json.NewEncoder(e.stdout)
	out.SetIndent("", "  ")
	out.SetEscapeHTML(false)
	if err := out.Encode(doc); err != nil {
		return e.stuck(err)
	}
	return status
}

// stuck reports that standard output doesn't take what is written, which is the
// one thing that --json can't report there.
func (e *env) stuck(err error) int {
	fmt.Fprintf(e.stderr, "error: standard output cannot be written: %v\n", reason(err))
	return statusUsage
}

// print writes a result to standard output.
func (e *env) print(text string, status int) int {
	if _, err := io.WriteString(e.stdout, text); err != nil {
		return e.stuck(err)
	}
	return status
}

// flagSet returns a set with the flags that every command has.
func (e *env) flagSet(c command) *pflag.FlagSet {
	fs := pflag.NewFlagSet(c.name, pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.Usage = func() {}
	fs.BoolVar(&e.json, "json", e.json, "") // true already when --json was seen
	return fs
}

// noteFlag adds the flag that shows each note.
func (e *env) noteFlag(fs *pflag.FlagSet) { fs.BoolVar(&e.notes, allNotes, false, "") }

// parse parses a command's arguments. least and most bound what is left beside
// the flags. done is true when there is nothing left to do but return status.
func (e *env) parse(fs *pflag.FlagSet, c command, args []string, least, most int) (status int, done bool) {
	if names := unlisted(fs, c); len(names) > 0 {
		panic(fmt.Sprintf("the flags %q of %s are not both parsed and listed", names, c.name))
	}
	err := fs.Parse(args)
	n := fs.NArg()
	switch {
	case errors.Is(err, pflag.ErrHelp):
		return e.print(help(c), statusDone), true
	case err != nil:
		return e.usage(c.name, err.Error(), "strapwork help "+c.name+" lists its flags"), true
	case n < least:
		return e.usage(c.name, c.missing(n), "strapwork "+c.name+" "+c.args), true
	case n > most:
		return e.usage(c.name, fmt.Sprintf("%q is one word too many", fs.Arg(most)), "strapwork "+strings.TrimSpace(c.name+" "+c.args)), true
	}
	return 0, false
}

// missing says what the usage line wants and isn't given.
func (c command) missing(given int) string {
	word := strings.Fields(c.args)[given]
	what, ok := map[string]string{"JOB.toml": "the job file", "CARD.toml": "the card", "DRAWING": "the drawing", "PROGRAM": "the program", "SHELL": "the shell"}[word]
	if !ok {
		what = word
	}
	return what + "'s name is missing"
}
