package fromdxf

import (
	"strings"

	"strapwork/pkg/dxf/tags"
)

// A layer is an entry of the table of layers.
type layer struct {
	color    ink
	linetype string
	weight   int // group 370
	off      bool
	frozen   bool
}

// plainLayer is a layer that isn't in the table.
var plainLayer = &layer{color: ink{index: foreground, rgb: -1}}

// tablesSection takes the layers and the line types.
func (p *parser) tablesSection() error {
	for {
		t, err := p.tags.Next()
		switch {
		case err != nil || t.Is("ENDSEC"):
			return err
		case t.Is("LAYER"):
			err = p.layerEntry(t)
		case t.Is("LTYPE"):
			err = p.lineType(t)
		case t.Is("EOF"):
			err = tags.Errorf(t.Line, "expected ENDSEC, found EOF")
		}
		if err != nil {
			return err
		}
	}
}

// layerEntry reads LAYER: 2 name, 6 line type, 62 colour (below 0: off), 70 flags
// (1: frozen), 370 line weight, 420 colour as 0xrrggbb.
func (p *parser) layerEntry(word tags.Tag) error {
	r, err := p.record(word, keepAll)
	if err != nil {
		return err
	}
	l := layer{
		color: r.ink(foreground), linetype: p.name(r.text(6, "")), weight: r.whole(370, byDefault),
	}
	l.off, l.frozen = l.color.index < 0, r.whole(70, 0)&1 != 0
	l.color.index = max(l.color.index, -l.color.index)
	p.layers[fold(p.name(r.text(2, "")))] = &l
	return r.err
}

// lineType reads LTYPE: 2 name, 49 lengths of its strokes, below 0 for gaps.
func (p *parser) lineType(word tags.Tag) error {
	r, err := p.record(word, func(code int) bool { return code == 2 || code == 49 })
	if err != nil {
		return err
	}
	gap := false
	for _, t := range r.tags {
		gap = gap || t.Code == 49 && strings.HasPrefix(strings.TrimSpace(t.Value), "-")
	}
	p.gaps[fold(p.name(r.text(2, "")))] = gap
	return nil
}

// layer is a layer by its name.
func (p *parser) layer(name string) *layer {
	if l, ok := p.layers[fold(name)]; ok {
		return l
	}
	return plainLayer
}
