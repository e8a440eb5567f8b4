package job

import (
	"maps"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/unit"
)

// name is a named dimension of [let], worked out when it is first wanted.
type name struct {
	key   string
	value *conf.Value
	state state
	v     float64 // in the file's units; NaN if it was wrong and reported
}

type state int

const (
	untouched state = iota
	underway
	settled
)

const (
	// maxDeep bounds names that use names that use names, so that no
	// file can exhaust the stack.
	maxDeep = 100
	// maxNames bounds how many there are: for each unknown one, all are gone
	// through for one like it.
	maxNames = 1000
)

// readLet takes in the names; their order does not matter.
func (r *reader) readLet(top conf.Section) {
	r.let = map[string]*name{}
	t, _ := top.Sub("let")
	if len(t.Value.Fields) > maxNames {
		r.Faultf(t.Value, conf.BadValue, "[let] has more than %d names", maxNames)
		return
	}
	for _, f := range t.Value.Fields {
		if err := unit.CheckName(f.Name); err != nil {
			r.FaultAt(f.Off, conf.BadValue, "%v", err).Hintf("use another name")
			continue
		}
		r.let[f.Name] = &name{key: f.Name, value: f.Value}
	}
	for _, f := range t.Value.Fields {
		if n := r.let[f.Name]; n != nil {
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
		return 0, conf.ErrReported
	}
	r.settle(n)
	if math.IsNaN(n.v) {
		return 0, conf.ErrReported
	}
	return n.v, nil
}

func (r *reader) settle(n *name) {
	if n.state != untouched {
		return
	}
	r.path = append(r.path, n)
	if len(r.path) > maxDeep {
		r.Faultf(n.value, conf.BadExpression, "[let] names are nested more than %d deep", maxDeep)
		n.v = bad
	} else {
		n.state = underway
		n.v = r.Expression(n.value, n.key)
	}
	n.state = settled
	r.path = r.path[:len(r.path)-1]
}

// cycle reports that a name needs itself, and by way of which others.
func (r *reader) cycle(n *name) {
	var ring []string
	for _, m := range r.path[slices.Index(r.path, n):] {
		ring = append(ring, m.key)
	}
	r.Faultf(n.value, conf.BadExpression, "%s is defined by itself", n.key).
		Hintf("%s -> %s: give one of them a number", strings.Join(ring, " -> "), n.key)
}
