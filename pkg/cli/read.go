package cli

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/job"
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
	e.jobFile = jobName(path)
	data, found := e.readText(path, "a job file", job.MaxSize)
	if _, err := os.Stat(path); path != fromStdin && errors.Is(err, fs.ErrNotExist) && len(found) > 0 {
		found[0].Hintf("check the name and the folder; strapwork pattern NAME --out %s writes a job to start from", diag.Typed(path))
	}
	return data, found
}

// readText reads a file, or standard input, that is to be what kind says. It
// never reads much more than such a file may be long: the kind's own reader
// says that it is too large.
func (e *env) readText(path, kind string, most int64) ([]byte, diag.Findings) {
	in := e.stdin
	if path != fromStdin {
		f, err := openFile(path)
		var other otherError
		if errors.As(err, &other) {
			return nil, other.findings(path, kind)
		}
		if err != nil {
			return nil, unreadable(path, err)
		}
		defer f.Close() // nothing was written to it
		in = f
	}
	data, err := io.ReadAll(io.LimitReader(in, most+1))
	if err != nil {
		return nil, unreadable(jobName(path), err)
	}
	return data, nil
}

// An otherError is that a name is not a file's but a folder's, or that of
// something that might never give anything: a pipe, a device.
type otherError struct{ mode fs.FileMode }

func (o otherError) what() string {
	switch {
	case o.mode.IsDir():
		return "a folder"
	case o.mode&fs.ModeNamedPipe != 0:
		return "a pipe"
	case o.mode&fs.ModeDevice != 0:
		return "a device"
	case o.mode&fs.ModeSocket != 0:
		return "a socket"
	case o.mode&fs.ModeSymlink != 0:
		return "a link"
	}
	return "no file"
}

// Error says what it is.
func (o otherError) Error() string { return "it is " + o.what() + ", not a file" }

// findings reports it of a file on the command line that is to be what kind says.
func (o otherError) findings(path, kind string) diag.Findings {
	var found diag.Findings
	f := found.ErrorAt(diag.Position{File: path}, "unreadable", "it is %s, not %s", o.what(), kind)
	if o.mode.IsDir() {
		f.Hintf("name the file in it")
	} else {
		f.Hintf("name a file, or give - and send it to standard input")
	}
	return found
}

// openFile opens a file to read. Opening a pipe would wait for its other end, so
// what is no file is an otherError at once.
func openFile(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, otherError{info.Mode()}
	}
	return os.Open(path)
}

func unreadable(path string, err error) diag.Findings {
	var found diag.Findings
	f := found.ErrorAt(diag.Position{File: path}, "unreadable", "it cannot be read: %v", reason(err))
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

// maxBeside is the size in bytes beyond which a file that a job names is not read on: a
// drawing's reader takes one byte less and a profile's much less, and they say so.
const maxBeside = drawing.MaxSize + 1

// beside returns how files named in a job are read: from the job's own folder.
func beside(jobPath string) build.ReadFile {
	return func(path string) ([]byte, error) {
		f, err := openFile(besidePath(jobPath, path))
		if err != nil {
			return nil, reason(err)
		}
		defer f.Close() // nothing was written to it
		data, err := io.ReadAll(io.LimitReader(f, maxBeside))
		if err != nil {
			return nil, reason(err)
		}
		return data, nil
	}
}

// besidePath is where a file named in a job is.
func besidePath(jobPath, path string) string {
	if filepath.IsAbs(path) || jobPath == fromStdin {
		return path
	}
	return filepath.Join(filepath.Dir(jobPath), filepath.FromSlash(path))
}

// statusOf is the exit status that a job's findings call for.
func statusOf(found diag.Findings) int {
	switch {
	case job.Unreadable(found), build.Inner(found):
		return statusUsage
	case found.HasErrors():
		return statusFailed
	}
	return statusDone
}
