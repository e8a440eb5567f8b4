package watch

import (
	"strconv"
	"sync"
)

// A subject is what a message to the page is about.
type subject int

// The subjects, in the order in which a page that has just been opened gets them.
const (
	aboutMotif subject = iota // its picture, and what was found
	aboutInlay                // its picture
	aboutPage                 // that the whole page can be fetched anew
	aboutState                // what is being done, and what of all that is to be seen is old
)

const subjects = int(aboutState) + 1

// String is the subject's name in the stream of events.
func (s subject) String() string {
	return [...]string{aboutMotif: "motif", aboutInlay: "inlay", aboutPage: "page", aboutState: "state"}[s]
}

// A hub holds the last message about each subject, and nothing before it: whoever is
// slow, or comes late, gets what is true now. However many saves there were and however
// many pages are open, it holds the same.
type hub struct {
	mu      sync.Mutex
	save    int // the newest save; nothing about an older one is taken
	last    [subjects]message
	page    page          // the last whole page
	changed chan struct{} // closed when any of it changes
}

// A page is a whole page and the save that it is of; 0: there is none.
type page struct {
	save int
	html []byte
}

// A message is what was said last about a subject.
type message struct {
	number int // counts the messages about it; 0: there was none
	data   []byte
}

func newHub() *hub { return &hub{changed: make(chan struct{})} }

// begin begins a save: what is said of those before it from now on is not taken.
func (h *hub) begin(save int) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.save = save
}

// say says something of a save.
func (h *hub) say(save int, about subject, data []byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.take(save, about, data)
}

func (h *hub) take(save int, about subject, data []byte) bool {
	if save != h.save {
		return false
	}
	m := &h.last[about]
	m.number, m.data = m.number+1, data
	close(h.changed)
	h.changed = make(chan struct{})
	return true
}

// show takes a whole page of a save, and says that it is there.
func (h *hub) show(save int, html []byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.take(save, aboutPage, []byte(strconv.Itoa(save))) {
		h.page = page{save, html}
	}
}

// shown is the last whole page.
func (h *hub) shown() page {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.page
}

// since returns what is new to one who was sent the messages of these numbers, brings
// the numbers up to date, and returns what is closed at the next change.
func (h *hub) since(sent *[subjects]int) (news [subjects][]byte, changed <-chan struct{}) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for s, m := range h.last {
		if m.number != sent[s] {
			news[s], sent[s] = m.data, m.number
		}
	}
	return news, h.changed
}
