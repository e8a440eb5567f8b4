//go:build unix

package cli_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"strapwork/pkg/cli"
)

// TestWhatIsNoFile gives pipes, devices and folders in place of files: each is
// refused at once with its name, by every command, and nothing waits for a
// pipe's other end.
func TestWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	good, err := os.ReadFile("../../testdata/jobs/box-ring.toml")
	if err != nil {
		t.Fatal(err)
	}
	job := filepath.Join(dir, "job.toml")
	pipe := filepath.Join(dir, "pipe")
	for _, err := range []error{os.WriteFile(job, good, 0o644), syscall.Mkfifo(pipe, 0o644)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	withProfile := func(path string) string {
		text := string(good) + "\n[program]\nmachine = '" + path + "'\n"
		name := filepath.Join(dir, "job-of-"+filepath.Base(path)+".toml")
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return name
	}
	out := filepath.Join(dir, "out")
	for what, path := range map[string]string{"a pipe": pipe, "a device": "/dev/zero", "a folder": dir} {
		for _, c := range []struct {
			args   []string
			status int
			says   string
		}{
			{[]string{"check", path}, 2, path + ": error: it is " + what + ", not a job file"},
			{[]string{"build", path, "--out", out}, 2, path + ": error: it is " + what + ", not a job file"},
			{[]string{"dryrun", path, "--job", job}, 2, path + ": error: it is " + what + ", not a program"},
			{[]string{"dryrun", job, "--job", path}, 2, path + ": error: it is " + what + ", not a job file"},
			{[]string{"received", job, path}, 2, path + ": error: it is " + what + ", not a card"},
			{[]string{"check", withProfile(path)}, 1, "cannot be read: it is " + what + ", not a file"},
		} {
			var stdout, stderr bytes.Buffer
			began := time.Now()
			status := cli.Run(c.args, strings.NewReader(""), &stdout, &stderr)
			if took := time.Since(began); took > 10*time.Second {
				t.Errorf("%v took %v", c.args, took)
			}
			if status != c.status || !strings.Contains(stderr.String(), c.says) {
				t.Errorf("%v: status %d, want %d and %q:\n%s", c.args, status, c.status, c.says, stderr.String())
			}
		}
	}
}
