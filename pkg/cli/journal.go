package cli

// Moving files in, so that it can be finished or taken back by whoever comes
// next. Both read the state off the disk and do what is still to be done, so
// that they may be ended and begun again at any point. The old manifest goes out
// first and the new one comes in last: a manifest that lists what isn't there
// would be a lie.

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/report"
)

// A move is one file that comes in, or goes out.
type move struct {
	Path   string `json:"path"`
	SHA256 string `json:"sha256"` // of what comes in; empty: the file goes out
	Was    string `json:"was"`    // SHA-256 of what it displaces; empty: nothing
}

func (m move) staged() string { return path.Join(newPath, m.Path) }
func (m move) aside() string  { return path.Join(oldPath, m.Path) }

// A journal is what is to be moved, in this order.
type journal struct {
	Schema int      `json:"schema"`
	Moves  []move   `json:"moves"`
	Made   []string `json:"made"` // folders that weren't there, outermost first
}

// newJournal plans the moves: stale files go out, then files come in, the
// manifest last.
func (d *desk) newJournal(files []build.File, stale []string) journal {
	j := journal{Schema: schema}
	for _, p := range stale {
		j.Moves = append(j.Moves, move{Path: p, Was: d.sum(p)})
	}
	order := slices.Clone(files)
	slices.SortStableFunc(order, func(a, b build.File) int { return last(a.Path) - last(b.Path) })
	for _, f := range order {
		j.Moves = append(j.Moves, move{Path: f.Path, SHA256: sum(f.Data), Was: d.sum(f.Path)})
		var missing []string
		for p := path.Dir(f.Path); p != "." && !d.exists(p); p = path.Dir(p) {
			missing = append(missing, p)
		}
		for _, p := range slices.Backward(missing) {
			if !slices.Contains(j.Made, p) {
				j.Made = append(j.Made, p)
			}
		}
	}
	return j
}

func last(p string) int {
	if p == report.ManifestPath {
		return 1
	}
	return 0
}

// writeJournal puts the journal on the disk whole, or not at all.
func (d *desk) writeJournal(j journal) error {
	data, err := json.Marshal(j)
	if err != nil {
		return err
	}
	const draft = journalPath + ".new"
	if err := d.step(); err != nil {
		return err
	}
	if err := writeSynced(d.root, draft, data); err != nil {
		return err
	}
	operation()
	if err := d.root.Rename(draft, journalPath); err != nil {
		return err
	}
	return syncFolder(d.root, deskName)
}

// readJournal returns the journal of a build that was killed; ok is false if it
// left none.
func (d *desk) readJournal() (j journal, ok bool, err error) {
	_ = d.root.Remove(journalPath + ".new") // never finished, if there is one
	data, err := readFile(d.root, journalPath)
	if errors.Is(err, fs.ErrNotExist) {
		return journal{}, false, nil
	}
	if err == nil {
		err = json.Unmarshal(data, &j)
	}
	if err == nil && j.Schema != schema {
		err = fmt.Errorf("its schema is %d, not %d", j.Schema, schema)
	}
	for _, m := range j.Moves {
		if err == nil && !fs.ValidPath(m.Path) {
			err = fmt.Errorf("%q is outside", m.Path)
		}
	}
	if err != nil {
		return journal{}, false, fmt.Errorf("the journal of a build that was interrupted can't be read: %w", err)
	}
	return j, true, nil
}

// forward moves all that isn't moved yet.
func (d *desk) forward(j journal) error {
	for _, m := range j.Moves {
		if m.Path == report.ManifestPath && d.exists(m.staged()) {
			if err := d.putAside(m); err != nil {
				return err
			}
		}
	}
	for _, m := range j.Moves {
		if err := d.step(); err != nil {
			return err
		}
		if err := d.forwardOne(m); err != nil {
			return err
		}
	}
	for _, m := range j.Moves {
		if m.SHA256 == "" {
			_ = d.root.Remove(path.Dir(m.Path)) // only if it is empty now
		}
	}
	return d.syncAll(j)
}

func (d *desk) forwardOne(m move) error {
	switch {
	case m.SHA256 != "" && !d.exists(m.staged()): // in already
		return nil
	case m.SHA256 == "" && (m.Was == "" || d.sum(m.Path) != m.Was): // out already, or somebody's own by now
		return nil
	}
	if err := d.putAside(m); err != nil || m.SHA256 == "" {
		return err
	}
	return d.rename(m.staged(), m.Path)
}

func (d *desk) putAside(m move) error {
	if !d.exists(m.Path) {
		return nil
	}
	return d.rename(m.Path, m.aside())
}

// back takes all back that was moved.
func (d *desk) back(j journal) error {
	for _, m := range slices.Backward(j.Moves) {
		if m.SHA256 != "" && !d.exists(m.staged()) && d.sum(m.Path) == m.SHA256 {
			if err := d.rename(m.Path, m.staged()); err != nil {
				return err
			}
		}
	}
	for _, p := range slices.Backward(j.Made) {
		_ = d.root.Remove(p) // only if it is empty
	}
	for _, m := range j.Moves {
		switch {
		case !d.exists(m.aside()):
			continue
		case d.exists(m.Path):
			return foreignError{m.Path}
		}
		if err := d.rename(m.aside(), m.Path); err != nil {
			return err
		}
	}
	return d.syncAll(j)
}

// syncAll makes the moves last.
func (d *desk) syncAll(j journal) error {
	folders := []string{"."}
	for _, m := range j.Moves {
		folders = append(folders, path.Dir(m.Path))
	}
	slices.Sort(folders)
	var errs []error
	for _, p := range slices.Compact(folders) {
		if d.exists(p) {
			errs = append(errs, syncFolder(d.root, p))
		}
	}
	return errors.Join(errs...)
}

// whole reports whether all that is to come in is there, moved or not.
func (d *desk) whole(j journal) bool {
	return !slices.ContainsFunc(j.Moves, func(m move) bool {
		return m.SHA256 != "" && d.sum(m.staged()) != m.SHA256 && (d.exists(m.staged()) || d.sum(m.Path) != m.SHA256)
	})
}

// strangers returns a foreignError for a file that came into the folder after
// the build was killed and that moving on would displace.
func (d *desk) strangers(j journal) error {
	for _, m := range j.Moves {
		if m.SHA256 == "" || !d.exists(m.staged()) || !d.exists(m.Path) {
			continue
		}
		if now := d.sum(m.Path); now != m.Was && now != m.SHA256 {
			return foreignError{m.Path}
		}
	}
	return nil
}
