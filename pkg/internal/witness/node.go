package witness

import (
	"os/exec"
	"path/filepath"
	"testing"
)

// Node returns the path of node and of a script in testdata/witness that needs
// the given package of npm, or skips or fails the test like Python.
func Node(t testing.TB, script, npmPackage string) (node, path string) {
	t.Helper()
	path = Script(t, script)
	return npm(t, path, npmPackage), path
}

// Package returns the path of the main file of a package of npm in testdata/witness, or
// skips or fails the test like Python.
func Package(t testing.TB, npmPackage string) string {
	t.Helper()
	script := Script(t, "package.json")
	out, err := resolve(npm(t, script, npmPackage), script, npmPackage).Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// npm returns the path of node, which finds a package from where a script lies.
func npm(t testing.TB, script, npmPackage string) string {
	t.Helper()
	node := Program(t, "node", "nodejs")
	if resolve(node, script, npmPackage).Run() != nil {
		missing(t, "npm's "+npmPackage+" (npm ci in testdata/witness)")
	}
	return node
}

func resolve(node, script, npmPackage string) *exec.Cmd {
	find := exec.Command(node, "-e", "process.stdout.write(require.resolve(process.argv[1]))", npmPackage)
	find.Dir = filepath.Dir(script)
	return find
}
