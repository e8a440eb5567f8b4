package cli

import (
	"fmt"
	"path"
	"runtime"
	"strings"

	"strapwork/pkg/diag"
)

// guard runs a command. A panic is always a fault of the program's own: it is
// reported like any other finding, with the stage that it came from.
func (e *env) guard(c command, args []string) (status int) {
	defer func() {
		if fault := recover(); fault != nil {
			e.wiped()
			stage, place := origin()
			status = e.internal(c.name, stage, fmt.Errorf("%v (%s)", fault, place))
		}
	}()
	return c.run(e, c, args)
}

// internal reports a fault of the program's own in a stage.
func (e *env) internal(command, stage string, err error) int {
	var found diag.Findings
	found.ErrorAt(diag.Position{File: e.jobFile}, "internal", "an inner error in %s: %v", stage, err).
		Hintf("this is a fault of the program and not of the job; please report it with the job file, and with the program or card if there was one")
	return e.fail(command, statusUsage, found)
}

// house is how the names of our own functions begin.
const house = "strapwork/pkg/"

// origin reads a panic's stack, from within the deferred call that recovers:
// stage is the package that was called from here or from package build, place
// the line of ours that failed.
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
