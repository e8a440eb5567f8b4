package job

// Points and elements use one another: each is worked out when it is first wanted.

import (
	"slices"
	"strings"

	"strapwork/pkg/conf"
)

// A wanted thing is a point or an element on its way to being worked out.
type wanted struct {
	kind  string // "point"
	name  string
	state state
}

// enter begins to work something out, which stands at a place in the file; not if it is
// underway already, or uses too much that uses others, which is reported.
func (r *reader) enter(w *wanted, at *conf.Value, cure string) bool {
	switch {
	case w.state == underway:
		var ring []string
		for _, v := range r.trail[slices.Index(r.trail, w):] {
			ring = append(ring, v.name)
		}
		r.Faultf(at, conf.BadValue, "the %s %s is defined by itself", w.kind, w.name).Hintf("%s -> %s: %s", strings.Join(ring, " -> "), w.name, cure)
		return false
	case len(r.trail) >= maxDeep:
		r.Faultf(at, conf.BadValue, "points and elements are nested more than %d deep", maxDeep)
		w.state = settled
		return false
	}
	r.trail = append(r.trail, w)
	w.state = underway
	return true
}

// leave ends what enter began.
func (r *reader) leave(w *wanted) {
	w.state = settled
	r.trail = r.trail[:len(r.trail)-1]
}
