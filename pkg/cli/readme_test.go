package cli_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"strapwork/pkg/cli"
)

// TestReadmeJob: the job that the README goes through is the one of testdata/jobs; and
// with its machine and its paper, it is a job that can be built. The one warning is of the printer that is out of
// square, which the README says is told.
func TestReadmeJob(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var job []string
	for _, block := range regexp.MustCompile("(?s)```toml\n(.*?)```").FindAllSubmatch(readme, -1) {
		job = append(job, string(block[1]))
	}
	if len(job) < 3 {
		t.Fatalf("the README has %d pieces of a job, not 3 or more", len(job))
	}
	shipped, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil || job[0] != string(shipped) {
		t.Errorf("the README's job isn't testdata/jobs/looped-triangle.toml (%v)", err)
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "readme.toml")
	if err := os.WriteFile(path, []byte(strings.Join(job, "\n")), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	status := cli.Run([]string{"build", path, "--out", filepath.Join(dir, "out"), "--only", "program,preview"}, strings.NewReader(""), &out, &errs)
	if status != 0 || strings.Count(errs.String(), "warning:") != 1 || !strings.Contains(errs.String(), "out of square") {
		t.Errorf("status %d, and\n%s", status, errs.String())
	}
}
