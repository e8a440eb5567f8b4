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

// errForeign is that a file would be replaced that isn't one of ours.
var errForeign = errors.New("there is a file of that name that strapwork has not made")

// errThere is that a file would be replaced that a person may have changed since.
var errThere = errors.New("there is a file of that name")

// Marks by which files are known that may be replaced.
const (
	pageMark = build.PageMark
	// pictureMark begins each picture that is written by itself.
	pictureMark = "<!-- drawn by strapwork, which replaces it when it draws it again -->\n"
)

// putPicture writes an SVG, as putFile does.
func putPicture(path string, svg []byte) error {
	return putFile(path, append([]byte(pictureMark), svg...), pictureMark)
}

// putFile writes a file beside its name and moves it there, so that a failed run leaves
// what was. A file that is there is replaced only if its first kilobyte holds the mark;
// where that is "", none is.
func putFile(path string, data []byte, mark string) error {
	old, err := openFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	case mark == "":
		_ = old.Close() // nothing was written to it
		return errThere
	default:
		head, err := io.ReadAll(io.LimitReader(old, int64(len(mark)+headSize)))
		_ = old.Close() // nothing was written to it
		if err != nil {
			return err
		}
		if !bytes.Contains(head, []byte(mark)) {
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

// headSize in bytes is how far into a file its mark is looked for.
const headSize = 1 << 10

// unwritable reports a file that can't be written; flag is what names another.
func unwritable(path string, err error, flag string) diag.Findings {
	var found diag.Findings
	found.ErrorAt(diag.Position{File: path}, "out", "it cannot be written: %v", reason(err)).
		Hintf("name another file: %s", flag)
	return found
}
