package dxf_test

import (
	"bytes"
	"testing"

	"strapwork/pkg/dxf"
)

// TestDefaultColours: what is cut inside a part is red, its edge magenta, and
// nothing that is cut is green, cyan or blue (3 to 5 of DXF's colour numbers),
// which many shops engrave (common practice).
func TestDefaultColours(t *testing.T) {
	for _, version := range []dxf.Version{dxf.R2000, dxf.R12} {
		d, err := dxf.Read(bytes.NewReader(write(t, part(), dxf.Options{Version: version})))
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]int{}
		for _, l := range d.Layers {
			got[l.Name] = max(l.Color, -l.Color) // one that is switched off is negative
		}
		for name, want := range map[string]int{"OPENING": 1, "PIN": 1, "EDGE": 6} {
			if got[name] != want {
				t.Errorf("%v: %s has the colour %d, want %d", version, name, got[name], want)
			}
		}
		for _, name := range []string{"MARK", "NOTE"} {
			if c := got[name]; c == 0 || c == 1 || c == 6 {
				t.Errorf("%v: %s has the colour %d, as what is cut", version, name, c)
			}
		}
	}
}
