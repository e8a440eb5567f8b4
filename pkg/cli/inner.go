package cli

import (
	"strapwork/pkg/build"
	"strapwork/pkg/diag"
)

// guard runs a command. A panic is always a fault of the program's own: it is
// reported like any other finding, with the stage that it came from. Those of the
// stages the build catches itself, on whatever processor they are.
func (e *env) guard(c command, args []string) (status int) {
	defer func() {
		if p := recover(); p != nil {
			e.wiped()
			status = e.fail(c.name, statusUsage, diag.Findings{build.Caught(p).Finding(e.jobFile)})
		}
	}()
	return c.run(e, c, args)
}

// internal reports a fault of the program's own in a stage.
func (e *env) internal(command, stage string, err error) int {
	return e.fail(command, statusUsage, diag.Findings{build.Internal(e.jobFile, stage, err.Error())})
}
