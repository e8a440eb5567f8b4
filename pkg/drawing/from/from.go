// Package from reads a drawing in whichever format its file is.
package from

import (
	"bytes"
	"path"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromdxf"
	"strapwork/pkg/drawing/fromsvg"
)

// RuleFormat is the rule of the error that a file is no drawing that can be read.
const RuleFormat = "drawing-format"

// Unreadable reports whether findings of File say that the file is no drawing at all.
func Unreadable(fs diag.Findings) bool {
	for _, f := range fs {
		if f.Rule == RuleFormat {
			return true
		}
	}
	return false
}

// File reads a drawing; file is its name for positions. What it is, its content says: SVG
// is XML, DXF a list of codes and values.
func File(file string, data []byte) (drawing.Drawing, diag.Findings) {
	var found diag.Findings
	pos := diag.Position{File: file}
	start := bytes.TrimLeft(bytes.TrimPrefix(data[:min(len(data), 4096)], []byte("\ufeff")), " \t\r\n")
	switch ext := strings.ToLower(path.Ext(strings.ReplaceAll(file, `\`, "/"))); {
	case len(data) > drawing.MaxSize:
		found.ErrorAt(pos, RuleFormat, "the drawing is larger than %d MiB", drawing.MaxSize>>20).Hintf("save the lines alone, without pictures")
	case len(start) == 0:
		found.ErrorAt(pos, RuleFormat, "the file is empty")
	case bytes.HasPrefix(data, []byte{0x1f, 0x8b}):
		found.ErrorAt(pos, RuleFormat, "the file is compressed").Hintf("save it as plain SVG")
	case start[0] == '<':
		return fromsvg.Read(file, data)
	case isDXF(start) || ext == ".dxf":
		return fromdxf.Read(file, data)
	case ext == ".svg":
		return fromsvg.Read(file, data)
	default:
		found.ErrorAt(pos, RuleFormat, "it is neither SVG nor DXF").Hintf("save the drawing as SVG or DXF; of a photograph or a scan, draw the lines over first")
	}
	return drawing.Drawing{}, found
}

// isDXF reports whether a text begins with a DXF's first code, 0 before a section or 999
// before a comment, or as a binary one does.
func isDXF(start []byte) bool {
	code, rest, _ := bytes.Cut(start, []byte("\n"))
	switch string(bytes.TrimSpace(code)) {
	case "999":
		return true
	case "0":
		value, _, _ := bytes.Cut(rest, []byte("\n"))
		return string(bytes.TrimSpace(value)) == "SECTION"
	}
	return bytes.Contains(start[:min(len(start), 22)], []byte("Binary DXF"))
}
