package report

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/aids"
	"strapwork/pkg/build"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// A sheet speaks of a frame and wedges, or else of battens, and of a key only
// where there is one.
func TestFrameOrBattens(t *testing.T) {
	framed := whole(t, bars)
	bare := drawn(t, bars+"[template]\nframe = 0\n")
	for name, r := range map[string]reporting{"framed": framed, "bare": bare} {
		text := flat(r.sheet)
		has := r.Set.Frame != nil
		if has != (name == "framed") {
			t.Fatalf("%s: a frame: %v", name, has)
		}
		for _, w := range []string{"Lay the frame on the work", "the wedges home", "loosen the wedges", "one frame", "rocks on the key"} {
			if strings.Contains(text, w) != has {
				t.Errorf("%s: %q is said: %v", name, w, !has)
			}
		}
		for _, w := range []string{"battens", "unclamp and **lift**"} {
			if strings.Contains(text, w) == has {
				t.Errorf("%s: %q is said: %v", name, w, has)
			}
		}
	}
	keyless := framed.Result
	keyless.Set.Frame = &fixture.Frame{Inside: framed.Set.Frame.Inside, Wedged: framed.Set.Frame.Wedged, Reference: framed.Set.Frame.Reference}
	if s := flat(reported(t, keyless).sheet); strings.Contains(s, "rocks on the key") || strings.Contains(s, "Push the key") {
		t.Error("a key is spoken of that there isn't")
	}
}

// What lies under a frame is said before the frame is laid, with the axes between,
// and only where the board doesn't.
func TestFrameBesideTheBoard(t *testing.T) {
	order := []string{"Draw the two axes", "stock as thick as the board|packing as thick as the board", "Carry the axes on over the packing", "Lay the frame on the work", "Fix it firmly", "Push the key", "Lay the wedges ready"}
	for _, c := range []struct {
		name, board string
		packed      bool
		words       []string
	}{
		{"on", "[board]\nsize = [900, 900]\nthickness = 20\n", false, []string{"all of them are over the board"}},
		{"over", "[board]\nsize = [600, 310]\nthickness = 20\n", true, []string{"Where the frame overhangs the board (", "into the packing (", "are over the board ("}},
		{"round", "[board]\nsize = [400, 300]\nthickness = 20\n", true, []string{"The frame lies round the board, not on it", "all of them into the packing"}},
	} {
		r := drawn(t, bars[:strings.Index(bars, "[board]")]+c.board)
		if got := r.Set.Frame.Support.String(); got != c.name {
			t.Fatalf("the frame lies %s the board, want %s: its opening is %v", got, c.name, r.Set.Frame.Inside.Polygon().Bounds())
		}
		text := flat(sections(t, r.sheet)["Lay out the work"])
		at := -1
		for _, step := range order {
			found := -1
			for _, s := range strings.Split(step, "|") {
				found = max(found, strings.Index(text, s))
			}
			if between := strings.Contains(step, "stock") || strings.Contains(step, "Carry"); between && !c.packed {
				if found >= 0 {
					t.Errorf("%s: %q is said", c.name, step)
				}
				continue
			}
			if found <= at {
				t.Errorf("%s: %q is not said, or not in its turn:\n%s", c.name, step, text)
			}
			at = found
		}
		for _, w := range c.words {
			if !strings.Contains(text, w) {
				t.Errorf("%s: %q is not said:\n%s", c.name, w, text)
			}
		}
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
		f := r.facts.Frame
		if f.Bars < 1 || len(f.Files) < 2*f.Bars {
			t.Errorf("%s: %d bars in files %v", name, f.Bars, f.Files)
		}
		for key, path := range f.Files {
			if !slices.ContainsFunc(r.Files, func(o build.File) bool { return o.Path == path && o.Role == sheet.Frame.String() }) {
				t.Errorf("%s: the frame's %s is %s, which isn't there", name, key, path)
			}
		}
		if f.Bars == 1 && f.Files["dxf"] != "templates/frame.dxf" {
			t.Errorf("%s: the frame's files are %v", name, f.Files)
		}
		if len(f.ScrewsIn) != len(f.Screws) || len(f.Screws) < 2*r.Set.Frame.Inside.Len() || len(f.Wedges) < len(f.Wedged) || (f.Lies == "unknown") != (r.Job.Board == nil) {
			t.Errorf("%s: %+v", name, f)
		}
		for i, in := range f.ScrewsIn {
			x, y := float64(f.Screws[i][0]), float64(f.Screws[i][1])
			b := r.Job.Board
			want := "unknown"
			if b != nil {
				want = "packing"
				if x += b.Origin.X; x > 0 && x < b.Size.X {
					if y += b.Origin.Y; y > 0 && y < b.Size.Y {
						want = "board"
					}
				}
			}
			if in != want {
				t.Errorf("%s: the screw at (%g, %g) is in the %s, said to be in the %s", name, x, y, want, in)
			}
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
	if err := json.Unmarshal(drawn(t, bars+"[template]\nframe = 0\n").manifest, &c); err != nil || c.Frame != nil {
		t.Errorf("%v, %v", c.Frame, err)
	}
}

// Every panel's files are its own, one for each layer and kind, and each half's;
// the patterns are of each layer that has pages there.
func TestManifestPanelFiles(t *testing.T) {
	for name, r := range examples(t) {
		for _, p := range r.facts.Panels {
			want := 0
			for _, f := range r.Files {
				if f.Panel == p.ID {
					want++
				}
				for _, part := range r.Parts {
					if part.Panel == p.ID && f.Path == build.PatternsPath && f.Pages[part.Sheet.Name] != nil {
						want++
					}
				}
			}
			if len(p.Files) != want || want == 0 {
				t.Errorf("%s: panel %s has %d files of %d: %v", name, p.ID, len(p.Files), want, p.Files)
			}
		}
	}
	r := whole(t, bars).Result
	r.Parts = slices.Clone(r.Parts)
	half := r.Parts[0]
	half.Sheet.Name = "A-wall-2"
	r.Parts = append(r.Parts, half)
	r.Files = append(slices.Clone(r.Files), build.File{Path: "templates/" + half.Sheet.Name + ".dxf", Kind: build.DXF, Role: "wall", Panel: "A"})
	if got := partFiles(r, "A")["wall_2_dxf"]; got != "templates/A-wall-2.dxf" {
		t.Errorf("the second half's file is %q", got)
	}
}

// Each aid that is made is spoken of where it is used, and no other.
func TestAidsAreUsed(t *testing.T) {
	words := map[string]string{
		aids.TracingDisc: "Trial in scrap", aids.SubBase: "Measure", aids.DepthGauge: "How every cut is made",
	}
	for name, r := range examples(t) {
		all := sections(t, r.sheet)
		for aid, section := range words {
			made := slices.ContainsFunc(r.Parts, func(p sheet.Part) bool { return p.Sheet.Name == aid })
			if strings.Contains(all[section], aid) != made {
				t.Errorf("%s: %s is made: %v, and used: %v", name, aid, made, !made)
			}
		}
		for _, p := range r.Parts {
			if strings.HasPrefix(p.Sheet.Name, aids.ChiselGuide) && !strings.Contains(all["Chisel and joins"], p.Sheet.Name) {
				t.Errorf("%s: %s has no use", name, p.Sheet.Name)
			}
		}
	}
}

// The sizes given are those of the finished parts: with a kerf of 0.25 in that is
// allowed for, a drawing is larger by as much.
func TestFinishedSizes(t *testing.T) {
	r := whole(t, inches)
	for _, p := range r.Parts {
		if p.Ply != sheet.Wall {
			continue
		}
		want := r.Set.Shape.Polygon().Bounds().Size()
		if got := finished(r.Result, p); !got.Near(want, 1e-6) {
			t.Errorf("%s is %v, want %v", p.Sheet.Name, got, want)
		}
	}
}
