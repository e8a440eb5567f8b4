package fromdxf

import (
	"math"

	"strapwork/pkg/drawing"
	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
)

// A block is a drawing that is inserted by its name.
type block struct {
	body
	base    geom.Point
	foreign bool // it is in a file of its own
}

// Flags of BLOCK, group 70: the drawing is in another file, of one kind or another.
const blockForeign = 4 | 8

// blocksSection reads the blocks: 2 the name, 10 the base point, 70 flags, then the
// entities up to ENDBLK.
func (p *parser) blocksSection() error {
	for {
		t, err := p.tags.Next()
		if err != nil || t.Is("ENDSEC") {
			return err
		}
		if !t.Is("BLOCK") {
			return tags.Errorf(t.Line, "expected BLOCK or ENDSEC, found group %d %.40q", t.Code, t.Value)
		}
		r, err := p.record(t, keepAll)
		if err != nil {
			return err
		}
		b := block{base: geom.Pt(r.number(10, 0), r.number(20, 0)), foreign: r.whole(70, 0)&blockForeign != 0}
		if r.err != nil {
			return r.err
		}
		if err := p.entities(&b.body, "ENDBLK"); err != nil {
			return err
		}
		if _, err := p.record(tags.Tag{Value: "ENDBLK"}, func(int) bool { return false }); err != nil {
			return err
		}
		p.blocks[fold(p.name(r.text(2, "")))] = &b
	}
}

// An insert is where a block is drawn, and how often.
type insert struct {
	name          string // of the block, as it stands in the file
	at            geom.Point
	size          [2]float64 // along the block's x and y
	turn          float64    // degrees
	columns, rows int
	step          [2]float64 // from column to column, from row to row
	behind        bool       // its plane faces down
}

// insertion reads INSERT: 2 the block, 10 where its base point comes, 41 and 42 the scale,
// 50 the turn in degrees, 70 and 71 columns and rows, 44 and 45 how far these are apart.
func (r *record) insertion() shape {
	way := r.facing()
	i := insert{
		name: r.text(2, ""), at: r.point(10), turn: r.number(50, 0),
		size:    [2]float64{r.number(41, 1), r.number(42, 1)},
		columns: r.whole(70, 1), rows: r.whole(71, 1),
		step:   [2]float64{r.number(44, 0), r.number(45, 0)},
		behind: way == down,
	}
	if i.step[0] == 0 { // all in one place: one is enough
		i.columns = 1
	}
	if i.step[1] == 0 {
		i.rows = 1
	}
	switch {
	case way == askew:
		return out(outOfPlane)
	case i.size[0] == 0 || i.size[1] == 0:
		return out(noLength)
	}
	return shape{insert: &i}
}

// copy is the map from the block to the copy in a column and a row. The grid is turned,
// but not scaled.
func (i *insert) copy(base geom.Point, column, row int) drawing.Affine {
	grid := geom.Pt(float64(column)*i.step[0], float64(row)*i.step[1])
	turn := turned(i.turn)
	m := drawing.Shift(base.Scale(-1)).Then(drawing.Stretch(i.size[0], i.size[1])).
		Then(turn).Then(drawing.Shift(i.at.Add(turn.Way(grid))))
	if i.behind {
		m = m.Then(fromBehind)
	}
	return m
}

// turned turns by degrees; quarter turns are exact.
func turned(degrees float64) drawing.Affine {
	quarters := math.Mod(degrees, 360) / 90
	if quarters != math.Trunc(quarters) {
		return drawing.Turn(degrees * math.Pi / 180)
	}
	m := drawing.Identity()
	for range (int(quarters) + 4) % 4 {
		m = m.Then(drawing.Turn(math.Pi / 2))
	}
	return m
}

// insert places the copies of a block.
func (p *placer) insert(it *item, m drawing.Affine, own setting) {
	name := p.name(it.insert.name)
	b, ok := p.blocks[fold(name)]
	switch {
	case !ok:
		p.say(it, faultf(it.line, "is the file whole? Save it once more", "INSERT of a block %.40q that isn't in the file", name))
		return
	case b.foreign:
		p.d.Pass("part in another file", p.at(it.line))
		return
	case p.nests(it, b, name):
		return
	}
	p.open = append(p.open, b)
	for row := range max(1, it.insert.rows) {
		for column := range max(1, it.insert.columns) {
			if p.count(it, 1); p.full {
				break
			}
			p.body(&b.body, it.insert.copy(b.base, column, row).Then(m), own)
		}
	}
	p.open = p.open[:len(p.open)-1]
}

// nests reports, and says, that a block holds itself or that blocks are nested too deep.
func (p *placer) nests(it *item, b *block, name string) bool {
	const hint = "in the program that drew it, explode the blocks"
	for _, o := range p.open {
		if o == b {
			p.say(it, faultf(it.line, hint, "the block %.40q holds itself", name))
			return true
		}
	}
	if len(p.open) == maxDeep {
		p.say(it, faultf(it.line, hint, "blocks are nested more than %d deep", maxDeep))
		return true
	}
	return false
}
