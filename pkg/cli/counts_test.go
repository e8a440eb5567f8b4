package cli_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/cli"
)

// counted is a number of things in a summary: "no errors", "1 error", "3 errors".
func counted(t *testing.T, text, what string) int {
	m := regexp.MustCompile(`(\w+) ` + what + `s?\b`).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("%q counts no %ss", text, what)
	}
	if m[1] == "no" {
		return 0
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return n
}

// printed counts the findings of a severity that are printed, and holds them to
// their order: errors, warnings, notes.
func printed(t *testing.T, text, severity string) int {
	order, last := map[string]int{"error": 0, "warning": 1, "note": 2}, 0
	n := 0
	for _, m := range regexp.MustCompile(`(?m)^(?:[^ \n][^\n]*?: )?(error|warning|note): `).FindAllStringSubmatch(text, -1) {
		if m[1] == severity {
			n++
		}
		if order[m[1]] < last {
			t.Errorf("an %s comes late:\n%s", m[1], text)
		}
		last = order[m[1]]
	}
	return n
}

// TestCountsAgree: what the last line of check counts is what is shown above it, and
// what the line about notes counts is what --notes shows, and JSON has the same.
func TestCountsAgree(t *testing.T) {
	var files []string
	for _, pattern := range []string{"../../testdata/jobs/box-lid.toml", "../../testdata/inches/*.toml", "../../testdata/inexact/*-a-*.toml"} {
		list, err := filepath.Glob(pattern)
		if err != nil || len(list) == 0 {
			t.Fatal(pattern, err)
		}
		files = append(files, list...)
	}
	for _, name := range files {
		run := func(args ...string) (status int, out, err string) {
			var stdout, stderr bytes.Buffer
			status = cli.Run(append([]string{"check", name}, args...), strings.NewReader(""), &stdout, &stderr)
			return status, stdout.String(), stderr.String()
		}
		status, out, folded := run()
		_, _, all := run("--notes")
		_, doc, _ := run("--json")
		var written struct{ Findings []struct{ Severity string } }
		if err := json.Unmarshal([]byte(doc), &written); err != nil {
			t.Fatal(err)
		}
		inJSON := map[string]int{}
		for _, f := range written.Findings {
			inJSON[f.Severity]++
		}
		for _, severity := range []string{"error", "warning"} {
			if severity == "error" && status == 0 {
				continue // "can be made" counts no errors
			}
			if n := counted(t, out, severity); n != printed(t, folded, severity) || n != printed(t, all, severity) || n != inJSON[severity] {
				t.Errorf("%s: %s: %d are shown, %d in JSON", name, strings.TrimSpace(out), printed(t, folded, severity), inJSON[severity])
			}
		}
		if (status == 0) != strings.HasPrefix(out, "can be made") || (status == 0) != (printed(t, folded, "error") == 0) {
			t.Errorf("%s: status %d, %s\n%s", name, status, out, folded)
		}
		notes := printed(t, all, "note")
		// Some notes are shown by themselves even so, beside the line for the others.
		alone := printed(t, folded, "note") - 1
		if want := fmt.Sprintf("note: %d notes, shown by --notes: ", notes-alone); notes-alone > 1 && !strings.Contains(folded, want) || notes != inJSON["note"] {
			t.Errorf("%s: %d notes, %d in JSON, and not %q:\n%s", name, notes, inJSON["note"], want, folded)
		}
	}
}
