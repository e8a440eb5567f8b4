package plan

import (
	"errors"
	"sync/atomic"
	"testing"
)

// TestMakeUntil: whoever ends a plan gets out what pause panicked with, wherever that
// was; and a pause that does nothing changes nothing.
func TestMakeUntil(t *testing.T) {
	r := fromFile(t, "looped-triangle")
	var calls atomic.Int64
	want := paramsOf(r.job)
	p := MakeUntil(func() { calls.Add(1) }, want, &r.groove, r.cuts)
	if q := r.plan(); len(p.Panels) != len(q.Panels) || len(p.SetUps) != len(q.SetUps) || calls.Load() < 10 {
		t.Fatalf("with %d pauses it is %d panels and %d set-ups, else %d and %d", calls.Load(), len(p.Panels), len(p.SetUps), len(q.Panels), len(q.SetUps))
	}
	end := errors.New("end")
	for after := int64(0); after < calls.Load(); after += 1 + calls.Load()/7 {
		var n atomic.Int64
		func() {
			defer func() {
				if got := recover(); got != end {
					t.Errorf("ended at pause %d it ends with %v", after, got)
				}
			}()
			MakeUntil(func() {
				if n.Add(1) > after {
					panic(end)
				}
			}, want, &r.groove, r.cuts)
		}()
	}
}
