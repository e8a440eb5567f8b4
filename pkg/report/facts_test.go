package report

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// sections cuts a sheet up by its numbered headings.
func sections(t *testing.T, text string) map[string]string {
	t.Helper()
	heads := regexp.MustCompile(`(?m)^## (\d+)\. (.*)$`).FindAllStringSubmatchIndex(text, -1)
	all := map[string]string{}
	for i, h := range heads {
		end := len(text)
		if i+1 < len(heads) {
			end = heads[i+1][0]
		}
		if n := text[h[2]:h[3]]; n != strconv.Itoa(i+1) {
			t.Errorf("section %d is numbered %s", i+1, n)
		}
		all[text[h[4]:h[5]]] = text[h[1]:end]
	}
	return all
}

// The sheet's structure: its sections in the order of use, and what each kind
// of job adds or leaves out.
func TestSetupSections(t *testing.T) {
	always := []string{
		"Take care", "Have the parts cut", "Receive the parts", "Tools and measures", "First the whole set in scrap", "Lay out the work",
		"How every cut is made", "The set-ups", "With a machine in place of templates", "Corners and ends for the chisel",
		"Where one groove is cut in two goes", "The strips", "Over and under", "What was checked", "What the grooves may be out by", "Warnings and notes",
	}
	without := map[string]string{"bars": "Where one groove is cut in two goes", "inches": "Where one groove is cut in two goes"}
	for name, text := range map[string]string{"triangle": loopedTriangle, "bars": bars, "inches": inches} {
		sheet := whole(t, text).sheet
		var got, want []string
		for _, h := range regexp.MustCompile(`(?m)^## \d+\. (.*)$`).FindAllStringSubmatch(sheet, -1) {
			got = append(got, h[1])
		}
		for _, h := range always {
			if h != without[name] {
				want = append(want, h)
			}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: sections (-want +got):\n%s", name, d)
		}
	}
}

func TestSetupHoldsThePlan(t *testing.T) {
	for name, r := range examples(t) {
		all := sections(t, r.sheet)
		w := words{r.Job.Units}
		work, order := flat(all["The set-ups"]), r.Set.Plan.SetUps
		for _, s := range order {
			head := "Set-up " + strconv.Itoa(s.Number) + " of " + strconv.Itoa(len(order)) + ": panel " + s.PanelID
			if !strings.Contains(work, head) {
				t.Errorf("%s: there is no %q", name, head)
			}
		}
		ways := map[string]geom.Contour{} // of the bit, as the panel has it: a cut's own line may run the other way
		for _, s := range order {
			for _, track := range s.Tracks {
				if !track.Spare {
					ways[track.Cut.Name] = track.Line
				}
			}
		}
		for _, c := range r.Cuts {
			from, to := ends(ways[c.Name])
			if a, b := ends(c.Line); !(from.Near(a, motif.Same) && to.Near(b, motif.Same)) && !(from.Near(b, motif.Same) && to.Near(a, motif.Same)) {
				t.Errorf("%s: the way of %s is from %v to %v, its line from %v to %v", name, c.Name, from, to, a, b)
			}
			entry := regexp.MustCompile(`\[ \] \*\*` + regexp.QuoteMeta(plain(c.Name)) + `\*\*[^:]*: start in the \w+ end at (\(.*?\)), to the \w+ end at (\(.*?\)), (.*?)\. `).FindStringSubmatch(work)
			if entry == nil {
				t.Errorf("%s: the cut %s is not in a set-up", name, c.Name)
				continue
			}
			if want := []string{w.place(toXY(from)), w.place(toXY(to)), w.rough(num(c.Length()))}; !cmp.Equal(want, entry[1:]) {
				t.Errorf("%s: %s is told as %v, want %v", name, c.Name, entry[1:], want)
			}
			if n := strings.Count(all["First the whole set in scrap"], "| "+plain(c.Name)+" "); n != 1 {
				t.Errorf("%s: %s is measured %d times", name, c.Name, n)
			}
		}
		for _, l := range r.Proof.Leftovers {
			row := regexp.MustCompile(`\| ` + regexp.QuoteMeta(plain(withoutLines(l.Where))) + ` +\| ` + regexp.QuoteMeta(w.place(toXY(l.At))) + ` +\|.* set-up ([1-9]\d*) +\| (aid-\S* +\| )?\[ \] +\|`)
			if !row.MatchString(all["Corners and ends for the chisel"]) {
				t.Errorf("%s: nothing is said of what is left at %v", name, l.At)
			}
		}
		if n := strings.Count(all["Over and under"], "| [ ]"); n != len(r.Weave.Crossings) {
			t.Errorf("%s: %d crossings are listed of %d", name, n, len(r.Weave.Crossings))
		}
		if n := strings.Count(all["Warnings and notes"], "- **"); n != len(r.Findings) {
			t.Errorf("%s: %d findings are told of %d", name, n, len(r.Findings))
		}
	}
}

// The entry, as the trade has it: bit up, rider in, motor on, plunge, wall on
// the left, round, retract, stop, lift.
func TestSetupSequence(t *testing.T) {
	plunging := []string{"Bit up", "Rider in", "Motor on", "Plunge", "Wall on the left", "Round", "Retract", "Stop", "Lift"}
	fixedBit := []string{"Bit set", "Rider in", "Motor on", "Wall on the left", "Round", "Stop", "Lift"}
	oneWay := []string{"Bit up", "Rider in", "Motor on", "Plunge", "Wall on the left", "Back", "Retract", "Stop", "Lift"}
	for text, want := range map[string][]string{loopedTriangle: plunging, knot: plunging, inches: fixedBit, full: oneWay} {
		r := whole(t, text)
		all := sections(t, r.sheet)
		section := all["How every cut is made"]
		var got []string
		for i, m := range regexp.MustCompile(`(?m)^(\d+)\. \*\*(.*?)\*\*`).FindAllStringSubmatch(section, -1) {
			got = append(got, m[2])
			if m[1] != strconv.Itoa(i+1) {
				t.Errorf("step %d is numbered %s", i+1, m[1])
			}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: steps (-want +got):\n%s", r.Job.Title, d)
		}
		if holes := strings.Count(flat(all["The set-ups"]), "Pilot hole at"); (holes > 0) == r.Job.Router.Plunge {
			t.Errorf("%s: %d pilot holes", r.Job.Title, holes)
		}
		if turns := strings.Contains(flat(section), "clockwise"); turns == r.Groove.Size.Thin() {
			t.Errorf("%s: clockwise is said: %v", r.Job.Title, turns)
		}
	}
}

// The passes' steps add up to the groove's depth, and none is deeper than
// half the bit's width.
func TestSetupDepths(t *testing.T) {
	for name, r := range examples(t) {
		section := sections(t, r.sheet)["How every cut is made"]
		last := 0.0
		for _, m := range regexp.MustCompile(`(?m)^\| \d+ +\| ([0-9.]+) \w+.*?\| ([0-9.]+) \w+`).FindAllStringSubmatch(section, -1) {
			depth, _ := strconv.ParseFloat(m[1], 64)
			below, _ := strconv.ParseFloat(m[2], 64)
			depth, below = depth*r.Job.Units.InMM(), below*r.Job.Units.InMM()
			if step := depth - last; step <= 0 || step > r.Job.Router.Bit/2+0.003 {
				t.Errorf("%s: a pass takes %v mm", name, step)
			}
			const written = 0.006 // mm: four decimals of an inch, twice
			if want := depth + r.Job.Template.Above(standOf(r.Job)); math.Abs(below-want) > written {
				t.Errorf("%s: the bit is %v mm below the base, want %v", name, below, want)
			}
			last = depth
		}
		if math.Abs(last-r.Job.Inlay.Depth) > 0.003 {
			t.Errorf("%s: the passes end at %v mm of %v", name, last, r.Job.Inlay.Depth)
		}
	}
}

func TestSetupKerf(t *testing.T) {
	for text, want := range map[string]string{
		loopedTriangle: "The job doesn't say who cuts them",
		inches:         "**allow for a cut of 0.25 in (6.35 mm) already**",
		strings.Replace(bars, "[board]", "[cutting]\nprofile = \"laser-900x600\"\nkerf = 0.18\nkerf_by = \"shop\"\n[board]", 1): "The shop allows for its cut of 0.18 mm",
	} {
		r := drawn(t, text)
		sheet := flat(r.sheet)
		if !strings.Contains(sheet, want) {
			t.Errorf("%s: the sheet lacks %q", r.Job.Title, want)
		}
		if n := strings.Count(sheet, "Kerf:"); n != 1 {
			t.Errorf("%s: kerf is told of %d times", r.Job.Title, n)
		}
	}
}

// The proof's figure never stands without what it doesn't prove.
func TestSetupProof(t *testing.T) {
	for name, r := range examples(t) {
		section := flat(sections(t, r.sheet)["What was checked"])
		figure := regexp.MustCompile(`the router cut at most (?:[0-9.]+ in \()?([0-9.]+) mm\)? beyond the groove\*\*.*? - This is a proof of geometry, .*? holds perhaps ([^,]+),`).
			FindStringSubmatch(strings.ReplaceAll(section, "let the router", "the router"))
		if figure == nil {
			t.Errorf("%s: the proof is not told with its limits: %s", name, section)
			continue
		}
		over, _ := strconv.ParseFloat(figure[1], 64)
		if math.Abs(over-r.Proof.OvercutMax) > 0.00005 {
			t.Errorf("%s: an overcut of %v is told, want %v", name, over, r.Proof.OvercutMax)
		}
		if want := (words{r.Job.Units}).size(num(r.Shop.Tolerance)); figure[2] != want {
			t.Errorf("%s: the shop holds %s, want %s", name, figure[2], want)
		}
	}
}

func TestSetupTakesCare(t *testing.T) {
	for name, r := range examples(t) {
		care := flat(sections(t, r.sheet)["Take care"])
		for _, w := range []string{
			"manual", "rules of the place", "trained", "throw parts", "sleeves", "eye and ear", "Dust of wood",
			"formaldehyde", "PVC must never be laser cut", "Glue: keep to its maker's directions",
		} {
			if !strings.Contains(care, w) {
				t.Errorf("%s: the cautions lack %q", name, w)
			}
		}
		bronze := slices.ContainsFunc(r.Job.Inlay.Strips, func(s work.Strip) bool { return s.Material == "bronze" })
		if strings.Contains(care, "Metal strips get hot") != bronze || strings.Contains(care, "MDF and metal") != bronze {
			t.Errorf("%s: strips of bronze: %t, and the cautions are %s", name, bronze, care)
		}
	}
}

// What the sheet says must be so: files that exist, no parts that aren't made.
func TestSetupIsTrue(t *testing.T) {
	for name, r := range examples(t) {
		sheet := r.sheet
		for _, m := range regexp.MustCompile(`\]\(([^)]+)\)`).FindAllStringSubmatch(sheet, -1) {
			if !r.facts.Has(m[1]) {
				t.Errorf("%s: a link to %s, which isn't there", name, m[1])
			}
		}
		own := sheet[:strings.Index(sheet, "Warnings and notes")]
		if r.Job.Template.Floor == 0 && strings.Contains(own, "-floor") {
			t.Errorf("%s: a floor is spoken of, and none is made", name)
		}
		if r.Job.Router.Guide != work.GuideBase && regexp.MustCompile(`A base is never|floor and depth`).MatchString(own) {
			t.Errorf("%s: a base is spoken of that doesn't ride", name)
		}
		if r.Job.Router.Guide == work.GuidePivot {
			own = regexp.MustCompile(`\bpins?\b`).ReplaceAllString(own, "")
		}
		if r.Set.Frame != nil {
			own = regexp.MustCompile(`[Tt]he frame`).ReplaceAllString(own, "")
		}
		if word := regexp.MustCompile(`(?i)locating frame|the frame|battens.*wedges|\bpins?\b|arrow of travel|somebody`).FindString(own); word != "" {
			t.Errorf("%s: the sheet speaks of %q", name, word)
		}
	}
}

func TestSetupPrints(t *testing.T) {
	const widest = 112 // characters: two lengths in two units beside a link
	for name, r := range examples(t) {
		sheet := r.sheet
		cells := 0
		for i, l := range strings.Split(sheet, "\n") {
			if n := utf8.RuneCountInString(l); n > widest {
				t.Errorf("%s: line %d has %d characters", name, i+1, n)
			}
			if !strings.HasPrefix(l, "|") {
				cells = 0
				continue
			}
			n := strings.Count(strings.ReplaceAll(l, `\|`, ""), "|")
			if cells > 0 && n != cells {
				t.Errorf("%s: a row of %d cells in a table of %d: %s", name, n-1, cells-1, l)
			}
			cells = n
		}
		if strings.Contains(sheet, "\n\n\n") {
			t.Errorf("%s: two blank lines", name)
		}
		if bad := regexp.MustCompile(`[ (]-0[ ,)]|NaN|Inf|%!`).FindString(sheet); bad != "" {
			t.Errorf("%s: %q is written", name, bad)
		}
		for _, long := range regexp.MustCompile(`\d+\.\d{6,}`).FindAllString(sheet, -1) {
			// A fraction of an inch has all its decimals; all else would be noise.
			if v, err := strconv.ParseFloat(long, 64); err != nil || r.Job.Units != unit.Inch || v*64 != math.Trunc(v*64) {
				t.Errorf("%s: %q is written", name, long)
			}
		}
		inch := strings.Contains(sheet, " in (")
		if inch != (r.Job.Units == unit.Inch) {
			t.Errorf("%s: units of %s, inches with mm in brackets: %v", name, r.Job.Units, inch)
		}
	}
}

func TestSetupPieces(t *testing.T) {
	for name, r := range examples(t) {
		strips := 0
		for _, s := range r.Inlay.Strips {
			strips += len(s.Pieces)
		}
		listed := 0
		section := sections(t, r.sheet)["The strips"]
		for _, m := range regexp.MustCompile(`(?m)\| (\d+) x +\|`).FindAllStringSubmatch(section, -1) {
			n, _ := strconv.Atoi(m[1])
			listed += n
		}
		if listed != strips || strips == 0 {
			t.Errorf("%s: %d pieces are listed of %d", name, listed, strips)
		}
	}
}

// Of the two bars the long one runs through; the short one's filling is cut to
// either side of it, (200 - 5.08)/2 = 97.46 mm long (derived). The two pieces
// are one, turned round.
func TestSetupPieceLengths(t *testing.T) {
	section := sections(t, whole(t, bars).sheet)["The strips"]
	var got []string
	for _, m := range regexp.MustCompile(`(?m)^\| (\d+) x +\| (.*?) +\| (.*?) +\| (.*?) +\|`).FindAllStringSubmatch(section, -1) {
		got = append(got, strings.Join(m[1:], "; "))
	}
	want := []string{"1; 300 / 300 / 300; square; square", "2; 97.5 / 97.5 / 97.5; square; butt 90"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if !strings.Contains(flat(section), "In all, without waste: 0.49 m.") {
		t.Error("300 and 195 mm don't add up to 0.49 m")
	}
}

// Parts that carry lettering are told by it.
func TestSetupMarks(t *testing.T) {
	r := whole(t, bars)
	const bare, lettered, arrows = "The parts carry no lettering", "with its letter up", "arrow marked 1"
	if s := flat(r.sheet); strings.Contains(s, bare) || !strings.Contains(s, lettered) || !strings.Contains(s, arrows) {
		t.Error("parts with marks are said to have no letter")
	}
	r.Parts, r.Set.Panels = slices.Clone(r.Parts), slices.Clone(r.Set.Panels)
	for i := range r.Parts {
		lines := slices.Clone(r.Parts[i].Sheet.Lines)
		r.Parts[i].Sheet.Lines = slices.DeleteFunc(lines, func(l sheet.Line) bool { return l.Role == sheet.Mark })
	}
	for i := range r.Set.Panels {
		r.Set.Panels[i].Marks = nil
	}
	if s := flat(told(t, r.Result).sheet); !strings.Contains(s, bare) || strings.Contains(s, lettered) || strings.Contains(s, arrows) {
		t.Error("parts without marks are said to have a letter")
	}
}

func TestSetupNamesItsJob(t *testing.T) {
	r := whole(t, loopedTriangle).Result
	r.File = "looped-triangle.toml"
	if got := flat(told(t, r).sheet); !strings.Contains(got, "Set-up sheet for looped-triangle.toml.") {
		t.Error("the sheet doesn't name its job")
	}
}
