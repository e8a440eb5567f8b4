package job

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/unit"
)

// name is a named dimension of [let], worked out when it is first wanted.
type name struct {
	key   string
	value *node
	state state
	v     float64 // in the file's units; NaN if it was wrong and told
}

type state int

const (
	untouched state = iota
	underway
	settled
)

const (
	// maxDeep bounds names that lean on names that lean on names, so that no
	// file can exhaust the stack.
	maxDeep = 100
	// maxNames bounds how many there are: for each unknown one, all are gone
	// through for one like it.
	maxNames = 1000
)

// errTold ends an expression whose mistake is told elsewhere.
var errTold = errors.New("told already")

// readLet takes in the names; their order does not matter.
func (r *reader) readLet(t *node) {
	r.let = map[string]*name{}
	if t == nil {
		return
	}
	if t.kind != nodeTable {
		r.wrongType(t, "let", "a table", "write [let] on a line of its own")
		return
	}
	if len(t.fields) > maxNames {
		r.errorf(ruleValue, t.off, "[let] has more than %d names", maxNames)
		return
	}
	for _, f := range t.fields {
		if err := unit.CheckName(f.name); err != nil {
			r.errorf(ruleValue, f.off, "%v", err).Hintf("use another name")
			continue
		}
		r.let[f.name] = &name{key: f.name, value: f.value}
	}
	for _, f := range t.fields {
		if n := r.let[f.name]; n != nil {
			r.settle(n)
		}
	}
}

// names are the defined names in alphabetical order.
func (r *reader) names() []string { return slices.Sorted(maps.Keys(r.let)) }

// lookup is a name's value for expressions.
func (r *reader) lookup(key string) (float64, error) {
	n := r.let[key]
	switch {
	case n == nil:
		return 0, unit.ErrUndefined
	case n.state == underway:
		r.cycle(n)
		return 0, errTold
	}
	r.settle(n)
	if math.IsNaN(n.v) {
		return 0, errTold
	}
	return n.v, nil
}

func (r *reader) settle(n *name) {
	if n.state != untouched {
		return
	}
	r.path = append(r.path, n)
	if len(r.path) > maxDeep {
		r.errorf(ruleExpression, n.value.off, "names lean on one another more than %d deep", maxDeep)
		n.v = bad
	} else {
		n.state = underway
		n.v = r.number(n.value, n.key, false)
	}
	n.state = settled
	r.path = r.path[:len(r.path)-1]
}

// cycle tells that a name needs itself, and by way of which others.
func (r *reader) cycle(n *name) {
	var ring []string
	for _, m := range r.path[slices.Index(r.path, n):] {
		ring = append(ring, m.key)
	}
	r.errorf(ruleExpression, n.value.off, "%s is defined by itself", n.key).
		Hintf("%s -> %s: give one of them a number", strings.Join(ring, " -> "), n.key)
}
