package dxf

import (
	"github.com/yofu/dxf/format"
	"github.com/yofu/dxf/handle"
	"github.com/yofu/dxf/table"

	"strapwork/pkg/geom"
)

// Records of release 2000 that the library lacks or writes without an owner.

// A dictionary is a DICTIONARY object whose entries stand in the order in
// which they were added.
type dictionary struct {
	handle int
	owner  handle.Handler // nil for the root
	keys   []string
	values []handle.Handler
}

func (d *dictionary) add(key string, v handle.Handler) {
	d.keys = append(d.keys, key)
	d.values = append(d.values, v)
}

// IsObject marks d as an object.
func (d *dictionary) IsObject() bool { return true }

// Handle is d's handle.
func (d *dictionary) Handle() int { return d.handle }

// SetHandle takes the next handle.
func (d *dictionary) SetHandle(v *int) { d.handle = take(v) }

// Format writes the object.
func (d *dictionary) Format(f format.Formatter) {
	f.WriteString(0, "DICTIONARY")
	f.WriteHex(5, d.handle)
	owner := 0
	if d.owner != nil {
		owner = d.owner.Handle()
	}
	f.WriteHex(330, owner)
	f.WriteString(100, "AcDbDictionary")
	f.WriteInt(281, 1)
	for i, k := range d.keys {
		f.WriteString(3, k)
		f.WriteHex(350, d.values[i].Handle())
	}
}

// take returns the next handle and moves on.
func take(v *int) int {
	h := *v
	*v++
	return h
}

// A blockRecord is a BLOCK_RECORD that knows its layout.
type blockRecord struct {
	*table.BlockRecord
	owner  handle.Handler
	layout *layout
}

// SetOwner sets the table that b belongs to.
func (b *blockRecord) SetOwner(h handle.Handler) { b.owner = h }

// Format writes the record.
func (b *blockRecord) Format(f format.Formatter) {
	f.WriteString(0, "BLOCK_RECORD")
	f.WriteHex(5, b.Handle())
	f.WriteHex(330, b.owner.Handle())
	f.WriteString(100, "AcDbSymbolTableRecord")
	f.WriteString(100, "AcDbBlockTableRecord")
	f.WriteString(2, b.Name())
	f.WriteHex(340, b.layout.handle)
}

// A layout is a LAYOUT object: how model space, or the one empty sheet of
// paper that every drawing has, would be plotted.
type layout struct {
	handle int
	name   string
	owner  *dictionary
	record *blockRecord
	model  bool
	order  int // of its tab
	limits geom.Box
}

// IsObject marks l as an object.
func (l *layout) IsObject() bool { return true }

// Handle is l's handle.
func (l *layout) Handle() int { return l.handle }

// SetHandle takes the next handle.
func (l *layout) SetHandle(v *int) { l.handle = take(v) }

// Format writes the object with the values of a drawing that was never
// plotted (DXF Reference, PLOTSETTINGS and LAYOUT).
func (l *layout) Format(f format.Formatter) {
	f.WriteString(0, "LAYOUT")
	f.WriteHex(5, l.handle)
	f.WriteHex(330, l.owner.handle)
	l.writePlotSettings(f)
	lo, hi := plan{extents: l.limits}.corners()
	if !l.model {
		lo, hi = plan{extents: geom.EmptyBox()}.corners()
	}
	f.WriteString(100, "AcDbLayout")
	f.WriteString(1, l.name)
	f.WriteInt(70, 1)
	f.WriteInt(71, l.order)
	writePair(f, 10, geom.Point{})
	writePair(f, 11, geom.Pt(420, 297)) // limits: A3 paper, ISO 216
	writeTriple(f, 12, geom.Point{})
	writeTriple(f, 14, lo)
	writeTriple(f, 15, hi)
	f.WriteFloat(146, 0)
	writeTriple(f, 13, geom.Point{})
	writeTriple(f, 16, geom.Pt(1, 0))
	writeTriple(f, 17, geom.Pt(0, 1))
	f.WriteInt(76, 0)
	f.WriteHex(330, l.record.Handle())
}

func (l *layout) writePlotSettings(f format.Formatter) {
	f.WriteString(100, "AcDbPlotSettings")
	for _, code := range []int{1, 2, 4, 6} { // page setup, plotter, paper, view
		f.WriteString(code, "")
	}
	for code := 40; code <= 49; code++ { // margins, paper size, origin, window
		f.WriteFloat(code, 0)
	}
	f.WriteFloat(140, 0)
	f.WriteFloat(141, 0)
	f.WriteFloat(142, 1) // scale 1:1
	f.WriteFloat(143, 1)
	flags := 0
	if l.model {
		flags = 1024 // model type
	}
	f.WriteInt(70, flags)
	f.WriteInt(72, 1) // millimetres of paper
	f.WriteInt(73, 0) // not turned
	f.WriteInt(74, 1) // the extents
	f.WriteString(7, "")
	f.WriteInt(75, 16) // standard scale 1:1
	f.WriteFloat(147, 1)
	f.WriteFloat(148, 0)
	f.WriteFloat(149, 0)
}

func writePair(f format.Formatter, code int, p geom.Point) {
	f.WriteFloat(code, p.X)
	f.WriteFloat(code+10, p.Y)
}

func writeTriple(f format.Formatter, code int, p geom.Point) {
	writePair(f, code, p)
	f.WriteFloat(code+20, 0)
}
