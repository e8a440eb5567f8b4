package heights

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/unit"
)

// Each fault in the third dimension is found, with what would cure it; the
// limits are common practice.
func TestHeights(t *testing.T) {
	const (
		bushing = "[router]\nguide = \"bushing\"\nrider = 12\nbit = 3\nflute = 14\ncollar = 7\nbase = 120\n"
		bearing = "[router]\nguide = \"bearing\"\nrider = 12\nbit = 3\nflute = 6\nshank = 6\nbase = 120\n"
		wide    = "[template]\nmargin = 80\n"
	)
	for _, c := range []struct {
		name, text, rule, hint string
		severity               diag.Severity
	}{
		{"base fits", made.Base, "", "", 0},
		{"flute too short for floor and depth, shank too wide", with(made.Base, "flute = 16", "flute = 5\nshank = 8"), "flute-short", "take flutes of at least 6 mm, or a shank of at most 6.08 mm, or a floor of at most 2 mm", diag.Error},
		{"shank passes the slot", with(made.Base, "flute = 16", "flute = 5\nshank = 6"), "", "", 0},
		{"shank just too wide for the slot", with(made.Base, "flute = 16", "flute = 5\nshank = 6.2"), "flute-short", "", diag.Error},
		{"shank not stated", with(made.Base, "flute = 16", "flute = 5"), "flute-short", "add shank", diag.Error},
		{"no floor is thin enough", with(made.Base, "flute = 16", "flute = 3.2\nshank = 8"), "flute-short", "floor = 0, so that the base stands on the work", diag.Error},
		{"no floor", with(made.Base, "flute = 16", "flute = 5\nshank = 8") + "[template]\nfloor = 0\n", "", "", 0},
		{"shank rubs in the groove", with(made.Base, "flute = 16", "flute = 2\nshank = 8") + "[template]\nfloor = 0\n", "flute-short", "flutes of at least 3 mm, or a shank of at most 5.08 mm", diag.Error},
		{"shank rubs in the groove and in the slot", with(made.Base, "flute = 16", "flute = 2\nshank = 8"), "flute-short", "flutes of at least 6 mm, or a shank of at most 5.08 mm", diag.Error},
		{"shank that fits the slot and not the groove", with(made.Base, "flute = 16", "flute = 2\nshank = 6"), "flute-short", "flutes of at least 3 mm, or a shank of at most 5.08 mm", diag.Error},
		{"flute not stated", with(made.Base, "flute = 16\n", ""), "flute-unknown", "add flute", diag.Note},
		{"flute not stated, no floor", with(made.Base, "flute = 16\n", "") + "[template]\nfloor = 0\n", "flute-unknown", "add flute", diag.Note},
		{"bushing fits", bushing + wide, "", "", 0},
		{"shank thicker than the collar, above it", with(bushing, "collar = 7", "collar = 7\nshank = 12.7") + wide, "", "", 0},
		{"shank thicker than the collar, in it", with(bushing, "flute = 14\ncollar = 7", "flute = 11\nshank = 12.7\ncollar = 7") + wide, "flute-short", "flutes of at least 12 mm, or a shank of at most 11 mm, or a collar of at least 13.7 mm", diag.Error},
		{"shank not stated, in the collar", with(bushing, "flute = 14", "flute = 11") + wide, "shank-unknown", "add shank", diag.Note},
		{"collar bottoms out", with(bushing, "collar = 7", "collar = 9") + wide, "collar-long", "at most 8.5 mm, or make the template at least 9.5 mm", diag.Error},
		{"collar just short enough", with(bushing, "collar = 7", "collar = 8.5") + wide, "", "", 0},
		{"collar has no hold", with(bushing, "collar = 7", "collar = 1") + wide, "collar-short", "at least 2 mm", diag.Error},
		{"collar as narrow as the bit", with(bushing, "rider = 12", "rider = 3") + wide, "collar-thin", "outside", diag.Error},
		{"collar with no wall", with(bushing, "rider = 12", "rider = 3.9") + wide, "collar-thin", "a rider of at least 4 mm", diag.Error},
		{"collar not stated", with(bushing, "collar = 7\n", "") + wide, "collar-unknown", "add collar", diag.Note},
		{"base tips", bushing + "[template]\nframe = 0\n", "base-tips", "margin at least 54 mm", diag.Warning},
		{"base held by the frame", bushing + "[template]\nframe = 30\n", "", "", 0},
		{"base tips over the frame", bushing + "[template]\nframe = 20\n", "base-tips", "margin at least 34 mm", diag.Warning},
		{"base held by the margin as it is drawn", bushing + "[template]\nmargin = 10\nframe = 40\n", "", "", 0},
		{"base not stated", with(bushing, "base = 120\n", "") + wide, "base-unknown", "add base", diag.Note},
		{"bearing fits", bearing + wide, "", "", 0},
		{"bearing above the wall", with(bearing, "flute = 6", "flute = 12") + wide, "bearing-high", "flutes of at most 8.37 mm, or a template of at least 12.63 mm", diag.Error},
		{"bearing above a thin wall", bearing + wide + "wall = 2\nweb = 2\n", "bearing-high", "take a template of at least 6.63 mm", diag.Error},
		{"bearing lands on the work", with(bearing, "flute = 6", "flute = 2.8") + wide, "flute-short", "at least 3 mm", diag.Error},
		{"bearing as large as its shank", with(bearing, "shank = 6", "shank = 12") + wide, "bearing-shank", "a bearing of at least 14 mm (rider), or a bit with a shank of at most 10 mm", diag.Error},
		{"bearing that nothing leaves room in", with(bearing, "rider = 12\nbit = 3\nflute = 6\nshank = 6", "bit = 3\nflute = 6\nshank = 6") + wide, "bearing-shank", "take a bearing of at least 8 mm (rider), or a bit with a shank of at most 1 mm", diag.Error},
		{"shank not stated, in the bearing", with(bearing, "shank = 6\n", "") + wide, "shank-unknown", "add shank", diag.Note},
		{"margin under the web", made.Base + "[template]\nmargin = 5\n", "margin-thin", "margin at least 8 mm", diag.Warning},
		{"board too thin", made.Base + "[board]\nsize = [600, 600]\nthickness = 5\n", "board-thin", "at most 2 mm deep, or take a board at least 6 mm thick", diag.Warning},
		{"board that is all but cut through", made.Base + "[board]\nsize = [600, 600]\nthickness = 3.2\n", "board-thin", "take a board at least 6 mm thick", diag.Warning},
		{"off the board", made.Base + "[board]\nsize = [600, 600]\nthickness = 20\norigin = [100, 300]\n", "off-board", "move board.origin", diag.Error},
		{"near the edge", made.Base + "[board]\nsize = [302, 600]\nthickness = 20\n", "near-edge", "at least 3 mm", diag.Warning},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := made.Grooved(t, made.Cross+made.Inlay+c.text)
			var reported diag.Findings
			for _, f := range Check(paramsOf(j), j.Groove) {
				if f.Rule != "board-unknown" {
					reported = append(reported, f)
				}
			}
			if c.rule == "" {
				if len(reported) > 0 {
					t.Errorf("found %v, want nothing", reported)
				}
				return
			}
			if len(reported) == 0 || reported[0].Rule != c.rule || reported[0].Severity != c.severity || !strings.Contains(reported[0].Hint, c.hint) {
				t.Errorf("found %v (%+v), want a %s %q with hint %q", reported, reported, c.severity, c.rule, c.hint)
			}
			if without := j.Router.Guide.RidesBase() && j.Template.Floor == 0; without && strings.Contains(reported[0].Error(), "floor") {
				t.Errorf("found %v, and there is no floor", reported)
			}
		})
	}
}

// Each value that a finding about heights proposes ends it, alone, in either
// unit, and is in the hint.
func TestHeightsEndWithTheirHints(t *testing.T) {
	applied := map[string]int{}
	random := rand.New(rand.NewPCG(10, 2))
	jobs, least := 2000, 10
	if testing.Short() {
		jobs, least = 500, 2
	}
	for range jobs {
		s := seededHeights(random)
		j, ok := s.read()
		if !ok {
			continue
		}
		for _, f := range Check(paramsOf(j), j.Groove).In(j.Units) {
			for _, c := range f.Cures {
				cured := s.with(string(c.Key), c.Value)
				k, ok := cured.read()
				if !ok {
					continue // it goes beyond what a job may say; the job's own reader has the next word
				}
				applied[f.Rule]++
				for _, again := range Check(paramsOf(k), k.Groove) {
					if again.Rule == f.Rule {
						t.Fatalf("%s\n%s = %s doesn't end\n%v\nhint: %s\nbut leads to\n%v", s, c.Key, c.Value, f, f.Hint, again)
					}
				}
				if v, err := unit.Eval(c.Value, unit.Env{System: j.Units}); err != nil || !strings.Contains(f.Hint, unit.Len(v*j.Units.InMM()).In(j.Units)) && !strings.Contains(f.Hint, c.Value) {
					t.Errorf("%q is not in the hint %q (%v)", c.Value, f.Hint, err)
				}
			}
		}
	}
	for _, rule := range []string{"flute-short", "collar-long", "collar-short", "collar-thin", "bearing-high", "bearing-shank", "base-tips", "margin-thin", "board-thin"} {
		if applied[rule] < least {
			t.Errorf("only %d hints of %s were applied", applied[rule], rule)
		}
	}
	t.Logf("applied: %v", applied)
}

// A job of a few keys, by table and key; their values are typed.
type keyed map[string]string

// seededHeights is a job whose heights may be wrong in any way.
func seededHeights(r *rand.Rand) keyed {
	inch := r.IntN(2) == 0
	length := func(lo, hi float64) string {
		v := lo + (hi-lo)*r.Float64()
		if inch {
			return strconv.FormatFloat(math.Round(v/25.4*64)/64, 'g', -1, 64)
		}
		return strconv.FormatFloat(v, 'f', r.IntN(4), 64)
	}
	s := keyed{
		".units": `"mm"`, "motif.circle.radius": length(60, 90), "inlay.width": length(3, 6), "inlay.depth": length(1, 8),
		"router.guide": `"` + []string{"base", "bushing", "bearing", "pivot"}[r.IntN(4)] + `"`, "router.bit": length(1, 4), "router.rider": length(4, 40),
		"template.wall": length(2, 14), "template.floor": length(0.5, 6), "template.web": length(5, 20), "template.margin": length(4, 40), "template.frame": length(0, 40),
		"board.size": "[400, 400]", "board.thickness": length(4, 20),
	}
	if inch {
		s[".units"] = `"in"`
	}
	if r.IntN(8) == 0 { // as wide as the bit
		s["router.rider"] = s["router.bit"]
	}
	if s["router.guide"] == `"pivot"` {
		delete(s, "router.rider")
	}
	for key, value := range map[string]string{"router.flute": length(0.5, 20), "router.shank": length(2, 13), "router.base": length(60, 200), "router.collar": length(1, 16)} {
		if r.IntN(5) > 0 {
			s[key] = value
		}
	}
	return s
}

func with(text, old, new string) string { return strings.Replace(text, old, new, 1) }

// with is s with one value more, or another.
func (s keyed) with(key, value string) keyed {
	t := maps.Clone(s)
	t[key] = value
	return t
}

func (s keyed) String() string {
	tables := map[string]string{}
	for _, key := range slices.Sorted(maps.Keys(s)) {
		i := strings.LastIndexByte(key, '.')
		tables[key[:i]] += key[i+1:] + " = " + s[key] + "\n"
	}
	text := "title = \"test\"\n" + tables[""]
	for _, table := range slices.Sorted(maps.Keys(tables)) {
		switch table {
		case "":
		case "motif.circle":
			text += "[[motif.circle]]\ncenter = [0, 0]\n" + tables[table]
		default:
			text += "[" + table + "]\n" + tables[table]
		}
	}
	return text
}

// read is the job and its groove, if the job can be read.
func (s keyed) read() (made.Job, bool) { return made.File(s.String()) }

// The bar is as thick as a wall would be, and its hole as wide as the bit: the
// flutes reach through it, or the shank passes.
func TestPivotHeights(t *testing.T) {
	const pivot = "[router]\nguide = \"pivot\"\nbit = 3\nflute = 12\nbase = 90\n[board]\nsize = [300, 300]\nthickness = 20\norigin = [150, 150]\n"
	for _, c := range []struct {
		name, text, rule, hint string
		severity               diag.Severity
	}{
		{"fits", pivot, "", "", 0},
		{"too short", with(pivot, "flute = 12", "flute = 11\nshank = 6"), "flute-short", "take flutes of at least 12 mm, or a shank of at most 3 mm, or a bar of at most 8 mm (template.wall)", diag.Error},
		{"short of the groove too", with(pivot, "flute = 12", "flute = 2\nshank = 6"), "flute-short", "take flutes of at least 12 mm, or a shank of at most 3 mm", diag.Error},
		{"no bar is thin enough", with(pivot, "flute = 12", "flute = 3.5\nshank = 6"), "flute-short", "take flutes of at least 12 mm, or a shank of at most 3 mm", diag.Error},
		{"thin shank", with(pivot, "flute = 12", "flute = 11\nshank = 3"), "", "", 0},
		{"shank not stated", with(pivot, "flute = 12", "flute = 11"), "flute-short", "add shank = its diameter; or take flutes of at least 12 mm, or a bar of at most 8 mm", diag.Error},
		{"flute not stated", with(pivot, "flute = 12\n", ""), "flute-unknown", "add flute", diag.Note},
		{"base not stated", with(pivot, "base = 90\n", ""), "base-unknown", "add base", diag.Note},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := made.Grooved(t, "[[motif.circle]]\ncenter = [0, 0]\nradius = 90\n"+made.Inlay+c.text)
			found := Check(paramsOf(j), j.Groove)
			if c.rule == "" {
				if len(found) > 0 {
					t.Errorf("found %v, want nothing", found)
				}
				return
			}
			if len(found) != 1 || found[0].Rule != c.rule || found[0].Severity != c.severity || !strings.Contains(found[0].Hint, c.hint) {
				t.Errorf("found %v (%+v), want a %s %q with hint %q", found, found, c.severity, c.rule, c.hint)
			}
		})
	}
}
