package conf

import (
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// A Section is one table of a file, read by what the format says of it. A key that is
// missing or wrong is reported once, where it is read, and then is Bad, "" or false.
type Section struct {
	*Reader
	Table *Table
	Value *Value // never nil: a table that the file lacks is empty
}

// Whole is the file as a table, its keys checked.
func (r *Reader) Whole() Section { return r.section("", r.Root) }

// section is a table's values, its keys checked.
func (r *Reader) section(path string, v *Value) Section {
	t := r.Format.Table(path)
	r.known(t, v)
	return Section{r, t, v}
}

// As is a table that may stand anywhere, read as that of a path, its keys checked.
func (r *Reader) As(path string, v *Value) Section { return r.section(path, v) }

// Absent reports whether the file lacks the table.
func (s Section) Absent() bool { return s.Value.def == absent }

// key is what the format says of a key. That it does is in the writer's hands, not in
// the file's.
func (s Section) key(name string) *Key {
	k := s.Table.Key(name)
	if k == nil {
		panic("conf: no key " + name + " in the table " + s.Table.Path)
	}
	return k
}

// Get is the value of a key, nil where it isn't given. One that must be there is reported
// as missing, unless its table is.
func (s Section) Get(name string) *Value {
	k := s.key(name)
	v := s.Value.Get(name)
	if v == nil && k.Must {
		s.Require(name)
	}
	return v
}

// Require is the value of a key that can't be left out here; nil is reported.
func (s Section) Require(name string) *Value {
	v := s.Value.Get(name)
	if v == nil && !s.Absent() && !s.Misspelt(name) {
		s.FaultAt(s.Value.Off, Missing, "%s is missing", name).Hintf("%s", s.Hint(name)).Key = s.Path(name)
	}
	return v
}

// Path is the way to a key from the top of the file.
func (s Section) Path(name string) diag.Key {
	if top := s.Value.Key(); top != "" {
		return top + diag.Key("."+name)
	}
	return diag.Key(name)
}

// Misspelt reports whether one of the table's unknown keys was likely meant to be the
// key.
func (s Section) Misspelt(name string) bool { return slices.Contains(s.Value.meant, name) }

// Hint says what to type for a key.
func (s Section) Hint(name string) string {
	k := s.key(name)
	if k.Example == (Typed{}) {
		return k.Ask
	}
	colon := ": "
	if k.Ask == "" || strings.IndexByte(", :", k.Ask[0]) >= 0 {
		colon = ""
	}
	return "write " + k.Line(s.Units) + colon + k.Ask
}

// Line is the key with its example, as it is typed.
func (k Key) Line(u unit.System) string { return k.Name + " = " + k.Example.In(u) }

// Sub is a table in this one, its keys checked, and whether it is there. Where it isn't
// it is empty; one that can't be left out is reported as missing.
func (s Section) Sub(name string) (sub Section, ok bool) {
	k, v := s.key(name), s.Value.Get(name)
	path := string(s.Path(name))
	switch {
	case v == nil:
		if k.Must && !s.Misspelt(name) {
			s.FaultAt(Top, Missing, "table [%s] is missing", path).Hintf("%s", k.Ask).Key = s.Path(name)
		}
	case v.Kind != KindTable:
		s.wrongType(v, name, "a table", s.tableHint(path, v.headers))
	default:
		return s.section(k.Is.table, v), true
	}
	return s.section(k.Is.table, absentValue()), false
}

// tableHint says how a table is written that is none, or stands in double brackets.
func (s Section) tableHint(path string, double bool) string {
	if !double {
		return "write [" + path + "] on a line of its own, and its keys below"
	}
	hint := "write [" + path + "] in single brackets"
	for _, k := range s.Format.Table(path).Keys {
		if s.Format.several(path + "." + k.Name) {
			hint += "; [[" + path + "." + k.Name + "]] stands in double ones"
		}
	}
	return hint
}

// Given reports whether a key is given at all.
func (s Section) Given(name string) bool {
	s.key(name)
	return s.Value.Get(name) != nil
}

// List is the tables of a key that may be given several times, at most of them; what is
// no table is reported.
func (s Section) List(name string, most int) []Section {
	k, v := s.key(name), s.Value.Get(name)
	path := string(s.Path(name))
	switch {
	case v == nil:
		return nil
	case v.Kind != KindList:
		s.wrongType(v, path, "a list of tables", "write [["+path+"]], with double brackets")
		return nil
	}
	s.AtMost(v, path, most)
	var list []Section
	for _, item := range v.Items {
		if item.Kind != KindTable {
			s.wrongType(item, path, "a table", "write [["+path+"]] and its keys below")
			continue
		}
		list = append(list, s.section(k.Is.listed(), item))
	}
	return list
}

// AtMost reports whether a list isn't longer than makes sense; if it is, that is an
// error and the rest of it is not read.
func (r *Reader) AtMost(list *Value, what string, most int) bool {
	if len(list.Items) > most {
		r.Faultf(list, BadValue, "%s has %d entries, and at most %d make sense", what, len(list.Items), most)
		list.Items = nil
		return false
	}
	return true
}

// Assume notes the defaults that were used, but for some keys.
func (s Section) Assume(guide string, but ...string) {
	var said []string
	for _, k := range s.Table.Keys {
		if k.Quiet || !k.serves(guide) || s.Value.Get(k.Name) != nil || slices.Contains(but, k.Name) {
			continue
		}
		if text := k.assumed(s.Units); text != "" {
			said = append(said, k.Name+" "+text)
		}
	}
	s.Assumed(said...)
}

// Assumed notes what was assumed of the table.
func (s Section) Assumed(said ...string) {
	if len(said) > 0 {
		s.Notef(s.Value, RuleAssumed, "[%s] assumed: %s", s.Table.Path, strings.Join(said, ", "))
	}
}

// serves reports whether a guide has a use for the key.
func (k Key) serves(guide string) bool { return len(k.For) == 0 || slices.Contains(k.For, guide) }

// NoEffect notes a key that changes nothing in this file.
func (s Section) NoEffect(name, why string) {
	s.key(name)
	if v := s.Value.Get(name); v != nil {
		s.Notef(v, RuleNoEffect, "%s has no effect: %s", name, why)
	}
}

// Idle notes the keys that a guide has no use for.
func (s Section) Idle(guide string) {
	for _, k := range s.Table.Keys {
		if k.Else != "" && !k.serves(guide) {
			s.NoEffect(k.Name, k.Else)
		}
	}
}
