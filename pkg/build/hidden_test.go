package build

import (
	"os"
	"testing"

	"strapwork/pkg/geom"
)

// Rings whose neighbours reach over one of their crossings on all joints but the last: it is
// the other way round there, and no split lies under it; others do.
func TestSplitsStayHiddenAtAllStations(t *testing.T) {
	r := Check("rings.toml", []byte(`
title = "Linked rings"
units = "mm"
[[motif.circle]]
center = [-160, 0]
radius = 150
[[motif.circle]]
center = [120, 20]
radius = 150
[[motif.circle]]
center = [200, 80]
radius = 90
[inlay]
depth = 3
strips = [{ material = "maple", thickness = 3.2 }]
[router]
guide = "bushing"
rider = 16
bit = 2.4
flute = 16
base = 150
[table]
width = 900
thickness = 22
[[table.section]]
name = "left"
length = 600
[[table.section]]
name = "leaf"
length = 420
count = 2
loose = true
[[table.section]]
name = "right"
length = 600
`), os.ReadFile, nil)
	if r.Findings.HasErrors() || len(r.Set.Cuts()) == 0 {
		t.Fatal(r.Findings)
	}
	var other geom.Point
	shown := 0
	for _, c := range r.Weave.Crossings {
		if c.Visits[0].Shown {
			other = c.At
			shown++
		}
	}
	if shown != 1 {
		t.Fatalf("%d crossings are the other way round at another station", shown)
	}
	hidden := 0
	for _, c := range r.Set.Cuts() {
		if c.To.Hidden {
			hidden++
			if c.To.At.Near(other, 1) {
				t.Errorf("%s ends under the crossing at %v, which is the other way round at another station", c.Name, other)
			}
		}
	}
	if hidden == 0 {
		t.Error("no split is hidden")
	}
}
