package build

import (
	"bytes"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/aids"
	"strapwork/pkg/diag"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// swung builds the box lid's rings.
func swung(t *testing.T, o Options, swaps ...string) Result {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/box-ring.toml")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer(swaps...).Replace(string(data))
	r := Kept(text).Build("ring.toml", []byte(text), o)
	if r.Reached != Proved || !r.OK() {
		t.Fatalf("reached %v with\n%v", r.Reached, r.Findings)
	}
	return r
}

func fileAt(t *testing.T, r Result, path string) []byte {
	t.Helper()
	i := slices.IndexFunc(r.Files, func(f File) bool { return f.Path == path })
	if i < 0 {
		t.Fatalf("there is no %s", path)
	}
	return r.Files[i].Data
}

// The holes in the bar's file are R - k and R + k from the bit's, for R 54 and
// 62 and k = (2.46 - 1.6) / 2 = 0.43 (derived), to the file's nine decimals; in
// both versions, in inches too, and whatever the kerf.
func TestPivotBarReadBack(t *testing.T) {
	want := []float64{53.57, 54.43, 61.57, 62.43}
	for name, c := range map[string]struct {
		o     Options
		swaps []string
		tol   float64
	}{
		"r2000":        {},
		"r12":          {o: Options{Version: dxf.R12}},
		"compensated":  {swaps: []string{`kerf_by = "shop"`, `kerf_by = "me"` + "\nkerf = 0.2"}},
		"inches":       {swaps: []string{"laser-600x400", "router-48x32in"}, tol: 25.4e-9},
		"wide machine": {swaps: []string{"laser-600x400", "laser-1300x900"}},
	} {
		t.Run(name, func(t *testing.T) {
			r := swung(t, c.o, c.swaps...)
			layout := layout(r.Shop, c.o)
			holes, err := pins(fileAt(t, r, "templates/pivot-bar.dxf"), layout)
			if err != nil || len(holes) != 5 {
				t.Fatalf("%d holes, %v", len(holes), err)
			}
			bit := slices.MinFunc(holes, func(a, b sheet.Hole) int { return int(1e6 * (a.Center.Norm() - b.Center.Norm())) })
			var got []float64
			for _, h := range holes {
				size := aids.PivotPin
				if h == bit {
					size = 1.6
				} else {
					got = append(got, h.Center.Dist(bit.Center))
				}
				if math.Abs(2*h.Radius+r.Kerf()-size) > 1e-7 {
					t.Errorf("a hole of %g mm, want %g", 2*h.Radius+r.Kerf(), size)
				}
			}
			slices.Sort(got)
			for i := range want {
				if math.Abs(got[i]-want[i]) > max(c.tol, 1e-9) {
					t.Errorf("a hole at %.12g mm, want %g", got[i], want[i])
				}
			}
			if r.Proof.OvercutMax > 1e-6 || r.Proof.UncutMax > 1e-6 {
				t.Errorf("overcut %g, uncut %g", r.Proof.OvercutMax, r.Proof.UncutMax)
			}
		})
	}
}

// A bar whose file was changed by 0.01 mm after it was drawn is refused.
func TestPivotBarSpoilt(t *testing.T) {
	r := swung(t, Options{})
	layout := layout(r.Shop, Options{})
	part := r.Pivot.Part(AidsParams(r.Job), 0)
	part.Sheet.Holes = slices.Clone(part.Sheet.Holes)
	outer := &part.Sheet.Holes[4]
	outer.Center = geom.Polar(outer.Center.Norm()+0.01, outer.Center.Angle())
	var b bytes.Buffer
	if err := dxf.Write(&b, part.Sheet, layout); err != nil {
		t.Fatal(err)
	}
	holes, err := pins(b.Bytes(), layout)
	if err != nil {
		t.Fatal(err)
	}
	r.Proof = aids.ProvePivot(r.Groove, r.Pivot, holes, 0)
	if math.Abs(r.Proof.OvercutMax-0.01) > 1e-6 {
		t.Errorf("overcut %g, want 0.01", r.Proof.OvercutMax)
	}
	w := resume(r, Options{}).writer(r)
	if w.judge(); w.OK() {
		t.Error("the job passes")
	}
}

// No panel is made for a bar, and what a bar has no use for isn't either.
func TestPivotFiles(t *testing.T) {
	r := swung(t, Options{})
	var got []string
	for _, f := range r.Files {
		if strings.HasPrefix(f.Path, "templates/") && f.Role != sheet.Form.String() && f.Role != sheet.Holder.String() {
			got = append(got, f.Path+" "+f.Role)
		}
	}
	want := []string{"templates/pivot-bar.dxf pivot", "templates/pivot-bar.svg pivot"}
	if !slices.Equal(got, want) {
		t.Errorf("drawings %v, want %v", got, want)
	}
	bars := slices.DeleteFunc(slices.Clone(r.Parts), func(p sheet.Part) bool { return p.Ply == sheet.Form || p.Ply == sheet.Holder })
	if len(r.Set.Panels) != 0 || len(r.Cuts) != 0 || len(bars) != 1 || bars[0].Thickness != 6 {
		t.Errorf("%d panels, %d cuts, parts %+v", len(r.Set.Panels), len(r.Cuts), r.Parts)
	}
}

// A bar that is too long for the machine's bed is reported before anything is
// drawn; its radii decide.
func TestPivotBarTooLong(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/box-ring.toml")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer("radius = 62", "radius = 700", "size = [150, 150]", "size = [1500, 1500]", "origin = [75, 75]", "origin = [750, 750]").Replace(string(data))
	r := Check("ring.toml", []byte(text), os.ReadFile, nil)
	if r.Findings.Count(diag.Error) != 1 || !slices.ContainsFunc(r.Findings, func(f diag.Finding) bool { return f.Rule == "bed-small" }) {
		t.Errorf("found %v, want a bed that is too small", r.Findings)
	}
}

// Aids come in the shop's drawings like any part, and are the last parts but for forms.
func TestAidsAreWritten(t *testing.T) {
	r := built(t, Options{})
	aids := 0
	for _, f := range r.Files {
		if f.Role == "aid" && (f.Kind == DXF || f.Kind == SVG) {
			aids++
			if !strings.HasPrefix(f.Path, "templates/aid-") || f.Panel != "" {
				t.Errorf("an aid at %s of panel %q", f.Path, f.Panel)
			}
		}
	}
	if aids != 6 {
		t.Errorf("%d files of aids, want the disc's, the gauge's and the sub-base's", aids)
	}
	parts := slices.DeleteFunc(slices.Clone(r.Parts), func(p sheet.Part) bool { return p.Ply == sheet.Form || p.Ply == sheet.Holder })
	if last := parts[len(parts)-1]; last.Ply != sheet.Aid {
		t.Errorf("the last part is a %v", last.Ply)
	}
	// The disc that was read back has the rider's size: 90 mm, and half a kerf
	// of 0.18 mm all round.
	d, err := dxf.Read(bytes.NewReader(fileAt(t, r, "templates/aid-tracing-disc.dxf")))
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(d.Lines, func(l dxf.Line) bool { return l.Layer == "EDGE" })
	if i < 0 {
		t.Fatal("the disc has no edge")
	}
	size := geom.Scaling(d.Units.MM()).Contour(d.Lines[i].Contour).Bounds().Size()
	if math.Abs(size.X-90.18) > 1e-7 || math.Abs(size.Y-90.18) > 1e-7 {
		t.Errorf("the disc is %v", size)
	}
}
