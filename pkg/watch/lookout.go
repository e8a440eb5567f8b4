package watch

import (
	"context"
	"crypto/sha256"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"

	"strapwork/pkg/diag"
)

const (
	// settle is how long it must be quiet after something happened to a file before it
	// is read: an editor writes, renames and sets rights within a millisecond or two.
	settle = 4 * time.Millisecond
	// restless bounds how long is waited for that.
	restless = 40 * time.Millisecond
	// doubt is how long a job that is suddenly empty or gone is looked for again before
	// that is believed: some editors empty a file, or move it away, before they write.
	doubt = 120 * time.Millisecond
	// glances is how often the files are looked at whatever was noticed: some file
	// systems, of other machines mostly, say nothing of what happens to them.
	glances = time.Second
)

// A save is a job as it was found.
type save struct {
	number int
	data   []byte
	unread bool          // it can't be read
	found  diag.Findings // what was found until now
	stage  string        // how far it came until now, as in state
}

// gone reports whether there is nothing in it, as for a moment while some editors save.
func (s save) gone() bool { return len(s.data) == 0 }

// A lookout notices when the job, or a file that it names, is another.
type lookout struct {
	Job
	used    *used
	watcher *fsnotify.Watcher // nil where the system has none
	folders map[string]bool   // that the watcher has
	last    save
	sum     digest
	stamps  map[string]stamp
}

type digest = [sha256.Size]byte

// A stamp is what can be seen of a file without reading it.
type stamp struct {
	size int64
	time time.Time
	mode fs.FileMode
}

func stampOf(path string) (s stamp) {
	if info, err := os.Stat(path); err == nil {
		s = stamp{info.Size(), info.ModTime(), info.Mode()}
	}
	return s
}

func newLookout(j Job, u *used) *lookout {
	l := &lookout{Job: j, used: u, folders: map[string]bool{}}
	l.watcher, _ = fsnotify.NewWatcher() // without one it is looked at from time to time
	return l
}

// run hands on the job as it is, and then as often as it is another, until the context
// ends.
func (l *lookout) run(ctx context.Context, saved func(save)) {
	var events chan fsnotify.Event
	var errors chan error
	if l.watcher != nil {
		defer l.watcher.Close() // nothing was written to it
		events, errors = l.watcher.Events, l.watcher.Errors
	}
	quiet := time.NewTimer(0) // the first look
	quiet.Stop()
	tick := time.NewTicker(glances)
	defer tick.Stop()
	l.follow()
	l.look(saved, true)
	var since time.Time // when the first thing happened that wasn't looked at; zero: none
	for {
		select {
		case <-ctx.Done():
			return
		case e := <-events:
			if !l.concerns(e.Name) {
				continue
			}
			if since.IsZero() {
				since = time.Now()
			}
			quiet.Reset(min(settle, time.Until(since.Add(restless))))
		case <-errors: // too much happened: look for oneself
			quiet.Reset(0)
		case <-l.used.more:
			l.follow()
		case <-tick.C:
			if l.follow(); l.stirred() {
				quiet.Reset(0)
			}
		case <-quiet.C:
			since = time.Time{}
			if !l.look(saved, false) {
				quiet.Reset(doubt)
			}
		}
	}
}

// paths are the files that matter.
func (l *lookout) paths() []string {
	all := []string{l.Path}
	for name := range l.used.sums() {
		all = append(all, l.Where(name))
	}
	for _, p := range all {
		if to, err := filepath.EvalSymlinks(p); err == nil && to != filepath.Clean(p) {
			all = append(all, to)
		}
	}
	return all
}

// concerns reports whether what happened to a name may change what is shown.
func (l *lookout) concerns(name string) bool {
	name = absolute(name)
	for _, p := range l.paths() {
		if absolute(p) == name {
			return true
		}
	}
	return false
}

// absolute is a path from the root, as far as that can be known.
func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return filepath.Clean(path)
}

// follow has the folders of all files watched, and no others: files themselves come and
// go as editors save.
func (l *lookout) follow() {
	if l.watcher == nil {
		return
	}
	want := map[string]bool{}
	for _, p := range l.paths() {
		want[filepath.Dir(absolute(p))] = true
	}
	for f := range l.folders {
		if !want[f] {
			_ = l.watcher.Remove(f) // it may be gone by itself
			delete(l.folders, f)
		}
	}
	for f := range want {
		// Again and again, since a folder may have been moved away and made anew.
		if l.watcher.Add(f) == nil {
			l.folders[f] = true
		}
	}
}

// stirred reports whether a file looks different from when it was last read.
func (l *lookout) stirred() bool { return !maps.Equal(l.stamps, l.stamped()) }

func (l *lookout) stamped() map[string]stamp {
	all := map[string]stamp{}
	for _, p := range l.paths() {
		all[p] = stampOf(p)
	}
	return all
}

// look reads the job and hands it on if it is another, or what it names is. It returns
// false if the job is suddenly gone: look again.
func (l *lookout) look(saved func(save), first bool) bool {
	l.stamps = l.stamped()
	data, found := l.Read()
	now := save{number: l.last.number + 1, data: data, unread: found.HasErrors(), found: found}
	sum := sha256.Sum256(append(data, found.Error()...))
	if !first && sum == l.sum && !l.used.changed() {
		l.last.data = data
		return true
	}
	if !first && now.gone() && !l.last.gone() {
		l.last.data = nil // believed the next time
		return false
	}
	l.last, l.sum = now, sum
	l.used.forget()
	saved(now)
	return true
}

// used are the files that a job names, as they were when they were read for it: its
// drawings, and profiles by path.
type used struct {
	readFile func(name string) ([]byte, error)
	more     chan struct{} // that there is another name
	mu       sync.Mutex
	seen     map[string]digest
	unsure   bool // one was read twice and was another
}

func newUsed(readFile func(string) ([]byte, error)) *used {
	return &used{readFile: readFile, more: make(chan struct{}, 1), seen: map[string]digest{}}
}

// read reads a file that the job names, and remembers it.
func (u *used) read(name string) ([]byte, error) {
	data, sum, err := u.look(name)
	u.mu.Lock()
	defer u.mu.Unlock()
	before, known := u.seen[name]
	u.unsure = u.unsure || known && before != sum
	u.seen[name] = sum
	if !known {
		select {
		case u.more <- struct{}{}:
		default:
		}
	}
	return data, err
}

func (u *used) look(name string) (data []byte, sum digest, err error) {
	data, err = u.readFile(name)
	text := data
	if err != nil {
		text = []byte("\x00" + err.Error())
	}
	return data, sha256.Sum256(text), err
}

func (u *used) sums() map[string]digest {
	u.mu.Lock()
	defer u.mu.Unlock()
	return maps.Clone(u.seen)
}

// changed reports whether any of them is another now.
func (u *used) changed() bool {
	u.mu.Lock()
	unsure := u.unsure
	u.mu.Unlock()
	if unsure {
		return true
	}
	for name, before := range u.sums() {
		if _, sum, _ := u.look(name); sum != before {
			return true
		}
	}
	return false
}

// forget forgets which they are: the next job may name others.
func (u *used) forget() {
	u.mu.Lock()
	defer u.mu.Unlock()
	clear(u.seen)
	u.unsure = false
}
