package build_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/dxf"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/unit"
)

// What dxf_outlines.py finds: each edge's length, radius, and headings at its start and its
// end in degrees.
type foundOutline struct {
	Layer string
	Area  float64
	Edges [][4]float64
}

// asListed is a row of strips.csv.
type asListed struct {
	piece, end1, end2                                        string
	thickness, left, middle, right, degrees1, degrees2, bend float64
}

func listedStrips(t *testing.T, data []byte) (rows []asListed) {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatal(all, err)
	}
	for _, r := range all[1:] {
		n := func(i int) float64 {
			v, err := strconv.ParseFloat(r[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		rows = append(rows, asListed{r[0], r[8], r[10], n(4), n(5), n(6), n(7), n(9), n(11), n(12)})
	}
	return rows
}

// trapezium is what a straight outline with these sides must measure: its sides and its ends,
// each the shorter first, its ends' angles to the sides, and its area.
func trapezium(thickness, left, right, degrees1, degrees2 float64) (want [7]float64) {
	end := func(d float64) float64 { return thickness / math.Sin(d*math.Pi/180) }
	pair := func(a, b float64) (lo, hi float64) { return min(a, b), max(a, b) }
	want[0], want[1] = pair(left, right)
	want[2], want[3] = pair(end(degrees1), end(degrees2))
	want[4], want[5] = pair(min(degrees1, 180-degrees1), min(degrees2, 180-degrees2))
	want[6] = thickness * (left + right) / 2
	return want
}

// straight measures an outline of four edges likewise, of a curved end its chord; mm is a unit
// of the drawing.
func (o foundOutline) straight(mm float64) (got [7]float64, ok bool) {
	if len(o.Edges) != 4 {
		return got, false
	}
	o.Edges = slices.Clone(o.Edges)
	for i, e := range o.Edges {
		if e[1] != 0 {
			o.Edges[i][0] = 2 * e[1] * math.Sin(e[0]/2/e[1])
			o.Edges[i][2] = (e[2] + e[3]) / 2
		}
	}
	side := 0 // of the two pairs of edges across from one another the parallel one
	parallel := func(i int) float64 {
		return math.Abs(math.Sin((o.Edges[i][2] - o.Edges[i+2][2]) * math.Pi / 180))
	}
	long := func(i int) float64 { return o.Edges[i][0] + o.Edges[i+2][0] }
	if p, q := parallel(0), parallel(1); p > 1e-6 || q < 1e-6 && long(1) > long(0) {
		side = 1
	}
	angle := func(i int) float64 {
		return math.Asin(math.Abs(math.Sin((o.Edges[i][2]-o.Edges[side][2])*math.Pi/180))) * 180 / math.Pi
	}
	pair := func(at int, a, b float64) { got[at], got[at+1] = min(a, b), max(a, b) }
	pair(0, mm*o.Edges[side][0], mm*o.Edges[side+2][0])
	pair(2, mm*o.Edges[1-side][0], mm*o.Edges[(3-side)%4][0])
	pair(4, angle(1-side), angle((3-side)%4))
	got[6] = mm * mm * math.Abs(o.Area)
	return got, true
}

// TestWitnessMeasuresStrips has ezdxf measure the drawing of the strips: of every piece in
// strips.csv there is an outline with its sides, its ends' angles and its area, to what pieces
// of one drawing may differ by, and of a bent one, as it is laid, one with its two radii and lengths.
func TestWitnessMeasuresStrips(t *testing.T) {
	const (
		length = 0.05 + 1e-4 // mm
		angle  = 0.1 + 1e-4  // degrees
	)
	python := witness.Python(t, "ezdxf")
	text := everyJob(t)["box-lid.toml"]
	for _, laid := range []string{"strips", "sandwich"} {
		job := text
		if laid == "sandwich" {
			job = strings.Replace(text, "[inlay]", "[inlay]\nlaid = \"sandwich\"", 1)
		}
		r := build.Kept(job).Build("job.toml", []byte(job), build.Options{})
		if !r.OK() || r.Reached != build.Proved {
			t.Fatal(r.Findings)
		}
		dir := t.TempDir()
		writeFiles(t, dir, r.Files)
		drawing := file(t, r, build.StripDXFPath)
		own, err := dxf.Read(bytes.NewReader(drawing.Data))
		if err != nil || drawing.Role != build.StripSheetRole {
			t.Fatal(drawing.Role, err)
		}
		mm := own.Units.MM()
		out, err := witness.Run(python, witness.Script(t, "dxf_outlines.py"), filepath.Join(dir, "strips", "strips.dxf"))
		if err != nil {
			t.Fatalf("%v\n%.2000s", err, out)
		}
		var found []foundOutline
		if err := json.Unmarshal(out, &found); err != nil {
			t.Fatal(err)
		}
		rows := listedStrips(t, file(t, r, build.StripsPath).Data)
		bent := 0
		for i, row := range rows {
			left, right := row.left, row.right
			if row.bend > 0 { // before it is bent: as long as its middle
				cot := func(d float64) float64 { return 1 / math.Tan(d*math.Pi/180) }
				slant := row.thickness / 2 * (cot(row.degrees2) - cot(row.degrees1))
				left, right = row.middle+slant, row.middle-slant
			}
			if row.end1 != "cope" && row.end2 != "cope" || row.bend > 0 {
				want := trapezium(row.thickness, left, right, row.degrees1, row.degrees2)
				tolerance := [7]float64{length, length, length, length, angle, angle, length * row.thickness * 2}
				if !slices.ContainsFunc(found, func(o foundOutline) bool {
					got, ok := o.straight(mm)
					for k := range got {
						ok = ok && math.Abs(got[k]-want[k]) <= tolerance[k]
					}
					return ok
				}) {
					t.Errorf("%s: no outline is that of piece %s: %v", laid, row.piece, want)
				}
			}
			if row.bend == 0 || len(r.List.Pieces[i].Segments) != 1 {
				continue
			}
			bent++
			if !slices.ContainsFunc(found, func(o foundOutline) bool {
				sums := map[bool]float64{} // of the arcs of the outer side and of the inner one
				for _, e := range o.Edges {
					for _, outer := range []bool{true, false} {
						want := row.bend - row.thickness/2
						if outer {
							want += row.thickness
						}
						if isSide := e[0]*mm > 2*row.thickness; isSide && e[1] != 0 && math.Abs(e[1]*mm-want) < length {
							sums[outer] += e[0] * mm
						}
					}
				}
				return math.Abs(sums[true]-max(row.left, row.right)) < length && math.Abs(sums[false]-min(row.left, row.right)) < length ||
					math.Abs(sums[true]-min(row.left, row.right)) < length && math.Abs(sums[false]-max(row.left, row.right)) < length
			}) {
				t.Errorf("%s: no outline is that of piece %s as laid", laid, row.piece)
			}
		}
		if bent == 0 || len(rows) < 20 {
			t.Errorf("%s: %d pieces, %d of them bent", laid, len(rows), bent)
		}
	}
}

// The strips at full size are no parts: nothing is cut of them from sheets, and no panel has them.
func TestStripsAreNoParts(t *testing.T) {
	r := build.Kept(string(triangle(t, ""))).Build("job.toml", triangle(t, ""), build.Options{Nest: true})
	if !r.OK() {
		t.Fatal(r.Findings)
	}
	for _, p := range r.Parts {
		if strings.Contains(p.Sheet.Name, "strip") {
			t.Errorf("%s is a part", p.Sheet.Name)
		}
	}
	if f := file(t, r, build.StripDXFPath); f.Panel != "" || f.Kind != build.DXF {
		t.Errorf("%v of panel %q", f.Kind, f.Panel)
	}
	if f := file(t, r, build.LabelsPath); f.Role != "labels" || f.Kind != build.PDF {
		t.Errorf("%v %q", f.Kind, f.Role)
	}
	if len(r.Figures) == 0 || r.Job.Units != unit.MM {
		t.Error("nothing is drawn at full size")
	}
	if only := build.Kept(string(triangle(t, ""))).Build("job.toml", triangle(t, ""), build.Options{Only: build.Templates}); slices.ContainsFunc(only.Files, func(f build.File) bool {
		return f.Path == build.StripDXFPath || f.Path == build.LabelsPath
	}) {
		t.Error("they are written with templates alone")
	}
}
