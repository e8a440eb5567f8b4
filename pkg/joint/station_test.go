package joint

import (
	"testing"

	"strapwork/pkg/geom"
)

// A bar along x, 300 mm long, on each of two joints 200 mm apart, with one that crosses it 100
// mm to the right of its middle: it crosses the next station's bar too, which is laid over
// its place. By hand: at station 2 the level bar's cut passes over the upright one of station 1.
func TestCutsOverStrips(t *testing.T) {
	level := Way{Name: "bar", Number: 1, SetUp: 1, Line: geom.Chain(false, geom.Line(geom.Pt(-150, 0), geom.Pt(150, 0)))}
	upright := Way{Name: "post", Number: 2, SetUp: 2, Line: geom.Chain(false, geom.Line(geom.Pt(70, -50), geom.Pt(70, 50)))}
	stations := []Station{{1, geom.Pt(600, 450), []int{0, 1}}, {2, geom.Pt(800, 455), []int{1, 2}}}
	along := [2]geom.Point{geom.Pt(1, 0), geom.Pt(0, 1)}
	passes := []Pass{
		{geom.Pt(670, 450), 1, along, 0}, // of station 1 alone: both at once
		{geom.Pt(670, 455), 1, along, 1}, // the second's bar over the first's post, which runs through
		{geom.Pt(870, 455), 2, along, 0}, // of station 2 alone
	}
	got := CutsOver(stations, []Way{level, upright}, passes)
	if len(got) != 1 {
		t.Fatalf("%+v", got)
	}
	if r := got[0]; r.Station != 2 || r.Laid != 1 || r.Way.Name != "bar" || r.Pass != 1 || r.Own != 0 || !r.Through {
		t.Errorf("%+v", r)
	}
	passes[1].Over = 0
	if got := CutsOver(stations, []Way{level, upright}, passes); len(got) != 1 || got[0].Through {
		t.Errorf("strips that end there are only trimmed: %+v", got)
	}
	// Grooved at a station of another section, it doesn't come there.
	stations[1].Sections = []int{2, 3}
	if got := CutsOver(stations, []Way{level, upright}, passes); len(got) != 0 {
		t.Errorf("the section isn't there: %+v", got)
	}
}
