// Package fromdxf reads a drawing from a DXF file of release 12 to 2018: lines, arcs,
// circles, ellipses, polylines with bulges, splines, and blocks inserted anyhow, flat in
// the x-y plane, whoever wrote it. What is no line to follow (text, dimensions, hatching,
// what is hidden or out of the plane) is counted and passed over; a line that can't be
// read exactly is an error.
//
// Package dxf, which reads our own files back for the proof, is strict by design and
// shares no more with this one than the reading of tags. Group codes and variables are
// those of the DXF Reference (public, by the format's owner).
package fromdxf

import (
	"bytes"
	"cmp"
	"errors"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
)

// Rules of the findings.
const (
	ruleFormat  = "drawing-format"
	ruleDamaged = "drawing-syntax"
	ruleEntity  = "drawing-curve"
	ruleLimit   = "drawing-limit"
	ruleUnits   = "drawing-units"
)

// Read reads the drawing in a file; the name is for the findings. With an error among
// them the drawing is not to be used.
func Read(file string, data []byte) (drawing.Drawing, diag.Findings) {
	var found diag.Findings
	if sniff(&found, file, data) {
		return drawing.Drawing{}, found
	}
	p := parser{
		tags: tags.NewReader(bytes.NewReader(data)), file: file, found: &found,
		layers: map[string]*layer{}, gaps: map[string]bool{}, blocks: map[string]*block{},
	}
	if err := p.sections(); err != nil {
		p.fault(ruleDamaged, err)
		return drawing.Drawing{}, found
	}
	d := p.place()
	if found.HasErrors() {
		return drawing.Drawing{}, found
	}
	return d, found
}

// asASCII is what to do about a file in another form.
const asASCII = "save it as ASCII DXF, of release 2000 to 2018"

// sniff finds what isn't DXF in ASCII by its first bytes, or is too much.
func sniff(found *diag.Findings, file string, data []byte) bool {
	head := data[:min(len(data), 32)]
	pos := diag.Position{File: file}
	switch {
	case len(data) > drawing.MaxSize:
		found.ErrorAt(pos, ruleLimit, "the file has %d MB: %d are read", len(data)>>20, drawing.MaxSize>>20).Hintf(smaller)
	case bytes.Contains(head, []byte("Binary DXF")): // the sentinel of binary files
		found.ErrorAt(pos, ruleFormat, "this is a binary DXF file").Hintf(asASCII)
	case bytes.HasPrefix(head, []byte("AC10")): // the first bytes of DWG are its release
		found.ErrorAt(pos, ruleFormat, "this is a DWG file, not DXF").Hintf(asASCII)
	case bytes.IndexByte(head, 0) >= 0:
		found.ErrorAt(pos, ruleFormat, "this is not a DXF file").Hintf(asASCII)
	default:
		return false
	}
	return true
}

// smaller is what to do about a drawing that is too much.
const smaller = "save only what is to be inlaid"

// A fault is an error with a hint.
type fault struct {
	err  *tags.Error
	hint string
	rule string // empty: that of where it is found
}

// Error is the message with its line.
func (f *fault) Error() string { return f.err.Error() }

// fault makes a finding of what is wrong with the file.
func (p *parser) fault(rule string, err error) {
	var f *fault
	var e *tags.Error
	pos, msg, hint := diag.Position{File: p.file}, err.Error(), "is the file whole? Save it once more"
	switch {
	case errors.As(err, &f):
		pos.Line, msg, hint, rule = f.err.Line, f.err.Msg, f.hint, cmp.Or(f.rule, rule)
	case errors.As(err, &e):
		pos.Line, msg = e.Line, e.Msg
	}
	p.found.ErrorAt(pos, rule, "%s", msg).Hintf("%s", hint)
}

// faultf is an error with a hint.
func faultf(line int, hint, format string, args ...any) error {
	return &fault{err: tags.Errorf(line, format, args...), hint: hint}
}

// tooMuch is an error about a drawing that is larger than is read.
func tooMuch(line int, format string, args ...any) error {
	return &fault{tags.Errorf(line, format, args...), smaller, ruleLimit}
}

// A parser reads a file section by section, keeps what is in it as it stands there, and
// places it when all is known.
type parser struct {
	tags   *tags.Reader
	file   string
	found  *diag.Findings
	header header
	layers map[string]*layer // by folded name
	gaps   map[string]bool   // line types that have gaps, by folded name
	blocks map[string]*block // by folded name
	model  body              // what the ENTITIES section holds
	drawn  bool              // there was one
	kept   int               // entities, segments and vertices, see maxKept
}

// fold is a name as names are compared: their case doesn't count.
func fold(name string) string { return strings.ToUpper(name) }

// at is a line of the file.
func (p *parser) at(line int) diag.Position { return diag.Position{File: p.file, Line: line} }

// sections reads the sections up to EOF. What follows it, and sections that hold nothing
// drawn, don't matter.
func (p *parser) sections() error {
	for {
		t, err := p.tags.Next()
		switch {
		case err != nil:
			return err
		case t.Is("EOF") && !p.drawn:
			return tags.Errorf(t.Line, "the file has no ENTITIES section")
		case t.Is("EOF"):
			return nil
		case t.Is("SECTION"):
			if err := p.section(); err != nil {
				return err
			}
		default:
			return tags.Errorf(t.Line, "expected SECTION or EOF, found group %d %.40q", t.Code, t.Value)
		}
	}
}

// section reads a section whose SECTION has been read.
func (p *parser) section() error {
	t, err := p.tags.Next()
	switch {
	case err != nil:
		return err
	case t.Code != 2:
		return tags.Errorf(t.Line, "expected the section's name in group 2, found group %d", t.Code)
	}
	switch strings.TrimSpace(t.Value) {
	case "HEADER":
		return p.headerSection()
	case "TABLES":
		return p.tablesSection()
	case "BLOCKS":
		return p.blocksSection()
	case "ENTITIES":
		p.drawn = true
		return p.entities(&p.model, "ENDSEC")
	}
	return p.skip()
}

// skip passes over a section.
func (p *parser) skip() error {
	for {
		t, err := p.tags.Next()
		switch {
		case err != nil || t.Is("ENDSEC"):
			return err
		case t.Is("EOF"):
			return tags.Errorf(t.Line, "expected ENDSEC, found EOF")
		}
	}
}

// tiny is how far apart points may lie, as a share of the size of what they are part of,
// and be one: numbers with ten digits differ by that much.
const tiny = 1e-9

// together reports whether two points of something are one.
func together(a, b geom.Point, size float64) bool { return a.Near(b, tiny*size) }
