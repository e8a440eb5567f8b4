package cli

import (
	"fmt"
	"path/filepath"
	"strings"
	"unicode"

	"github.com/spf13/pflag"

	"strapwork/pkg/build"
	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/from"
	"strapwork/pkg/trace"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

var traceCommand = command{
	name: "trace", args: "DRAWING [--width SIZE] [--out FILE]", about: "makes a motif of a drawing, SVG or DXF: lines and arcs to read and to edit",
	text: `Without --out the motif is printed. It is a job that lacks [inlay] and [router]. A picture
shows it over the drawing. A size is a number in mm, or has its unit: "12 in".
`,
	flags: []flag{
		{name: "width", takes: "SIZE", about: "how wide the drawn lines become, over all; as the drawing says if it states a unit"},
		{name: "height", takes: "SIZE", about: "how high, in place of width"},
		{name: "unit", takes: "UNIT", about: "what one unit of the drawing is, in place of both: " + strings.Join(work.DrawingUnits(), ", "), words: work.DrawingUnits},
		{name: "layer", takes: "NAME", about: "take one layer alone; in an SVG the id of an outermost group"},
		{name: "color", takes: "#RRGGBB", about: "take one colour alone (or --colour)"},
		{name: "edges", about: "the lines are the edges of bands: follow their middle"},
		{name: "tolerance", takes: "SIZE", about: "how far lines and arcs may lie from the drawn ones; 0.02 mm if not given"},
		{name: "kinks", takes: "WORD", about: "turns of 0.5 to 7 degrees are corner (if not given) or smooth", words: fixed("corner", "smooth")},
		{name: "round", takes: "SIZE", about: "radius of the fillets that corners get"},
		{name: "weave", takes: "WORD", about: "over and under as drawn (if not given) or alternate", words: fixed("drawn", "alternate")},
		{name: "no-snap", about: "leave radii as they are found"},
		{name: "turn", takes: "DEGREES", about: "turn the drawing, counter-clockwise"},
		{name: "name", takes: "NAME", about: "what the elements are called: NAME, NAME-2; band if not given"},
		{name: "out", takes: "FILE", about: "where to write the motif; never over a file that is there"},
		{name: "picture", takes: "FILE", about: "where to draw, as SVG; DRAWING-trace.svg in the current folder if not given; FILE must be new or such a picture"},
		jsonFlag("print one JSON document"),
	},
	operand: first(fixed(anyFile + " svg dxf")),
	run:     runTrace,
}

// traceFlags are the flags of trace as typed.
type traceFlags struct {
	width, height, tolerance, round  string
	unit, layer, color, kinks, weave string
	turn, name                       string
	edges, noSnap                    bool
	out, picture                     string
}

func (f *traceFlags) add(fs *pflag.FlagSet) {
	for name, to := range map[string]*string{
		"width": &f.width, "height": &f.height, "tolerance": &f.tolerance, "round": &f.round, "unit": &f.unit, "layer": &f.layer,
		"color": &f.color, "colour": &f.color, "turn": &f.turn, "out": &f.out, "picture": &f.picture,
	} {
		fs.StringVar(to, name, "", "")
	}
	fs.StringVar(&f.kinks, "kinks", "corner", "")
	fs.StringVar(&f.weave, "weave", "drawn", "")
	fs.StringVar(&f.name, "name", "band", "")
	fs.BoolVar(&f.edges, "edges", false, "")
	fs.BoolVar(&f.noSnap, "no-snap", false, "")
}

// params are the flags as a trace takes them; text is what is wrong.
func (f *traceFlags) params(fs *pflag.FlagSet) (p trace.Params, text, hint string) {
	p = trace.Default()
	p.Layer, p.Color, p.Edges, p.Snap = f.layer, f.color, f.edges, !f.noSnap
	p.Words.Name = f.name
	for _, l := range []struct {
		name, given string
		to          *float64
		least       float64
		mm, in      string // that could be meant
	}{
		{"width", f.width, &p.Size.Width, leastLine, "300", "12 in"},
		{"height", f.height, &p.Size.Height, leastLine, "200", "8 in"},
		{"tolerance", f.tolerance, &p.Tolerance, leastTolerance, "0.02", "0.001 in"},
		{"round", f.round, &p.Round, 0, "12", "1/2 in"},
	} {
		if !fs.Changed(l.name) {
			continue
		}
		x, err := unit.Eval(l.given, unit.Env{})
		if err != nil || x < l.least {
			return p, fmt.Sprintf("--%s %s is not a size", l.name, l.given), fmt.Sprintf("--%s %s, or --%s %q", l.name, l.mm, l.name, l.in)
		}
		*l.to = x
	}
	if f.turn != "" {
		a, err := unit.Eval(f.turn, unit.Env{Angle: true})
		if err != nil {
			return p, "--turn " + f.turn + " is not an angle", "--turn 45"
		}
		p.Size.Turn = a * radian
	}
	return f.words(fs, p)
}

const (
	radian         = 3.14159265358979323846 / 180
	leastLine      = 0.01 // mm
	leastTolerance = 1e-4 // mm, as for a job
)

// words reads the flags that are one word of a few.
func (f *traceFlags) words(fs *pflag.FlagSet, p trace.Params) (_ trace.Params, text, hint string) {
	given := 0
	for _, name := range []string{"width", "height", "unit"} {
		if fs.Changed(name) {
			given++
		}
	}
	if given > 1 {
		return p, "only one of --width, --height and --unit can be given", "--width 300"
	}
	if f.unit != "" {
		for i, word := range work.DrawingUnits() {
			if word == f.unit {
				p.Size.Unit = work.DrawingUnit(i)
			}
		}
		if p.Size.Unit == 0 {
			return p, fmt.Sprintf("there is no unit %q", f.unit), "--unit is one of " + strings.Join(work.DrawingUnits(), ", ")
		}
	}
	switch f.kinks {
	case "corner", "smooth":
		p.Kinks = f.kinks == "smooth"
	default:
		return p, fmt.Sprintf("--kinks is corner or smooth, not %q", f.kinks), "--kinks smooth"
	}
	switch f.weave {
	case "drawn", "alternate":
		p.Weave = f.weave == "drawn"
	default:
		return p, fmt.Sprintf("--weave is drawn or alternate, not %q", f.weave), "--weave alternate"
	}
	if f.name == "" || strings.ContainsFunc(f.name, func(c rune) bool {
		return !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != '-' && c != '_'
	}) {
		return p, fmt.Sprintf("an element cannot be called %q", f.name), "use letters, digits, - and _"
	}
	return p, "", ""
}

func runTrace(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	var f traceFlags
	f.add(fs)
	if status, done := e.parse(fs, c, args, 1, 1); done {
		return status
	}
	p, text, hint := f.params(fs)
	path := fs.Arg(0)
	stem := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	switch {
	case text != "":
		return e.usage(c.name, text, hint)
	case fs.Changed("out") && f.out == "":
		return e.usage(c.name, "--out names no file", "--out motif.toml")
	case f.picture == "" && (fs.Changed("picture") || path == fromStdin):
		return e.usage(c.name, "--picture names no file", "--picture FILE.svg")
	case f.picture == "":
		f.picture = stem + "-trace.svg"
	}
	data, found := e.readText(path, "a drawing", drawing.MaxSize)
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, found)
	}
	if path == fromStdin {
		stem = "drawing"
	}
	t := build.TraceDrawing(jobName(path), data, stem, p, e.progress())
	e.wiped()
	if !t.OK() {
		status := statusFailed
		if from.Unreadable(t.Findings) {
			status = statusUsage
		}
		return e.fail(c.name, status, t.Findings)
	}
	return e.traced(c, path, f, t)
}

// traced writes what was traced, the motif first: where that can't be written there is no
// picture either.
func (e *env) traced(c command, path string, f traceFlags, t build.Trace) int {
	if f.out != "" {
		if err := putFile(f.out, []byte(t.TOML), ""); err != nil {
			return e.fail(c.name, statusUsage, unwritable(f.out, err, "--out FILE.toml"))
		}
	}
	if err := putPicture(f.picture, t.Picture); err != nil {
		return e.fail(c.name, statusUsage, unwritable(f.picture, err, "--picture FILE.svg"))
	}
	if e.json {
		return e.printJSON(newTraceDocument(c.name, f, t), statusDone)
	}
	if err := e.show(t.Findings); err != nil {
		return statusUsage
	}
	if f.out == "" {
		fmt.Fprintf(e.stderr, "drew %s\n", f.picture)
		return e.print(t.TOML, statusDone)
	}
	var b strings.Builder
	for _, line := range t.Report.Lines() {
		fmt.Fprintf(&b, "%s\n", line)
	}
	fmt.Fprintf(&b, "wrote %s; add [inlay] and [router] to it\ndrew %s\n", f.out, f.picture)
	return e.print(b.String(), statusDone)
}

// traceDocument is the JSON of a trace. Lengths are mm.
type traceDocument struct {
	document
	SHA256    string         `json:"sha256"` // of the drawing
	Out       string         `json:"out,omitempty"`
	Picture   string         `json:"picture"`
	Motif     string         `json:"motif"` // as --out writes it
	Unit      float64        `json:"unit"`  // of the drawing
	Width     float64        `json:"width"` // of the centre lines, over all
	Height    float64        `json:"height"`
	Strands   int            `json:"strands"`
	Crossings int            `json:"crossings"`
	Length    float64        `json:"length"`
	Off       float64        `json:"off"` // from the drawing, at most
	Radius    float64        `json:"radius,omitempty"`
	Beside    *besideJSON    `json:"beside,omitempty"` // where stretches run nearest to one another without crossing
	Band      float64        `json:"band,omitempty"`   // width of the bands whose edges are drawn
	Read      int            `json:"read"`             // curves
	Again     int            `json:"again"`            // of them, drawn on others
	Gaps      int            `json:"gaps"`             // closed
	Passed    map[string]int `json:"passed"`
	Corners   int            `json:"corners"`
	Kinks     int            `json:"kinks"`
	Cusps     int            `json:"cusps"`
	Shown     int            `json:"shown"` // crossings at which over and under are drawn
	Elements  []tracedJSON   `json:"elements"`
}

type besideJSON struct {
	Distance float64    `json:"distance"`
	At       [2]float64 `json:"at"`
}

type tracedJSON struct {
	Name string     `json:"name"`
	Off  float64    `json:"off"`
	At   [2]float64 `json:"at"`
}

func newTraceDocument(command string, f traceFlags, t build.Trace) traceDocument {
	r := t.Report
	d := traceDocument{
		document: done(command, t.Findings), SHA256: t.SHA256, Out: filepath.ToSlash(f.out), Picture: filepath.ToSlash(f.picture), Motif: t.TOML,
		Unit: r.Unit, Width: r.Size.X, Height: r.Size.Y, Strands: r.Strands, Crossings: r.Crossings, Length: r.Length, Off: r.Off,
		Radius: r.Radius, Band: r.Width, Read: r.Read, Again: r.Merged, Gaps: r.Joined, Passed: map[string]int{},
		Corners: len(r.Corners), Kinks: len(r.Kinks), Cusps: len(r.Cusps), Shown: r.Shown,
	}
	if r.Beside > 0 {
		d.Beside = &besideJSON{r.Beside, [2]float64{r.BesideAt.X, r.BesideAt.Y}}
	}
	for _, p := range r.Passed {
		d.Passed[p.What] = p.Count
	}
	for _, e := range t.Elements {
		d.Elements = append(d.Elements, tracedJSON{e.Name, e.Off, [2]float64{e.At.X, e.At.Y}})
	}
	return d
}
