package preview

import (
	"bytes"
	_ "embed"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/ngc"
	"strapwork/pkg/plan"
	"strapwork/pkg/setup"
	"strapwork/pkg/work"
)

// ringAndBar grooves a bar and a ring that cross twice, in a lid of 220 by 130
// mm; on faultLine it goes 0.05 mm beyond the groove.
//
//go:embed testdata/ring-and-bar.nc
var ringAndBar []byte

const (
	grooveWide = 5.08
	bit        = 3.175
	faultLine  = 17
	gouge      = 0.05
	rapidFeed  = 3000 // mm a minute
)

var (
	faultPlace = geom.Pt(110, 60-grooveWide/2-gouge)
	bar        = geom.Chain(false, geom.Line(geom.Pt(30, 60), geom.Pt(190, 60)))
	ring       = geom.Circle(geom.Pt(110, 60), 40)
)

// steps reads a program and gives its moves times; those of a line are faulty.
func steps(t testing.TB, text []byte, faulty int) []dryrun.Step {
	t.Helper()
	moves, err := ngc.ReadAll(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	out := make([]dryrun.Step, 0, len(moves))
	for _, m := range moves {
		length, _ := m.Length()
		seconds := m.Seconds
		switch {
		case m.Kind == ngc.Rapid:
			seconds = length / rapidFeed * 60
		case m.Feed > 0 && m.Kind.Travels():
			seconds = length / m.Feed * 60
		}
		out = append(out, dryrun.Step{Move: m, Seconds: seconds, Fault: int(m.Line) == faulty})
	}
	return out
}

// page is the ring and the bar with all that a page can show.
func page(t testing.TB) Page {
	t.Helper()
	forward, back := "forward, wall on the left", "back, wall on the left"
	var findings diag.Findings
	findings.ErrorAt(diag.Position{File: "groove.nc", Line: faultLine, Col: 1}, "gouge", "the bit cuts 0.05 mm beyond the groove, at 2.4 mm depth").
		SetAt(faultPlace.X, faultPlace.Y).Hintf("look at what wrote this line; don't cut with this file")
	findings.WarnAt(diag.Position{File: "groove.nc", Line: 9, Col: 1}, "chip-load", "0.03 mm a tooth is little for this bit").
		Hintf("the cutter maker's sheet has the last word")
	findings.NoteAt(diag.Position{}, "start-unknown", "where the machine stands before line 3 is not known")
	p := Page{
		Title: "Ring and bar for a box lid", Job: "box-lid.toml", Revision: "12d3cee1",
		Board:  &work.Board{Size: geom.Pt(220, 130), Grain: 0.03},
		Groove: region.Union(region.Stroke(bar, grooveWide/2), region.Stroke(ring, grooveWide/2)).Loops(),
		Width:  grooveWide, Depth: 3, Bit: bit,
		Strands:   []Strand{{"bar", bar}, {"ring", ring}},
		Crossings: []Crossing{{geom.Pt(70, 60), Passage{Strand: "ring"}, Passage{Strand: "bar"}}, {geom.Pt(150, 60), Passage{Strand: "bar"}, Passage{Strand: "ring"}}},
		Clamps: []work.Clamp{
			{Box: geom.Box{Min: geom.Pt(-6, 95), Max: geom.Pt(26, 122)}, Height: 25},
			{Box: geom.Box{Min: geom.Pt(196, 5), Max: geom.Pt(228, 32)}, Height: 25},
		},
		Program: Program{
			Path: "program/groove.nc", Text: ringAndBar, Steps: steps(t, ringAndBar, faultLine),
			Sections: []Section{
				{8, 9, 0, 1.2, forward},
				{10, 12, 0, 1.2, back},
				{13, 14, 0, 2.4, forward},
				{15, 20, 0, 2.4, back},
				{21, 22, 0, 3, forward},
				{23, 25, 0, 3, back},
				{29, 30, 1, 1.2, forward},
				{31, 33, 1, 1.2, back},
				{34, 35, 1, 2.4, forward},
				{36, 38, 1, 2.4, back},
				{39, 40, 1, 3, forward},
				{41, 43, 1, 3, back},
			},
			Report: dryrun.Report{Findings: findings, Totals: dryrun.Totals{
				Seconds: 163, Cutting: 150.2, Plunging: 3.8, Rapids: 5, Dwells: 4, Length: 2474.4, RapidLength: 130,
				Extents: geom.Box{Min: geom.Pt(30, 19.0475), Max: geom.Pt(190, 100.9525)}, Lowest: -3, Highest: 10, LeftArea: 2.2,
			}},
			Facts: []Fact{{"machine", "router 600 x 900"}, {"spindle", "16000 turns a minute, 160 m a minute at the bit's rim"}},
		},
		Cautions: []string{
			"Read the machine's and the cutter's manuals and follow the rules of your shop; who hasn't been shown how does not run it.",
			"Glasses, ears, dust mask; sleeves and hair tied; hands away until the spindle stands.",
			"Run it in the air first, then in scrap.",
		},
	}
	p.Program.Report.Gouges, p.Program.Report.Left = spots()
	p.SetUps, p.Frame, p.Rider, p.Base, p.RouterBit = setUps(), frame(), 60, 90, bit
	return p
}

func spots() (gouges, left []dryrun.Deviation) {
	loop := geom.Polygon(geom.Pt(108, 60-grooveWide/2), geom.Pt(110, 60-grooveWide/2-gouge), geom.Pt(112, 60-grooveWide/2))
	gouges = []dryrun.Deviation{{At: faultPlace, Amount: gouge, Depth: 2.4, Area: 0.1, Line: faultLine, Loops: []geom.Contour{loop}}}
	for _, x := range []float64{28.4125, 191.5875} {
		for _, side := range []float64{-1, 1} {
			y := 60 + side*grooveWide/2
			corner := geom.Polygon(geom.Pt(x, y), geom.Pt(x, y-side*0.9), geom.Pt(x+math.Copysign(0.9, 110-x), y))
			left = append(left, dryrun.Deviation{At: geom.Pt(x, y), Amount: 0.658, Thick: 0.3, Depth: 3, Area: 0.54, Loops: []geom.Contour{corner}, Chisel: true})
		}
	}
	return gouges, left
}

// setUps are panel A with the bar, and panel B with half the ring, laid twice.
func setUps() []setup.Ride {
	const k, rider = (grooveWide - bit) / 2, 30.0
	lay := func(number int, panel string, turn float64, name string, line geom.Contour) setup.Ride {
		path := region.Stroke(line, k).Loops()[0].Reverse()
		return setup.Ride{
			SetUp: plan.SetUp{
				Number: number, PanelID: panel, Position: plan.Orientation{TurnDeg: turn},
				Tracks: []plan.Track{{Cut: groove.Cut{Name: name}}},
			},
			Outline: geom.Rect(geom.Box{Min: geom.Pt(-20, -35), Max: geom.Pt(240, 155)}),
			Ways:    []setup.Way{{Opening: region.Stroke(line, k+rider).Loops()[0], Path: path}},
		}
	}
	half := func(from float64) geom.Contour {
		return geom.Chain(false, geom.Arc(geom.Pt(110, 60), 40, from, math.Pi)...)
	}
	return []setup.Ride{
		lay(1, "A", 0, "bar", bar),
		lay(2, "B", 0, "ring.1", half(0)),
		lay(3, "B", 180, "ring.2", half(math.Pi)),
	}
}

func frame() []geom.Contour {
	return []geom.Contour{
		geom.Rect(geom.Box{Min: geom.Pt(-45, -60), Max: geom.Pt(265, 180)}),
		geom.Rect(geom.Box{Min: geom.Pt(-20.5, -35.5), Max: geom.Pt(240.5, 155.5)}).Reverse(),
	}
}

const (
	longMoves = 200_000
	longFault = 123_457 // the line with the fault
)

// longProgram is 200,000 short moves back and forth across a board; one of them
// is 0.01 mm long and at fault.
func longProgram() []byte {
	var b bytes.Buffer
	b.WriteString("G21 G17 G90 G94 G54\nG0 Z5\nS16000 M3\nG0 X10 Y10\nG1 Z-1 F1200\n")
	for i := range longMoves {
		row, col := i/1000, i%1000
		if row%2 == 1 {
			col = 999 - col
		}
		fmt.Fprintf(&b, "X%.3f Y%.3f\n", 10+float64(col)*0.2, 10+float64(row)*0.5+0.2*math.Sin(float64(col)/9))
	}
	b.WriteString("G0 Z5\nM5\nM2\n")
	return b.Bytes()
}

// longPage is a page with the long program.
func longPage(t testing.TB) Page {
	t.Helper()
	p := page(t)
	text := longProgram()
	p.Board = &work.Board{Size: geom.Pt(220, 120)}
	p.Program.Text, p.Program.Steps = text, steps(t, text, longFault)
	p.Program.Sections = []Section{{5, 100_000, 0, 1, "forward"}, {100_001, longMoves + 5, 1, 1, "forward"}}
	p.Program.Report.Findings = nil
	p.Program.Report.Findings.ErrorAt(diag.Position{Line: longFault}, "gouge", "the bit cuts beyond the groove")
	p.Program.Report.Gouges, p.Program.Report.Left, p.SetUps, p.Clamps = nil, nil, nil, nil
	return p
}

// save writes a page to a file and returns its address.
func save(t testing.TB, p Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "preview.html")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return "file://" + path
}
