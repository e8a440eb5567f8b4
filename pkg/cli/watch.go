package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/watch"
)

var watchCommand = command{
	name: "watch", args: "JOB.toml [--port N] [--no-open]", about: "shows a job in the browser, anew at each save; writes nothing",
	text: `Edit the job, save it, and look: the motif and the inlay come at once, panels, set-ups
and program when they are planned. What is wrong is shown in its place, and what was good
stays, grey, until it is fixed. Drawings and profiles that the job names are watched with it

The page is for this computer alone, at the address that is printed: keep it to yourself.
Ctrl-C ends it
`,
	flags: []flag{
		{name: "port", takes: "N", about: "where to listen on 127.0.0.1; a free port if not given"},
		{name: "no-open", about: "open no browser"},
		notesFlag,
		jsonFlag("print a line of JSON with the address, then one with the findings of each save; open no browser"),
	},
	operand: tomlFiles(1),
	run:     runWatch,
}

// mostPort is the greatest number of a port (RFC 9293).
const mostPort = 1<<16 - 1

func runWatch(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	e.noteFlag(fs)
	port := fs.Int("port", 0, "")
	noOpen := fs.Bool("no-open", false, "")
	if status, done := e.parse(fs, c, args, 1, 1); done {
		return status
	}
	path := fs.Arg(0)
	if text, hint := refuseWatch(fs, path, *port); text != "" {
		return e.usage(c.name, text, hint)
	}
	ctx, release := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer release()
	j := watch.Job{
		Name: jobName(path), Path: path, ReadFile: beside(path),
		Read:  func() ([]byte, diag.Findings) { return e.readJob(path) },
		Where: func(name string) string { return besidePath(path, name) },
	}
	w := watching{e, c, path, !*noOpen}
	if err := watch.Run(ctx, j, watch.Options{Port: *port, Opened: w.opened, Made: w.made}); err != nil {
		var found diag.Findings
		found.ErrorAt(diag.Position{}, "port", "the page can't be shown: %v", err).Hintf("leave --port out, and a free one is taken")
		return e.fail(c.name, statusUsage, found)
	}
	return statusDone
}

// refuseWatch says what is wrong with the command line; nothing if text is empty.
func refuseWatch(fs *pflag.FlagSet, path string, port int) (text, hint string) {
	switch {
	case path == fromStdin:
		return "standard input is never saved anew", "name a file: strapwork watch JOB.toml"
	case fs.Changed("port") && (port < 1 || port > mostPort):
		return fmt.Sprintf("there is no port %d", port), fmt.Sprintf("--port takes 1 to %d; leave it out, and a free one is taken", mostPort)
	}
	return "", ""
}

// watching is what is said while a job is watched.
type watching struct {
	*env
	command
	path string
	open bool // a browser, if there is one to be seen
}

// watchOpened is the JSON of the first line.
type watchOpened struct {
	document
	Address string `json:"address"`
}

// watchMade is the JSON of a save.
type watchMade struct {
	document
	Panels int `json:"panels"`
	SetUps int `json:"setUps"`
}

// opened says where the page is.
func (w watching) opened(address string) {
	if w.json {
		w.line(watchOpened{done(w.name, nil), address})
		return
	}
	w.print(fmt.Sprintf("watching %s at %s\nCtrl-C ends it\n", w.path, address), statusDone)
	if _, ok := terminal(w.stderr); !w.open || !ok || !desktop() {
		return
	}
	if err := openBrowser(address); err != nil {
		fmt.Fprintf(w.stderr, "hint: no browser could be opened (%v): open the address yourself\n", err)
	}
}

// made says what came of a save.
func (w watching) made(r build.Result) {
	if w.json {
		m := watchMade{document: done(w.name, r.Findings), Panels: len(r.Set.Panels), SetUps: r.Set.SetUps()}
		m.OK = r.OK()
		w.line(m)
		return
	}
	if w.show(r.Findings) == nil {
		w.print(savedText(r), statusDone)
	}
}

// savedText is a line on what came of a save.
func savedText(r build.Result) string {
	parts := []string{"no fault"}
	errors, warnings := r.Findings.Count(diag.Error), r.Findings.Count(diag.Warning)
	switch {
	case errors > 0:
		parts[0] = unit.Count(errors, "error")
	case warnings > 0:
		parts[0] = "no error"
	}
	if warnings > 0 {
		parts = append(parts, unit.Count(warnings, "warning"))
	}
	if n := len(r.Set.Panels); n > 0 {
		parts = append(parts, unit.Count(n, "panel"), unit.Count(r.Set.SetUps(), "set-up"))
	}
	return strings.Join(parts, ", ") + "\n"
}

// line prints a document on one line.
func (w watching) line(doc any) {
	out := json.NewEncoder(w.stdout)
	out.SetEscapeHTML(false)
	if err := out.Encode(doc); err != nil {
		w.stuck(err)
	}
}

// desktop reports whether there is a screen that a browser could be seen on.
func desktop() bool {
	switch runtime.GOOS {
	case "windows", "darwin":
		return true
	}
	return os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}

// openBrowser has the system open an address in the person's browser.
func openBrowser(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	case "darwin":
		name = "open"
	}
	run := exec.Command(name, args...)
	if err := run.Start(); err != nil {
		return err
	}
	go run.Wait() // what comes of it is to be seen on the screen
	return nil
}
