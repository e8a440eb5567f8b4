package cli

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"slices"

	"strapwork/pkg/report"
	"strapwork/pkg/shop"
)

// putInto replaces the files of an earlier build in root.
func putInto(root *os.Root, files []shop.File) (done outcome, err error) {
	old, built := earlier(root)
	if done.changed, err = displaced(root, files, old, built); err != nil {
		return outcome{}, err
	}
	stale := staleFiles(root, files, old, &done)
	tmp, err := temporary(root, ".strapwork")
	if err != nil {
		return outcome{}, err
	}
	m := mover{root: root, aside: path.Join(tmp, "old")}
	if err = fill(root, path.Join(tmp, "new"), files); err == nil {
		err = m.all(path.Join(tmp, "new"), files, stale)
	}
	if err != nil {
		return outcome{}, errors.Join(err, m.undo(), root.RemoveAll(tmp))
	}
	for _, p := range stale {
		_ = root.Remove(path.Dir(p)) // only if it is empty now
	}
	err = root.RemoveAll(tmp)
	folders := []string{"."}
	for _, f := range files {
		folders = append(folders, path.Dir(f.Path))
	}
	slices.Sort(folders)
	for _, d := range slices.Compact(folders) {
		err = errors.Join(err, syncFolder(root, d))
	}
	return done, err
}

// displaced returns the paths of files that differ from what the earlier
// build wrote. A file that no build made is an error, unless it is the same as
// what would replace it.
func displaced(root *os.Root, files []shop.File, old map[string]string, built bool) ([]string, error) {
	var changed []string
	for _, f := range files {
		info, err := root.Lstat(f.Path)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if !info.Mode().IsRegular() {
			return nil, foreignError{f.Path}
		}
		data, err := readFile(root, f.Path)
		if err != nil {
			return nil, err
		}
		was, listed := old[f.Path]
		switch now := sum(data); {
		case now == sum(f.Data) || now == was:
		case f.Path == report.ManifestPath && built:
		case !listed:
			return nil, foreignError{f.Path}
		default:
			changed = append(changed, f.Path)
		}
	}
	slices.Sort(changed)
	return changed, nil
}

// staleFiles returns the files of the earlier build that are no longer made
// and are as they were; those that were changed are noted as kept.
func staleFiles(root *os.Root, files []shop.File, old map[string]string, done *outcome) []string {
	var stale []string
	for p, was := range old {
		if slices.ContainsFunc(files, func(f shop.File) bool { return f.Path == p }) {
			continue
		}
		data, err := readFile(root, p)
		switch {
		case err != nil: // gone already, or none of ours
		case sum(data) == was:
			stale = append(stale, p)
		default:
			done.kept = append(done.kept, p)
		}
	}
	slices.Sort(stale)
	slices.Sort(done.kept)
	done.removed = stale
	return stale
}

// A mover moves files within a root and can take it all back.
type mover struct {
	root  *os.Root
	aside string // where what is displaced is put
	moves [][2]string
	made  []string // folders, outermost first
}

// all puts stale files aside and moves files in from the folder fresh, the
// manifest last: one that lists what isn't there yet would be a lie.
func (m *mover) all(fresh string, files []shop.File, stale []string) error {
	for _, p := range stale {
		if err := m.putAside(p); err != nil {
			return err
		}
	}
	order := slices.Clone(files)
	slices.SortStableFunc(order, func(a, b shop.File) int {
		return last(a.Path) - last(b.Path)
	})
	for _, f := range order {
		if err := m.folder(path.Dir(f.Path)); err != nil {
			return err
		}
		if _, err := m.root.Lstat(f.Path); err == nil {
			if err := m.putAside(f.Path); err != nil {
				return err
			}
		}
		if err := m.move(path.Join(fresh, f.Path), f.Path); err != nil {
			return err
		}
	}
	return nil
}

func last(p string) int {
	if p == report.ManifestPath {
		return 1
	}
	return 0
}

func (m *mover) putAside(p string) error {
	to := path.Join(m.aside, p)
	if err := m.root.MkdirAll(path.Dir(to), folderMode); err != nil {
		return err
	}
	return m.move(p, to)
}

func (m *mover) move(from, to string) error {
	if err := m.root.Rename(from, to); err != nil {
		return err
	}
	m.moves = append(m.moves, [2]string{from, to})
	return nil
}

// folder makes a folder and those that it lies in.
func (m *mover) folder(p string) error {
	if p == "." {
		return nil
	}
	if err := m.folder(path.Dir(p)); err != nil {
		return err
	}
	err := m.root.Mkdir(p, folderMode)
	switch {
	case err == nil:
		m.made = append(m.made, p)
	case errors.Is(err, fs.ErrExist):
		return nil
	}
	return err
}

// undo takes all moves back.
func (m *mover) undo() error {
	var errs []error
	for _, v := range slices.Backward(m.moves) {
		errs = append(errs, m.root.Rename(v[1], v[0]))
	}
	for _, p := range slices.Backward(m.made) {
		errs = append(errs, m.root.Remove(p))
	}
	return errors.Join(errs...)
}
