package report

import (
	"fmt"
	"strconv"

	"strapwork/pkg/budget"
	"strapwork/pkg/build"
	"strapwork/pkg/fixture"
	"strapwork/pkg/received"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// railJSON is the rail that panels are stepped along.
type railJSON struct {
	Files  map[string]string `json:"files"` // by piece and kind: "1_dxf"
	Length num               `json:"length"`
	Width  num               `json:"width"`
	Pin    num               `json:"pin"`    // diameter of its pins, and of all holes
	Edge   [2]xy             `json:"edge"`   // the edge that panels bear on, on the work: its zero end, and the other
	Joints []num             `json:"joints"` // where its pieces butt, from the zero end
	Holes  []railHoleJSON    `json:"holes"`  // in the order of set-ups
	Over   overhangJSON      `json:"overhang"`
}

// railHoleJSON is where a panel is pinned in a set-up.
type railHoleJSON struct {
	SetUp   int    `json:"set_up"`
	Panel   string `json:"panel"`
	Plate   string `json:"plate"`    // the name of its index plate
	FromEnd num    `json:"from_end"` // from the rail's zero end
	Behind  num    `json:"behind"`   // the rail's edge
	Piece   int    `json:"piece"`    // from 1
	Passes  int    `json:"joints_before"`

	// By how much the station may be out along the rail, plus or minus.
	Pins   num    `json:"pins"`        // the pin's play
	Play   num    `json:"joints_play"` // that of the joints before it
	Scale  num    `json:"scale"`       // a shop's usual error of scale
	Worst  num    `json:"worst"`       // all of it
	Taped  num    `json:"worst_taped"` // where the rail was measured with a tape, and its error allowed for
	InName string `json:"-"`           // the part that it is in: "rail-2"
}

// newRail is nil where nothing is stepped along a rail.
func newRail(r build.Result) *railJSON {
	rail := r.Set.Rail
	if rail == nil {
		return nil
	}
	out := &railJSON{
		Files: map[string]string{}, Length: num(rail.Length), Width: num(rail.Width), Pin: num(rail.Pin),
		Edge:   [2]xy{toXY(rail.Place(0, 0)), toXY(rail.Place(rail.Length, 0))},
		Joints: nums(rail.Joints), Over: overhangJSON{num(rail.Over.Left), num(rail.Over.Right), num(rail.Over.Below), num(rail.Over.Above)},
	}
	piece := 0
	for _, p := range r.Parts {
		if p.Ply == sheet.Rail {
			piece++
			addFiles(out.Files, r, p, strconv.Itoa(piece))
		}
	}
	for i, s := range budget.Stations(r.Set) {
		h := rail.Holes[i]
		of := rail.PieceOf(h.At) + 1
		out.Holes = append(out.Holes, railHoleJSON{
			SetUp: h.SetUp, Panel: h.Panel, Plate: h.Plate, FromEnd: num(h.At), Behind: num(rail.Rows[h.Row]), Piece: of, Passes: h.Passes,
			Pins: num(s.Pins), Play: num(s.Joints), Scale: num(s.Scale), Worst: num(s.Worst()), Taped: num(s.Measured()),
			InName: fmt.Sprintf("%s-%d", fixture.RailName, of),
		})
	}
	return out
}

// stepsFacts is how panels are stepped along the work; the rail itself is in the manifest.
type stepsFacts struct {
	Pieces   []string // of the rail, and how many splices join them
	Splices  partFacts
	Plates   []string
	Loose    bool // a panel is laid turned over too: its plates change faces
	Floor    num  // of the panels' floors, which the rail needs packing of; 0 for none
	First    int  // the holes that are measured between, by their set-ups
	Last     int
	Between  num
	Tape     num          // what a tape of class II is out by there
	LastHole railHoleJSON // the furthest from the zero end
	Ends     [2]xy        // of the rail's edge, from the board's lower left corner; or from the origin
	Board    bool         // from its corner
	Reaches  unit.Text    // rail and panels over the board, side by side
	Beyond   bool         // there is some
	Strip    num          // along the rail's back, for clamps
	Step     num          // from one station to the next
	Stations int          // the most of one panel
	Creeps   num          // what a spacer out by 0.1 mm makes of that when it is used step by step
}

// spacerOut is by how much in mm a spacer of wood is easily out (common practice).
const spacerOut = 0.1

func newStepsFacts(r build.Result) *stepsFacts {
	rail := r.Set.Rail
	if rail == nil {
		return nil
	}
	f := &stepsFacts{Splices: pieceOf(r, fixture.SpliceName+"-1"), Strip: num(rail.Width - rail.Strip), Step: num(r.Set.Plan.Step.Shift().Norm()), Floor: num(r.Job.Template.Floor)}
	for _, p := range r.Parts {
		if p.Ply == sheet.Rail {
			f.Pieces = append(f.Pieces, p.Sheet.Name)
		}
	}
	for _, p := range r.Set.Panels {
		f.Stations = max(f.Stations, len(p.Positions))
		for _, q := range p.Plates {
			f.Plates, f.Loose = append(f.Plates, q.Name), f.Loose || q.Under
		}
	}
	if m := received.RailOf(r.Set); m != nil {
		f.First, f.Last, f.Between, f.Tape = m.First, m.Last, num(m.Nominal), num(budget.Tape(m.Nominal))
	}
	last := rail.Furthest()
	for _, h := range newRail(r).Holes {
		if h.SetUp == last.SetUp {
			f.LastHole = h
		}
	}
	from := rail.Zero
	if b := r.Job.Board; b != nil {
		f.Board, from = true, from.Add(b.Origin)
	}
	f.Ends = [2]xy{toXY(from), toXY(from.Add(rail.Along.Scale(rail.Length)))}
	over := rail.Over.Sides()
	f.Reaches, f.Beyond = unit.List(over), len(over) > 0
	f.Creeps = num(spacerOut * float64(max(0, f.Stations-1)))
	return f
}
