package dxf

// Release 2000 by way of github.com/yofu/dxf. Its own drawing type shares
// tables between all drawings of a process and leaves out records that strict
// readers put back, so only its sections, table records and entities are used,
// all made afresh for every file; what it lacks is in objects.go.

import (
	"github.com/yofu/dxf/block"
	"github.com/yofu/dxf/class"
	"github.com/yofu/dxf/color"
	"github.com/yofu/dxf/drawing"
	"github.com/yofu/dxf/entity"
	"github.com/yofu/dxf/format"
	"github.com/yofu/dxf/handle"
	"github.com/yofu/dxf/object"
	"github.com/yofu/dxf/table"
)

func (p plan) writeR2000(f format.Formatter) {
	root := &dictionary{}
	groups := &dictionary{owner: root}
	layouts := &dictionary{owner: root}
	plotStyles, normal := object.NewAcDbDictionaryWDFLT(root)
	root.add("ACAD_GROUP", groups)
	root.add("ACAD_LAYOUT", layouts)
	root.add("ACAD_PLOTSTYLENAME", plotStyles)

	model := &blockRecord{BlockRecord: table.NewBlockRecord("*Model_Space")}
	paper := &blockRecord{BlockRecord: table.NewBlockRecord("*Paper_Space")}
	model.layout = &layout{name: "Model", owner: layouts, record: model, model: true}
	paper.layout = &layout{name: "Layout1", owner: layouts, record: paper, order: 1}
	model.layout.limits = p.extents
	layouts.add(model.layout.name, model.layout)
	layouts.add(paper.layout.name, paper.layout)

	continuous := table.NewLineType("Continuous", "Solid line")
	layer0, layers := p.newLayers(continuous, normal)
	blocks := block.Blocks{newBlock("*Model_Space", layer0), newBlock("*Paper_Space", layer0)}
	writeSections(f, []drawing.Section{
		&header{plan: p},
		class.New(),
		newTables(continuous, layers, model, paper),
		blocks,
		p.newEntities(layers, model),
		object.Objects{root, groups, layouts, model.layout, paper.layout, plotStyles, normal},
	})
}

// writeSections gives every record its handle, the header's seed last, since
// that is the first one that is free, and then writes.
func writeSections(f format.Formatter, sections []drawing.Section) {
	next := 1
	for _, s := range sections[1:] {
		s.SetHandle(&next)
	}
	sections[0].SetHandle(&next)
	for _, s := range sections {
		s.Format(f)
	}
	f.WriteString(0, "EOF")
}

// A header is the HEADER section.
type header struct {
	plan plan
	seed int
}

// Format writes the section.
func (h *header) Format(f format.Formatter) {
	h.plan.writeHeader(f, func() {
		f.WriteString(9, "$HANDSEED")
		f.WriteHex(5, h.seed)
	})
}

// SetHandle takes the first free handle.
func (h *header) SetHandle(v *int) { h.seed = *v }

// A layer is a layer that can be switched off: the library's colour is
// unsigned, but an off layer has a negative one.
type layer struct {
	*table.Layer
	entry Layer
	owner handle.Handler
}

// SetOwner sets the table that l belongs to.
func (l *layer) SetOwner(h handle.Handler) { l.owner = h }

// Format writes the record.
func (l *layer) Format(f format.Formatter) {
	f.WriteString(0, "LAYER")
	f.WriteHex(5, l.Handle())
	f.WriteHex(330, l.owner.Handle())
	f.WriteString(100, "AcDbSymbolTableRecord")
	f.WriteString(100, "AcDbLayerTableRecord")
	f.WriteString(2, l.entry.Name)
	f.WriteInt(70, 0)
	f.WriteInt(62, l.entry.Color)
	f.WriteString(6, l.LineType.Name())
	f.WriteInt(370, -3) // the default line weight
	f.WriteHex(390, l.PlotStyle.Handle())
}

// newLayers makes the file's layers and says which is layer 0.
func (p plan) newLayers(lt *table.LineType, plotStyle handle.Handler) (zero *table.Layer, layers []*layer) {
	for _, e := range p.withLayer0() {
		l := &layer{Layer: table.NewLayer(e.Name, color.White, lt), entry: e}
		l.SetPlotStyle(plotStyle)
		if e.Name == "0" {
			zero = l.Layer
		}
		layers = append(layers, l)
	}
	return zero, layers
}

// newTables makes the nine tables in the order of the DXF Reference.
func newTables(lt *table.LineType, layers []*layer, model, paper *blockRecord) table.Tables {
	var ts table.Tables
	add := func(name string, records ...table.SymbolTable) {
		t := table.NewTable(name)
		for _, r := range records {
			t.Add(r)
		}
		ts = ts.Add(t)
	}
	style := table.NewStyle("Standard")
	style.FontName = "txt"
	records := make([]table.SymbolTable, len(layers))
	for i, l := range layers {
		records[i] = l
	}
	add("VPORT")
	add("LTYPE", table.NewLineType("ByLayer", ""), table.NewLineType("ByBlock", ""), lt)
	add("LAYER", records...)
	add("STYLE", style)
	add("VIEW")
	add("UCS")
	add("APPID", table.NewAppID("ACAD"))
	add("DIMSTYLE")
	add("BLOCK_RECORD", model, paper)
	return ts
}

func newBlock(name string, l *table.Layer) *block.Block {
	b := block.NewBlock(name, "")
	b.SetLayer(l)
	return b
}

// newEntities makes a polyline or a circle of every figure, in model space.
func (p plan) newEntities(layers []*layer, space handle.Handler) entity.Entities {
	byName := make(map[string]*table.Layer, len(layers))
	for _, l := range layers {
		byName[l.entry.Name] = l.Layer
	}
	es := entity.New()
	for _, g := range p.figures {
		if g.radius != 0 {
			c := entity.NewCircle()
			c.Center = []float64{g.center.X, g.center.Y, 0}
			c.Radius = g.radius
			c.SetLayer(byName[g.layer])
			c.SetOwner(space)
			es = es.Add(c)
			continue
		}
		l := entity.NewLwPolyline(len(g.contour.Vertices))
		l.Closed = g.contour.Closed
		for i, v := range g.contour.Vertices {
			l.Vertices[i] = []float64{v.X, v.Y}
			l.Bulges[i] = v.Bulge
		}
		l.SetLayer(byName[g.layer])
		l.SetOwner(space)
		es = es.Add(l)
	}
	return es
}
