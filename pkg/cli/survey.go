package cli

import (
	"errors"
	"io/fs"
	"os"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/report"
)

// survey looks at what an earlier build left: which of its files are no longer
// made, and which were changed since.
func (d *desk) survey(files []build.File, done *outcome) (stale []string, err error) {
	old, built := earlier(d.root)
	if done.changed, err = displaced(d.root, files, old, built); err != nil {
		return nil, err
	}
	return staleFiles(d.root, files, old, done), nil
}

// displaced returns the paths of files that differ from what the earlier
// build wrote. A file that no build made is an error, unless it is the same as
// what would replace it.
func displaced(root *os.Root, files []build.File, old map[string]string, built bool) ([]string, error) {
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
func staleFiles(root *os.Root, files []build.File, old map[string]string, done *outcome) []string {
	var stale []string
	for p, was := range old {
		if slices.ContainsFunc(files, func(f build.File) bool { return f.Path == p }) {
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
