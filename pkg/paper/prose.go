package paper

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// literalStar stands for a star that is meant, from the private use area, so
// that it isn't taken for a mark of bold text.
const literalStar = "\ue000"

// literalTick stands for a back quote that is meant.
const literalTick = "\ue002"

// heldSpace stands for a space at which no line ends: within a box to tick and
// before what is ticked.
const heldSpace = "\ue003"

// An Illustration is a picture, and the path by which a text refers to it.
type Illustration struct {
	Path    string
	Picture sheet.Picture
}

// Prose sets text that is written in Markdown, of the plain kind that set-up
// sheets have: headings, paragraphs, lists, boxes to tick, steps, tables, bold
// text, and pictures, which are found by their path. Links keep their text
// alone. Illustrations that the text doesn't show stand at its end.
func Prose(title string, text []byte, pictures []Illustration, o Options) Document {
	return SetUpSheet(title, Card{}, pictures, o, text)
}

// SetUpSheet is such texts after a cutting card, each but an empty one from the top of a page.
func SetUpSheet(title string, card Card, pictures []Illustration, o Options, texts ...[]byte) Document {
	w := proseOf(card, pictures, o, 1, texts...)
	w.footers(o, len(w.pages))
	return Document{Title: title, Pages: w.pages}
}

// newProse sets a text, after a card if there is one.
func newProse(card Card, text []byte, pictures []Illustration, o Options) *prose {
	return proseOf(card, pictures, o, 1, text)
}

// tightest is by how much letters may shrink so that a text needs a page less: the smallest
// then still have capitals of more than leastLetter.
const tightest = 0.9

// tightProse sets a text, a little smaller if its last page is nearly empty and goes by that.
func tightProse(text []byte, pictures []Illustration, o Options) *prose {
	w := newProse(Card{}, text, pictures, o)
	const much = 0.35 // of a page that is used
	if area := w.area(); len(w.pages) == 1 || area.Max.Y-w.y > much*area.Size().Y {
		return w
	}
	for _, k := range []float64{(1 + tightest) / 2, tightest} {
		if t := proseOf(Card{}, pictures, o, k, text); len(t.pages) < len(w.pages) {
			return t
		}
	}
	return w
}

// proseOf is newProse of several texts, all of it k times as large.
func proseOf(card Card, pictures []Illustration, o Options, k float64, texts ...[]byte) *prose {
	p := o.Paper
	// Text is read and not measured: it isn't corrected for the printer.
	p.Measured = [2]float64{}
	blank := func() Page {
		page := upright(p)
		page.ScaleX, page.ScaleY = k*page.ScaleX, k*page.ScaleY
		return page
	}
	w := &prose{
		flow: flow{next: blank, margin: math.Max(p.Margin, pageMargin), punch: punchMargin, foot: footHigh},
		pics: pictures, shown: make([]bool, len(pictures)),
	}
	w.pages = card.pages(o)
	for i, text := range texts {
		if i == 0 || len(text) > 0 {
			w.begin()
			w.write(strings.Split(string(text), "\n"))
		}
	}
	w.rest()
	return w
}

// footers writes the line at each page's foot, of so many pages in all.
func (w *prose) footers(o Options, of int) {
	for i := range w.pages {
		w.footer(&w.pages[i], fmt.Sprintf("%s, revision %s", o.Block.Job, o.Block.Revision), fmt.Sprintf("page %d of %d", i+1, of))
	}
}

// Measures of the sheets' pages, mm.
const (
	pageMargin  = 10.0       // at least
	punchMargin = 16.0       // at the left, where sheets are punched
	footHigh    = medium * 2 // kept for the line at a page's foot
)

type prose struct {
	flow
	pics   []Illustration
	shown  []bool
	headed bool // the last block was a heading
}

// rest shows the illustrations that were not referred to.
func (w *prose) rest() {
	for i, pic := range w.pics {
		if w.shown[i] {
			continue
		}
		if !slices.Contains(w.shown[:i], false) {
			w.heading("Drawings", large)
		}
		w.picture(pic.Picture, pic.Picture.Title)
	}
}

func (w *prose) footer(p *Page, say, number string) {
	b := p.free(w.margin)
	b.Min.X = math.Max(b.Min.X, punchMargin)
	p.text(Text{At: b.Min, String: fit(Legible(say), small, false, b.Size().X-40), Size: small})
	p.text(Text{At: geom.Pt(b.Max.X, b.Min.Y), String: number, Size: small, Align: Right})
}

var (
	pictureLine = regexp.MustCompile(`^!\[([^\]]*)\]\(([^)]*)\)$`)
	stepLine    = regexp.MustCompile(`^(\d+)\. `)
	link        = regexp.MustCompile(`!?\[([^\]]+)\]\([^)]*\)`)
	escaped     = regexp.MustCompile("\\\\([\\\\`*<|~_&\\[\\]])")
)

// write sets lines block by block.
func (w *prose) write(lines []string) {
	for i := 0; i < len(lines); {
		line := lines[i]
		n := 1
		if strings.TrimSpace(line) == "" {
			w.skip(medium * 0.4)
			i++
			continue
		}
		headed := strings.HasPrefix(line, "#")
		switch {
		case strings.HasPrefix(line, "|"):
			for i+n < len(lines) && strings.HasPrefix(lines[i+n], "|") {
				n++
			}
			w.tableOf(lines[i : i+n])
		case strings.HasPrefix(line, "#"):
			w.headingOf(line, i+2 < len(lines) && strings.HasPrefix(lines[i+2], "|"))
		default:
			for i+n < len(lines) && goesOn(lines[i+n]) {
				n++
			}
			w.block(strings.Join(lines[i:i+n], " "))
		}
		w.headed = headed
		i += n
	}
}

// goesOn reports whether a line belongs to the block of the line before it.
func goesOn(line string) bool {
	t := strings.TrimLeft(line, " ")
	return t != "" && !strings.HasPrefix(t, "- ") && !strings.HasPrefix(t, "|") && !strings.HasPrefix(t, "#") &&
		!strings.HasPrefix(t, "![") && !stepLine.MatchString(t)
}

// headingOf sets a heading, on the page of the table after it if one follows.
func (w *prose) headingOf(line string, table bool) {
	text := strings.TrimLeft(line, "#")
	size := map[int]float64{1: huge, 2: large}[len(line)-len(text)]
	if size == 0 {
		size = medium * 1.1
	}
	if table {
		const rows = 3 // its head and the first two, of up to two lines
		w.room(2*size*lead + rows*(2*small*lead+rowGap))
	}
	w.heading(inline(strings.TrimSpace(text)), size)
}

// block sets one paragraph, entry of a list, or picture.
func (w *prose) block(text string) {
	const indent = 6.0
	text = strings.TrimSpace(text)
	if m := pictureLine.FindStringSubmatch(text); m != nil {
		if i := slices.IndexFunc(w.pics, func(p Illustration) bool { return p.Path == m[2] }); i >= 0 {
			w.shown[i] = true
			w.show(w.pics[i].Picture, m[1])
		}
		return
	}
	switch step := stepLine.FindStringSubmatch(text); {
	case strings.HasPrefix(text, "- [ ] "):
		w.tick(inline(text[len("- [ ] "):]), medium, 0)
	case strings.HasPrefix(text, "- "):
		w.hang("\u2022", inline(text[2:]), medium, 1, 4.5)
	case step != nil:
		w.hang(step[1]+".", inline(text[len(step[0]):]), medium, 0, indent)
	default:
		w.para(inline(text), medium, 0)
	}
}

// inline takes the marks off a text, but for those of bold parts.
func inline(s string) string {
	s = escaped.ReplaceAllStringFunc(s, func(m string) string {
		switch m {
		case `\*`:
			return literalStar
		case "\\`":
			return literalTick
		}
		return m[1:]
	})
	s = strings.ReplaceAll(s, "[ ] ", "["+heldSpace+"]"+heldSpace)
	s = strings.ReplaceAll(s, "`", "") // of code, which is set like the rest
	return link.ReplaceAllString(s, "$1")
}

// tableOf sets a table's lines: the head, the rule under it, the rows.
func (w *prose) tableOf(lines []string) {
	var rows [][]string
	for i, l := range lines {
		if i == 1 {
			continue // the rule
		}
		var row []string
		l = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(strings.ReplaceAll(l, `\|`, "\ue001")), "|"), "|")
		for _, c := range strings.Split(l, "|") {
			row = append(row, inline(strings.ReplaceAll(strings.TrimSpace(c), "\ue001", "|")))
		}
		rows = append(rows, row)
	}
	w.table(rows[0], rows[1:], small+0.2)
}

// show draws an illustration: right after a heading beside the text that follows, and
// on its own elsewhere.
func (w *prose) show(pic sheet.Picture, say string) {
	switch {
	case !(pic.Bounds.Size().X > 0 && pic.Bounds.Size().Y > 0):
	case w.headed:
		w.setBeside(pic)
	default:
		w.under()
		w.picture(pic, say)
	}
}

// picture draws an illustration as wide as the text, or as half a page is
// high, in its colours.
func (w *prose) picture(pic sheet.Picture, say string) {
	const tallest = 125.0
	size := pic.Bounds.Size()
	k := math.Min(w.area().Size().X/size.X, tallest/size.Y)
	w.room(size.Y*k + 2*small*lead)
	at := geom.Pt(w.area().Min.X, w.y-size.Y*k)
	w.page().drawPicture(pic, at, k)
	w.y = at.Y
	if say != "" {
		w.down(small)
		w.put(0, inline(say), small, false)
	}
	w.skip(small)
}

// drawPicture puts an illustration on a page, its lower left corner at a point
// and k times as large.
func (p *Page) drawPicture(pic sheet.Picture, at geom.Point, k float64) {
	on := func(q geom.Point) geom.Point { return at.Add(q.Sub(pic.Bounds.Min).Scale(k)) }
	for _, f := range pic.Fills {
		a := Area{Empty: f.Color == "", Color: f.Color}
		for _, c := range f.Loops {
			a.Loops = append(a.Loops, mapped(c, on))
		}
		if f.Stroke != "" && (f.Color == "" || f.StrokeWidth*k > thinOutline) {
			a.Pen = Pen{Width: math.Max(f.StrokeWidth*k, hairline), Color: f.Stroke}
			for _, d := range f.Dash {
				a.Pen.Dash = append(a.Pen.Dash, d*k)
			}
		}
		p.Areas = append(p.Areas, a)
	}
	for _, t := range pic.Texts {
		p.drawPictureText(t, on(t.At), k)
	}
}

func (p *Page) drawPictureText(t sheet.Text, at geom.Point, k float64) {
	align := Left
	if t.Middle {
		align = Center
	}
	size := math.Max(t.Height*k, leastLetter) / capHeight
	p.text(Text{At: at, String: t.String, Size: size, Angle: t.Turn, Align: align, Color: t.Color})
}

// leastLetter in mm is the height of capitals under which they can't be read, and so had
// better run over.
const leastLetter = 1.5

// hairline in mm is the thinnest line of an illustration: a dot of 600 to the inch.
const hairline = 0.04

// thinOutline in mm is the line round a colour from which on it is left out: a screen
// draws every line a pixel wide, and two of them would hide the wood of a narrow strip.
const thinOutline = 0.1
