package report

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/shop"
	"strapwork/pkg/template"
)

// A sheet speaks of a frame and wedges, or else of battens, and of a key only
// where there is one.
func TestFrameOrBattens(t *testing.T) {
	framed := build(t, bars)
	bare := build(t, bars+"[template]\nframe = 0\n")
	for name, r := range map[string]shop.Result{"framed": framed, "bare": bare} {
		text := flat(string(Setup(r)))
		has := r.Set.Frame != nil
		if has != (name == "framed") {
			t.Fatalf("%s: a frame: %v", name, has)
		}
		for _, w := range []string{"Lay the frame on the work", "tap the wedges home", "Loosen the wedges", "all in one frame", "stays lying on the key"} {
			if strings.Contains(text, w) != has {
				t.Errorf("%s: %q is said: %v", name, w, !has)
			}
		}
		for _, w := range []string{"battens", "Unclamp and lift"} {
			if strings.Contains(text, w) == has {
				t.Errorf("%s: %q is said: %v", name, w, has)
			}
		}
	}
	framed.Set.Frame = &template.LocatingFrame{Inside: framed.Set.Frame.Inside, Wedged: framed.Set.Frame.Wedged, Reference: framed.Set.Frame.Reference}
	if s := flat(string(Setup(framed))); strings.Contains(s, "stays lying on the key") || strings.Contains(s, "Push the key") {
		t.Error("a key is spoken of that there isn't")
	}
}

// The eight directions, as on a compass card.
func TestSideWord(t *testing.T) {
	for i, want := range []string{"right", "upper right", "upper", "upper left", "left", "lower left", "lower", "lower right"} {
		for _, off := range []float64{-20, 0, 20} {
			if got := sideWord(geom.Polar(3, (float64(45*i)+off)*math.Pi/180)); got != want {
				t.Errorf("%d degrees and %v are %s, want %s", 45*i, off, got, want)
			}
		}
	}
}

// A rectangle is pressed into its lower left corner.
func TestManifestFrame(t *testing.T) {
	for name, r := range examples(t) {
		if r.Set.Frame == nil {
			continue
		}
		f := newFrame(r)
		if f.Bars < 1 || len(f.Files) < 2*f.Bars {
			t.Errorf("%s: %d bars in files %v", name, f.Bars, f.Files)
		}
		for key, path := range f.Files {
			if !slices.ContainsFunc(r.Files, func(o shop.File) bool { return o.Path == path && o.Role == template.Frame.String() }) {
				t.Errorf("%s: the frame's %s is %s, which isn't there", name, key, path)
			}
		}
		if f.Bars == 1 && f.Files["dxf"] != "templates/frame.dxf" {
			t.Errorf("%s: the frame's files are %v", name, f.Files)
		}
		if len(f.Axes) != 4 || float64(f.Gap) < 2*r.Job.Template.Play {
			t.Errorf("%s: %+v", name, f)
		}
		if r.Set.Frame.Inside.Len() == 4 && (!slices.Contains(f.Reference, "left") || !slices.Contains(f.Reference, "lower") ||
			!slices.Contains(f.Wedged, "right") || !slices.Contains(f.Wedged, "upper")) {
			t.Errorf("%s: against %v, wedges at %v", name, f.Reference, f.Wedged)
		}
	}
	var c struct{ Frame any }
	data, err := Manifest(build(t, bars+"[template]\nframe = 0\n"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &c); err != nil || c.Frame != nil {
		t.Errorf("%v, %v", c.Frame, err)
	}
}

// Every panel's files are its own, one for each layer and kind, and each half's.
func TestManifestPanelFiles(t *testing.T) {
	for name, r := range examples(t) {
		for _, p := range newPanels(r) {
			want := 0
			for _, f := range r.Files {
				if f.Panel == p.ID {
					want++
				}
			}
			if len(p.Files) != want || want == 0 {
				t.Errorf("%s: panel %s has %d files of %d: %v", name, p.ID, len(p.Files), want, p.Files)
			}
		}
	}
	r := build(t, bars)
	r.Parts = slices.Clone(r.Parts)
	half := r.Parts[0]
	half.Sheet.Name = "A-wall-2"
	r.Parts = append(r.Parts, half)
	r.Files = append(slices.Clone(r.Files), shop.File{Path: "templates/" + half.Sheet.Name + ".dxf", Kind: shop.DXF, Role: "wall", Panel: "A"})
	if got := partFiles(r, "A")["wall_2_dxf"]; got != "templates/A-wall-2.dxf" {
		t.Errorf("the second half's file is %q", got)
	}
}

// Each aid that is made is spoken of where it is used, and no other.
func TestAidsAreUsed(t *testing.T) {
	words := map[string]string{
		template.TracingDisc: "First the whole set in scrap", template.SubBase: "Tools and measures", template.DepthGauge: "How every cut is made",
	}
	for name, r := range examples(t) {
		all := sections(t, string(Setup(r)))
		for aid, section := range words {
			made := slices.ContainsFunc(r.Parts, func(p template.Part) bool { return p.Sheet.Name == aid })
			if strings.Contains(all[section], aid) != made {
				t.Errorf("%s: %s is made: %v, and used: %v", name, aid, made, !made)
			}
		}
		for _, p := range r.Parts {
			if strings.HasPrefix(p.Sheet.Name, template.ChiselGuide) && !strings.Contains(all["Corners and ends for the chisel"], "| "+p.Sheet.Name+" ") {
				t.Errorf("%s: %s has no use", name, p.Sheet.Name)
			}
		}
	}
}

// The sizes told are those of the finished parts: with a kerf of 0.01 in that is
// allowed for, a drawing is larger by as much.
func TestFinishedSizes(t *testing.T) {
	r := build(t, inches)
	b := &bench{words: words{r.Job.Units}, r: r, j: r.Job}
	for _, p := range r.Parts {
		if p.Layer != template.Wall {
			continue
		}
		want := r.Set.Shape.Polygon().Bounds().Size()
		if got := b.finished(p); !got.Near(want, 1e-6) {
			t.Errorf("%s is %v, want %v", p.Sheet.Name, got, want)
		}
	}
}
