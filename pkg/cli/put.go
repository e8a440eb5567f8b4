package cli

// How a build reaches its folder. All files are written to a desk within it and
// synced to the disk; then what will be moved is written into a journal; only
// then are the files moved in. Whatever ends the command on the way, the moves
// can be finished or taken back: by the command itself, or by the next one that
// comes to the folder. All this happens within an os.Root: a link that leads out
// of the folder is not followed.

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/report"
)

// errNotFolder is that what should be a folder is something else.
var errNotFolder = errors.New("not a folder")

// errDangling is that a link leads nowhere.
var errDangling = errors.New("it is a link to what is not there")

// A foreignError is that a file would be replaced that no build has made.
type foreignError struct{ path string }

// Error names the file.
func (f foreignError) Error() string {
	return f.path + " in it was not made by a build, and would be lost"
}

// outcome is what became of the files of an earlier build.
type outcome struct {
	removed  []string // those that are no longer made
	kept     []string // those of them that were changed since, and are still there
	changed  []string // those that were changed since and are replaced
	repaired repaired // what became of a build that was interrupted before
}

// findings says what a person may want to look at.
func (o outcome) findings(out string) diag.Findings {
	found := o.repaired.findings(out)
	for _, p := range o.kept {
		found.NoteAt(diag.Position{File: filepath.Join(out, p)}, ruleKept, "it is no longer made, but was changed since it was, and is kept")
	}
	for _, p := range o.changed {
		found.NoteAt(diag.Position{File: filepath.Join(out, p)}, ruleReplaced, "it was changed since the last build, and is replaced")
	}
	return found
}

// usable reports why dir can't be built into, as far as can be seen before:
// a file stands where a folder should.
func usable(dir string) error {
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		info, err := os.Stat(d)
		if _, link := os.Readlink(d); err != nil && link == nil {
			return errDangling
		}
		switch {
		case err == nil && info.IsDir():
			return nil
		case err == nil && d == filepath.Clean(dir):
			return errNotFolder
		case err == nil:
			return fmt.Errorf("%s is a file", d)
		case filepath.Dir(d) == d:
			return nil
		}
	}
}

// put writes files into dir, all or none of them. It stops, and takes all back,
// when stopped says so.
func put(dir string, files []build.File, stopped func() bool) (outcome, error) {
	for _, f := range files {
		if !fs.ValidPath(f.Path) || !filepath.IsLocal(filepath.FromSlash(f.Path)) {
			return outcome{}, fmt.Errorf("%q would be outside", f.Path)
		}
	}
	if err := usable(dir); err != nil {
		return outcome{}, err
	}
	made, err := makeFolders(filepath.Clean(dir))
	var done outcome
	if err == nil {
		done, err = putInto(dir, files, stopped)
	}
	if err != nil {
		for _, d := range made {
			_ = os.Remove(d) // only if it is still empty
		}
	}
	return done, err
}

// The permissions of new folders and files, less the user's mask.
const (
	folderMode = 0o777
	fileMode   = 0o666
)

func putInto(dir string, files []build.File, stopped func() bool) (done outcome, err error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return outcome{}, err
	}
	defer root.Close() // a folder that was read
	d, err := openDesk(root)
	if err != nil {
		return outcome{}, err
	}
	defer d.leave()
	if done.repaired, err = d.repair(); err != nil {
		return outcome{}, err
	}
	d.stopped = stopped
	stale, err := d.survey(files, &done)
	if err == nil {
		err = d.fill(files)
	}
	if err != nil {
		return outcome{}, errors.Join(err, d.close())
	}
	j := d.newJournal(files, stale)
	if err = d.writeJournal(j); err == nil {
		err = d.forward(j)
	}
	if err != nil {
		return outcome{}, d.giveUp(j, err)
	}
	return done, d.close()
}

// giveUp takes all moves back after an error. If that fails too, the desk stays
// for the next command.
func (d *desk) giveUp(j journal, err error) error {
	if undone := d.back(j); undone != nil {
		return errors.Join(err, undone)
	}
	return errors.Join(err, d.close())
}

// makeFolders makes dir and what it lies in, and returns what it made, the
// innermost first.
func makeFolders(dir string) ([]string, error) {
	var missing []string
	for d := dir; ; d = filepath.Dir(d) {
		if _, err := os.Stat(d); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		missing = append(missing, d)
	}
	return missing, os.MkdirAll(dir, folderMode)
}

// fill writes files to the desk and syncs them and their folders.
func (d *desk) fill(files []build.File) error {
	folders := []string{deskName, newPath}
	for _, f := range files {
		if err := d.step(); err != nil {
			return err
		}
		name := path.Join(newPath, f.Path)
		folder := path.Dir(name)
		if err := d.root.MkdirAll(folder, folderMode); err != nil {
			return err
		}
		if !slices.Contains(folders, folder) {
			folders = append(folders, folder)
		}
		if err := writeSynced(d.root, name, f.Data); err != nil {
			return err
		}
	}
	for _, p := range folders {
		if err := syncFolder(d.root, p); err != nil {
			return err
		}
	}
	return nil
}

func writeSynced(root *os.Root, name string, data []byte) error {
	f, err := root.Create(name)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// syncFolder makes a folder's list of names last. Windows has no such thing, nor
// have some file systems, which say that the call is invalid.
func syncFolder(root *os.Root, name string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := root.Open(name)
	if err != nil {
		return err
	}
	if err = d.Sync(); errors.Is(err, errors.ErrUnsupported) || errors.Is(err, fs.ErrInvalid) {
		err = nil
	}
	return errors.Join(err, d.Close())
}

// maxOld is the size in bytes beyond which a file is not taken for a build's.
const maxOld = 64 << 20

// earlier returns the files that the folder's manifest lists, with their
// SHA-256; ok is false if there is no manifest that can be read.
func earlier(root *os.Root) (files map[string]string, ok bool) {
	data, err := readFile(root, report.ManifestPath)
	if err != nil {
		return nil, false
	}
	var m struct {
		Schema int `json:"schema"`
		Files  []struct {
			Path   string `json:"path"`
			SHA256 string `json:"sha256"`
		} `json:"files"`
	}
	if json.Unmarshal(data, &m) != nil || m.Schema == 0 {
		return nil, false
	}
	files = map[string]string{}
	for _, f := range m.Files {
		if fs.ValidPath(f.Path) && f.Path != report.ManifestPath {
			files[f.Path] = f.SHA256
		}
	}
	return files, true
}

// readFile reads a file of the folder; a link or a pipe is no file.
func readFile(root *os.Root, name string) ([]byte, error) {
	info, err := root.Lstat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, otherError{info.Mode()}
	}
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close() // nothing was written to it
	return io.ReadAll(io.LimitReader(f, maxOld))
}

func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}
