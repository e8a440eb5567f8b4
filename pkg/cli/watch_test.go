package cli_test

import (
	"bufio"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestWatch runs the command as it is typed: it says where the page is and what comes of
// each save, writes nothing, and Ctrl-C ends it at once, in the middle of a build too.
func TestWatch(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "job.toml")
	save := func(name string, old, changed string) {
		t.Helper()
		text, err := os.ReadFile("../../testdata/jobs/" + name)
		if err == nil {
			err = os.WriteFile(job, []byte(strings.Replace(string(text), old, changed, 1)), 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	save("box-ring.toml", "", "")
	c := program(t, dir, "watch", "job.toml", "--json")
	out, err := c.StdoutPipe()
	if err == nil {
		err = c.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Process.Kill() })
	lines := bufio.NewScanner(out)
	lines.Buffer(nil, 1<<20)
	type line struct {
		OK       bool
		Command  string
		Address  string
		Findings []struct {
			Rule string
			Line int
		}
	}
	next := func() (l line) {
		t.Helper()
		if !lines.Scan() {
			t.Fatalf("it says no more: %v", lines.Err())
		}
		if err := json.Unmarshal(lines.Bytes(), &l); err != nil || l.Command != "watch" {
			t.Fatalf("%s: %v", lines.Bytes(), err)
		}
		return l
	}
	opened := next()
	if !opened.OK || !strings.HasPrefix(opened.Address, "http://127.0.0.1:") {
		t.Fatalf("it is opened at %+v", opened)
	}
	answer, err := http.Get(opened.Address)
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(answer.Body)
	if answer.StatusCode != http.StatusOK || !strings.Contains(string(page), `data-events="events"`) || err != nil {
		t.Errorf("the page is %s, %v", answer.Status, err)
	}
	if l := next(); !l.OK {
		t.Errorf("a good job has %+v", l)
	}
	save("box-ring.toml", "depth = 2", "depht = 2")
	if l := next(); l.OK || len(l.Findings) == 0 || l.Findings[0].Line == 0 {
		t.Errorf("a job with a mistake has %+v", l)
	}
	save("games-table.toml", "", "")   // its panels take seconds
	time.Sleep(300 * time.Millisecond) // it is planning them
	before := shown(t, dir)
	began := time.Now()
	if err := c.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if lines.Scan() {
		t.Errorf("it still says %s", lines.Text())
	}
	if err := c.Wait(); err != nil {
		t.Errorf("interrupted it ends with %v", err)
	}
	if took := time.Since(began); took > 2*time.Second {
		t.Errorf("interrupted it ends after %v", took)
	}
	if after := shown(t, dir); len(after) != 1 || after["job.toml"] != before["job.toml"] {
		t.Errorf("the folder holds %d files", len(after))
	}
}
