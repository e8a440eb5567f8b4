package cli_test

import (
	"bytes"
	"errors"
	"flag"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/cli"
)

// kills is how many builds are killed, half of them at a time by chance, half at
// one of the operations on the folder: go test ./pkg/cli -run Killed -kills 200
var kills = flag.Int("kills", 8, "how many builds TestKilledBuilds kills")

// killAt has the command kill itself at its n-th operation on the folder.
const killAt = "STRAPWORK_TEST_KILL_AT"

// run is the program as the test binary plays it.
func run() {
	if n, err := strconv.Atoi(os.Getenv(killAt)); err == nil {
		cli.OnOperation(func() {
			if n--; n < 0 {
				self, err := os.FindProcess(os.Getpid())
				if err != nil || self.Kill() != nil { // SIGKILL on unix
					panic("it can't kill itself")
				}
				select {}
			}
		})
	}
	os.Exit(cli.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// program is the command as another process.
func program(t *testing.T, dir string, args ...string) *exec.Cmd {
	t.Helper()
	own, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return &exec.Cmd{Path: own, Args: append([]string{"strapwork"}, args...), Dir: dir, Env: os.Environ()}
}

// must runs a command that is to succeed, and returns what it said.
func must(t *testing.T, c *exec.Cmd) string {
	t.Helper()
	out, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %v\n%s", c.Args, err, out)
	}
	return string(out)
}

// shown is every file and folder under dir with its text; none if there is no
// such folder.
func shown(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		name, _ := filepath.Rel(dir, path)
		if err != nil || name == "." {
			return err
		}
		if d.IsDir() {
			found[name+"/"] = ""
			return nil
		}
		data, err := os.ReadFile(path)
		found[name] = string(data)
		return err
	})
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	return found
}

// files is how many of them are no folders.
func files(all map[string]string) int {
	n := 0
	for name := range all {
		if !strings.HasSuffix(name, "/") {
			n++
		}
	}
	return n
}

// withoutDesk leaves out what the program hides, and reports whether there is a
// journal in it.
func withoutDesk(files map[string]string) (rest map[string]string, journal bool) {
	rest = maps.Clone(files)
	_, journal = rest[".strapwork/journal"]
	maps.DeleteFunc(rest, func(name, _ string) bool { return strings.HasPrefix(name, ".strapwork/") })
	return rest, journal
}

// TestKilledBuilds kills builds of one job over those of another, and into a new
// folder. What is left is the old folder, or the new one, or has a journal; the
// next build says so if it was neither, and leaves exactly its own files.
func TestKilledBuilds(t *testing.T) {
	dir := t.TempDir()
	source, err := os.ReadFile("../../testdata/jobs/box-ring.toml")
	if err != nil {
		t.Fatal(err)
	}
	states := map[string]map[string]string{"none": {}}
	build := func(job string) []string {
		return []string{"build", job + ".toml", "--out", "out", "--only", "templates"}
	}
	var took time.Duration
	for _, job := range []string{"a", "b"} {
		text := strings.Replace(string(source), "title = \"", "title = \"Job "+job+": ", 1)
		if job == "b" { // and other files: no frame
			text = strings.Replace(text, "[template]\n", "[template]\nframe = 0\n", 1)
		}
		if err := os.WriteFile(filepath.Join(dir, job+".toml"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		began := time.Now()
		must(t, program(t, dir, build(job)...))
		took = time.Since(began)
		states[job] = shown(t, filepath.Join(dir, "out"))
		if err := os.RemoveAll(filepath.Join(dir, "out")); err != nil {
			t.Fatal(err)
		}
	}
	if cmp.Equal(states["a"], states["b"]) {
		t.Fatal("both jobs make the same")
	}
	random := rand.New(rand.NewPCG(9, 4))
	out := filepath.Join(dir, "out")
	was := "none"
	count := map[string]int{}
	for i := range *kills {
		if random.IntN(5) == 0 {
			was = "none"
			if err := os.RemoveAll(out); err != nil {
				t.Fatal(err)
			}
		}
		job := map[string]string{"none": "a", "a": "b", "b": "a"}[was]
		c := program(t, dir, build(job)...)
		if i%2 == 0 {
			// One operation for each file that is written to the desk and two for the
			// journal; then one for each file that comes in, two to put what is there
			// aside and two to move it in.
			n := files(states[job]) + 2 + random.IntN(3*files(states[job])+2*files(states[was]))
			c.Env = append(c.Env, killAt+"="+strconv.Itoa(n))
			if c.Run() == nil {
				t.Errorf("kill %d: the build was done before operation %d", i, n)
			}
		} else {
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(time.Duration(random.Int64N(int64(took))))
			_ = c.Process.Kill() // it may be done
			_ = c.Wait()
		}
		left, journal := withoutDesk(shown(t, out))
		delete(left, ".strapwork/")
		mixed := !cmp.Equal(left, states[was]) && !cmp.Equal(left, states[job])
		switch {
		case mixed:
			count["mixed"]++
		case cmp.Equal(left, states[was]):
			count["old"]++
		default:
			count["new"]++
		}
		if mixed && !journal {
			t.Errorf("kill %d: neither old nor new, and no journal: %s", i, cmp.Diff(states[job], left))
		}
		next := []string{"a", "b"}[random.IntN(2)]
		said := must(t, program(t, dir, build(next)...))
		if says := strings.Contains(said, "an earlier build was interrupted"); says != journal {
			t.Errorf("kill %d: with a journal: %v, but the next build says so: %v", i, journal, says)
		}
		if diff := cmp.Diff(states[next], shown(t, out)); diff != "" {
			t.Fatalf("kill %d: the next build leaves\n%s", i, diff)
		}
		was = next
	}
	t.Logf("%d kills: %v", *kills, count)
}

// TestInterrupted: a build that is asked to end while it writes leaves its folder
// as it was, and nothing hidden.
func TestInterruptedBuild(t *testing.T) {
	dir := t.TempDir()
	source, err := os.ReadFile("../../testdata/jobs/box-ring.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "a.toml"), source, 0o644); err != nil {
		t.Fatal(err)
	}
	cli.OnOperation(interruptOnce(t))
	defer cli.OnOperation(func() {})
	var stdout, stderr bytes.Buffer
	out := filepath.Join(dir, "deep", "out")
	status := cli.Run([]string{"build", filepath.Join(dir, "a.toml"), "--out", out, "--only", "templates"}, strings.NewReader(""), &stdout, &stderr)
	if status != 2 || !strings.Contains(stderr.String(), out+": error: interrupted; it is as it was\n") {
		t.Errorf("status %d\n%s", status, stderr.String())
	}
	if got := shown(t, dir); len(got) != 1 {
		t.Errorf("%v is left", got)
	}
}

// interruptOnce sends this process Ctrl-C's signal at the fifth operation, and
// waits until it is there.
func interruptOnce(t *testing.T) func() {
	n := 0
	return func() {
		if n++; n != 5 {
			return
		}
		self, err := os.FindProcess(os.Getpid())
		if err == nil {
			err = self.Signal(os.Interrupt)
		}
		if err != nil {
			t.Error(err)
		}
		time.Sleep(100 * time.Millisecond)
	}
}
