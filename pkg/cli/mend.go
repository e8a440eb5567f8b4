package cli

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"strapwork/pkg/diag"
)

// mended says what was done about a build that was ended while it wrote.
type mended int

const (
	nothingToMend mended = iota
	movedOn              // what was still to be moved in was moved in
	movedBack            // what was moved in was taken out again
)

// findings says it of the folder.
func (m mended) findings(out string) diag.Findings {
	var found diag.Findings
	pos := diag.Position{File: out}
	switch m {
	case nothingToMend:
	case movedOn:
		found.NoteAt(pos, ruleMended, "an earlier build was interrupted while it moved its files in; the rest was moved in now, so that the folder was whole")
	case movedBack:
		found.NoteAt(pos, ruleMended, "an earlier build was interrupted while it moved its files in; they were taken out again, so that the folder was as before that build")
	}
	return found
}

// mend finishes what a build that was killed had begun, or takes it back where
// part of it is lost. The desk is empty then.
func (d *desk) mend() (mended, error) {
	j, ok, err := d.readJournal()
	if err != nil {
		return nothingToMend, err
	}
	did := nothingToMend
	switch {
	case !ok:
	case d.whole(j):
		did = movedOn
		if err = d.strangers(j); err == nil {
			err = d.forward(j)
		}
	default:
		did = movedBack
		err = d.back(j)
	}
	for _, p := range []string{journalPath, newPath, oldPath} {
		if err == nil {
			operation()
			err = d.root.RemoveAll(p)
		}
	}
	return did, err
}

// mendFolder looks whether a build was killed in a folder, and mends that. A
// build that is still going on there is errBusy.
func mendFolder(dir string) (mended, error) {
	if _, err := os.Lstat(filepath.Join(dir, deskName)); errors.Is(err, fs.ErrNotExist) {
		return nothingToMend, nil
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nothingToMend, err
	}
	defer root.Close() // a folder that was read
	d, err := openDesk(root)
	if err != nil {
		return nothingToMend, err
	}
	defer d.leave()
	did, err := d.mend()
	if err != nil {
		return did, err
	}
	return did, d.close()
}

// mendAround mends the folder of a build that a file is read from: the file lies
// in it, or in a folder of it.
func mendAround(file string) diag.Findings {
	if file == fromStdin {
		return nil
	}
	var found diag.Findings
	own := filepath.Dir(filepath.Clean(file))
	for _, dir := range slices.Compact([]string{own, filepath.Dir(own)}) {
		did, err := mendFolder(dir)
		found = append(found, did.findings(dir)...)
		if err != nil {
			return append(found, folderFindings(dir, err)...)
		}
	}
	return found
}
