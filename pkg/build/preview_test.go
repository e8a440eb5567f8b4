package build

import (
	"math"
	"os"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// TestPagePieces: the page's pieces are those of the list, by their numbers: each covers its
// place, its strand runs along it there and not across it, and as many are alike as
// the list says.
func TestPagePieces(t *testing.T) {
	const path = "../../testdata/jobs/box-lid.toml"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := Check(path, data, os.ReadFile, nil)
	page := stripsOf(r.List, r.Motif, r.Job.Units).Pieces
	if len(page) != len(r.List.Pieces) || len(page) == 0 {
		t.Fatalf("%d pieces on the page, %d in the list", len(page), len(r.List.Pieces))
	}
	kinds := map[int][]int{}
	for i, q := range page {
		kinds[q.Kind] = append(kinds[q.Kind], i+1)
		shape := region.New(q.Outline...)
		if math.Abs(shape.Area()-r.List.Pieces[i].Area.Area()) > 1e-9 || !shape.Contains(q.At) {
			t.Errorf("piece %d has an area of %g, and holds its place: %t", i+1, shape.Area(), shape.Contains(q.At))
		}
		// Half of its thickness away it is left across the strand, and not along it.
		across := func(way geom.Point) bool { return !shape.Contains(q.At.Add(way.Scale(0.6 * q.Thickness))) }
		if !across(q.Along.Left()) || !across(q.Along.Left().Scale(-1)) || across(q.Along) {
			t.Errorf("piece %d doesn't run along %v at %v", i+1, q.Along, q.At)
		}
	}
	for i, k := range r.List.Kinds() {
		if len(kinds[i]) != len(k.Numbers) || kinds[i][0] != k.Number {
			t.Errorf("alike are %v on the page, %v in the list", kinds[i], k.Numbers)
		}
	}
}
