package dxf_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

func read(t testing.TB, b []byte) dxf.Drawing {
	t.Helper()
	d, err := dxf.Read(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// What is written comes back, to the nine decimals of the file.
func TestReadWhatWasWritten(t *testing.T) {
	for name, o := range variants() {
		t.Run(name, func(t *testing.T) {
			d := read(t, write(t, part(), o))
			if d.Version != o.Version || d.Units != o.Units {
				t.Errorf("version %v, units %v", d.Version, d.Units)
			}
			near := cmpopts.EquateApprox(0, nearly)
			if diff := cmp.Diff(d.Bounds(), d.Extents, near); diff != "" {
				t.Errorf("the stated extents aren't those of the geometry: %s", diff)
			}
			if o.Layers != nil {
				if _, err := d.Sheet(o); err == nil || !strings.Contains(err.Error(), "OPENING and PIN") {
					t.Errorf("a shared layer gave %v", err)
				}
				return
			}
			want := part()
			if o.Bare {
				want = want.Without(sheet.Note)
			}
			want = want.InCutOrder()
			got, err := d.Sheet(o)
			if err != nil {
				t.Fatal(err)
			}
			got.Name, got.Title = want.Name, want.Title
			// Half a unit in the last place, in inches at worst.
			if diff := cmp.Diff(want, got, cmpopts.EquateApprox(0, 0.51e-9*25.4)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestReadEmpty(t *testing.T) {
	d := read(t, write(t, sheet.Sheet{}, dxf.Options{}))
	if !d.Extents.Empty() || len(d.Lines)+len(d.Circles) != 0 {
		t.Errorf("%+v", d)
	}
}

// Lines may end in CR LF and the file may begin with a byte order mark.
func TestReadForeignLineEnds(t *testing.T) {
	b := write(t, part(), dxf.Options{})
	crlf := append([]byte("\ufeff"), bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n"))...)
	if diff := cmp.Diff(read(t, b), read(t, crlf)); diff != "" {
		t.Error(diff)
	}
}

// An unclosed outline is returned as it is: the caller judges.
func TestReadOpenOutline(t *testing.T) {
	s := sheet.Sheet{Lines: []sheet.Line{{Role: sheet.Edge, Contour: geom.Contour{Vertices: []geom.Vertex{
		{Point: geom.Pt(0, 0)}, {Point: geom.Pt(1, 0)}, {Point: geom.Pt(1, 1)},
	}}}}}
	for _, v := range []dxf.Version{dxf.R2000, dxf.R12} {
		if d := read(t, write(t, s, dxf.Options{Version: v})); len(d.Lines) != 1 || d.Lines[0].Contour.Closed {
			t.Errorf("%v: %+v", v, d.Lines)
		}
	}
}

// Every refusal names the line.
func TestReadRefuses(t *testing.T) {
	r2000 := string(write(t, part(), dxf.Options{}))
	r12 := string(write(t, part(), dxf.Options{Version: dxf.R12}))
	tests := []struct {
		name, file, old, new, want string
	}{
		{"empty file", "", "", "", "cut short"},
		{"binary", r2000, r2000[:20], "AutoDesk\x00\x01", "not a group code"},
		{"cut short", r2000, "0\nEOF\n", "", "cut short"},
		{"text after the end", r2000, "EOF\n", "EOF\nmore\n", "text after EOF"},
		{"long line", r2000, "SECTION", strings.Repeat("x", 9000), "longer than"},
		{"other version", r2000, "AC1015", "AC1032", `version "AC1032"`},
		{"no units", r2000, "$INSUNITS", "$NOUNITS", "no $INSUNITS"},
		{"other units", r2000, "$INSUNITS\n70\n4", "$INSUNITS\n70\n6", "$INSUNITS is 6"},
		{"units disagree", r2000, "$MEASUREMENT\n70\n1", "$MEASUREMENT\n70\n0", "$MEASUREMENT is 0"},
		{"no extents", r2000, "$EXTMIN", "$EXTMID", "no $EXTMIN"},
		{"unknown entity", r2000, "0\nCIRCLE", "0\nSPLINE", "SPLINE: only"},
		{"text", r12, "0\nCIRCLE", "0\nTEXT", "TEXT: only"},
		{"unknown section", r2000, "2\nCLASSES", "2\nTHUMBNAILIMAGE", "not known"},
		{"section twice", r2000, "2\nCLASSES", "2\nHEADER", "a second section HEADER"},
		{"block with content", r2000, "0\nENDBLK", "0\nLINE", "LINE within a block"},
		{"unknown layer", r2000, "AcDbEntity\n8\nEDGE", "AcDbEntity\n8\nEDGES", `layer "EDGES" is not in`},
		{"layer twice", r2000, "2\nPIN\n", "2\nEDGE\n", `a second layer "EDGE"`},
		{"count", r2000, "90\n4", "90\n5", "has 4 vertices, but says 5"},
		{"big count", r2000, "90\n4", "90\n2000000000", "has 4 vertices"},
		{"bulge", r2000, "42\n1.000000000", "42\n1.000000001", "more than a half circle"},
		{"not a number", r2000, "42\n1.000000000", "42\nNaN", "not a number"},
		{"hexadecimal", r12, "42\n1.000000000\n0\nVERTEX", "42\n0x1p0\n0\nVERTEX", "not a number"},
		{"infinite", r12, "40\n2.500000000", "40\ninf", "not a number"},
		{"far away", r12, "40\n2.500000000", "40\n2000000", "beyond"},
		{"radius 0", r12, "40\n2.500000000", "40\n0", "radius above 0"},
		{"LWPOLYLINE in R12", r12, "0\nPOLYLINE", "0\nLWPOLYLINE", "release 12 has no LWPOLYLINE"},
		{"3D polyline", r12, "30\n0.000000000\n70\n1", "30\n0.000000000\n70\n9", "flags 9"},
		{"vertex missing", r12, "0\nSEQEND", "0\nCIRCLE", "expected VERTEX or SEQEND"},
		{"z", r12, "30\n0.000000000\n42", "30\n1.5\n42", "group 30 is 1.5"},
		{"extrusion", r2000, "230\n1.000000000", "230\n-1.000000000", "group 230 is -1"},
		{"width", r2000, "90\n4", "43\n0.5\n90\n4", "group 43 is 0.5"},
		{"unknown group", r2000, "90\n4", "1070\n5\n90\n4", "group 1070"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if !strings.Contains(tt.file, tt.old) {
				t.Fatalf("the file doesn't hold %q", tt.old)
			}
			file := strings.Replace(tt.file, tt.old, tt.new, 1)
			_, err := dxf.Read(strings.NewReader(file))
			var re *dxf.ReadError
			if !errors.As(err, &re) || re.Line < 1 || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q with a line", err, tt.want)
			}
		})
	}
}

// A failing reader's error comes through.
func TestReadPassesErrorsOn(t *testing.T) {
	boom := errors.New("boom")
	if _, err := dxf.Read(errReader{boom}); !errors.Is(err, boom) {
		t.Errorf("got %v", err)
	}
}

type errReader struct{ err error }

func (r errReader) Read([]byte) (int, error) { return 0, r.err }

// FuzzRead: no input makes the reader panic, and what it accepts comes back
// the same after being written: a second writing gives the same bytes as the
// first.
func FuzzRead(f *testing.F) {
	for _, o := range variants() {
		f.Add(write(f, part(), o))
	}
	// Short files, which mutations get further with.
	for _, v := range []dxf.Version{dxf.R2000, dxf.R12} {
		head := "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\n" + v.String() + "\n9\n$INSUNITS\n70\n4\n9\n$EXTMIN\n10\n0\n20\n0\n9\n$EXTMAX\n10\n1\n20\n1\n0\nENDSEC\n" +
			"0\nSECTION\n2\nTABLES\n0\nLAYER\n2\nEDGE\n62\n1\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n"
		f.Add([]byte(head + "0\nLWPOLYLINE\n8\nEDGE\n90\n2\n70\n1\n10\n0\n20\n0\n42\n1\n10\n1\n20\n1\n42\n-.5\n0\nENDSEC\n0\nEOF\n"))
		f.Add([]byte(head + "0\nPOLYLINE\n8\nEDGE\n70\n1\n0\nVERTEX\n8\nEDGE\n10\n0\n20\n0\n42\n1\n0\nVERTEX\n8\nEDGE\n10\n1\n20\n1\n0\nSEQEND\n8\nEDGE\n0\nENDSEC\n0\nEOF\n"))
		f.Add([]byte(head + "0\nCIRCLE\n8\nEDGE\n10\n0\n20\n0\n40\n1e-9\n0\nENDSEC\n0\nEOF\n"))
		f.Add([]byte(head + "0\nLWPOLYLINE\n8\nEDGE\n90\n2000000000\n"))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		d, err := dxf.Read(bytes.NewReader(b))
		if err != nil {
			return
		}
		o := dxf.Options{Version: d.Version, Units: d.Units}
		s, err := d.Sheet(o)
		if err != nil {
			return
		}
		var first bytes.Buffer
		if err := dxf.Write(&first, s, o); err != nil {
			// A coordinate at the very limit may pass it in the conversion, and
			// a radius below the last decimal is none.
			if farthest(d) < 0.99e6 && smallest(d) > 1e-9 {
				t.Fatalf("what was read can't be written: %v", err)
			}
			return
		}
		again, err := dxf.Read(bytes.NewReader(first.Bytes()))
		if err != nil {
			t.Fatalf("what was written can't be read: %v", err)
		}
		s2, err := again.Sheet(o)
		if err != nil {
			t.Fatal(err)
		}
		var second bytes.Buffer
		if err := dxf.Write(&second, s2, o); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(withoutTitle(first.Bytes()), withoutTitle(second.Bytes())) {
			t.Fatal("a second writing differs from the first")
		}
	})
}

// withoutTitle drops the comments, which are not read.
func withoutTitle(b []byte) []byte {
	_, after, _ := bytes.Cut(b, []byte("0\nSECTION\n"))
	return after
}

func farthest(d dxf.Drawing) float64 {
	m := 0.0
	for _, l := range d.Lines {
		for _, v := range l.Contour.Vertices {
			m = math.Max(m, math.Max(math.Abs(v.X), math.Abs(v.Y)))
		}
	}
	for _, c := range d.Circles {
		m = math.Max(m, math.Max(c.Radius, math.Max(math.Abs(c.Center.X), math.Abs(c.Center.Y))))
	}
	return m
}

func smallest(d dxf.Drawing) float64 {
	m := math.Inf(1)
	for _, c := range d.Circles {
		m = math.Min(m, c.Radius)
	}
	return m
}
