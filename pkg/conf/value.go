package conf

import (
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/diag"
)

// Kind is what a value is written as.
type Kind int

// The kinds.
const (
	KindTable Kind = iota
	KindList
	KindString
	KindInteger
	KindFloat
	KindBool
	KindDate
)

var kinds = [...]string{
	KindTable: "a table", KindList: "a list", KindString: "text", KindInteger: "a whole number", KindFloat: "a number",
	KindBool: "true or false", KindDate: "a date",
}

// String is the kind as a person would call it.
func (k Kind) String() string { return kinds[k] }

// definition is how a table came about, which decides who may add to it.
type definition int

const (
	byPath   definition = iota // named on the way to another: [a] in [a.b]
	byHeader                   // [a]
	byDots                     // a.b = 1
	byBraces                   // a = { ... }
	absent                     // not in the file at all
)

// A Value is a value of a file with its place.
type Value struct {
	Kind   Kind
	Off    int      // bytes from the start of the file; Top: it stands nowhere in it
	Text   string   // of a string its content, of other scalars what is written
	Items  []*Value // of a list
	Fields []Field  // of a table

	textOff int            // where the content of a string starts; -1 if it holds escapes
	index   map[string]int // of fields by name
	def     definition
	headers bool     // a list made by [[a]]
	meant   []string // keys that its unknown ones were likely meant to be

	up    *Value // what it is in; nil of the whole file
	name  string // in a table
	place int    // in a list, from 1
}

// A Field is one key of a table.
type Field struct {
	Name  string
	Off   int // of the key
	Value *Value
}

// Get is the value of a key, nil if the table lacks it.
func (v *Value) Get(name string) *Value {
	if i, ok := v.index[name]; ok {
		return v.Fields[i].Value
	}
	return nil
}

// Key is the way to the value from the top of the file: "motif.line.1.from".
func (v *Value) Key() diag.Key {
	var parts []string
	for ; v != nil && v.up != nil; v = v.up {
		if v.place > 0 {
			parts = append(parts, strconv.Itoa(v.place))
		} else {
			parts = append(parts, v.name)
		}
	}
	slices.Reverse(parts)
	return diag.Key(strings.Join(parts, "."))
}

func (v *Value) put(name string, off int, to *Value) {
	if v.index == nil {
		v.index = map[string]int{}
	}
	v.index[name] = len(v.Fields)
	to.up, to.name = v, name
	v.Fields = append(v.Fields, Field{name, off, to})
}

// add puts a value at the end of a list.
func (v *Value) add(item *Value) {
	v.Items = append(v.Items, item)
	item.up, item.place = v, len(v.Items)
}

// child is a table's field or a list's item, counted from 1; nil if there is none.
func (v *Value) child(name string) *Value {
	if v.Kind == KindList {
		if i, err := strconv.Atoi(name); err == nil && i >= 1 && i <= len(v.Items) {
			return v.Items[i-1]
		}
		return nil
	}
	return v.Get(name)
}
