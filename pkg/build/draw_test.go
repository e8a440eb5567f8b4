package build_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"strapwork/pkg/build"
)

// TestDrawAsChecked: a drawing finds what a check finds, runs no stage again after one,
// and is the same picture with and without; whatever the picture shows is well-formed.
func TestDrawAsChecked(t *testing.T) {
	for _, name := range []string{"looped-triangle.toml", "box-ring.toml"} {
		data, err := os.ReadFile("../../testdata/jobs/" + name)
		if err != nil {
			t.Fatal(err)
		}
		g := build.NewGraph(os.ReadFile)
		checked := g.Check(name, data, nil)
		drawn := g.Draw(name, data, true, build.Options{})
		if a, b := checked.Findings.Error(), drawn.Findings.Error(); a != b {
			t.Errorf("%s: a check finds\n%s\nand a drawing\n%s", name, a, b)
		}
		alone := build.NewGraph(os.ReadFile).Draw(name, data, true, build.Options{})
		if !bytes.Equal(alone.Picture, drawn.Picture) || len(drawn.Picture) == 0 {
			t.Errorf("%s: drawn after a check it is another picture", name)
		}
		for d := xml.NewDecoder(bytes.NewReader(drawn.Picture)); ; {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
	}
}

// TestDrawWhatCannotBeChecked: numbers in the picture go by the findings' order, and
// amounts are in the job's units, also where the job can't be checked.
func TestDrawWhatCannotBeChecked(t *testing.T) {
	const text = "units = \"in\"\n[motif]\n[[motif.line]]\nname = \"a\"\nfrom = [0, 0]\nto = [4, 0]\n" +
		"[[motif.line]]\nname = \"b\"\nfrom = [4, 0]\nto = [4, 3]\n[[motif.line]]\nname = \"c\"\nfrom = [4, 0]\nto = [6, -1]\n"
	d := build.NewGraph(os.ReadFile).Draw("job.toml", []byte(text), true, build.Options{})
	if len(d.Findings) == 0 || !strings.Contains(d.Findings[0].Message, "3 ends meet at (4, 0) in") {
		t.Fatalf("found %v", d.Findings)
	}
	for _, want := range []string{">error: 3 ends meet at (4, 0) in", "<title>error 1</title>", ">a</text>", ">b</text>", ">c</text>"} {
		if !strings.Contains(string(d.Picture), want) {
			t.Errorf("the picture lacks %q", want)
		}
	}
}

// TestDrawWithoutPlanning: what stands in the way of a groove is found at its place
// without panels, as by a check.
func TestDrawWithoutPlanning(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	tight := []byte(strings.Replace(string(data), "rider = 90", "rider = 140", 1))
	g := build.NewGraph(os.ReadFile)
	drawn, checked := g.Draw("job.toml", tight, false, build.Options{}), g.Check("job.toml", tight, nil)
	if a, b := checked.Findings.Error(), drawn.Findings.Error(); a != b || drawn.Marked == 0 {
		t.Errorf("a check finds\n%s\nand a drawing, %d of it in place,\n%s", a, drawn.Marked, b)
	}
	if whole := g.Draw("job.toml", data, false, build.Options{}); whole.Findings.HasErrors() || len(whole.Set.Panels) > 0 || len(whole.Picture) == 0 {
		t.Errorf("drawn with %d panels: %v", len(whole.Set.Panels), whole.Findings)
	}
}
