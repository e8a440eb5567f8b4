package fromdxf

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// Limits of what is placed.
const (
	// maxDeep is how deep blocks may be nested.
	maxDeep = 16
	// maxPlaced is how many entities and control points of splines may be placed, those of
	// all copies counted: some for each line that a drawing may have.
	maxPlaced = 10 * drawing.MaxCurves
)

// Line weights (group 370) that stand for another's, and line types (group 6).
const (
	byLayer     = -1
	byBlock     = -2
	byDefault   = -3
	byLayerName = "BYLAYER"
	byBlockName = "BYBLOCK"
)

// A placer puts entities where they are drawn.
type placer struct {
	*parser
	d        drawing.Drawing
	placed   int
	segments int
	open     []*block     // those that are being placed
	said     map[int]bool // lines of which a fault was said: a block has many copies
	full     bool         // a limit is passed: no more is placed
}

// A setting is what entities of a block take over from the INSERT.
type setting struct {
	layer  string // of those on layer "0"
	color  string // of those that are BYBLOCK
	dashed bool
	weight int
}

// place is the drawing, with all blocks where they are inserted.
func (p *parser) place() drawing.Drawing {
	// The extents that the file states are those of its curves, and no page.
	pl := placer{parser: p, d: drawing.Drawing{Unit: p.header.unit, Page: geom.EmptyBox()}, said: map[int]bool{}}
	pl.body(&p.model, drawing.Identity(), setting{layer: "0", color: ink{foreground, -1}.hex(), weight: byDefault})
	return pl.d
}

// body places what a block holds.
func (p *placer) body(b *body, m drawing.Affine, in setting) {
	for _, passed := range b.passed.Passed {
		p.d.PassAll(passed)
	}
	for i := range b.items {
		if p.full {
			return
		}
		p.item(&b.items[i], m, in)
	}
}

// item places one entity. On a layer that is off an INSERT isn't hidden with all it holds,
// on a frozen one it is (from memory).
func (p *placer) item(it *item, m drawing.Affine, in setting) {
	name := it.layer
	if name == "0" {
		name = in.layer
	}
	l := p.layer(name)
	own := setting{name, p.color(it, l, in), p.dashed(it, l, in), p.weight(it, l, in)}
	switch {
	case l.frozen || l.off && it.insert == nil:
		p.d.Pass(hiddenLayer, p.at(it.line))
	case it.bad != nil:
		p.say(it, it.bad)
	case it.insert != nil:
		p.insert(it, m, own)
	default:
		p.curve(it, m, own)
	}
	p.count(it, 1)
}

// say reports what is wrong with an entity, once.
func (p *placer) say(it *item, err error) {
	if !p.said[it.line] {
		p.said[it.line] = true
		p.fault(ruleEntity, err)
	}
}

// doubt warns of an entity, once.
func (p *placer) doubt(it *item) {
	if it.doubt != "" && !p.said[it.line] {
		p.said[it.line] = true
		p.found.WarnAt(p.at(it.line), ruleEntity, "%s", it.doubt).Hintf("look at it in the picture")
	}
}

// count holds what is placed, and what is wrong with it, within the limits.
func (p *placer) count(it *item, n int) {
	if p.found.HasErrors() && len(p.said) >= diag.Most {
		p.full = true
	}
	p.placed += n
	switch {
	case p.full:
		return
	case p.segments > drawing.MaxCurves:
		p.fault(ruleLimit, tooMuch(it.line, "the drawing has more than %d lines and arcs here, copies counted", drawing.MaxCurves))
	case p.placed > maxPlaced:
		p.fault(ruleLimit, tooMuch(it.line, "the drawing has more than %d entities and control points here, copies counted", maxPlaced))
	default:
		return
	}
	p.full = true
}

func (p *placer) color(it *item, l *layer, in setting) string {
	switch {
	case it.color.rgb >= 0:
		return it.color.hex()
	case it.color.index == colorByLayer:
		return l.color.hex()
	case it.color.index == colorByBlock:
		return in.color
	}
	return it.color.hex()
}

func (p *placer) dashed(it *item, l *layer, in setting) bool {
	switch name := fold(it.linetype); name {
	case byLayerName:
		return p.gaps[fold(l.linetype)]
	case byBlockName:
		return in.dashed
	default:
		return p.gaps[name]
	}
}

func (p *placer) weight(it *item, l *layer, in setting) int {
	switch it.weight {
	case byLayer:
		return l.weight
	case byBlock:
		return in.weight
	}
	return it.weight
}

// curve places what an entity draws.
func (p *placer) curve(it *item, m drawing.Affine, own setting) {
	c := drawing.Curve{
		Segments: it.segments, Closed: it.closed, Stroked: true, Width: it.width,
		Layer: own.layer, Color: own.color, Dashed: own.dashed, ID: it.handle, Pos: p.at(it.line),
	}
	for _, s := range c.Segments {
		if n, ok := s.(drawing.NURBS); ok {
			p.placed += len(n.Points)
		}
	}
	p.segments += len(c.Segments)
	if p.count(it, 0); p.full {
		return
	}
	c = c.Moved(m)
	if c.Width == 0 && own.weight > 0 && p.d.Unit > 0 { // in 1/100 mm of paper
		c.Width = float64(own.weight) / 100 / p.d.Unit
	}
	if !near(c) {
		p.say(it, faultf(it.line, "is it the right file, at the right size?", "this reaches beyond %g units", drawing.Farthest))
		return
	}
	p.doubt(it)
	p.d.Curves = append(p.d.Curves, c)
}

// near reports whether a curve lies where coordinates may be.
func near(c drawing.Curve) bool {
	b := c.Bounds()
	far := max(math.Abs(b.Min.X), math.Abs(b.Min.Y), math.Abs(b.Max.X), math.Abs(b.Max.Y))
	return far <= drawing.Farthest // not so for NaN
}
