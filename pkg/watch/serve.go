package watch

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"

	"strapwork/pkg/preview"
)

const (
	// tokenBytes make a token of 128 bits, which nobody guesses.
	tokenBytes = 16
	// headTime and idleTime bound how long a connection may take to ask, and how long
	// it may stay without asking.
	headTime = 5 * time.Second
	idleTime = time.Minute
	// writeTime bounds how long a page may take to take what it is sent: one that is
	// suspended comes again when it wakes.
	writeTime = 30 * time.Second
	// beat is how often something is sent to a page, so that one that is gone is noticed.
	beat = 20 * time.Second
	// farewell bounds how long pages may take to take the end: a person waits for it.
	farewell = 200 * time.Millisecond
	// mostHead bounds a request's head, in bytes: a browser sends some hundred.
	mostHead = 16 << 10
)

// policy is what the page may do: run its own script and ask this server.
const policy = "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// A server answers requests for the page of one job, and for nothing else: there are
// three addresses, and no file is ever served.
type server struct {
	hub   *hub
	token string
	hosts []string      // the names by which it may be called, with the port
	shell []byte        // the page without data
	ended chan struct{} // closed when it is to end its streams
}

// newServer returns the server of a page that listens at an address of this machine.
func newServer(h *hub, at *net.TCPAddr, title string) (*server, error) {
	secret := make([]byte, tokenBytes)
	_, _ = rand.Read(secret) // never fails
	var b bytes.Buffer
	if err := preview.WriteLive(&b, title, "events", "page"); err != nil {
		return nil, err
	}
	port := strconv.Itoa(at.Port)
	return &server{
		hub: h, token: hex.EncodeToString(secret), hosts: []string{"127.0.0.1:" + port, "localhost:" + port},
		shell: b.Bytes(), ended: make(chan struct{}),
	}, nil
}

// address is where the page is, for this machine's browser.
func (s *server) address() string { return "http://" + s.hosts[0] + "/" + s.token + "/" }

// serve answers until the context ends, then at once no more.
func (s *server) serve(ctx context.Context, l net.Listener) error {
	h := &http.Server{
		Handler: s, ReadHeaderTimeout: headTime, ReadTimeout: headTime, IdleTimeout: idleTime, MaxHeaderBytes: mostHead,
		ErrorLog: silent(),
	}
	failed := make(chan error, 1)
	go func() { failed <- h.Serve(l) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
		close(s.ended)
		last, cancel := context.WithTimeout(context.Background(), farewell)
		defer cancel()
		if h.Shutdown(last) != nil {
			_ = h.Close() // who doesn't take the end is cut off
		}
		<-failed
		return nil
	}
}

// ServeHTTP answers one request. Whoever isn't the page itself, or a person who opens
// its address, is refused: another site may have this machine's browser ask, or give
// itself a name that leads here.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	head := w.Header()
	head.Set("Cache-Control", "no-store")
	head.Set("Content-Security-Policy", policy)
	head.Set("Cross-Origin-Opener-Policy", "same-origin")
	head.Set("Cross-Origin-Resource-Policy", "same-origin")
	head.Set("Referrer-Policy", "no-referrer")
	head.Set("X-Content-Type-Options", "nosniff")
	head.Set("X-Frame-Options", "DENY")
	if !s.welcome(r) {
		http.Error(w, "403: open the address that strapwork printed", http.StatusForbidden)
		return
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		head.Set("Allow", "GET, HEAD")
		http.Error(w, "405: this page is only read", http.StatusMethodNotAllowed)
		return
	}
	switch _, what, _ := strings.Cut(r.URL.Path[1:], "/"); what {
	case "":
		sendHTML(w, s.shell)
	case "page":
		if p := s.hub.shown(); p.save != 0 {
			head.Set("ETag", strconv.Quote(strconv.Itoa(p.save))) // says which it is
			sendHTML(w, p.html)
			return
		}
		http.Error(w, "404: there is no page yet", http.StatusNotFound)
	case "events":
		s.stream(w, r)
	default:
		http.Error(w, "404: there is nothing here", http.StatusNotFound)
	}
}

// welcome reports whether a request is made by our own name, from our own page or
// from none, and has the token. That is compared in a time that says nothing of it.
func (s *server) welcome(r *http.Request) bool {
	ours := false
	for _, h := range s.hosts {
		ours = ours || r.Host == h
	}
	if origin := r.Header.Get("Origin"); !ours || origin != "" && origin != "http://"+r.Host {
		return false
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "none", "same-origin":
	default:
		return false // from another site, or another port of this machine
	}
	token, _, slash := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	return slash && subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) == 1
}

func sendHTML(w http.ResponseWriter, html []byte) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(html)))
	_, _ = w.Write(html) // who doesn't take it is gone; a HEAD takes none
}

// stream sends what there is to see, and whatever changes, as it changes
// (text/event-stream, as the HTML standard has it in "Server-sent events").
func (s *server) stream(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	if r.Method == http.MethodHead {
		return
	}
	control := http.NewResponseController(w)
	if control.SetReadDeadline(time.Time{}) != nil { // the stream outlasts the time to ask
		return
	}
	tick := time.NewTicker(beat)
	defer tick.Stop()
	var sent [subjects]int
	for {
		news, changed := s.hub.since(&sent)
		if control.SetWriteDeadline(time.Now().Add(writeTime)) != nil || !send(w, news) || control.Flush() != nil {
			return
		}
		select {
		case <-changed:
		case <-tick.C:
		case <-r.Context().Done():
			return
		case <-s.ended:
			_, _ = w.Write([]byte("event: end\ndata: null\n\n")) // so that it doesn't ask again
			return
		}
	}
}

// send writes messages as events, or a line that means nothing; their data have no
// line ends.
func send(w http.ResponseWriter, news [subjects][]byte) bool {
	var b bytes.Buffer
	b.WriteString(":\n")
	for about, data := range news {
		if data != nil {
			fmt.Fprintf(&b, "event: %s\ndata: %s\n\n", subject(about), data)
		}
	}
	_, err := w.Write(b.Bytes())
	return err == nil
}
