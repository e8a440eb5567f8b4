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
	node = Program(t, "node", "nodejs")
	path = Script(t, script)
	find := exec.Command(node, "-e", "require.resolve(process.argv[1])", npmPackage)
	find.Dir = filepath.Dir(path)
	if find.Run() != nil {
		missing(t, "npm's "+npmPackage+" (npm ci in testdata/witness)")
	}
	return node, path
}
