package build

import (
	"fmt"
	"path"
	"runtime"
	"slices"
	"strings"

	"strapwork/pkg/diag"
)

// RuleInternal is the rule of the finding that reports a fault of our own.
const RuleInternal = "internal"

// A Fault is a panic, which is always a fault of our own, as it was caught.
type Fault struct {
	Stage string // the package that was called from here or from the commands
	Place string // the line of ours that failed
	What  any    // what was panicked with
}

// catch does something and returns the fault in it, if there was one.
func catch(do func()) (f *Fault) {
	defer func() {
		if p := recover(); p != nil {
			f = Caught(p)
		}
	}()
	do()
	return nil
}

// Caught is the fault that a panic with p is. It is called by the deferred call
// that recovered p.
func Caught(p any) *Fault {
	if f, ok := p.(*Fault); ok {
		return f // caught where it happened, and handed on
	}
	stage, place := origin()
	return &Fault{Stage: stage, Place: place, What: p}
}

// Finding reports a fault, in work on a job file.
func (f *Fault) Finding(file string) diag.Finding {
	return Internal(file, f.Stage, fmt.Sprintf("%v (%s)", f.What, f.Place))
}

// Internal reports a fault of our own in a stage.
func Internal(file, stage, what string) diag.Finding {
	f := diag.NewAt(diag.Error, diag.Position{File: file}, RuleInternal, "an inner error in %s: %s", stage, what)
	f.Hintf("this is a fault of the program and not of the job; please report it with the job file, and with the program or card if there was one")
	return f
}

// Inner reports whether findings report a fault of our own.
func Inner(found diag.Findings) bool {
	return slices.ContainsFunc(found, func(f diag.Finding) bool { return f.Rule == RuleInternal })
}

// house is how the names of our own functions begin.
const house = "strapwork/pkg/"

// origin reads a panic's stack, from within the deferred call that recovers: stage
// is the package that was called from package build or cli, place the line of ours
// that failed.
func origin() (stage, place string) {
	const deepest = 1 << 12 // frames
	pcs := make([]uintptr, deepest)
	frames := runtime.CallersFrames(pcs[:runtime.Callers(1, pcs)])
	stage, place = "the command", "place unknown"
	failed := false
	for {
		f, more := frames.Next()
		name, ours := strings.CutPrefix(f.Function, house)
		switch room, _, _ := strings.Cut(name, "."); {
		case f.Function == "runtime.gopanic":
			failed = true
		case !failed || !ours:
		case place == "place unknown":
			place = fmt.Sprintf("%s:%d", path.Base(f.File), f.Line)
			stage = room
		case room != "cli" && room != "build":
			stage = room
		}
		if !more {
			return stage, place
		}
	}
}
