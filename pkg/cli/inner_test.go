package cli

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"strapwork/pkg/build"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/ngc"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
)

// panics reads nothing and panics.
type panics struct{}

func (panics) Read([]byte) (int, error) { panic("the reader is broken") }

// TestPanicsOfStagesAreCaught has a stage panic on another processor than the command's:
// the same finding, and the same status.
func TestPanicsOfStagesAreCaught(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/box-ring.toml")
	if err != nil {
		t.Fatal(err)
	}
	r := build.Check("ring.toml", data, nil, func(what string) {
		if what == "laying the strips" {
			plan.Make(plan.Params{}, nil, nil)
		}
	})
	text := r.Findings.Error()
	if len(r.Findings) != 1 || statusOf(r.Findings) != statusUsage || !strings.HasPrefix(text, "ring.toml: error: an inner error in plan: ") {
		t.Errorf("status %d: %s", statusOf(r.Findings), text)
	}
}

// TestPanicsAreCaught has stages panic, by giving them what no job gives them:
// status 2, one message that names the stage, and no stack.
func TestPanicsAreCaught(t *testing.T) {
	for _, c := range []struct {
		name, stage string
		run         func()
	}{
		{"a stage", "plan", func() { plan.Make(plan.Params{}, nil, nil) }},
		{"another", "template", func() {
			template.Covers(motif.Motif{}, groove.Cut{})
		}},
		{"the reader's goroutine", "dryrun", func() { dryrun.Judge(panics{}, ngc.Dialect{}, dryrun.Work{}, nil) }},
		{"the command itself", "cli", func() { panic(errors.New("here")) }},
	} {
		c2 := command{name: "build", run: func(*env, command, []string) int { c.run(); return statusDone }}
		var stdout, stderr bytes.Buffer
		e := &env{stdout: &stdout, stderr: &stderr, jobFile: "lid.toml"}
		status := e.guard(c2, nil)
		text := stderr.String()
		if status != statusUsage || stdout.Len() > 0 {
			t.Errorf("%s: status %d, %s", c.name, status, stdout.String())
		}
		if !strings.HasPrefix(text, "lid.toml: error: an inner error in "+c.stage+": ") || !strings.Contains(text, "report it with the job file") || strings.Contains(text, "goroutine") {
			t.Errorf("%s:\n%s", c.name, text)
		}
		e.json, stderr = true, bytes.Buffer{}
		e.stderr = &stderr
		e.guard(c2, nil)
		var doc struct {
			OK       *bool
			Findings []struct{ Rule string }
		}
		if err := json.Unmarshal(stdout.Bytes(), &doc); err != nil || *doc.OK || doc.Findings[0].Rule != "internal" || stderr.Len() > 0 {
			t.Errorf("%s: %v, %s", c.name, err, stdout.String())
		}
	}
}

// TestProgressGoesOn: how far a step is doesn't begin its time anew; another step does.
func TestProgressGoesOn(t *testing.T) {
	p := newProgress(&bytes.Buffer{}, time.Hour)
	defer p.wipe()
	p.step("a")
	begun := p.since.Add(-time.Minute)
	p.since = begun
	if p.step("a: half"); p.since != begun {
		t.Error("the step is begun anew")
	}
	if p.step("b: half"); p.since == begun {
		t.Error("the next step has the first one's time")
	}
}

// TestProgressWaits: nothing is shown of what is quick; of what is slow the step
// under way, and nothing is left of it.
func TestProgressWaits(t *testing.T) {
	var quick bytes.Buffer
	p := newProgress(&quick, time.Hour)
	p.step("a")
	p.wipe()
	if quick.Len() > 0 {
		t.Errorf("%q", quick.String())
	}
	var slow bytes.Buffer
	p = newProgress(&slow, time.Millisecond)
	p.step("a")
	for shown := false; !shown; time.Sleep(time.Millisecond) {
		p.mu.Lock()
		shown = p.shown
		p.mu.Unlock()
	}
	p.step("b")
	p.wipe()
	p.wipe()
	const wipe = "\r\x1b[K"
	if want := wipe + "a" + wipe + "b" + wipe; slow.String() != want {
		t.Errorf("%q, want %q", slow.String(), want)
	}
}
