package cli

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"strapwork/pkg/diag"
	"strapwork/pkg/shop"
)

// errForeign is that a file would be replaced that isn't a page of ours.
var errForeign = errors.New("there is a file of that name that is no page of strapwork")

// putFile writes a page beside its name and moves it there, so that a failed
// run leaves what was. Only a page is replaced.
func putFile(path string, data []byte) error {
	old, err := os.Open(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	default:
		head, err := io.ReadAll(io.LimitReader(old, int64(len(shop.PageMark)+headSize)))
		_ = old.Close() // nothing was written to it
		if err != nil {
			return err
		}
		if !bytes.Contains(head, []byte(shop.PageMark)) {
			return errForeign
		}
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".strapwork-*.tmp")
	if err != nil {
		return err
	}
	const everybodyReads = 0o644
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(everybodyReads), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name()) // the first error is the one to tell
	}
	return err
}

// headSize in bytes is how far into a page its mark is looked for.
const headSize = 1 << 10

// unwritable tells of a page that can't be written.
func unwritable(path string, err error) diag.Findings {
	var found diag.Findings
	f := found.Errorf(diag.Position{File: path}, "out", "it cannot be written: %v", reason(err))
	f.Hintf("name another file: --page FILE.html")
	return found
}
