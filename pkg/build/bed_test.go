package build

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

const forShop = `
[inlay]
depth = 3
width = 3

[router]
guide = "bushing"
rider = 17
bit = 3
flute = 16
shank = 6
base = 150
collar = 8

[template]
frame = 0
%s

[cutting]
profile = "shop.toml"
kerf_by = "shop"
`

// onBed is a motif for a shop with a bed.
func onBed(motif, template string, bed [2]float64) (text []byte, readFile ReadFile) {
	shop := fmt.Sprintf("about = \"a laser\"\ncutter = \"laser\"\nunits = \"mm\"\nbed = [%g, %g]\ntolerance = 0.1\n", bed[0], bed[1])
	return []byte("title = \"a border\"\nunits = \"mm\"\n" + motif + fmt.Sprintf(forShop, template)), func(name string) ([]byte, error) {
		if strings.HasSuffix(name, "shop.toml") {
			return []byte(shop), nil
		}
		return os.ReadFile(name)
	}
}

func hasRule(found diag.Findings, rule string) bool {
	return slices.ContainsFunc(found, func(f diag.Finding) bool { return f.Rule == rule })
}

// The border of a games table, whose strands go right across: no line divides a panel
// that holds them whole. They are split so that panels can be made in parts. What comes
// of it is proved as ever; here every part is held against the bed, and every opening
// against the joints, by the corners and walls of the drawings alone.
func TestSplitForTheBed(t *testing.T) {
	const motif = "[motif]\ncopies = 4\n[[motif.line]]\nname = \"side\"\nfrom = [-460, 440]\nto = [460, 440]\n"
	bed := [2]float64{900, 600}
	text, readFile := onBed(motif, "", bed)
	r := Build("border.toml", text, readFile, Options{Only: Templates})
	if !r.OK() || !r.Proof.Holds() || !hasRule(r.Findings, "plan-bed") || !r.Set.Plan.InParts {
		t.Fatalf("%v", r.Findings)
	}
	type wall struct {
		panel string
		edge  geom.Contour
	}
	var walls []wall
	openings := map[string][]geom.Contour{}
	for _, p := range r.Parts {
		if p.Ply != sheet.Wall {
			continue
		}
		size := p.Sheet.BoundsOf(sheet.Edge).Size()
		if max(size.X, size.Y) > bed[0] || min(size.X, size.Y) > bed[1] {
			t.Errorf("%s of %v doesn't fit the bed", p.Sheet.Name, size)
		}
		for _, l := range p.Sheet.Lines {
			switch l.Role {
			case sheet.Edge:
				walls = append(walls, wall{p.Panel, l.Contour})
			case sheet.Opening:
				openings[p.Panel] = append(openings[p.Panel], l.Contour)
			case sheet.Pin, sheet.Mark, sheet.Note:
			}
		}
	}
	for _, w := range walls {
		for s := 0.0; s < w.edge.Length(); s += 1 {
			p, _ := w.edge.At(s)
			for _, o := range openings[w.panel] {
				if q, _ := o.Nearest(p); q.Dist(p) < r.Job.Template.Web-1e-6 {
					t.Fatalf("panel %s: a part's edge is %g mm from an opening at %v", w.panel, q.Dist(p), p)
				}
			}
		}
	}
	if len(walls) < 2*len(r.Set.Panels) {
		t.Errorf("%d walls of %d panels", len(walls), len(r.Set.Panels))
	}
}

// A panel that can't be cut up for a bed is refused with beds that would do; each is
// tried and does, and one that is 5 mm less either way doesn't. By hand: the track of 17 mm
// with a margin of 55 is 127 mm across, and beside a track there is no room for keys, which
// take 29.6 to either side: so a part that holds one is 127 mm one way.
func TestLeastBed(t *testing.T) {
	const motif = "[motif]\n[[motif.line]]\nname = \"bar\"\nfrom = [-150, 0]\nto = [150, 0]\n"
	tried := func(bed [2]float64) Result {
		text, readFile := onBed(motif, "margin = 55", bed)
		return Check("bar.toml", text, readFile, nil)
	}
	bed := [2]float64{120, 120}
	r := tried(bed)
	i := slices.IndexFunc(r.Findings, func(f diag.Finding) bool { return f.Rule == "bed-small" })
	if i < 0 {
		t.Fatalf("not refused: %v", r.Findings)
	}
	named := regexp.MustCompile(`(\d+) x (\d+) mm`).FindAllStringSubmatch(strings.SplitN(r.Findings[i].Hint, "is large enough", 2)[0], -1)
	if len(named) == 0 {
		t.Fatalf("no bed is named: %s", r.Findings[i].Hint)
	}
	for k, n := range named {
		x, _ := strconv.ParseFloat(n[1], 64)
		y, _ := strconv.ParseFloat(n[2], 64)
		if k == 0 && (x < 127 || x > 127+closeBeds || y != x) {
			t.Errorf("%g x %g, by hand 127 x 127 at least, and no more than %d beyond", x, y, closeBeds)
		}
		if r := tried([2]float64{x, y}); !r.OK() {
			t.Errorf("%g x %g is named and won't do: %v", x, y, r.Findings)
		}
		if k > 0 {
			continue // so it is with them
		}
		less := [2]float64{x - 5, max(y-5, bed[1])}
		if r := tried(less); !hasRule(r.Findings, "bed-small") {
			t.Errorf("%v is less than what is named and does: %v", less, r.Findings)
		}
	}
}
