package conf

// The file as a tree in which every key and value knows its place. The TOML
// parser hands out one expression at a time and no places for lists; those are
// found by going through the text along with it.

import (
	"bytes"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// maxParts bounds the parts of a dotted key; the format has three.
const maxParts = 16

// part is one part of a dotted key.
type part struct {
	name string
	off  int
}

// A builder makes the tree, reporting what cannot be put into it.
type builder struct {
	src     *File
	data    []byte
	root    *Value
	into    *Value // the table that keys belong to at present
	report  func(fault Fault, off int, hint, format string, args ...any)
	several func(path string) bool // whether there may be several tables of a path
}

// build parses the text; a Syntax that is reported ended the reading there.
func build(src *File, report func(fault Fault, off int, hint, format string, args ...any), several func(path string) bool) *Value {
	data := []byte(src.data)
	b := &builder{src: src, data: data, root: &Value{Kind: KindTable, Off: Top}, report: report, several: several}
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
		// they are not reported as mistakes of another one.
		b.into = &Value{Kind: KindTable}
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
		b.report(Unknown, ps[0].off, "", "a key of %d parts", len(ps))
	}
	return len(ps) > maxParts
}

// descend finds or makes the tables that a header's first parts name.
func (b *builder) descend(ps []part) *Value {
	t := b.root
	for _, p := range ps {
		next := t.Get(p.name)
		switch {
		case next == nil:
			next = &Value{Kind: KindTable, Off: p.off, def: byPath}
			t.put(p.name, p.off, next)
		case next.Kind == KindList && next.headers:
			next = next.Items[len(next.Items)-1]
		case next.Kind != KindTable || next.def == byBraces:
			b.report(Duplicate, p.off, b.first(next), "%q is already a value and cannot be added to", p.name)
			return nil
		}
		t = next
	}
	return t
}

// first is the hint that points to the earlier place.
func (b *builder) first(n *Value) string {
	return "it was first given on line " + strconv.Itoa(b.src.Line(n.Off))
}

func (b *builder) header(ps []part) {
	last := ps[len(ps)-1]
	t := b.descend(ps[:len(ps)-1])
	if t == nil {
		return
	}
	n := t.Get(last.name)
	switch {
	case n == nil:
		n = &Value{Kind: KindTable, Off: last.off, def: byHeader}
		t.put(last.name, last.off, n)
	case n.Kind == KindTable && n.def == byPath:
		n.def, n.Off = byHeader, last.off
	default:
		b.report(Duplicate, ps[0].off, b.first(n)+b.doubled(ps), "table [%s] is given twice", join(ps))
		return
	}
	b.into = n
}

// doubled is the rest of the hint where double brackets were meant.
func (b *builder) doubled(ps []part) string {
	if b.several(join(ps)) {
		return "; where there may be several they have double brackets: [[" + join(ps) + "]]"
	}
	return ""
}

func (b *builder) listHeader(ps []part) {
	last := ps[len(ps)-1]
	t := b.descend(ps[:len(ps)-1])
	if t == nil {
		return
	}
	list := t.Get(last.name)
	switch {
	case list == nil:
		list = &Value{Kind: KindList, Off: last.off, headers: true}
		t.put(last.name, last.off, list)
	case !list.headers:
		b.report(Duplicate, ps[0].off, b.first(list), "[[%s]] was already given in another form", join(ps))
		return
	}
	b.into = &Value{Kind: KindTable, Off: last.off, def: byHeader}
	list.add(b.into)
}

// keyValue puts a key into t and returns the place after its value.
func (b *builder) keyValue(t *Value, n *unstable.Node) int {
	ps := parts(n.Key())
	keyNode := lastKey(n.Key())
	off := b.skip(int(keyNode.Raw.Offset+keyNode.Raw.Length), " \t=")
	v, end := b.value(n.Value(), off)
	if b.tooLong(ps) {
		return end
	}
	for _, p := range ps[:len(ps)-1] {
		next := t.Get(p.name)
		switch {
		case next == nil:
			next = &Value{Kind: KindTable, Off: p.off, def: byDots}
			t.put(p.name, p.off, next)
		case next.Kind != KindTable || next.def != byDots:
			b.report(Duplicate, p.off, b.first(next), "%q is given twice", p.name)
			return end
		}
		t = next
	}
	last := ps[len(ps)-1]
	if old := t.Get(last.name); old != nil {
		b.report(Duplicate, last.off, b.first(old), "%q is given twice", last.name)
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
func (b *builder) value(n *unstable.Node, off int) (*Value, int) {
	v := &Value{Off: off}
	switch n.Kind {
	case unstable.Array:
		v.Kind = KindList
		end := off + 1
		for it := n.Children(); it.Next(); {
			var item *Value
			item, end = b.value(it.Node(), b.gap(end))
			v.add(item)
		}
		return v, b.gap(end) + 1
	case unstable.InlineTable:
		v.Kind, v.def = KindTable, byBraces
		end := off + 1
		for it := n.Children(); it.Next(); {
			end = b.keyValue(v, it.Node())
		}
		return v, b.gap(end) + 1
	case unstable.String:
		v.Kind, v.Text, v.textOff = KindString, string(n.Data), -1
		if i := verbatim(b.raw(n), n.Data); i >= 0 {
			v.textOff = off + i
		}
	case unstable.Integer:
		v.Kind, v.Text = KindInteger, string(n.Data)
	case unstable.Float:
		v.Kind, v.Text = KindFloat, string(n.Data)
	case unstable.Bool:
		v.Kind, v.Text = KindBool, string(n.Data)
	default:
		v.Kind, v.Text = KindDate, string(n.Data)
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
