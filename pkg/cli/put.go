package cli

// How a build reaches its folder. All files are written to a temporary folder
// and synced to the disk; only then are they moved in. A new folder is moved
// in whole. Into one that exists they are moved one by one, the manifest last,
// and what they displace is put aside first, so that a failure on the way
// can be undone. All this happens within an os.Root: a link that leads out of
// the folder is not followed.

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
	"slices"
	"strconv"

	"strapwork/pkg/diag"
	"strapwork/pkg/report"
	"strapwork/pkg/shop"
)

// errNotFolder is that what should be a folder is something else.
var errNotFolder = errors.New("not a folder")

// A foreignError is that a file would be replaced that no build has made.
type foreignError struct{ path string }

// Error names the file.
func (f foreignError) Error() string {
	return f.path + " in it was not made by a build, and would be lost"
}

// outcome is what became of the files of an earlier build.
type outcome struct {
	removed []string // those that are no longer made
	kept    []string // those of them that were changed since, and are still there
	changed []string // those that were changed since and are replaced
}

// findings tells what a person may want to look at.
func (o outcome) findings(out string) diag.Findings {
	var found diag.Findings
	for _, p := range o.kept {
		found.Notef(diag.Position{File: filepath.Join(out, p)}, "kept", "it is no longer made, but was changed since it was, and is kept")
	}
	for _, p := range o.changed {
		found.Notef(diag.Position{File: filepath.Join(out, p)}, "replaced", "it was changed since the last build, and is replaced")
	}
	return found
}

// usable reports why dir can't be built into, as far as can be seen before:
// a file stands where a folder should.
func usable(dir string) error {
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		info, err := os.Stat(d)
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

// put writes files into dir, all or none of them.
func put(dir string, files []shop.File) (outcome, error) {
	for _, f := range files {
		if !fs.ValidPath(f.Path) || !filepath.IsLocal(filepath.FromSlash(f.Path)) {
			return outcome{}, fmt.Errorf("%q would lie outside", f.Path)
		}
	}
	if err := usable(dir); err != nil {
		return outcome{}, err
	}
	if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
		return outcome{}, putNew(dir, files)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return outcome{}, err
	}
	defer root.Close() // a folder that was read
	return putInto(root, files)
}

// folderMode is the permission of new folders, less the user's mask.
const folderMode = 0o777

// putNew makes a folder that does not exist, and the folders it lies in.
func putNew(dir string, files []shop.File) (err error) {
	parent := filepath.Dir(filepath.Clean(dir))
	made, err := makeFolders(parent)
	defer func() {
		if err != nil {
			for _, d := range made {
				_ = os.Remove(d) // only if it is still empty
			}
		}
	}()
	if err != nil {
		return err
	}
	above, err := os.OpenRoot(parent)
	if err != nil {
		return err
	}
	defer above.Close() // a folder that was read
	tmp, err := temporary(above, "."+filepath.Base(dir))
	if err != nil {
		return err
	}
	if err = fill(above, tmp, files); err == nil {
		err = above.Rename(tmp, filepath.Base(filepath.Clean(dir)))
	}
	if err != nil {
		return errors.Join(err, above.RemoveAll(tmp))
	}
	return syncFolder(above, ".")
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

// temporary makes a new folder in root whose name begins with prefix.
func temporary(root *os.Root, prefix string) (string, error) {
	const most = 1000 // leftovers of builds that were killed; nobody lets so many lie
	for i := range most {
		name := prefix + ".tmp" + strconv.Itoa(i)
		err := root.Mkdir(name, folderMode)
		if err == nil {
			return name, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", err
		}
	}
	return "", fmt.Errorf("%d temporary folders %s.tmp* are in the way", most, prefix)
}

// fill writes files under a folder of root and syncs them and their folders.
func fill(root *os.Root, under string, files []shop.File) error {
	folders := []string{under}
	for _, f := range files {
		name := path.Join(under, f.Path)
		folder := path.Dir(name)
		if err := root.MkdirAll(folder, folderMode); err != nil {
			return err
		}
		if !slices.Contains(folders, folder) {
			folders = append(folders, folder)
		}
		if err := writeSynced(root, name, f.Data); err != nil {
			return err
		}
	}
	for _, d := range folders {
		if err := syncFolder(root, d); err != nil {
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

// syncFolder makes a folder's list of names last. Some file systems have no
// such thing, and say that the call is invalid.
func syncFolder(root *os.Root, name string) error {
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

func readFile(root *os.Root, name string) ([]byte, error) {
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
