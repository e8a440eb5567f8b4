package dryrun

import (
	"fmt"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// The same cuts in other words are judged the same: centres and radii, absolute
// and by increments, in mm and inches, one helix or two halves.
func TestOtherWords(t *testing.T) {
	const head = "G21 G17 G90 G94 G54 G61\nG0 Z10\nS16000 M3\nG4 P3\n"
	const tail = "G0 Z10\nM5\nM2\n"
	// A ring of radius 30 by a helix down along its inner wall, round that, over
	// to the outer wall and round that.
	in, out := 30-play, 30+play
	base := fmt.Sprintf("G0 X%[1]g Y0\nG0 Z1\nG1 Z0 F250\nG3 X-%[1]g I-%[1]g Z-1.5 F1200\nG3 X%[1]g I%[1]g Z-3\nG3 X%[1]g I-%[1]g\nG1 X%[2]g\nG3 X%[2]g I-%[2]g\n", in, out)
	forms := map[string]string{
		"radii":      fmt.Sprintf("G0 X%[1]g Y0\nG0 Z1\nG1 Z0 F250\nG3 X-%[1]g R%[1]g Z-1.5 F1200\nG3 X%[1]g R%[1]g Z-3\nG3 X-%[1]g R%[1]g\nX%[1]g R%[1]g\nG1 X%[2]g\nG3 X0 Y%[2]g R%[2]g\nX%[2]g Y0 R-%[2]g\n", in, out),
		"increments": fmt.Sprintf("G0 X%[1]g Y0\nG0 Z1\nG91 G1 Z-1 F250\nG3 X-%[3]g I-%[1]g Z-1.5 F1200\nX%[3]g I%[1]g Z-1.5\nX0 I-%[1]g\nG1 X%[4]g\nG3 X0 I-%[2]g\nG90\n", in, out, 2*in, out-in),
		"one helix":  fmt.Sprintf("G0 X%[1]g Y0\nG0 Z1\nG1 Z0 F250\nG3 X%[1]g I-%[1]g Z-3 F1200\nG3 X%[1]g I-%[1]g\nG1 X%[2]g\nG3 X%[2]g I-%[2]g\n", in, out),
		"plain":      strings.ToLower(strings.ReplaceAll(base, " ", "")),
		"numbered":   "N10" + strings.ReplaceAll(strings.TrimSuffix(base, "\n"), "\n", "\nN20 ") + "\n",
	}
	w := against(ring(geom.Pt(0, 0), 30))
	want := judged(t, head+base+tail, w)
	if len(want.Findings) > 0 || len(want.Left) > 0 {
		t.Fatal(want.Findings)
	}
	for name, f := range forms {
		r := judged(t, head+f+tail, w)
		if len(r.Findings) > 0 || len(r.Left) > 0 {
			t.Errorf("%s: %v", name, r.Findings)
		}
		near(t, name+": length", r.Length, want.Length, 1e-6)
		near(t, name+": extents", r.Extents.Size().Norm(), want.Extents.Size().Norm(), 1e-6)
		near(t, name+": lowest", r.Lowest, -3, 1e-9)
	}
	// The wrong way round a half circle leaves the ring at once.
	bad := strings.Replace(base, "G1 X30.9525\nG3 X30.9525 I", "G1 X30.9525\nG3 X-30.9525 I", 1) + "G2 X30.9525 Y20 R40\n"
	r := judged(t, head+bad+tail, w)
	if got := strings.Join(rules(r.Findings, diag.Error), " "); !strings.Contains(got, "gouge:13") {
		t.Error(got, r.Findings)
	}
}

// Numbers meant in other units show as gouges and missed wood; the hint says
// what the reason may be.
func TestUnitsHint(t *testing.T) {
	inch := wrote(t, ngc.Options{Units: ngc.Inches, Decimals: 5}, func(w *ngc.Writer) {
		cutChain(w, -deep, geom.Rect(geom.Box{Min: geom.Pt(bit/2, -play), Max: geom.Pt(long-bit/2, play)}).Edges()...)
	})
	if r := judged(t, inch, against(straight())); !r.OK() {
		t.Fatal(r.Findings)
	}
	for text, hint := range map[string]string{
		strings.Replace(inch, "G20", "G21", 1): "needs G20",
		strings.Replace(good, "G21", "G20", 1): "needs G21",
	} {
		r := judged(t, text, against(straight()))
		if r.OK() {
			t.Fatalf("%s is taken", text)
		}
		for _, f := range r.Findings {
			if (f.Rule == "missed" || f.Rule == "gouge") && !strings.Contains(f.Hint, hint) {
				t.Errorf("%v: hint %q", f, f.Hint)
			}
		}
	}
}

// What the reader can't make out is a fault at its place, and makes no other
// faults.
func TestReaderErrors(t *testing.T) {
	text := strings.Replace(good, "G1 Y0.9525\nG1 Z-3", "G1 Y0.9525 Q2\nG1 X2 Y0 Z-3", 1)
	r := judged(t, text, against(straight()))
	got := rules(r.Findings, diag.Error)
	if len(got) != 1 || !strings.HasSuffix(got[0], ":10") || r.Findings[0].Pos.Col != 12 {
		t.Errorf("%v", r.Findings)
	}
	// What is left behind it is one warning.
	if got := rules(r.Findings, diag.Warning); len(got) != 1 || got[0] != "missed:18" {
		t.Errorf("%v", r.Findings)
	}
	// Where the reader understands next to nothing, only it speaks.
	r = judged(t, strings.ReplaceAll(good, " Y", " E"), against(straight(), bar(geom.Pt(0, 40), geom.Pt(long, 40))))
	for _, f := range r.Findings {
		if f.Severity == diag.Error && f.Rule != "letter" {
			t.Errorf("%v", f)
		}
	}
	if got := rules(r.Findings, diag.Warning); r.OK() || len(got) != 1 || got[0] != "missed:18" {
		t.Errorf("%v", r.Findings)
	}
	broken := Judge(failing{strings.NewReader(good[:100])}, ngc.Dialect{File: "p.nc"}, against(straight()), nil)
	if got := strings.Join(rules(broken.Findings, diag.Error), " "); !strings.Contains(got, "unreadable") {
		t.Error(broken.Findings)
	}
}

// failing is a file that breaks off with an error.
type failing struct{ r *strings.Reader }

func (f failing) Read(p []byte) (int, error) {
	if n, err := f.r.Read(p); err == nil {
		return n, nil
	}
	return 0, fmt.Errorf("the disk is gone")
}

// A path that is cut often is kept once.
func TestRepeatedPassesAreKeptOnce(t *testing.T) {
	kept := func(times int) int {
		lines := strings.SplitAfter(good, "\n")
		text := strings.Join(lines[:5], "") + strings.Repeat(strings.Join(lines[5:15], ""), times) + strings.Join(lines[15:], "")
		j := newJudge(ngc.Dialect{}, against(straight()), nil)
		if err := inBatches(strings.NewReader(text), ngc.Dialect{}, j.move); err != nil {
			t.Fatal(err)
		}
		return j.gouger.table.n
	}
	if a, b := kept(1), kept(1000); a != b || a != 5 {
		t.Errorf("%d and %d", a, b)
	}
}
