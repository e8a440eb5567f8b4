package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"strapwork/pkg/diag"
	"strapwork/pkg/job"
	"strapwork/pkg/shop"
)

// fromStdin is the name that stands for standard input.
const fromStdin = "-"

// jobName is what findings call a job file.
func jobName(path string) string {
	if path == fromStdin {
		return "stdin"
	}
	return path
}

// readJob reads a job file, or standard input.
func (e *env) readJob(path string) ([]byte, diag.Findings) {
	return e.readText(path, "a job file", job.MaxSize)
}

// readText reads a file, or standard input, that is to be what kind says. It
// never reads much more than such a file may be long: the kind's own reader
// says that it is too large.
func (e *env) readText(path, kind string, most int64) ([]byte, diag.Findings) {
	in := e.stdin
	if path != fromStdin {
		f, err := os.Open(path)
		if err != nil {
			return nil, unreadable(path, err)
		}
		defer f.Close() // nothing was written to it
		if info, err := f.Stat(); err == nil && info.IsDir() {
			var found diag.Findings
			found.Errorf(diag.Position{File: path}, "unreadable", "it is a folder, not %s", kind).Hintf("name the .toml file in it")
			return nil, found
		}
		in = f
	}
	data, err := io.ReadAll(io.LimitReader(in, most+1))
	if err != nil {
		return nil, unreadable(jobName(path), err)
	}
	return data, nil
}

func unreadable(path string, err error) diag.Findings {
	var found diag.Findings
	f := found.Errorf(diag.Position{File: path}, "unreadable", "it cannot be read: %v", reason(err))
	if errors.Is(err, fs.ErrNotExist) {
		f.Hintf("check the name and the folder")
	}
	return found
}

// reason is what went wrong, without the operation and the path.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

// maxProfile is the size in bytes beyond which a profile is not read: its own
// reader takes much less, and says so.
const maxProfile = 1 << 20

// beside returns how files named in a job are read: from the job's own folder.
func beside(jobPath string) shop.ReadFile {
	return func(path string) ([]byte, error) {
		if !filepath.IsAbs(path) && jobPath != fromStdin {
			path = filepath.Join(filepath.Dir(jobPath), filepath.FromSlash(path))
		}
		f, err := os.Open(path)
		if err != nil {
			return nil, reason(err)
		}
		defer f.Close() // nothing was written to it
		data, err := io.ReadAll(io.LimitReader(f, maxProfile))
		if err != nil {
			return nil, reason(err)
		}
		return data, nil
	}
}

// statusOf is the exit status that a job's findings call for.
func statusOf(found diag.Findings) int {
	switch {
	case job.Unreadable(found):
		return statusUsage
	case found.HasErrors():
		return statusFailed
	}
	return statusDone
}

// progress returns what shows steps on a terminal, and what wipes them off.
func (e *env) progress() (step func(string), wipe func()) {
	const startOfLine = "\r\x1b[K" // carriage return, erase to the end (ECMA-48 EL)
	f, ok := e.stderr.(*os.File)
	if ok {
		info, err := f.Stat()
		ok = err == nil && info.Mode()&os.ModeCharDevice != 0
	}
	if !ok || e.json {
		return func(string) {}, func() {}
	}
	return func(what string) { fmt.Fprint(f, startOfLine+what) }, func() { fmt.Fprint(f, startOfLine) }
}
