package cli

import (
	"errors"
	"os"
	"syscall"
	"unsafe"
)

var lockFileEx = syscall.NewLazyDLL("kernel32.dll").NewProc("LockFileEx")

// lockFile locks a file until it is closed, or the process ends in whatever way;
// errBusy if another process has locked it.
func lockFile(f *os.File) error {
	// From the Windows API's headers: minwinbase.h, winerror.h.
	const (
		failImmediately = 0x1
		exclusiveLock   = 0x2
		lockViolation   = syscall.Errno(33)
		allBytes        = 0xffffffff
	)
	var at syscall.Overlapped
	ok, _, err := lockFileEx.Call(f.Fd(), exclusiveLock|failImmediately, 0, allBytes, allBytes, uintptr(unsafe.Pointer(&at)))
	switch {
	case ok != 0:
		return nil
	case errors.Is(err, lockViolation), errors.Is(err, syscall.ERROR_IO_PENDING):
		return errBusy
	}
	return err
}
