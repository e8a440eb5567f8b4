package report

import (
	"math"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/joint"
	"strapwork/pkg/season"
	"strapwork/pkg/table"
	"strapwork/pkg/unit"
)

// jointsFacts is how sections are held at their joints while they are grooved, and what that
// costs.
type jointsFacts struct {
	Groove    string // "closed", "apart", "gap"
	Gap, Saw  num
	Thickness num
	OnJoints  bool // the motif's origin lies on them
	Aligned   bool // the sections have pins or a tongue
	Hand      bool // there are panels
	Marked    bool // that bear the joint's line, and
	Stops     bool // where a track against scrap may stop
	Half      num  // how far the frame reaches from the joint: the width of scrap against an edge
	Long      num  // and how long it is along the joint
	Packing   []packFacts
	Packed    bool // packing is needed at a station
	Round     bool // a section at a station has a half-round end
	ByStation bool
	CutsOver  []cutOverFacts
	Loss      *lossFacts // nil where nothing is lost
	Moves     *moveFacts // nil where nothing moves
}

// packFacts is what lies under the frame at a station beside the sections.
type packFacts struct {
	Station  int
	Sections string
	Scrap    string // the side of the joint on which scrap takes the other section's place
	Beyond   string // how far packing reaches on which sides; empty for none
}

// cutOverFacts is a cut over strips that are laid already.
type cutOverFacts struct {
	Station, SetUp, Number int
	Cut, Section           string
	At                     xy
	Laid                   int
	Through                bool
	Pieces                 []int
}

// lossFacts is what is lost at the joints.
type lossFacts struct {
	By       num
	Rows     []lossRow
	Seen     num
	Any      bool // something can be seen
	Shift    num
	Toward   string // the back or the front
	AllFixed bool
	Left     num
}

type lossRow struct {
	Strand string
	Y, By  num
	Toward string
	Safe   bool
	Gone   bool
}

// moveFacts is how sections move at a joint.
type moveFacts struct {
	Moisture [2]num
	Whole    num // what the table's whole width gains
	Held     num // from the front
	Limit    num
	Any      bool
	Rows     []moveRow
}

type moveRow struct {
	Strand string
	Y, By  num
	Over   bool
}

// newJoints is nil where the work doesn't come apart.
func newJointsFacts(r build.Result) *jointsFacts {
	if r.Table == nil || r.Joints == nil {
		return nil
	}
	t := r.Table.Table
	marked := build.MarksParams(r.Job, "").Joint
	f := &jointsFacts{
		Groove: t.Groove.String(), Gap: num(t.Gap), Saw: num(t.Saw), Thickness: num(t.Thickness),
		OnJoints: len(t.Stations) == 0, Aligned: len(t.Dowels) > 0 || t.Tongue != nil,
		Hand: len(r.Set.Panels) > 0, Marked: marked.On, Stops: marked.Stops, ByStation: t.ByStation,
		Loss: newJointLoss(r.Joints.Loss), Moves: newJointMoves(r),
		CutsOver: each(r.CutsOver(), func(c build.CutOver) cutOverFacts {
			return cutOverFacts{c.Station, c.Way.SetUp, c.Way.Number, c.Way.Name, c.Section, toXY(c.At), c.Laid, c.Through, c.Pieces}
		}),
	}
	if frame := r.Set.Frame; frame != nil {
		box := frame.Outside.Polygon().Bounds()
		step := 10.0 // mm: how finely scrap is sawn; in inches half of one
		if r.Job.Units == unit.Inch {
			step = unit.MMPerInch / 2
		}
		up := func(mm float64) num { return num(math.Ceil(mm/step) * step) }
		f.Half, f.Long = up(math.Max(-box.Min.X, box.Max.X)), up(box.Size().Y)
		for _, s := range r.Table.Stations {
			f.addPacking(r, frame, s)
		}
	}
	return f
}

// addPacking adds what a station's frame overhangs.
func (f *jointsFacts) addPacking(r build.Result, frame *fixture.Frame, s table.Station) {
	p := packFacts{Station: s.Number, Sections: strings.Join(each(s.Sections, func(n int) string { return r.Table.KindOf(n).Name }), " and ")}
	over := frame.Over(r.UnderFrame(s))
	if s.Edge {
		p.Scrap = s.Side.String()
		p.Sections = "the " + p.Scrap + " edge of " + p.Sections
	}
	for _, n := range s.Sections {
		round := r.Table.KindOf(n).Round
		f.Round = f.Round || round[0] || round[1]
	}
	var list []string
	for _, side := range []struct {
		by   float64
		name string
	}{{over.Left, "left"}, {over.Right, "right"}, {over.Below, "front"}, {over.Above, "back"}} {
		if side.by > geom.Coincident {
			list = append(list, unit.Len(math.Ceil(side.by)).Rough().In(r.Job.Units)+" at the "+side.name)
		}
	}
	p.Beyond = strings.Join(list, ", ")
	f.Packing, f.Packed = append(f.Packing, p), f.Packed || p.Beyond != ""
}

func towardWord(v float64) string {
	if v < 0 {
		return "front"
	}
	return "back"
}

func newJointLoss(l joint.Loss) *lossFacts {
	if len(l.Offs) == 0 {
		return nil
	}
	return &lossFacts{
		By: num(l.By), Seen: joint.Seen, Any: l.Any(), Shift: num(math.Abs(l.Shift)), Toward: towardWord(l.Shift), AllFixed: l.Fixed == len(l.Offs), Left: num(l.Left),
		Rows: each(l.Offs, func(o joint.Off) lossRow {
			return lossRow{o.Strand, num(o.Y), num(math.Abs(o.By)), towardWord(o.By), o.Safe(), o.Gone}
		}),
	}
}

func newJointMoves(r build.Result) *moveFacts {
	m := r.Joints.Moves
	if len(m.All) == 0 {
		return nil
	}
	return &moveFacts{
		Moisture: pair(r.Seasons.Change.Moisture), Whole: num(season.Known(m.Whole)), Held: num(m.Held), Limit: joint.MoveLimit, Any: m.Any(),
		Rows: each(m.All, func(o joint.Move) moveRow {
			return moveRow{o.Strand, num(o.Y), num(season.Known(o.By)), o.By > joint.MoveLimit}
		}),
	}
}
