package dxf

import "github.com/yofu/dxf/format"

// Release 12 is written tag by tag. The library that serves for release 2000
// puts subclass markers (group 100), which release 12 doesn't know, into every
// record and makes all its polylines three-dimensional, which have no bulges.
// Handles, optional in release 12, are left out.

func (p plan) writeR12(f format.Formatter) {
	p.writeHeader(f, func() { writeVariable(f, "$HANDLING", 0) })
	f.WriteString(0, "SECTION")
	f.WriteString(2, "TABLES")
	p.writeTablesR12(f)
	f.WriteString(0, "ENDSEC")
	f.WriteString(0, "SECTION")
	f.WriteString(2, "BLOCKS")
	f.WriteString(0, "ENDSEC")
	f.WriteString(0, "SECTION")
	f.WriteString(2, "ENTITIES")
	for _, g := range p.figures {
		if g.radius != 0 {
			g.writeCircleR12(f)
		} else {
			g.writePolyline(f)
		}
	}
	f.WriteString(0, "ENDSEC")
	f.WriteString(0, "EOF")
}

// writeTablesR12 writes the one line type and text style that a drawing must
// have, and the layers.
func (p plan) writeTablesR12(f format.Formatter) {
	writeTable(f, "LTYPE", 1)
	f.WriteString(0, "LTYPE")
	f.WriteString(2, "CONTINUOUS")
	f.WriteInt(70, 0)
	f.WriteString(3, "Solid line")
	f.WriteInt(72, 65)
	f.WriteInt(73, 0)
	f.WriteFloat(40, 0)
	f.WriteString(0, "ENDTAB")

	layers := p.withLayer0()
	writeTable(f, "LAYER", len(layers))
	for _, l := range layers {
		f.WriteString(0, "LAYER")
		f.WriteString(2, l.Name)
		f.WriteInt(70, 0)
		f.WriteInt(62, l.Color)
		f.WriteString(6, "CONTINUOUS")
	}
	f.WriteString(0, "ENDTAB")

	writeTable(f, "STYLE", 1)
	f.WriteString(0, "STYLE")
	f.WriteString(2, "STANDARD")
	f.WriteInt(70, 0)
	f.WriteFloat(40, 0)
	f.WriteFloat(41, 1)
	f.WriteFloat(50, 0)
	f.WriteInt(71, 0)
	f.WriteFloat(42, 1)
	f.WriteString(3, "txt")
	f.WriteString(4, "")
	f.WriteString(0, "ENDTAB")
}

func writeTable(f format.Formatter, name string, n int) {
	f.WriteString(0, "TABLE")
	f.WriteString(2, name)
	f.WriteInt(70, n)
}

// withLayer0 is the file's layers, with layer 0, which every drawing has, in
// front unless a role is on it.
func (p plan) withLayer0() []Layer {
	for _, l := range p.layers {
		if l.Name == "0" {
			return p.layers
		}
	}
	return append([]Layer{{Name: "0", Color: 7}}, p.layers...)
}

func (g figure) writePolyline(f format.Formatter) {
	f.WriteString(0, "POLYLINE")
	f.WriteString(8, g.layer)
	f.WriteInt(66, 1) // vertices follow
	f.WriteFloat(10, 0)
	f.WriteFloat(20, 0)
	f.WriteFloat(30, 0)
	closed := 0
	if g.contour.Closed {
		closed = 1
	}
	f.WriteInt(70, closed)
	for _, v := range g.contour.Vertices {
		f.WriteString(0, "VERTEX")
		f.WriteString(8, g.layer)
		f.WriteFloat(10, v.X)
		f.WriteFloat(20, v.Y)
		f.WriteFloat(30, 0)
		if v.Bulge != 0 {
			f.WriteFloat(42, v.Bulge)
		}
	}
	f.WriteString(0, "SEQEND")
	f.WriteString(8, g.layer)
}

func (g figure) writeCircleR12(f format.Formatter) {
	f.WriteString(0, "CIRCLE")
	f.WriteString(8, g.layer)
	f.WriteFloat(10, g.center.X)
	f.WriteFloat(20, g.center.Y)
	f.WriteFloat(30, 0)
	f.WriteFloat(40, g.radius)
}
