package dxf

import (
	"fmt"
	"io"
	"strings"

	"github.com/yofu/dxf/format"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// Write writes s as one DXF file. What is cut first stands first: openings,
// pins, marks, then the edge, and last the notes, on a layer that is switched
// off so that nobody cuts them by accident. The extents are those of what is
// written, exact for arcs. The same sheet and options give the same bytes, and
// any number of goroutines may write at once.
//
// Write reports options that make no file and geometry that is not finite or
// has a bulge beyond 1; it does not judge whether the sheet can be cut (see
// sheet.Check).
func Write(w io.Writer, s sheet.Sheet, o Options) error {
	if err := o.check(); err != nil {
		return err
	}
	p, err := newPlan(s, o)
	if err != nil {
		return fmt.Errorf("dxf: %s: %w", s.Name, err)
	}
	f := format.NewASCII()
	f.SetPrecision(decimals)
	for _, c := range p.comments {
		f.WriteString(999, c)
	}
	switch p.version {
	case R2000:
		p.writeR2000(f)
	case R12:
		p.writeR12(f)
	}
	if _, err := f.WriteTo(w); err != nil {
		return fmt.Errorf("dxf: %s: %w", s.Name, err)
	}
	return nil
}

// A plan is a file worked out in its own units and rounded to its decimals.
type plan struct {
	version  Version
	units    Units
	comments []string
	layers   []Layer // a negative colour is a layer that is switched off
	figures  []figure
	extents  geom.Box
}

// A figure is a contour, or a circle when its radius is not 0.
type figure struct {
	layer   string
	contour geom.Contour
	center  geom.Point
	radius  float64
}

// newPlan sorts, scales and rounds s.
func newPlan(s sheet.Sheet, o Options) (plan, error) {
	p := plan{version: o.Version, units: o.Units, extents: geom.EmptyBox()}
	p.comments = comments(s.Title, o.Units)
	for _, r := range sheet.CutOrder() {
		if r == sheet.Note && o.Bare {
			continue
		}
		l := o.layer(r)
		if err := p.add(s, r, l.Name); err != nil {
			return plan{}, err
		}
		if r == sheet.Note {
			l.Color = -l.Color
		}
		p.addLayer(l)
	}
	for _, l := range s.Lines {
		if !l.Role.Valid() {
			return plan{}, fmt.Errorf("a line has the role %d, which does not exist", int(l.Role))
		}
	}
	for _, h := range s.Holes {
		if !h.Role.Valid() {
			return plan{}, fmt.Errorf("a hole has the role %d, which does not exist", int(h.Role))
		}
	}
	return p, nil
}

// addLayer adds l unless another role has brought it in.
func (p *plan) addLayer(l Layer) {
	for _, m := range p.layers {
		if m.Name == l.Name {
			return
		}
	}
	p.layers = append(p.layers, l)
}

// add adds all of s that has role r, on the named layer.
func (p *plan) add(s sheet.Sheet, r sheet.Role, layer string) error {
	k := p.units.MM()
	for _, l := range s.Lines {
		if l.Role != r {
			continue
		}
		c := scaled(l.Contour, k)
		if err := checkContour(c); err != nil {
			return fmt.Errorf("%s: %w", r, err)
		}
		c = rounded(c)
		p.figures = append(p.figures, figure{layer: layer, contour: c})
		p.extents = p.extents.Join(c.Bounds())
	}
	for _, h := range s.Holes {
		if h.Role != r {
			continue
		}
		g := figure{layer: layer, center: geom.Pt(round(h.Center.X/k), round(h.Center.Y/k)), radius: round(h.Radius / k)}
		if err := checkCircle(g.center, g.radius); err != nil {
			return fmt.Errorf("%s: %w", r, err)
		}
		p.figures = append(p.figures, g)
		p.extents = p.extents.Join(sheet.Hole{Center: g.center, Radius: g.radius}.Bounds())
	}
	return nil
}

// scaled is c in units of k millimetres. The bulge of an open contour's last
// vertex means nothing and is dropped.
func scaled(c geom.Contour, k float64) geom.Contour {
	t := geom.Contour{Closed: c.Closed, Vertices: make([]geom.Vertex, len(c.Vertices))}
	for i, v := range c.Vertices {
		if !c.Closed && i == len(c.Vertices)-1 {
			v.Bulge = 0
		}
		// Divided, not multiplied by a reciprocal: 25.4 mm is 1 inch exactly.
		t.Vertices[i] = geom.Vertex{Point: geom.Pt(v.X/k, v.Y/k), Bulge: v.Bulge}
	}
	return t
}

// rounded is c as it will stand in the file.
func rounded(c geom.Contour) geom.Contour {
	t := geom.Contour{Closed: c.Closed, Vertices: make([]geom.Vertex, len(c.Vertices))}
	for i, v := range c.Vertices {
		t.Vertices[i] = geom.Vertex{Point: geom.Pt(round(v.X), round(v.Y)), Bulge: round(v.Bulge)}
	}
	return t
}

// noExtents is how a drawing without geometry gives its extents: the least
// corner above the greatest one (common practice of programs that write DXF).
const noExtents = 1e20

// corners are the values of $EXTMIN and $EXTMAX.
func (p plan) corners() (lo, hi geom.Point) {
	if p.extents.Empty() {
		return geom.Pt(noExtents, noExtents), geom.Pt(-noExtents, -noExtents)
	}
	b := p.extents
	return geom.Pt(round(b.Min.X), round(b.Min.Y)), geom.Pt(round(b.Max.X), round(b.Max.Y))
}

// writeHeader writes the variables that both versions have. Release 12 knows
// neither $INSUNITS nor $MEASUREMENT, but it has no other way to say what a
// number means, and readers pass over variables that they don't know.
func (p plan) writeHeader(f format.Formatter, more func()) {
	lo, hi := p.corners()
	f.WriteString(0, "SECTION")
	f.WriteString(2, "HEADER")
	f.WriteString(9, "$ACADVER")
	f.WriteString(1, p.version.String())
	f.WriteString(9, "$DWGCODEPAGE")
	f.WriteString(3, "ANSI_1252")
	writeVector(f, "$INSBASE", geom.Point{})
	writeVector(f, "$EXTMIN", lo)
	writeVector(f, "$EXTMAX", hi)
	writeVariable(f, "$LUNITS", 2)   // decimal
	writeVariable(f, "$LUPREC", 4)   // decimals shown on a screen
	writeVariable(f, "$ANGDIR", 0)   // angles counter-clockwise
	writeVariable(f, "$TILEMODE", 1) // model space is shown
	writeVariable(f, "$MEASUREMENT", p.units.measurement())
	writeVariable(f, "$INSUNITS", p.units.insunits())
	if more != nil {
		more()
	}
	f.WriteString(0, "ENDSEC")
}

func writeVector(f format.Formatter, name string, v geom.Point) {
	f.WriteString(9, name)
	f.WriteFloat(10, v.X)
	f.WriteFloat(20, v.Y)
	f.WriteFloat(30, 0)
}

func writeVariable(f format.Formatter, name string, v int) {
	f.WriteString(9, name)
	f.WriteInt(70, v)
}

// maxComment keeps a comment within the 255 characters of an R12 string.
const maxComment = 250

// comments are the lines at the head of the file: the title, and the units in
// words for whoever opens it in a text editor.
func comments(title string, u Units) []string {
	var cs []string
	for t := escape(title); t != ""; {
		n := min(len(t), maxComment)
		cs = append(cs, t[:n])
		t = t[n:]
	}
	unit := "lengths in millimetres"
	if u == Inches {
		unit = "lengths in inches"
	}
	return append(cs, unit)
}

// escape returns s on one line and in ASCII: control characters become
// spaces, others outside ASCII the format's own \U+XXXX.
func escape(s string) string {
	var b strings.Builder
	for _, c := range s {
		switch {
		case c < ' ' || c == 0x7f:
			b.WriteByte(' ')
		case c < 0x7f:
			b.WriteRune(c)
		default:
			fmt.Fprintf(&b, `\U+%04X`, c)
		}
	}
	return strings.TrimSpace(b.String())
}
