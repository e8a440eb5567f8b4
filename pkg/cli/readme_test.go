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

// TestJobPage: the job that the page of the job file goes through is the one of
// testdata/jobs; and with its machine and its paper, it is a job that can be built. The
// one warning is of the printer that is out of square, which the page says is reported.
func TestJobPage(t *testing.T) { builtPage(t, "../job/README.md") }

// TestReadmeJob: so is the README's.
func TestReadmeJob(t *testing.T) { builtPage(t, "../../README.md") }

func builtPage(t *testing.T, file string) {
	t.Helper()
	readme, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var job []string
	for _, block := range regexp.MustCompile("(?s)```toml\n(.*?)```").FindAllSubmatch(readme, -1) {
		if text := string(block[1]); !strings.HasPrefix(text, `kind = "machine"`) {
			job = append(job, text)
		}
	}
	if len(job) < 3 {
		t.Fatalf("%s has %d pieces of a job, not 3 or more", file, len(job))
	}
	shipped, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil || job[0] != string(shipped) {
		t.Errorf("the job of %s isn't testdata/jobs/looped-triangle.toml (%v)", file, err)
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "readme.toml")
	if err := os.WriteFile(path, []byte(strings.Join(job, "\n")), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	status := cli.Run([]string{"build", path, "--out", filepath.Join(dir, "out"), "--only", "paper,program,preview"}, strings.NewReader(""), &out, &errs)
	if status != 0 || strings.Count(errs.String(), "warning:") != 1 || !strings.Contains(errs.String(), "out of square") {
		t.Errorf("status %d, and\n%s", status, errs.String())
	}
}
