package cli_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"

	"strapwork/pkg/cli"
)

// brokenPipe takes nothing.
type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// brokenFile gives nothing.
type brokenFile struct{}

func (brokenFile) Read([]byte) (int, error) { return 0, errors.New("the disk is gone") }

func TestOutputThatCannotBeWrittenIsAnError(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"version"}, {"profiles"}, {"profiles", "--json"}, {"help", "--json"}, {"nonsense", "--json"}} {
		var stderr bytes.Buffer
		if got := cli.Run(args, strings.NewReader(""), brokenPipe{}, &stderr); got != 2 {
			t.Errorf("%v: status %d, want 2", args, got)
		}
		if !strings.Contains(stderr.String(), "error: standard output cannot be written") {
			t.Errorf("%v: %s", args, stderr.String())
		}
	}
}

func TestInputThatCannotBeRead(t *testing.T) {
	var stdout, stderr bytes.Buffer
	if got := cli.Run([]string{"check", "-"}, brokenFile{}, &stdout, &stderr); got != 2 {
		t.Errorf("status %d, want 2", got)
	}
	if want := "stdin: error: it cannot be read: the disk is gone\n"; stderr.String() != want {
		t.Errorf("%q, want %q", stderr.String(), want)
	}
}

// TestJSONIsOneDocument runs many a command line, sound and not, with --json:
// standard output is one document with the same head, and standard error is
// empty.
func TestJSONIsOneDocument(t *testing.T) {
	for _, args := range [][]string{
		{"help"},
		{"help", "check"},
		{"help", "--man"},
		{"completion", "bash"},
		{"help", "nothing"},
		{"version"},
		{"version", "more"},
		{"profiles"},
		{"check"},
		{"check", "-"},
		{"check", "a", "b"},
		{"check", "--out"},
		{"build"},
		{"build", "-"},
		{"build", "--dxf", "r13", "a"},
		{"nonsense"},
		{"--nonsense"},
		{"build", "--only", "tea", "a"},
	} {
		var stdout, stderr bytes.Buffer
		status := cli.Run(append(args, "--json"), strings.NewReader("title = 1"), &stdout, &stderr)
		in := json.NewDecoder(&stdout)
		var doc struct {
			Schema   int
			OK       *bool
			Findings []struct{ Severity string }
		}
		if err := in.Decode(&doc); err != nil || in.More() {
			t.Errorf("%v: %v", args, err)
			continue
		}
		if doc.Schema != 1 || doc.OK == nil || *doc.OK != (status == 0) || doc.Findings == nil || stderr.Len() > 0 {
			t.Errorf("%v: status %d, %+v, standard error %q", args, status, doc, stderr.String())
		}
	}
}
