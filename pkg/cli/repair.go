package cli

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"strapwork/pkg/diag"
)

// repaired says what was done about a build that was ended while it wrote.
type repaired int

const (
	nothingToRepair repaired = iota
	movedOn                  // what was still to be moved in was moved in
	movedBack                // what was moved in was taken out again
)

// findings says it of the folder.
func (m repaired) findings(out string) diag.Findings {
	var found diag.Findings
	pos := diag.Position{File: out}
	switch m {
	case nothingToRepair:
	case movedOn:
		found.NoteAt(pos, ruleRepaired, "an earlier build was interrupted while it moved its files in; the rest was moved in now, so that the folder was whole")
	case movedBack:
		found.NoteAt(pos, ruleRepaired, "an earlier build was interrupted while it moved its files in; they were taken out again, so that the folder was as before that build")
	}
	return found
}

// repair finishes what a build that was killed had begun, or takes it back where
// part of it is lost. The desk is empty then.
func (d *desk) repair() (repaired, error) {
	j, ok, err := d.readJournal()
	if err != nil {
		return nothingToRepair, err
	}
	did := nothingToRepair
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

// repairFolder looks whether a build was killed in a folder, and repairs that. A
// build that is still going on there is errBusy.
func repairFolder(dir string) (repaired, error) {
	if _, err := os.Lstat(filepath.Join(dir, deskName)); errors.Is(err, fs.ErrNotExist) {
		return nothingToRepair, nil
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nothingToRepair, err
	}
	defer root.Close() // a folder that was read
	d, err := openDesk(root)
	if err != nil {
		return nothingToRepair, err
	}
	defer d.leave()
	did, err := d.repair()
	if err != nil {
		return did, err
	}
	return did, d.close()
}

// repairAround repairs the folder of a build that a file is read from: the file lies
// in it, or in a folder of it.
func repairAround(file string) diag.Findings {
	if file == fromStdin {
		return nil
	}
	var found diag.Findings
	own := filepath.Dir(filepath.Clean(file))
	for _, dir := range slices.Compact([]string{own, filepath.Dir(own)}) {
		did, err := repairFolder(dir)
		found = append(found, did.findings(dir)...)
		if err != nil {
			return append(found, folderFindings(dir, err)...)
		}
	}
	return found
}
