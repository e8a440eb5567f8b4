package fromsvg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"

	"strapwork/pkg/drawing"
)

// Names of namespaces: SVG 1.1, section 1.3, and XLink 1.1.
const (
	svgSpace   = "http://www.w3.org/2000/svg"
	xlinkSpace = "http://www.w3.org/1999/xlink"
)

// A node is an element of SVG; those of other vocabularies are left out.
type node struct {
	name, id string
	classes  []string
	attrs    []attribute
	parent   *node
	children []*node
	offset   int     // of its tag in the file
	text     []chunk // of <style>
	props    map[string]declaration
}

// An attribute has no prefix, or is xlink:href.
type attribute struct {
	name, value string
	offset      int // of its value in the file
}

// A chunk is text that stands in the file from offset on.
type chunk struct {
	text   string
	offset int
}

// attr is the value of an attribute and where it stands.
func (n *node) attr(name string) (declaration, bool) {
	for _, a := range n.attrs {
		if a.name == name {
			return declaration{value: a.value, text: []chunk{{a.value, a.offset}}}, true
		}
	}
	return declaration{}, false
}

// value is that of an attribute, "" where there is none.
func (n *node) value(name string) string {
	for _, a := range n.attrs {
		if a.name == name {
			return a.value
		}
	}
	return ""
}

// parse reads the file into a tree and returns its root, nil where there is none.
func (r *reader) parse() *node {
	r.ids = map[string]*node{}
	p := parser{reader: r, decoder: xml.NewDecoder(bytes.NewReader(r.data))}
	p.decoder.CharsetReader = r.charset
	for !r.full() {
		p.start = int(p.decoder.InputOffset())
		token, err := p.decoder.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			r.syntax(int(p.decoder.InputOffset()), err)
			return nil
		}
		p.take(token)
	}
	if p.root == nil && !r.findings.HasErrors() {
		r.errorAt(-1, ruleFormat, "there is no <svg> in the file").Hintf("save the drawing as plain SVG")
	}
	return p.root
}

// A parser is at work on the text of a reader.
type parser struct {
	*reader
	decoder  *xml.Decoder
	start    int // of the token in the file
	root, at *node
	foreign  int // how deep within an element of another vocabulary
	deep     int
	elements int
}

func (p *parser) take(token xml.Token) {
	switch t := token.(type) {
	case xml.StartElement:
		p.open(t)
	case xml.EndElement:
		p.deep--
		if p.foreign > 0 {
			p.foreign--
		} else {
			p.close()
		}
	case xml.CharData:
		if p.at != nil && p.foreign == 0 && p.at.name == "style" {
			p.at.text = append(p.at.text, chunk{string(t), p.textStart()})
		}
	case xml.Directive:
		p.directive(t)
	case xml.ProcInst:
		if t.Target == "xml-stylesheet" {
			p.errorAt(p.start, ruleReference, "the drawing's style is in another file, which is not read").
				Hintf("save it as plain SVG, with its style in it")
		}
	}
}

// textStart is where the text of a token begins: after what opens a CDATA section.
func (p *parser) textStart() int {
	const cdata = "<![CDATA["
	if bytes.HasPrefix(p.data[p.start:], []byte(cdata)) {
		return p.start + len(cdata)
	}
	return p.start
}

// directive refuses a document type that declares entities, which may grow without
// bound, or attributes, which no reader here would see.
func (p *parser) directive(text []byte) {
	for _, word := range []string{"<!ENTITY", "<!ATTLIST"} {
		if i := bytes.Index(text, []byte(word)); i >= 0 {
			p.errorAt(p.start+len("<!")+i, ruleFormat, "the drawing declares %s of its own, which are not read",
				map[string]string{"<!ENTITY": "entities", "<!ATTLIST": "attributes"}[word]).Hintf("save it as plain SVG")
			return
		}
	}
}

func (p *parser) open(t xml.StartElement) {
	if p.deep++; p.deep > drawing.MaxDeep {
		p.halt(p.start, "elements are nested more than %d deep", drawing.MaxDeep).Hintf("ungroup the drawing")
		return
	}
	if p.elements++; p.elements > maxElements {
		p.halt(p.start, "the drawing has more than %d elements", maxElements).Hintf("leave out what isn't the motif")
		return
	}
	if p.foreign > 0 || !p.isSVG(t.Name) || p.at == nil && p.elements > 1 {
		if p.root == nil && !p.findings.HasErrors() {
			p.errorAt(p.start, ruleFormat, "the file begins with <%s> and not with <svg>", t.Name.Local).
				Hintf("save the drawing as plain SVG")
		}
		p.foreign++
		return
	}
	n := &node{name: t.Name.Local, parent: p.at, offset: p.start, attrs: p.attributes(t)}
	if p.root == nil {
		p.root = n
	} else if p.at != nil {
		p.at.children = append(p.at.children, n)
	}
	p.at = n
	n.id, n.classes = n.value("id"), strings.Fields(n.value("class"))
	if n.id != "" && p.ids[n.id] == nil {
		p.ids[n.id] = n
	}
	p.countDefinition(n)
}

func (p *parser) close() {
	if p.at.name == "style" {
		p.readSheet(p.at)
	}
	p.at = p.at.parent
}

// isSVG: a root without any namespace counts, as it is written by hand.
func (p *parser) isSVG(name xml.Name) bool {
	if p.root == nil {
		return name.Local == "svg" && (name.Space == svgSpace || name.Space == "")
	}
	return name.Space == svgSpace || name.Space == ""
}

// defined are the elements that say how something is drawn and are no lines themselves:
// each is counted once, wherever it stands and however often it is used.
var defined = map[string]string{
	"mask": "mask", "clipPath": "clipping path", "pattern": "pattern", "marker": "marker", "filter": "filter",
	"animate": "animation", "animateMotion": "animation", "animateTransform": "animation", "set": "animation",
	"script": "script",
}

func (p *parser) countDefinition(n *node) {
	if what := defined[n.name]; what != "" {
		p.pass(what, n)
	}
}

// attributes are those of a start tag without a namespace, and xlink:href as it is.
func (p *parser) attributes(t xml.StartElement) []attribute {
	if len(t.Attr) > maxOfOne {
		p.halt(p.start, "<%s> has more than %d attributes", t.Name.Local, maxOfOne)
		return nil
	}
	places := valuePlaces(p.data[p.start:p.decoder.InputOffset()])
	var list []attribute
	for i, a := range t.Attr {
		name := a.Name.Local
		switch {
		case name == "href" && (a.Name.Space == xlinkSpace || a.Name.Space == "xlink"):
			name = "xlink:href"
		case a.Name.Space != "" || name == "xmlns":
			continue
		}
		offset := p.start
		if i < len(places) {
			offset += places[i]
		}
		if slices.ContainsFunc(list, func(b attribute) bool { return b.name == name }) {
			p.errorAt(offset, ruleDamaged, "<%s> has %s twice", t.Name.Local, name).Hintf("leave one of them out")
			continue
		}
		list = append(list, attribute{name, a.Value, offset})
	}
	return list
}

// valuePlaces is where the values of a start tag's attributes begin, by attribute. The
// tag is well formed.
func valuePlaces(tag []byte) []int {
	var places []int
	for i := 0; i < len(tag); i++ {
		if quote := tag[i]; quote == '"' || quote == '\'' {
			places = append(places, i+1)
			end := bytes.IndexByte(tag[i+1:], quote)
			if end < 0 {
				break
			}
			i += 1 + end
		}
	}
	return places
}

// within is the place in the file of a value's byte, counted in the value: references as
// &amp; are longer in the file, and a line's end may be.
func (r *reader) within(start, at int) int {
	i := start
	for ; at > 0 && i < len(r.data); at-- {
		switch {
		case r.data[i] == '&':
			end := bytes.IndexByte(r.data[i:], ';')
			i += max(end, 0) + 1
		case bytes.HasPrefix(r.data[i:], []byte("\r\n")):
			i += 2
		default:
			i++
		}
	}
	return i
}

// charset takes other encodings than UTF-8 as long as the file is ASCII all the same.
func (r *reader) charset(label string, input io.Reader) (io.Reader, error) {
	if slices.ContainsFunc(r.data, func(b byte) bool { return b >= 0x80 }) {
		return nil, encodingError(label)
	}
	return input, nil
}

// An encodingError names an encoding that isn't read.
type encodingError string

func (e encodingError) Error() string { return "the drawing is written in " + string(e) }

// syntax says what is wrong with the XML.
func (r *reader) syntax(offset int, err error) {
	if r.findings.HasErrors() {
		return // an entity that was refused where it was declared
	}
	var wrong *xml.SyntaxError
	switch {
	case strings.Contains(err.Error(), "the drawing is written in"):
		r.errorAt(0, ruleFormat, "%s", err.Error()[strings.Index(err.Error(), "the drawing"):]).Hintf("save it as UTF-8")
	case errors.As(err, &wrong) && strings.Contains(wrong.Msg, "invalid character entity"):
		r.errorAt(offset, ruleFormat, "%s, besides the five of XML", wrong.Msg).Hintf("save the drawing as plain SVG")
	case errors.As(err, &wrong):
		r.errorAt(offset, ruleDamaged, "this is not XML: %s", wrong.Msg).Hintf("fix it there, or save the drawing again")
	default:
		r.errorAt(offset, ruleDamaged, "this can't be read: %v", err).Hintf("save the drawing again as plain SVG")
	}
}
