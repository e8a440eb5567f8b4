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

	"strapwork/pkg/cutlist"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// sections cuts a sheet up by its numbered chapters and lettered appendices. The first
// chapter, which names what is measured, is "Measure".
func sections(t *testing.T, text string) map[string]string {
	t.Helper()
	heads := regexp.MustCompile(`(?m)^## (?:(\d+)\.|Appendix ([A-Z]):) (.*)$`).FindAllStringSubmatchIndex(text, -1)
	all := map[string]string{}
	chapters, appendices := 0, 0
	for i, h := range heads {
		end := len(text)
		if i+1 < len(heads) {
			end = heads[i+1][0]
		}
		if h[2] >= 0 {
			if chapters++; text[h[2]:h[3]] != strconv.Itoa(chapters) || appendices > 0 {
				t.Errorf("chapter %d is numbered %s, after %d appendices", chapters, text[h[2]:h[3]], appendices)
			}
		} else if appendices++; text[h[4]:h[5]] != string(rune('A'+appendices-1)) {
			t.Errorf("appendix %d is %s", appendices, text[h[4]:h[5]])
		}
		all[chapterName(text[h[6]:h[7]])] = text[h[1]:end]
	}
	return all
}

func chapterName(head string) string {
	if strings.HasPrefix(head, "Measure bit") {
		return "Measure"
	}
	return head
}

// rowsOf are the cells of the rows under a table's head, which may be set in parts side by
// side.
func rowsOf(section, head string) (rows [][]string) {
	lines := strings.Split(section, "\n")
	for i := 0; i < len(lines); i++ {
		top := cells(lines[i])
		if !strings.HasPrefix(lines[i], "|") || strings.TrimSpace(top[0]) != head {
			continue
		}
		width := len(top)
		for n := 1; n < len(top); n++ {
			if strings.TrimSpace(top[n]) == head {
				width = n
				break
			}
		}
		var parts [][][]string
		for i += 2; i < len(lines) && strings.HasPrefix(lines[i], "|"); i++ {
			row := cells(lines[i])
			for n := 0; n*width < len(row); n++ {
				if n == len(parts) {
					parts = append(parts, nil)
				}
				var cells []string
				for _, c := range row[n*width : (n+1)*width] {
					cells = append(cells, strings.TrimSpace(c))
				}
				parts[n] = append(parts[n], cells)
			}
		}
		for _, part := range parts {
			for _, row := range part {
				if strings.Join(row, "") != "" {
					rows = append(rows, row)
				}
			}
		}
	}
	return rows
}

// The sheet's structure: its chapters in the order of use, and what each kind
// of job adds or leaves out.
func TestSetupSections(t *testing.T) {
	always := []string{
		"Measure", "Order the parts", "Check the parts on arrival", "Trial in scrap", "Lay out the work",
		"How every cut is made", "The set-ups", "Chisel and joins", "The strips",
		"cautions", "warnings and notes", "proof and expected accuracy",
	}
	for name, text := range map[string]string{"triangle": loopedTriangle, "bars": bars, "inches": inches} {
		var got []string
		for _, h := range regexp.MustCompile(`(?m)^## (?:\d+\.|Appendix [A-Z]:) (.*)$`).FindAllStringSubmatch(whole(t, text).sheet, -1) {
			got = append(got, chapterName(h[1]))
		}
		if d := cmp.Diff(always, got); d != "" {
			t.Errorf("%s: sections (-want +got):\n%s", name, d)
		}
	}
}

// What a maker holds is short: of the walnut hall table's sheet and of a lid's with 164
// cuts no more lines than one reads through.
func TestSheetsAreShort(t *testing.T) {
	for name, most := range map[string]int{"hall-table.toml": 250, "star-tray.toml": 300, "box-ring.toml": 130} {
		if n := strings.Count(examples(t)[name].sheet, "\n"); n > most {
			t.Errorf("%s: the sheet has %d lines, want at most %d", name, n, most)
		}
	}
}

func TestSetupHoldsThePlan(t *testing.T) {
	for name, r := range examples(t) {
		all := sections(t, r.sheet)
		w := words{r.Job.Units}
		ways := map[string]plan.Track{} // the way of the bit as the panel has it: a cut's own line may run the other way
		for _, s := range r.Set.Plan.SetUps {
			for _, track := range s.Tracks {
				if !track.Spare {
					ways[track.Cut.Name] = track
				}
			}
		}
		listed := map[string][]string{} // rows by the cut's number
		for _, row := range cutRows(all["The set-ups"]) {
			listed[row[0]] = row[1:]
		}
		if len(listed) != len(ways) {
			t.Errorf("%s: %d cuts are listed of %d", name, len(listed), len(ways))
		}
		for _, c := range r.Cuts {
			track := ways[c.Name]
			from, to := ends(track.Line)
			if a, b := ends(c.Line); !(from.Near(a, motif.Same) && to.Near(b, motif.Same)) && !(from.Near(b, motif.Same) && to.Near(a, motif.Same)) {
				t.Errorf("%s: the way of %s is from %v to %v, its line from %v to %v", name, c.Name, from, to, a, b)
			}
			row := strings.Join(listed[strconv.Itoa(track.Number)], " | ")
			for _, want := range []string{track.ID, w.place(toXY(from)), w.coarse(num(c.Length()))} {
				if !strings.Contains(row, want) {
					t.Errorf("%s: cut %d, %s, is listed as %q, without %s", name, track.Number, c.Name, row, want)
				}
			}
			if finish := w.place(toXY(to)); !r.facts.Compact && !strings.Contains(row, finish) {
				t.Errorf("%s: cut %d is listed as %q, without its finish at %s", name, track.Number, row, finish)
			}
		}
		chisel := all["Chisel and joins"]
		rows := rowsOf(chisel, "where")
		for _, l := range r.Proof.Leftovers {
			if !r.facts.ManyLeft && !slices.ContainsFunc(rows, func(row []string) bool {
				return row[0] == plain(withoutLines(l.Where)) && row[1] == w.place(toXY(l.At))
			}) {
				t.Errorf("%s: nothing is said of what is left at %v", name, l.At)
			}
		}
		left := 0
		for _, n := range namesIn(`- \[ \] (\d+) places? of`, chisel) {
			k, _ := strconv.Atoi(n)
			left += k
		}
		if r.facts.ManyLeft && left != len(r.Proof.Leftovers) {
			t.Errorf("%s: %d places for the chisel are counted of %d", name, left, len(r.Proof.Leftovers))
		}
		if n := len(rowsOf(all["The strips"], "crossing")); n != len(r.Weave.Crossings) {
			t.Errorf("%s: %d crossings are listed of %d", name, n, len(r.Weave.Crossings))
		}
		for _, f := range r.Findings {
			if !slices.Contains(saidAtTheirStep, f.Rule) && !strings.Contains(strings.ToLower(flat(r.sheet)), strings.ToLower(flat(plain(f.Message)))) {
				t.Errorf("%s: the sheet doesn't say %q", name, f.Message)
			}
		}
	}
}

// cutRows are the rows of the table of cuts, each with its number first and without the
// set-up.
func cutRows(section string) (rows [][]string) {
	for _, row := range rowsOf(section, "cut") {
		number, track, _ := strings.Cut(row[0], " ")
		rows = append(rows, append([]string{number, track}, row[1:]...))
	}
	for _, row := range rowsOf(section, "set-up") {
		tick, ok := strings.CutPrefix(row[1], "[ ] ")
		if !ok {
			continue // of the set-ups
		}
		number, track, _ := strings.Cut(tick, " ")
		rows = append(rows, append([]string{number, track}, row[2:]...))
	}
	return rows
}

// The entry, as the trade has it: bit up, rider in, motor on, plunge, wall on
// the left, round, retract, stop, lift.
func TestSetupSequence(t *testing.T) {
	plunging := []string{"Bit up", "Rider in", "Motor on", "Plunge", "Wall on the left", "Cross over", "Never the other way:", "Retract", "stop", "lift"}
	fixedBit := []string{"Bit set", "Rider in", "Motor on", "Wall on the left", "Cross over", "Never the other way:", "stop", "lift"}
	oneWay := []string{"Bit up", "Rider in", "Motor on", "Plunge", "Wall on the left", "Back", "Retract", "stop", "lift"}
	for text, want := range map[string][]string{loopedTriangle: plunging, knot: plunging, inches: fixedBit, full: oneWay} {
		r := whole(t, text)
		all := sections(t, r.sheet)
		section := all["How every cut is made"]
		var got []string
		for i, m := range regexp.MustCompile(`(?m)^(\d+)\. (.*(?:\n   .*)*)`).FindAllStringSubmatch(section, -1) {
			got = append(got, namesIn(`\*\*(.*?)\*\*`, m[2])...)
			if m[1] != strconv.Itoa(i+1) {
				t.Errorf("step %d is numbered %s", i+1, m[1])
			}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: steps (-want +got):\n%s", r.Job.Title, d)
		}
		if holes := strings.Contains(all["The set-ups"], "pilot hole"); holes == r.Job.Router.Plunge {
			t.Errorf("%s: pilot holes: %v", r.Job.Title, holes)
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
		_, passes, _ := strings.Cut(flat(section), "(bit below the base): ")
		if r.Job.Router.Guide == work.GuidePivot {
			_, passes, _ = strings.Cut(flat(sections(t, r.sheet)["The circles"]), "(bit below the base): ")
		}
		passes, _, _ = strings.Cut(passes, r.Job.Units.String()+".")
		for _, m := range regexp.MustCompile(`([0-9.]+) \(([0-9.]+)\)`).FindAllStringSubmatch(passes, -1) {
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
		inches:         "**allow for a cut of 0.25 in already**",
		strings.Replace(bars, "[board]", "[cutting]\nprofile = \"laser-900x600\"\nkerf = 0.18\nkerf_by = \"shop\"\n[board]", 1): "tell the shop to allow for its cut of 0.18 mm",
	} {
		r := drawn(t, text)
		sheet := flat(r.sheet)
		if !strings.Contains(sheet, want) {
			t.Errorf("%s: the sheet lacks %q", r.Job.Title, want)
		}
		if n := strings.Count(sheet, "Kerf:"); n != 1 {
			t.Errorf("%s: kerf is said %d times", r.Job.Title, n)
		}
	}
}

// The proof's figure never stands without what it doesn't prove.
func TestSetupProof(t *testing.T) {
	for name, r := range examples(t) {
		section := flat(sections(t, r.sheet)["proof and expected accuracy"])
		figure := regexp.MustCompile(`let the router cut at most ([0-9.]+) (mm|in) beyond the groove\*\*.*? That is geometry, .*? tolerance, perhaps ([^,]+),.* only the trial in scrap`).FindStringSubmatch(section)
		if figure == nil {
			t.Errorf("%s: the proof is not reported with its limits: %s", name, section)
			continue
		}
		over, _ := strconv.ParseFloat(figure[1], 64)
		if math.Abs(over*r.Job.Units.InMM()-r.Proof.OvercutMax) > 0.00013 { // half of the last decimal, of an inch too
			t.Errorf("%s: an overcut of %v is reported, want %v", name, over, r.Proof.OvercutMax)
		}
		if want := (words{r.Job.Units}).own(num(r.Shop.Tolerance)); figure[3] != want || figure[2] != r.Job.Units.String() {
			t.Errorf("%s: the shop holds %s, want %s", name, figure[3], want)
		}
	}
}

func TestSetupTakesCare(t *testing.T) {
	for name, r := range examples(t) {
		care := flat(sections(t, r.sheet)["cautions"])
		top, _, _ := strings.Cut(r.sheet, "\n## ")
		for _, w := range []string{"Manuals, local rules and trained people come before this sheet", "Eye and ear", "dust mask", "unplug", "All cautions: appendix A"} {
			if !strings.Contains(flat(top), w) {
				t.Errorf("%s: the sheet doesn't begin with %q", name, w)
			}
		}
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
		own, _, _ := strings.Cut(sheet, "warnings and notes")
		if r.Job.Template.Floor == 0 && strings.Contains(own, "-floor") {
			t.Errorf("%s: a floor is spoken of, and none is made", name)
		}
		if r.Job.Router.Guide != work.GuideBase && regexp.MustCompile(`a base is never|floor and depth`).MatchString(own) {
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
	const widest = 120 // characters: a cut's start and finish beside the elements that it runs along
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

// Every piece is on the strips' sheet once, by its number; on the bench sheet too where they
// are few, and if not it says where they are.
func TestPiecesAreListed(t *testing.T) {
	row := regexp.MustCompile(`(?m)\| (\d+): ([\d, -]+?) +\|`)
	for name, r := range examples(t) {
		numbers := func(text string) (all []int) {
			for _, m := range row.FindAllStringSubmatch(text, -1) {
				before := len(all)
				for _, part := range strings.Split(m[2], ", ") {
					first, last, several := strings.Cut(part, "-")
					from, _ := strconv.Atoi(first)
					to := from
					if several {
						to, _ = strconv.Atoi(last)
					}
					for n := from; n <= to; n++ {
						all = append(all, n)
					}
				}
				if n, _ := strconv.Atoi(m[1]); n != len(all)-before {
					t.Errorf("%s: %s for %d pieces", name, m[0], len(all)-before)
				}
			}
			slices.Sort(all)
			return all
		}
		want := each(r.List.Pieces, func(p cutlist.Piece) int { return p.Number })
		if got := numbers(sections(t, fileOf(t, r.withOwn(), StripsPath))["Pieces"]); len(want) == 0 || !slices.Equal(got, want) {
			t.Errorf("%s: the strips' sheet lists %v of %d pieces", name, got, len(want))
		}
		section := sections(t, r.sheet)["The strips"]
		row := `(?m)^\| (?:\d+|sandwich) +\| [^|]+ \| [\d.]+ +\| (\d+) +\|` // a strip's
		if r.facts.Cut.Short {
			row = `(?m)^\| (\d+)(?:: [\d, -]+)? +\|.*\|.*\|.*\|.*\|` // that of pieces cut alike
		}
		listed := 0
		for _, m := range regexp.MustCompile(row).FindAllStringSubmatch(section, -1) {
			n, _ := strconv.Atoi(m[1])
			listed += n
		}
		if listed != len(want) {
			t.Errorf("%s: the bench sheet has %d pieces of %d", name, listed, len(want))
		}
		if !strings.Contains(section, "[strips.md](strips.md)") {
			t.Errorf("%s: the bench sheet doesn't say where its pieces are", name)
		}
	}
}

// Of the two bars the long one runs through; the short one's filling is cut to
// either side of it, (200 - 5.08)/2 = 97.46 mm long (derived). The two pieces
// are one, turned round. With 1 mm each for fitting, 498 mm are cut.
func TestSetupPieceLengths(t *testing.T) {
	r := whole(t, bars)
	section := sections(t, r.sheet)["The strips"]
	var got []string
	for _, m := range regexp.MustCompile(`(?m)^\| (\d+): (.*?) +\| .*? +\| (.*?) +\| (.*?) +\| (.*?) +\|`).FindAllStringSubmatch(section, -1) {
		got = append(got, strings.Join(m[1:], "; "))
	}
	want := []string{"1; 1; 300.0; square; square", "2; 2-3; 97.5; square; square"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if s := sections(t, fileOf(t, r.withOwn(), StripsPath))["Pieces"]; !strings.Contains(s, "| 0.49 m   | 0.50 m |") {
		t.Errorf("300 and 195 mm don't add up to 0.49 m, with 3 mm for fitting 0.5 m: %s", s)
	}
}

// Parts that carry lettering are known by it.
func TestSetupMarks(t *testing.T) {
	r := whole(t, bars)
	const bare, lettered, arrows = "The parts carry no lettering", "the panel, letter up", "or the arrow with the set-up's number"
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
	if s := flat(reported(t, r.Result).sheet); !strings.Contains(s, bare) || strings.Contains(s, lettered) || strings.Contains(s, arrows) {
		t.Error("parts without marks are said to have a letter")
	}
}

func TestSetupNamesItsJob(t *testing.T) {
	r := whole(t, loopedTriangle).Result
	r.File = "looped-triangle.toml"
	if got := flat(reported(t, r).sheet); !strings.Contains(got, "Bench sheet for looped-triangle.toml: ") {
		t.Error("the sheet doesn't name its job")
	}
}
