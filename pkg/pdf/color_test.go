package pdf_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/paper"
)

// TestColoursAsPoppler: an area, a line and a grey, as pdftoppm paints them at a pixel a mm.
func TestColoursAsPoppler(t *testing.T) {
	square := func(x float64) geom.Contour {
		return geom.Rect(geom.Box{Min: geom.Pt(x, 10), Max: geom.Pt(x+20, 30)})
	}
	page := paper.Page{Width: 90, Height: 40, ScaleX: 1, ScaleY: 1}
	page.Areas = []paper.Area{
		{Loops: []geom.Contour{square(0)}, Color: "#c08040"},
		{Loops: []geom.Contour{square(30)}, Gray: 0.2},
	}
	page.Strokes = []paper.Stroke{{Contour: geom.Chain(false, geom.Line(geom.Pt(60, 20), geom.Pt(80, 20))), Pen: paper.Pen{Width: 10, Color: "#204060"}}}
	path := written(t, paper.Document{Title: "colours", Pages: []paper.Page{page}})
	base := filepath.Join(t.TempDir(), "page")
	if _, err := witness.Run(witness.Program(t, "pdftoppm", "poppler-utils"), "-r", "25.4", "-singlefile", path, base); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(base + ".ppm")
	if err != nil {
		t.Fatal(err)
	}
	var wide, high int
	if _, err := fmt.Sscanf(string(data), "P6\n%d %d\n255\n", &wide, &high); err != nil {
		t.Fatal(err)
	}
	pixels := data[len(data)-3*wide*high:]
	for x, want := range map[int][]byte{10: {0xc0, 0x80, 0x40}, 40: {51, 51, 51}, 70: {0x20, 0x40, 0x60}, 85: {255, 255, 255}} {
		at := 3 * (high/2*wide + x)
		if got := pixels[at : at+3]; !bytes.Equal(got, want) {
			t.Errorf("at %d mm: %v, want %v", x, got, want)
		}
	}
}
