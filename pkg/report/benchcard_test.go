package report

import (
	"cmp"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/profile"
)

// pointMM is a point in mm (PDF Reference, default user space).
const pointMM = 25.4 / 72

// A word is a word on a page as Poppler finds it, in mm with y down.
type word struct {
	text string
	box  geom.Box
}

var bboxLine = regexp.MustCompile(`<word xMin="([^"]*)" yMin="([^"]*)" xMax="([^"]*)" yMax="([^"]*)">(.*)</word>`)

// wordsOf are a file's words page by page.
func wordsOf(t *testing.T, path string) (pages [][]word) {
	t.Helper()
	out, err := witness.Run(witness.Program(t, "pdftotext", "poppler-utils"), "-bbox", path, "-")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(out), "\n") {
		if strings.Contains(line, "<page ") {
			pages = append(pages, nil)
		}
		if m := bboxLine.FindStringSubmatch(line); m != nil {
			at := func(i int) float64 { v, _ := strconv.ParseFloat(m[i], 64); return v * pointMM }
			last := &pages[len(pages)-1]
			*last = append(*last, word{m[5], geom.Box{Min: geom.Pt(at(1), at(2)), Max: geom.Pt(at(3), at(4))}})
		}
	}
	return pages
}

var (
	traceLine  = regexp.MustCompile(`<(page|stroke_path|moveto|lineto|closepath)([^>]*)>`)
	attrOf     = regexp.MustCompile(`(x|y|transform)="([^"]*)"`)
	tickSquare = 4.0 // mm
)

// squaresOf are the boxes of 4 mm that MuPDF finds drawn on a file's pages, likewise.
func squaresOf(t *testing.T, path string, to int) [][]geom.Box {
	t.Helper()
	out, err := witness.Run(witness.Program(t, "mutool", "mupdf-tools"), "trace", path, "1-"+strconv.Itoa(to))
	if err != nil {
		t.Fatal(err)
	}
	var pages [][]geom.Box
	var m [6]float64
	box := geom.EmptyBox()
	for _, e := range traceLine.FindAllStringSubmatch(string(out), -1) {
		at := map[string]string{}
		for _, a := range attrOf.FindAllStringSubmatch(e[2], -1) {
			at[a[1]] = a[2]
		}
		number := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
		switch e[1] {
		case "page":
			pages = append(pages, nil)
		case "stroke_path":
			for i, s := range strings.Fields(at["transform"]) {
				m[i] = number(s)
			}
		case "moveto":
			box = geom.EmptyBox()
		case "closepath":
			if d := box.Size(); math.Abs(d.X-tickSquare) < 0.01 && math.Abs(d.Y-tickSquare) < 0.01 {
				last := &pages[len(pages)-1]
				*last = append(*last, box)
			}
		}
		if e[1] == "moveto" || e[1] == "lineto" {
			x, y := number(at["x"]), number(at["y"])
			box = box.Include(geom.Pt(m[0]*x+m[2]*y+m[4], m[1]*x+m[3]*y+m[5]).Scale(pointMM))
		}
	}
	return pages
}

// rowsOn are the numbers under the heads "cut" or "circle" of a page of the card in
// the order in which they are read, and how many boxes each has beside it.
func rowsOn(words []word, squares []geom.Box) (numbers []string, ticks []int) {
	var heads []word
	for _, w := range words {
		if w.text == "cut" || w.text == "circle" {
			if slices.ContainsFunc(words, func(o word) bool {
				return math.Abs(o.box.Min.Y-w.box.Min.Y) < 0.1 && (o.text == "track" || o.text == "name") && o.box.Min.X > w.box.Min.X && o.box.Min.X < w.box.Max.X+5
			}) {
				heads = append(heads, w)
			}
		}
	}
	slices.SortFunc(heads, func(a, b word) int {
		return cmp.Or(cmp.Compare(math.Round(a.box.Min.Y), math.Round(b.box.Min.Y)), cmp.Compare(a.box.Min.X, b.box.Min.X))
	})
	for _, h := range heads {
		right, low := math.Inf(1), math.Inf(1)
		for _, o := range heads {
			if o.box.Min.X > h.box.Min.X+1 {
				right = math.Min(right, o.box.Min.X)
			}
			if o.box.Min.Y > h.box.Max.Y {
				low = math.Min(low, o.box.Min.Y)
			}
		}
		for _, w := range words {
			if _, err := strconv.Atoi(w.text); err != nil || math.Abs(w.box.Min.X-h.box.Min.X) > 0.1 || w.box.Min.Y < h.box.Max.Y || w.box.Min.Y > low {
				continue
			}
			n := 0
			for _, s := range squares {
				if y := w.box.Center().Y; s.Min.X > w.box.Max.X && s.Max.X < right && s.Min.Y < y && y < s.Max.Y {
					n++
				}
			}
			numbers, ticks = append(numbers, w.text), append(ticks, n)
		}
	}
	return numbers, ticks
}

// The cutting card as others read its file: every cut once, in order, with as many boxes
// as it has depth passes; four set-ups a page; lettering of its own with capitals of 2.5
// mm or more, none over another or a box; then the sheet.
func TestCuttingCardAsRead(t *testing.T) {
	for name, perPage := range map[string][]int{
		"hall-table": {4, 1}, "games-table": {4}, "star-tray": {2, 1, 1}, "inches": {2}, "box-ring": {0},
	} {
		text := []byte(inches)
		if name != "inches" {
			var err error
			if text, err = os.ReadFile("../../testdata/jobs/" + name + ".toml"); err != nil {
				t.Fatal(err)
			}
		}
		r := whole(t, string(text))
		path := filepath.Join(t.TempDir(), "setup.pdf")
		if err := os.WriteFile(path, []byte(fileOf(t, build.Result{Files: r.own}, SetupPDFPath)), 0o600); err != nil {
			t.Fatal(err)
		}
		pages := wordsOf(t, path)
		squares := squaresOf(t, path, len(perPage))
		var numbers []string
		boxes := 0
		for i, setUps := range perPage {
			words := pages[i]
			if len(words) < 2 || words[0].text != "Cutting" || words[1].text != "card:" {
				t.Fatalf("%s: page %d isn't the card's", name, i+1)
			}
			n := 0
			for k, w := range words {
				if w.text == "Set\u2013up" || w.text == "Set-up" {
					n++
				}
				for _, o := range words[:k] {
					if w.box.Expand(-0.4).Meets(o.box.Expand(-0.4)) {
						t.Errorf("%s, page %d: %q lies over %q", name, i+1, w.text, o.text)
					}
				}
			}
			if n != setUps {
				t.Errorf("%s, page %d: %d set-ups, want %d", name, i+1, n, setUps)
			}
			here, ticks := rowsOn(words, squares[i])
			for k := range here {
				if passes := len(r.facts.Passes); ticks[k] != passes {
					t.Errorf("%s: cut %s has %d boxes, want %d", name, here[k], ticks[k], passes)
				}
			}
			numbers = append(numbers, here...)
			boxes += len(squares[i])
		}
		// A box for each pass of each cut, and one for laying each set-up's panel; a circle
		// is swung in the pin's hole for either wall.
		want, all := len(r.Cuts), len(r.Cuts)*len(r.facts.Passes)+len(r.facts.SetUps)
		if r.facts.Swung {
			want = len(r.facts.Bar.Circles)
			all = 2 * want * len(r.facts.Passes)
		}
		if boxes != all {
			t.Errorf("%s: %d boxes, want %d", name, boxes, all)
		}
		for i, n := range numbers {
			if n != strconv.Itoa(i+1) {
				t.Errorf("%s: cut %s is in place %d", name, n, i+1)
			}
		}
		if len(numbers) != want {
			t.Errorf("%s: %d cuts on the card, want %d", name, len(numbers), want)
		}
		if len(pages) > len(perPage) && pages[len(perPage)][0].text == "Cutting" {
			t.Errorf("%s: the card has more pages than %d", name, len(perPage))
		}
	}
}

// The hall table's card and sheet are at most seven pages, on A4 as on Letter, so that
// they can be pinned up.
func TestSheetIsFewPages(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/hall-table.toml")
	if err != nil {
		t.Fatal(err)
	}
	r := whole(t, string(text))
	card, err := r.facts.benchCard(r.Result)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"A4", "Letter"} {
		on := r.Result
		if on.Paper, err = profile.OpenPaper(name, os.ReadFile); err != nil {
			t.Fatal(err)
		}
		const most = 7
		if pages := setUpPages(on, card, []byte(r.sheet)).Pages; len(pages) > most {
			t.Errorf("%s: %d pages, want at most %d", name, len(pages), most)
		}
	}
}
