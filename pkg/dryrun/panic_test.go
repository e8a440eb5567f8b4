package dryrun

import "testing"

// TestTargetsPanicIsHandedOver: a panic on the other processor goes on where the
// target is waited for.
func TestTargetsPanicIsHandedOver(t *testing.T) {
	ready := targetFor(nil) // no work: a fault of ours
	defer func() {
		if recover() == nil {
			t.Error("there is no panic")
		}
	}()
	ready()
}
