package cli

import (
	"os"
	"os/signal"
	"syscall"
)

// catchInterrupts holds back Ctrl-C, and the system's wish that the process end,
// until release: stopped says that there was one. Files are moved so quickly that
// nobody waits for them to be moved back.
func catchInterrupts() (stopped func() bool, release func()) {
	got := make(chan os.Signal, 1)
	signal.Notify(got, os.Interrupt, syscall.SIGTERM)
	return func() bool { return len(got) > 0 }, func() { signal.Stop(got) }
}
