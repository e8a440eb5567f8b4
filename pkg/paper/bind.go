package paper

import (
	"fmt"

	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// A Book is patterns to be printed as one file.
type Book struct {
	Document
	Pages map[string][]int // of each piece by its name, counted from 1
}

// Bind puts patterns together: the scale proof, the contents with what all
// sheets have in common, the sheets of every pattern in turn, and the measures
// that they are laid out by.
func Bind(title string, patterns []Pattern, o Options) Book {
	b := &binder{o: o, title: title, patterns: patterns, pages: map[string][]int{}}
	b.add("scale proof", b.proof()...)
	// How many pages the contents take is known when they are written.
	var contents []Page
	for range 3 {
		b.number(1 + max(1, len(contents)))
		pages := b.contents()
		settled := len(pages) == len(contents)
		if contents = pages; settled {
			break
		}
	}
	b.add("contents", contents...)
	for _, p := range patterns {
		for i, page := range p.tiles {
			b.leaves = append(b.leaves, leaf{page, p.d.Title, p.labels[i]})
		}
	}
	b.add("measures", b.measures()...)
	doc := Document{Title: fmt.Sprintf("%s - %s", o.Block.Job, title)}
	for i, l := range b.leaves {
		b.block(&l, i+1)
		doc.Pages = append(doc.Pages, l.Page)
	}
	return Book{Document: doc, Pages: b.pages}
}

// A binder is a book in the making.
type binder struct {
	o        Options
	title    string
	patterns []Pattern
	first    []int            // page of each pattern, from 1
	pages    map[string][]int // of each piece
	leaves   []leaf
	before   int // pages of text that come before all leaves
}

// A leaf is a page and what its title block says it is.
type leaf struct {
	Page
	title, label string
}

// add adds pages that belong to all patterns.
func (b *binder) add(label string, pages ...Page) {
	for i, p := range pages {
		if i == 1 {
			label += ", continued"
		}
		b.leaves = append(b.leaves, leaf{p, b.title, label})
	}
}

// number gives the patterns their pages, after so many others.
func (b *binder) number(before int) {
	b.first = nil
	clear(b.pages)
	for _, p := range b.patterns {
		b.first = append(b.first, before+1)
		for range p.tiles {
			before++
			for _, piece := range p.d.Pieces {
				b.pages[piece.Name] = append(b.pages[piece.Name], before)
			}
		}
	}
}

// flow writes on upright pages above the title block.
func (b *binder) flow() *flow {
	const widest = 190 // mm: longer lines are hard to read
	f := &flow{next: func() Page { return upright(b.o.Paper) }, margin: b.o.Paper.Margin, foot: blockHeight + 1, widest: widest}
	f.begin()
	return f
}

// block draws the title block at a page's foot, with a bar to check the scale
// by on every sheet.
func (b *binder) block(p *leaf, number int) {
	free := p.free(b.o.Paper.Margin)
	box := geom.Box{Min: free.Min, Max: geom.Pt(free.Max.X, free.Min.Y+blockHeight-2)}
	p.box(penBlock, box)
	const inset, line = 1.5, 4.1
	left, right, y := box.Min.X+inset, box.Max.X-inset, box.Max.Y-line+0.4
	sheet := fmt.Sprintf("page %d of %d", b.before+number, b.before+len(b.leaves))
	if p.label != "" {
		sheet = p.label + ", " + sheet
	}
	p.text(Text{At: geom.Pt(right, y), String: sheet, Size: medium, Bold: true, Align: Right})
	room := right - left - Width(sheet, medium, true) - 3
	p.text(Text{At: geom.Pt(left, y), String: fit(Legible(b.o.Block.Job+": "+p.title), medium, true, room), Size: medium, Bold: true})
	bar := b.o.checkBar()
	p.checkBar(geom.Pt(right-bar-3, box.Min.Y+1.4), bar, "Scale check: "+b.o.length(bar))
	room = right - left - bar - 6
	facts := []string{"revision " + b.o.Block.Revision, b.o.Block.Bit, b.o.Block.Rider, "scale 1:1", b.o.Block.Date}
	p.text(Text{At: geom.Pt(left, y-line), String: fit(Legible(joined(facts)), small, false, room), Size: small})
	p.text(Text{At: geom.Pt(left, y-2*line+0.3), String: fit(correction(b.o.Paper, p.Page), small, false, room), Size: small})
}

// checkBar is the length in mm of the bar on every sheet: a rule's own number.
func (o Options) checkBar() float64 {
	if o.Units == unit.Inch {
		return 2 * unit.MMPerInch
	}
	return 50
}

// checkBar draws a bar with end marks, and what it is above it.
func (p *Page) checkBar(at geom.Point, length float64, say string) {
	const tick = 2.4
	p.line(penProof, at, at.Add(geom.Pt(length, 0)))
	for _, x := range []float64{0, length} {
		p.line(penProof, at.Add(geom.Pt(x, 0)), at.Add(geom.Pt(x, tick)))
	}
	p.text(Text{At: at.Add(geom.Pt(length/2, 1.2)), String: say, Size: small, Align: Center})
}

// joined puts what isn't empty on one line.
func joined(facts []string) string {
	text := ""
	for _, f := range facts {
		switch {
		case f == "":
		case text == "":
			text = f
		default:
			text += "  |  " + f
		}
	}
	return text
}

// correction says how a page was corrected for the printer.
func correction(paper profile.Paper, p Page) string {
	text := "print at actual size (100 %); not corrected for the printer"
	if paper.Corrected() {
		text = fmt.Sprintf("print at actual size (100 %%); printer correction: width x %s, height x %s", factor(p.ScaleX), factor(p.ScaleY))
	}
	if skew := paper.Skew(); skew != 0 {
		text += fmt.Sprintf("; skew %s°, not corrected", unit.Decimal(skew, 2))
	}
	return text
}

func factor(v float64) string { return fmt.Sprintf("%.5f", v) }
