package report

import (
	"math"
	"os"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// jointSayings are facts of joints in all the ways that the chapter tells.
func jointSayings() (list []saying) {
	say := func(j jointsFacts, b *jointBudget) {
		f := facts{Places: placesFacts{Joints: &j}}
		f.Budget.Joints = b
		list = append(list, saying{"stations-joints", &f}, saying{"budget", &f})
	}
	packing := []packFacts{{1, "left", "right", "29 mm at the front"}, {2, "leaf", "", ""}}
	say(jointsFacts{Groove: "apart", Hand: true, Marked: true, Stops: true, Half: 480, Long: 830, Packing: packing, Packed: true, Round: true, OnJoints: true}, &jointBudget{Apart: true, Play: 0.1})
	say(jointsFacts{Groove: "apart", Hand: true, Aligned: true, ByStation: true}, nil)
	say(jointsFacts{Groove: "apart"}, nil)
	say(jointsFacts{
		Groove: "gap", Gap: 3, Hand: true, Packed: true, Packing: packing,
		Loss:  &lossFacts{By: 3, Any: true, Shift: 1, Toward: "back", Left: 2, Rows: []lossRow{{By: 5, Toward: "back"}, {Safe: true}, {Gone: true}}},
		Moves: &moveFacts{Any: true, Held: 450, Rows: []moveRow{{By: 1}}},
	}, &jointBudget{})
	say(jointsFacts{
		Groove: "closed", Aligned: true, Hand: true, ByStation: true,
		CutsOver: []cutOverFacts{{Through: true, Pieces: []int{3}}, {Through: true}, {}},
		Loss:     &lossFacts{By: 3, Any: true, Shift: 1, Toward: "front", AllFixed: true}, Moves: &moveFacts{},
	}, &jointBudget{Together: 0.1})
	say(jointsFacts{Groove: "closed", Loss: &lossFacts{By: 3, Any: true}}, nil)
	say(jointsFacts{Groove: "closed", Loss: &lossFacts{By: 3}, Moves: &moveFacts{Any: true}}, nil)
	return list
}

// onTable is a job of testdata that is laid on the joints of a table with two leaves.
func onTable(t *testing.T, name, more string) build.Result {
	t.Helper()
	text, err := os.ReadFile("../../testdata/jobs/" + name)
	if err != nil {
		t.Fatal(err)
	}
	r := build.Build(name, []byte(string(text)+"\n[table]\n"+more), os.ReadFile, build.Options{Only: build.Templates})
	if !r.OK() {
		t.Fatal(r.Findings)
	}
	return r
}

// The looped triangle on the joints of a table of 760 mm, 450 mm long sections, inlaid station
// by station: its loops of 66 mm, whose middles lie 106 mm times the root of 3 to either side of
// a joint, reach past the middle of a leaf, so that neighbours cross there.
func TestAtJoints(t *testing.T) {
	r := onTable(t, "looped-triangle.toml", `width = 760
thickness = 22
grain = 90
joint_crossings = true
groove = "gap"
gap = 3
inlay = "by station"
play = 0.2
[[table.section]]
name = "left"
length = 450
[[table.section]]
name = "leaf"
length = 450
count = 2
loose = true
[[table.section]]
name = "right"
length = 450
end = "round"
`)
	f := newJointsFacts(r)
	if len(f.Packing) != 3 || !f.Packed || !f.Round || f.Stops || !f.Marked {
		t.Errorf("%+v", f)
	}
	// The frame's box, which is read from the set, less the table's half width of 380 mm.
	box := r.Set.Frame.Outside.Polygon().Bounds()
	front, back := math.Ceil(-box.Min.Y-380), math.Ceil(box.Max.Y-380)
	left, right := math.Ceil(-box.Min.X-450), math.Ceil(box.Max.X-450)
	want := unit.Len(left).String() + " at the left, " + unit.Len(right).String() + " at the right, " + unit.Len(front).String() + " at the front, " + unit.Len(back).String() + " at the back"
	if f.Packing[0].Beyond != want || f.Packing[0].Sections != "left and leaf" {
		t.Errorf("packing %+v, want %q", f.Packing[0], want)
	}
	// Its level side is safe; the slanting ones, at 60 degrees, are out by 3 sqrt 3.
	out := map[string]num{}
	for _, row := range f.Loss.Rows {
		if out[row.Strand] = row.By; row.Safe != (row.Strand == "side.1") {
			t.Errorf("%+v", row)
		}
	}
	if math.Abs(float64(out["side.2"])-3*math.Sqrt(3)) > 1e-9 || math.Abs(float64(out["side.3"])-3*math.Sqrt(3)) > 1e-9 || out["side.1"] > 1e-9 {
		t.Errorf("%v", out)
	}
	// Loops of neighbours, 450 mm apart: those that reach beyond the middle of a leaf, 225 mm
	// from either joint, cross. Each pair of crossings is once trimmed and once cut again.
	through := map[bool]int{}
	for _, c := range f.CutsOver {
		through[c.Through]++
		if c.Laid != c.Station-1 || c.Through != (len(c.Pieces) > 0) {
			t.Errorf("%+v", c)
		}
		// What is cut again lies there: strip for strip, in the section that it is laid in.
		if c.Through && len(c.Pieces) != len(r.Job.Inlay.Strips) {
			t.Errorf("%d pieces lie at %v", len(c.Pieces), c.At)
		}
		for _, n := range c.Pieces {
			section := c.Laid // the leaf between the two stations
			at := geom.Pt(float64(c.At[0]), float64(c.At[1])).Sub(geom.Pt(r.Table.Sections[section].X, 0)).Add(r.LaidAt(section))
			if d := r.List.Pieces[n-1].Area.Dist(at); d > r.Groove.Size.Width/2 {
				t.Errorf("piece %d is %v mm off %v", n, d, c.At)
			}
		}
	}
	reach := 106*math.Sqrt(3) + 66
	if crossed := reach > 225; crossed != (len(f.CutsOver) > 0) || through[true] == 0 || through[true] != through[false] {
		t.Errorf("%v, reach %v: %+v", through, reach, f.CutsOver)
	}
	all := newFacts(r)
	if b := all.Budget.Joints; b == nil || math.Abs(float64(b.Together)-0.2) > 1e-9 || math.Abs(float64(b.Others*b.Others)-float64(2*b.Station*b.Station)-0.04) > 1e-9 {
		t.Errorf("%+v", all.Budget.Joints)
	}
	text, err := printed(unit.MM, "stations-joints", all)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []string{"A lipping 3 mm thick", "| side.2 |", "pass over strips", "flush by a straightedge"} {
		if !strings.Contains(text, s) {
			t.Errorf("%q is missing in\n%s", s, text)
		}
	}
}
