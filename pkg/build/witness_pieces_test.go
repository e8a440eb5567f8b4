package build_test

// The list of pieces is held against an independent one: testdata/witness/pieces.py
// cuts every strip's band by the bands above it, with shapely, and shares no code
// with this program.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/cutlist"
	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
	"strapwork/pkg/inlay"
	"strapwork/pkg/internal/byhand"
	"strapwork/pkg/internal/thrown"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/table"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// What pieces.py is asked; its docstring says what each means.
type piecesInput struct {
	Strands   []piecesStrand  `json:"strands"`
	Crossings []piecesMeeting `json:"crossings"`
	Tees      []piecesMeeting `json:"tees"`
	Strips    []piecesStrip   `json:"strips"`
	Laid      string          `json:"laid"`
	CSV       string          `json:"csv"`
}

type piecesStrand struct {
	Name    string       `json:"name"`
	Section string       `json:"section,omitempty"`
	Span    *[2]*float64 `json:"span,omitempty"`
	rollStrand
}

type piecesMeeting struct {
	At    [2]float64  `json:"at"`
	Upper piecesPlace `json:"upper"`
	Lower piecesPlace `json:"lower"`
}

type piecesPlace struct {
	Strand int     `json:"strand"`
	S      float64 `json:"s"`
}

type piecesStrip struct {
	Material  string  `json:"material"`
	Thickness float64 `json:"thickness"`
}

type piecesOutput struct {
	Odd         int      `json:"odd"`
	Rows        int      `json:"rows"`
	LengthError float64  `json:"length_error"`
	AngleError  float64  `json:"angle_error"`
	Faults      []string `json:"faults"`
}

// A listed job is one whose pieces are listed.
type listed struct {
	name string
	job  *job.Job
	m    motif.Motif
	w    weave.Weave
	list cutlist.List
	of   []table.Place // of a table: the section and the stretch of each strand
}

// listTable lists the pieces of a table's job.
func listTable(t *testing.T, name, text string) listed {
	t.Helper()
	r := checked(t, text)
	if r.Findings.HasErrors() || r.Apart == nil {
		t.Fatal(name, r.Findings)
	}
	return listed{name: name, job: r.Job, m: r.Apart.Motif, w: r.Apart.Weave, list: r.List, of: r.Apart.Of}
}

// listPieces lists a job's pieces, as far as there are no errors before.
func listPieces(name string, j *job.Job) (l listed, found diag.Findings) {
	l = listed{name: name, job: j}
	for _, stage := range []func() diag.Findings{
		func() (found diag.Findings) { l.m, found = motif.Build(j.Motif); return found },
		func() (found diag.Findings) { l.w, found = weave.Build(l.m, j.Weave); return found },
		func() (found diag.Findings) { _, found = groove.Build(build.GrooveSize(j), l.m, l.w); return found },
		func() (found diag.Findings) {
			in, found := inlay.Build(build.InlayParams(j), l.m, l.w)
			l.list = cutlist.New(build.ListParams(j, nil), in, l.m)
			return found
		},
	} {
		more := stage()
		if found = append(found, more...); more.HasErrors() {
			break
		}
	}
	return l, found
}

func (l listed) input() piecesInput {
	in := piecesInput{Laid: l.job.Inlay.Laid.String(), Crossings: []piecesMeeting{}, Tees: []piecesMeeting{}}
	for _, s := range l.m.Strands {
		in.Strands = append(in.Strands, piecesStrand{Name: s.ID, rollStrand: rollStrandOf(s)})
	}
	for i, p := range l.of {
		s := l.list.Sections[p.Section]
		in.Strands[i].Section, in.Strands[i].Span = s.String(), &[2]*float64{&s.From, &s.To}
	}
	for _, c := range l.w.Crossings {
		up, lo := c.Upper(), c.Lower()
		in.Crossings = append(in.Crossings, piecesMeeting{xy(c.At), piecesPlace{up.Strand, up.S}, piecesPlace{lo.Strand, lo.S}})
	}
	for _, e := range l.w.Tees {
		s := 0.0
		if e.AtEnd {
			s = l.m.Strands[e.Strand].Length()
		}
		in.Tees = append(in.Tees, piecesMeeting{xy(e.At), piecesPlace{e.Host, e.HostS}, piecesPlace{e.Strand, s}})
	}
	for _, s := range l.job.Inlay.Strips {
		in.Strips = append(in.Strips, piecesStrip{s.Material, s.Thickness})
	}
	if len(in.Strips) == 0 {
		in.Strips = []piecesStrip{{"", l.job.Inlay.Width}}
	}
	return in
}

// askPieces has the witness judge lists, all in one go, with what it is asked for each edited.
func askPieces(t *testing.T, all []listed, edits ...func(in *piecesInput)) []piecesOutput {
	t.Helper()
	python := witness.Python(t, "ezdxf", "shapely")
	dir := t.TempDir()
	if keep := os.Getenv("PIECES_OUT"); keep != "" {
		dir = keep
	}
	args := []string{witness.Script(t, "pieces.py")}
	for i, l := range all {
		name := fmt.Sprintf("%d-%s", i, l.name)
		in := l.input()
		in.CSV = name + ".csv"
		if edits != nil {
			edits[i](&in)
		}
		data, err := json.Marshal(in)
		if err != nil {
			t.Fatal(err)
		}
		writeFiles(t, dir, []build.File{{Path: in.CSV, Data: l.list.CSV()}, {Path: name + ".json", Data: data}})
		args = append(args, filepath.Join(dir, name+".json"))
	}
	out, err := witness.Run(python, args...)
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var found []piecesOutput
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var o piecesOutput
		if err := d.Decode(&o); err != nil {
			t.Fatal(err)
		}
		found = append(found, o)
	}
	if len(found) != len(all) {
		t.Fatalf("%d of %d lists are judged", len(found), len(all))
	}
	return found
}

// holdPieces holds lists to the witness: counts, lengths to 0.01 mm, angles to 0.05 degrees.
func holdPieces(t *testing.T, all []listed) {
	t.Helper()
	rows, length, angle, odd := 0, 0.0, 0.0, 0
	for i, o := range askPieces(t, all) {
		rows, odd = rows+o.Rows, odd+o.Odd
		length, angle = math.Max(length, o.LengthError), math.Max(angle, o.AngleError)
		if o.Rows == 0 {
			t.Errorf("%s: no pieces", all[i].name)
		}
		if len(o.Faults) > 0 {
			t.Errorf("%s: %d faults\n%s", all[i].name, len(o.Faults), strings.Join(o.Faults[:min(5, len(o.Faults))], "\n"))
		}
	}
	t.Logf("%d lists, %d pieces, %d of them without a side: lengths differ by %.2g mm, angles by %.2g degrees", len(all), rows, odd, length, angle)
}

func TestWitnessCutsEveryJob(t *testing.T) {
	t.Parallel()
	var all []listed
	for name, text := range jobs(t) {
		j, found := job.Read(name, []byte(text))
		if found.HasErrors() {
			t.Fatal(name, found)
		}
		if j.Table != nil {
			all = append(all, listTable(t, name, text))
			continue
		}
		l, found := listPieces(name, j)
		if found.HasErrors() {
			t.Fatal(name, found)
		}
		all = append(all, l)
	}
	slices.SortFunc(all, func(a, b listed) int { return strings.Compare(a.name, b.name) })
	holdPieces(t, all)
}

// TestWitnessCutsMotifs has the witness cut seeded motifs: by itself a few, PIECES=n so
// many, PIECES=all the 60 that are asked for.
func TestWitnessCutsMotifs(t *testing.T) {
	t.Parallel()
	const asked, few = 60, 12
	count := few
	switch v := os.Getenv("PIECES"); v {
	case "":
	case "all":
		count = asked
	default:
		n, err := strconv.Atoi(v)
		if err != nil {
			t.Fatalf("PIECES=%s is neither all nor a number", v)
		}
		count = n
	}
	var all []listed
	reasons := map[string]int{}
	for seed := 0; len(all) < count; seed++ {
		text := cutJob(seed)
		name := fmt.Sprintf("seed-%d", seed)
		j, found := job.Read(name+".toml", []byte(text))
		if found.HasErrors() {
			t.Fatalf("%s: %v\n%s", name, found, text)
		}
		l, found := listPieces(name, j)
		// What ends beside a strand that it was meant to end on lies on it, and neither is over.
		if i := slices.IndexFunc(found, func(f diag.Finding) bool {
			return f.Severity == diag.Error || f.Rule == "tee-near" || f.Rule == "ends-near"
		}); i >= 0 {
			reasons[found[i].Rule]++
			continue
		}
		all = append(all, l)
	}
	for _, r := range slices.Sorted(maps.Keys(reasons)) {
		t.Logf("%d motifs can't be made: %s", reasons[r], r)
	}
	holdPieces(t, all)
}

var widthLine = regexp.MustCompile(`(?m)^width = "?([0-9.]+).*$`)

// cutJob is a seeded job with a lay-up of one to four strips in its groove: two of
// three a pattern of byhand's, the third thrown. Every other is laid as a sandwich.
func cutJob(seed int) string {
	r := rand.New(rand.NewPCG(uint64(seed), 15))
	var text string
	if seed%3 == 2 {
		var paths []string
		for range 1 + r.IntN(4) {
			if r.IntN(2) == 0 {
				paths = append(paths, thrown.Chain(r))
			} else {
				paths = append(paths, thrown.Ring(r))
			}
		}
		text = thrown.Job(4, 2, paths...)
	} else {
		_, d := byhand.Seeded(seed)
		text = d.Write(byhand.Hand{})
	}
	return laidUp(r, text, work.Laid(seed/3%2))
}

// laidUp has a job's width filled by strips, but for a clearance.
func laidUp(r *rand.Rand, text string, laid work.Laid) string {
	const clearance = 0.1
	width, err := strconv.ParseFloat(widthLine.FindStringSubmatch(text)[1], 64)
	if err != nil {
		panic(err)
	}
	n := 1 + r.IntN(4)
	left := math.Round((width-clearance)*100) / 100
	var strips []string
	for i := range n {
		thick := left
		if i < n-1 {
			thick = math.Round(width/float64(n)*(0.5+0.5*r.Float64())*100) / 100
		}
		left -= thick
		strips = append(strips, fmt.Sprintf(`{ material = %q, thickness = "%.2f mm" }`, []string{"holly", "pear", "bronze", "maple"}[i], thick))
	}
	return widthLine.ReplaceAllString(text, fmt.Sprintf("clearance = \"%g mm\"\nlaid = %q\nstrips = [%s]", clearance, laid, strings.Join(strips, ", ")))
}

// TestWitnessSeesAWrongList makes sure that the witness is no rubber stamp: strips laid from
// right to left, of other thickness, and a crossing the other way are found.
func TestWitnessSeesAWrongList(t *testing.T) {
	t.Parallel()
	j, found := job.Read("looped-triangle.toml", []byte(jobs(t)["looped-triangle.toml"]))
	if found.HasErrors() {
		t.Fatal(found)
	}
	l, found := listPieces("looped-triangle", j)
	if found.HasErrors() {
		t.Fatal(found)
	}
	what := []string{"as it is", "backward", "thicker", "the other way"}
	got := askPieces(t, []listed{l, l, l, l},
		func(*piecesInput) {},
		func(in *piecesInput) { slices.Reverse(in.Strips) },
		func(in *piecesInput) { in.Strips[0].Thickness += 0.05 },
		func(in *piecesInput) {
			c := &in.Crossings[0]
			c.Upper, c.Lower = c.Lower, c.Upper
		})
	for i, o := range got {
		if sound := len(o.Faults) == 0; sound != (i == 0) {
			t.Errorf("%s: %d faults are found", what[i], len(o.Faults))
		}
	}
}

// TestPiecesOfRoundedJobs: numbers rounded to two decimals give the same pieces, as long as
// before to about as much.
func TestPiecesOfRoundedJobs(t *testing.T) {
	t.Parallel()
	texts := everyJob(t)
	for seed := range 18 {
		_, d := byhand.Seeded(seed)
		texts[fmt.Sprintf("seed-%d", seed)] = d.Write(byhand.Hand{})
	}
	for name, text := range texts {
		d, err := byhand.Of(text)
		if err != nil {
			t.Fatal(name, err)
		}
		exact, rounded := handPieces(t, name, d, byhand.Hand{}), handPieces(t, name, d, byhand.Hand{Decimals: 2})
		if len(exact) != len(rounded) {
			t.Errorf("%s: %d pieces, rounded %d", name, len(exact), len(rounded))
			continue
		}
		worst := 0.0
		for i, p := range exact {
			q := rounded[i]
			if p.Strand != q.Strand || p.Strip != q.Strip {
				t.Errorf("%s: piece %d is of strand %d, rounded of %d", name, i+1, p.Strand, q.Strand)
			}
			worst = max(worst, math.Abs(p.Left-q.Left), math.Abs(p.Middle-q.Middle), math.Abs(p.Right-q.Right))
		}
		// A piece has two ends, and each moves by as much as points do, divided by the sine of a slant.
		const ends = 3
		if most := ends * (byhand.Hand{Decimals: 2}).Moves(d); worst > most {
			t.Errorf("%s: lengths differ by %.4f mm, more than %.4f", name, worst, most)
		}
	}
}

// handPieces are the pieces of a drawing as a hand writes it down.
func handPieces(t *testing.T, name string, d byhand.Drawing, h byhand.Hand) []cutlist.Piece {
	t.Helper()
	j, found := job.Read(name, []byte(d.Write(h)))
	if found.HasErrors() {
		t.Fatal(name, found)
	}
	l, found := listPieces(name, j)
	if found.HasErrors() {
		t.Fatal(name, found)
	}
	return l.list.Pieces
}
