package job

// The file as a tree in which every key and value knows its place. The TOML
// parser hands out one expression at a time and no places for lists; those are
// found by going through the text along with it.

import (
	"bytes"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// nodeKind is the type of a value.
type nodeKind int

const (
	nodeTable nodeKind = iota
	nodeList
	nodeString
	nodeInteger
	nodeFloat
	nodeBool
	nodeDate
)

// String is the kind as a person would call it.
func (k nodeKind) String() string {
	switch k {
	case nodeTable:
		return "a table"
	case nodeList:
		return "a list"
	case nodeString:
		return "a text"
	case nodeInteger:
		return "a whole number"
	case nodeFloat:
		return "a number"
	case nodeBool:
		return "true or false"
	case nodeDate:
		return "a date"
	}
	return "a value"
}

// definition is how a table came about, which decides who may add to it.
type definition int

const (
	byPath   definition = iota // named on the way to another: [a] in [a.b]
	byHeader                   // [a]
	byDots                     // a.b = 1
	byBraces                   // a = { ... }
	absent                     // not in the file at all
)

// node is a value with its place.
type node struct {
	kind    nodeKind
	off     int    // bytes from the start of the file
	text    string // of a string its content, of other scalars what is written
	textOff int    // where the content of a string starts; -1 if it holds escapes
	fields  []field
	index   map[string]int // of fields by name
	items   []*node
	def     definition
	headers bool     // a list made by [[a]]
	meant   []string // keys that its unknown ones were likely meant to be
}

// field is one key of a table.
type field struct {
	name  string
	off   int // of the key
	value *node
}

// get is the value of a key, nil if the table lacks it.
func (n *node) get(name string) *node {
	if i, ok := n.index[name]; ok {
		return n.fields[i].value
	}
	return nil
}

func (n *node) put(name string, off int, v *node) {
	if n.index == nil {
		n.index = map[string]int{}
	}
	n.index[name] = len(n.fields)
	n.fields = append(n.fields, field{name, off, v})
}

// maxParts bounds the parts of a dotted key; the format has three.
const maxParts = 16

// part is one part of a dotted key.
type part struct {
	name string
	off  int
}

// builder makes the tree, telling what cannot be put into it.
type builder struct {
	src  *source
	data []byte
	root *node
	into *node // the table that keys belong to at present
	tell func(rule string, off int, hint, format string, args ...any)
}

// build parses the text; a RuleSyntax that is told ended the reading there.
func build(src *source, tell func(rule string, off int, hint, format string, args ...any)) *node {
	data := []byte(src.data)
	b := &builder{src: src, data: data, root: &node{kind: nodeTable}, tell: tell}
	b.into = b.root
	var p unstable.Parser
	p.Reset(data)
	for p.NextExpression() {
		b.expression(p.Expression())
	}
	if err := p.Error(); err != nil {
		b.syntax(&p, err)
	}
	return b.root
}

func (b *builder) expression(n *unstable.Node) {
	switch n.Kind {
	case unstable.Table, unstable.ArrayTable:
		parts := parts(n.Key())
		// Keys under a header that cannot be used go to a table apart, so that
		// they are not told as mistakes of another one.
		b.into = &node{kind: nodeTable}
		if b.tooLong(parts) {
			return
		}
		if n.Kind == unstable.Table {
			b.header(parts)
		} else {
			b.listHeader(parts)
		}
	default: // a key and its value
		b.keyValue(b.into, n)
	}
}

func parts(it unstable.Iterator) []part {
	var ps []part
	for it.Next() {
		k := it.Node()
		ps = append(ps, part{string(k.Data), int(k.Raw.Offset)})
	}
	return ps
}

func (b *builder) tooLong(ps []part) bool {
	if len(ps) > maxParts {
		b.tell(ruleUnknown, ps[0].off, "", "a key of %d parts", len(ps))
	}
	return len(ps) > maxParts
}

// descend finds or makes the tables that a header's first parts name.
func (b *builder) descend(ps []part) *node {
	t := b.root
	for _, p := range ps {
		next := t.get(p.name)
		switch {
		case next == nil:
			next = &node{kind: nodeTable, off: p.off, def: byPath}
			t.put(p.name, p.off, next)
		case next.kind == nodeList && next.headers:
			next = next.items[len(next.items)-1]
		case next.kind != nodeTable || next.def == byBraces:
			b.tell(ruleDuplicate, p.off, b.first(next), "%q is already a value and cannot be added to", p.name)
			return nil
		}
		t = next
	}
	return t
}

// first is the hint that points to the earlier place.
func (b *builder) first(n *node) string {
	return "it was first given on line " + itoa(b.src.line(n.off))
}

func (b *builder) header(ps []part) {
	last := ps[len(ps)-1]
	t := b.descend(ps[:len(ps)-1])
	if t == nil {
		return
	}
	n := t.get(last.name)
	switch {
	case n == nil:
		n = &node{kind: nodeTable, off: last.off, def: byHeader}
		t.put(last.name, last.off, n)
	case n.kind == nodeTable && n.def == byPath:
		n.def, n.off = byHeader, last.off
	default:
		b.tell(ruleDuplicate, ps[0].off, b.first(n)+b.doubled(ps), "table [%s] is given twice", join(ps))
		return
	}
	b.into = n
}

// doubled is the rest of the hint where double brackets were meant.
func (b *builder) doubled(ps []part) string {
	switch {
	case len(ps) == 2 && ps[0].name == "motif":
		return "; elements have double brackets: [[" + join(ps) + "]]"
	case join(ps) == "stock.clamp":
		return "; clamps have double brackets: [[stock.clamp]]"
	}
	return ""
}

func (b *builder) listHeader(ps []part) {
	last := ps[len(ps)-1]
	t := b.descend(ps[:len(ps)-1])
	if t == nil {
		return
	}
	list := t.get(last.name)
	switch {
	case list == nil:
		list = &node{kind: nodeList, off: last.off, headers: true}
		t.put(last.name, last.off, list)
	case !list.headers:
		b.tell(ruleDuplicate, ps[0].off, b.first(list), "[[%s]] was already given in another form", join(ps))
		return
	}
	b.into = &node{kind: nodeTable, off: last.off, def: byHeader}
	list.items = append(list.items, b.into)
}

// keyValue puts a key into t and returns the place after its value.
func (b *builder) keyValue(t *node, n *unstable.Node) int {
	ps := parts(n.Key())
	keyNode := lastKey(n.Key())
	off := b.skip(int(keyNode.Raw.Offset+keyNode.Raw.Length), " \t=")
	v, end := b.value(n.Value(), off)
	if b.tooLong(ps) {
		return end
	}
	for _, p := range ps[:len(ps)-1] {
		next := t.get(p.name)
		switch {
		case next == nil:
			next = &node{kind: nodeTable, off: p.off, def: byDots}
			t.put(p.name, p.off, next)
		case next.kind != nodeTable || next.def != byDots:
			b.tell(ruleDuplicate, p.off, b.first(next), "%q is given twice", p.name)
			return end
		}
		t = next
	}
	last := ps[len(ps)-1]
	if old := t.get(last.name); old != nil {
		b.tell(ruleDuplicate, last.off, b.first(old), "%q is given twice", last.name)
		return end
	}
	t.put(last.name, last.off, v)
	return end
}

func lastKey(it unstable.Iterator) *unstable.Node {
	var k *unstable.Node
	for it.Next() {
		k = it.Node()
	}
	return k
}

// skip is the first place from i on that holds none of the bytes.
func (b *builder) skip(i int, these string) int {
	for i < len(b.data) && strings.IndexByte(these, b.data[i]) >= 0 {
		i++
	}
	return i
}

// gap is the first place from i on where a list's or a table's next part or
// end stands: past white space, commas and comments.
func (b *builder) gap(i int) int {
	for {
		i = b.skip(i, " \t\r\n,")
		if i >= len(b.data) || b.data[i] != '#' {
			return i
		}
		n := bytes.IndexByte(b.data[i:], '\n')
		if n < 0 {
			return len(b.data)
		}
		i += n
	}
}

// value copies a value that starts at off, and returns the place after it.
func (b *builder) value(n *unstable.Node, off int) (*node, int) {
	v := &node{off: off}
	switch n.Kind {
	case unstable.Array:
		v.kind = nodeList
		end := off + 1
		for it := n.Children(); it.Next(); {
			var item *node
			item, end = b.value(it.Node(), b.gap(end))
			v.items = append(v.items, item)
		}
		return v, b.gap(end) + 1
	case unstable.InlineTable:
		v.kind, v.def = nodeTable, byBraces
		end := off + 1
		for it := n.Children(); it.Next(); {
			end = b.keyValue(v, it.Node())
		}
		return v, b.gap(end) + 1
	case unstable.String:
		v.kind, v.text, v.textOff = nodeString, string(n.Data), -1
		if i := verbatim(b.raw(n), n.Data); i >= 0 {
			v.textOff = off + i
		}
	case unstable.Integer:
		v.kind, v.text = nodeInteger, string(n.Data)
	case unstable.Float:
		v.kind, v.text = nodeFloat, string(n.Data)
	case unstable.Bool:
		v.kind, v.text = nodeBool, string(n.Data)
	default:
		v.kind, v.text = nodeDate, string(n.Data)
	}
	return v, off + len(b.raw(n))
}

// verbatim is where the content of a string stands in what is written, -1 if
// something else than quotes (and the line's end after the opening ones) is
// written round it: then it holds escapes.
func verbatim(raw, content []byte) int {
	i := bytes.Index(raw, content)
	if i < 0 || len(bytes.Trim(raw[:i], "\"'\r\n")) > 0 || len(bytes.Trim(raw[i+len(content):], "\"'")) > 0 {
		return -1
	}
	return i
}

func (b *builder) raw(n *unstable.Node) []byte {
	return b.data[n.Raw.Offset : n.Raw.Offset+n.Raw.Length]
}

func join(ps []part) string {
	names := make([]string, len(ps))
	for i, p := range ps {
		names[i] = p.name
	}
	return strings.Join(names, ".")
}
