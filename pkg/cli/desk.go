package cli

// Where a build works: a hidden folder within the one that it writes to, with
//
//	lock      held by the operating system, which drops it with the process
//	new/      the files to be moved in
//	journal   what is to be moved: written when all of new is on the disk, and
//	          removed when all has been moved
//	old/      what was displaced
//
// A desk that nobody holds the lock of is that of a build that was killed.
// Without a journal nothing was moved yet, or all of it; with one, the rest can
// be moved as well, or everything back.

import (
	"errors"
	"io/fs"
	"os"
	"path"
)

const (
	deskName    = ".strapwork"
	lockPath    = deskName + "/lock"
	journalPath = deskName + "/journal"
	newPath     = deskName + "/new"
	oldPath     = deskName + "/old"
)

// errBusy is that another build holds the lock.
var errBusy = errors.New("another build is writing here")

// errInterrupted is that the person, or the system, wants the command to end.
var errInterrupted = errors.New("interrupted")

// operation is called before everything that changes a folder: tests end the
// process there.
var operation = func() {}

// A desk is a build's hidden folder while it holds the lock.
type desk struct {
	root    *os.Root
	lock    *os.File
	stopped func() bool // whether to stop at the next operation; may be nil
}

// openDesk makes a desk in root, or takes over that of a build that was killed.
func openDesk(root *os.Root) (*desk, error) {
	const attempts = 10 // another build may tidy its desk away between two steps of ours
	for range attempts {
		if err := root.Mkdir(deskName, folderMode); err != nil && !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		lock, err := root.OpenFile(lockPath, os.O_CREATE|os.O_RDWR, fileMode)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if err = lockFile(lock); err == nil && isAt(root, lock, lockPath) {
			return &desk{root: root, lock: lock}, nil
		}
		_ = lock.Close() // nothing was written to it
		if err != nil {
			return nil, err
		}
	}
	return nil, errBusy
}

// isAt reports whether an open file is still the one of that name.
func isAt(root *os.Root, f *os.File, name string) bool {
	mine, err := f.Stat()
	if err != nil {
		return false
	}
	there, err := root.Stat(name)
	return err == nil && os.SameFile(mine, there)
}

// step reports whether to go on, before an operation.
func (d *desk) step() error {
	operation()
	if d.stopped != nil && d.stopped() {
		return errInterrupted
	}
	return nil
}

// close tidies the desk away. What else lies in its folder is left there.
func (d *desk) close() error {
	operation()
	err := d.remove(journalPath)
	for _, p := range []string{newPath, oldPath} {
		operation()
		err = errors.Join(err, d.root.RemoveAll(p))
	}
	// While it is open, Windows doesn't remove the lock; elsewhere it goes
	// before another build can take it.
	gone := d.root.Remove(lockPath) == nil
	_ = d.lock.Close() // nothing was written to it
	if !gone {
		_ = d.root.Remove(lockPath)
	}
	operation()
	_ = d.root.Remove(deskName) // unless another build has it by now
	return errors.Join(err, syncFolder(d.root, "."))
}

// leave lets go of a desk, tidied away or not.
func (d *desk) leave() { _ = d.lock.Close() }

func (d *desk) remove(name string) error {
	if err := d.root.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// exists reports whether there is anything of that name.
func (d *desk) exists(name string) bool {
	_, err := d.root.Lstat(name)
	return err == nil
}

// sum is a file's SHA-256; empty if there is none that can be read.
func (d *desk) sum(name string) string {
	data, err := readFile(d.root, name)
	if err != nil {
		return ""
	}
	return sum(data)
}

// rename moves a file to where there is none, folders and all.
func (d *desk) rename(from, to string) error {
	operation()
	if err := d.root.MkdirAll(path.Dir(to), folderMode); err != nil {
		return err
	}
	operation()
	return d.root.Rename(from, to)
}
