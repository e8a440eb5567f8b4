package cli

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
)

// errForeign is that a file would be replaced that isn't a page of ours.
var errForeign = errors.New("there is a file of that name that is no page of strapwork")

// putFile writes a page beside its name and moves it there, so that a failed
// run leaves what was. Only a page is replaced.
func putFile(path string, data []byte) error {
	old, err := openFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	default:
		head, err := io.ReadAll(io.LimitReader(old, int64(len(build.PageMark)+headSize)))
		_ = old.Close() // nothing was written to it
		if err != nil {
			return err
		}
		if !bytes.Contains(head, []byte(build.PageMark)) {
			return errForeign
		}
	}
	// Of a name of its own, so that what a run that was killed left is written over.
	beside := filepath.Join(filepath.Dir(path), deskName+"-"+filepath.Base(path))
	return replace(beside, path, data)
}

// replace writes data to the file beside, and renames it to path.
func replace(beside, path string, data []byte) error {
	f, err := os.OpenFile(beside, os.O_CREATE|os.O_WRONLY, fileMode)
	if err != nil {
		return err
	}
	if err = lockFile(f); err != nil {
		return errors.Join(err, f.Close())
	}
	operation()
	err = f.Truncate(0)
	if err == nil {
		_, err = f.Write(data)
	}
	err = errors.Join(err, f.Sync(), f.Close())
	operation()
	if err == nil {
		err = os.Rename(beside, path)
	}
	if err != nil {
		_ = os.Remove(beside) // the first error is the one to report
	}
	return err
}

// headSize in bytes is how far into a page its mark is looked for.
const headSize = 1 << 10

// unwritable tells of a page that can't be written.
func unwritable(path string, err error) diag.Findings {
	var found diag.Findings
	f := found.ErrorAt(diag.Position{File: path}, "out", "it cannot be written: %v", reason(err))
	f.Hintf("name another file: --page FILE.html")
	return found
}
