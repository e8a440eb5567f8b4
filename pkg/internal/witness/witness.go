// Package witness finds independent programs that tests hold our output
// against. It is for tests only.
//
// A witness that isn't installed skips the test, so that the tests run
// anywhere, unless the environment has WITNESS=required: then it fails, so
// that nobody mistakes a skipped check for a passed one. With -short nobody is
// asked.
package witness

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// importTimeout bounds the check that a module can be imported: a slow disk
// takes seconds, a minute is a hang.
const importTimeout = time.Minute

// Python returns the path of a Python interpreter that can import all the
// given modules: Debian's own first, since that is where its packages are
// seen, then the one on the search path. Without one the test is skipped, or
// fails (see the package's comment).
func Python(t testing.TB, modules ...string) string {
	t.Helper()
	notShort(t)
	for _, p := range interpreters() {
		if imports(p, modules) {
			return p
		}
	}
	missing(t, "python3 with "+strings.Join(modules, ", ")+" (Debian packages python3-"+strings.Join(modules, ", python3-")+")")
	return ""
}

// Program returns the path of the named program from the given Debian
// package, or skips or fails the test like Python.
func Program(t testing.TB, name, debianPackage string) string {
	t.Helper()
	notShort(t)
	path, err := exec.LookPath(name)
	if err != nil {
		missing(t, name+" (Debian package "+debianPackage+")")
	}
	return path
}

// Script returns the path of a script in testdata/witness at the module's
// root, wherever below it the test runs.
func Script(t testing.TB, name string) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			t.Fatal("no go.mod above the test's folder")
		}
		dir = parent
	}
	path := filepath.Join(dir, "testdata", "witness", name)
	if _, err := os.Stat(path); err != nil {
		t.Fatal(err)
	}
	return path
}

// Run runs a program that must print to standard output only, and returns
// what it printed. A non-zero exit status is an error that carries standard
// error's text; the output is returned with it.
func Run(name string, args ...string) ([]byte, error) {
	out, err := exec.Command(name, args...).Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) && len(exit.Stderr) > 0 {
		err = errors.Join(err, errors.New(strings.TrimSpace(string(exit.Stderr))))
	}
	return out, err
}

// notShort skips the test with -short: starting a program takes longer than most
// tests.
func notShort(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skipf("no witness is asked with -short")
	}
}

func missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("WITNESS") == "required" {
		t.Fatalf("missing witness: %s", what)
	}
	t.Skipf("missing witness: %s; WITNESS=required makes this a failure", what)
}

func interpreters() []string {
	paths := []string{"/usr/bin/python3"}
	if p, err := exec.LookPath("python3"); err == nil && !slices.Contains(paths, p) {
		paths = append(paths, p)
	}
	return paths
}

var known sync.Map // of bool by interpreter and modules

// imports reports whether interpreter runs and has the modules.
func imports(interpreter string, modules []string) bool {
	key := interpreter + " " + strings.Join(modules, " ")
	if ok, seen := known.Load(key); seen {
		return ok.(bool)
	}
	ctx, cancel := context.WithTimeout(context.Background(), importTimeout)
	defer cancel()
	code := "pass"
	if len(modules) > 0 {
		code = "import " + strings.Join(modules, ", ")
	}
	ok := exec.CommandContext(ctx, interpreter, "-c", code).Run() == nil
	known.Store(key, ok)
	return ok
}
