package cli

import (
	"strings"
	"sync"
	"testing"
	"time"
)

// A screen is what is written to a terminal.
type screen struct {
	mu   sync.Mutex
	text strings.Builder
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// waitFor waits until the screen has a text, as long as a slow machine takes.
func (s *screen) waitFor(t *testing.T, text string) {
	t.Helper()
	for range 1000 {
		if strings.Contains(s.String(), text) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("no %q on the screen: %q", text, s.String())
}

// Progress shows what is being worked on once that takes a while, then how long it has
// taken, and leaves a clean line.
func TestProgress(t *testing.T) {
	var quick, slow screen
	p := newProgress(&quick, time.Hour)
	p.step("reading")
	p.wipe()
	if got := quick.String(); got != "" {
		t.Errorf("what is done at once shows %q", got)
	}
	p = newProgress(&slow, time.Millisecond)
	p.step("sharing out")
	slow.waitFor(t, startOfLine+"sharing out")
	slow.waitFor(t, startOfLine+"sharing out, 2 s")
	p.step("drawing")
	slow.waitFor(t, startOfLine+"drawing")
	p.wipe()
	if got := slow.String(); !strings.HasSuffix(got, startOfLine) {
		t.Errorf("the line isn't clean: %q", got)
	}
	p.step("too late")
	if strings.Contains(slow.String(), "late") {
		t.Error("it shows what comes after the end")
	}
}
