package build_test

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/internal/witness"
)

// triangle is the looped triangle's job, with lines added at its end.
func triangle(t *testing.T, added string) []byte {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	return append(data, "\n"+added...)
}

// Findings about paper stand at the line that they are about, with a hint.
func TestPaperFindings(t *testing.T) {
	base := bytes.Count(triangle(t, ""), []byte("\n")) // so many lines before what is added
	for _, c := range []struct {
		added     string
		line      int // counted in what is added
		want      string
		hint      string
		forbidden bool
	}{
		{"[paper]\npaper = \"A44\"", 2, `there is no paper "A44"`, `did you mean "A4"?`, true},
		{"[paper]\npaper = \"roll 61 mm\"", 2, "a roll of 61 mm can't be used", "200 mm", true},
		{"[paper]\nmeasured = [\"132 mm\", \"150 mm\"]", 2, "132 mm for 150 mm is -12.0 % out, more than any printer is", "at actual size", true},
		{"[paper]\nmeasured = [\"148.9 mm\",\n\"154.6 mm\"]", 3, "154.6 mm for 150 mm is 3.1 % out", "at actual size", true},
		{"[paper]\ndiagonals = [\"205.7 mm\", \"212 mm\"]", 2, "205.7 mm for 212.132 mm is -3.0 % out", "diagonals", true},
		{"[paper]\nmargin = \"30 mm\"", 2, "a margin of 30 mm can't be used", "0 to 18 mm", true},
		{"[paper]\npaper = \"./printer.toml\"", 2, "cannot be read", "job file's folder", true},
		// sin(skew) = (212.3^2 - 212^2) / (4 150^2) = 0.001414, which is 0.081 degrees (derived)
		{"[paper]\ndiagonals = [\"212.3 mm\", \"212.0 mm\"]", 2, "out of square by 0.08 degrees, 0.212 mm in 150 mm, which scaling can't correct", "another printer", false},
	} {
		r := build.Check("job.toml", triangle(t, c.added), func(string) ([]byte, error) { return nil, errors.New("gone") }, nil)
		i := slices.IndexFunc(r.Findings, func(f diag.Finding) bool { return strings.Contains(f.Message, c.want) })
		if i < 0 {
			t.Errorf("%q: no %q in\n%v", c.added, c.want, r.Findings)
			continue
		}
		f := r.Findings[i]
		if f.Pos.Line != base+c.line || !strings.Contains(f.Hint, c.hint) || (f.Severity == diag.Error) != c.forbidden {
			t.Errorf("%q: %v (line %d, want %d), hint %q", c.added, f, f.Pos.Line, base+c.line, f.Hint)
		}
	}
}

func file(t *testing.T, r build.Result, path string) build.File {
	t.Helper()
	i := slices.IndexFunc(r.Files, func(f build.File) bool { return f.Path == path })
	if i < 0 {
		t.Fatalf("there is no %s", path)
	}
	return r.Files[i]
}

// Patterns have the parts' true size, whoever allows for the kerf.
func TestPatternsHaveNoKerf(t *testing.T) {
	given := "[paper]\nrevision = \"B\"\n"
	text := string(triangle(t, given))
	g, o := build.NewGraph(nil), build.Options{Only: build.Templates | build.PaperPatterns}
	me := g.Build("job.toml", []byte(text), o)
	byShop := g.Build("job.toml", []byte(strings.Replace(text, `kerf_by = "me"`, `kerf_by = "shop"`, 1)), o)
	if !me.OK() || !byShop.OK() || me.Kerf() == 0 || byShop.Kerf() != 0 {
		t.Fatalf("%v, %v", me.Findings, byShop.Findings)
	}
	const dxf = "templates/A-wall.dxf"
	if bytes.Equal(file(t, me, dxf).Data, file(t, byShop, dxf).Data) {
		t.Fatal("the drawings for the machine allow for no kerf")
	}
	for _, part := range me.Parts {
		path := "paper/" + part.Sheet.Name + ".pdf"
		mine, theirs := cutLines(t, file(t, me, path).Data), cutLines(t, file(t, byShop, path).Data)
		if mine == "" || mine != theirs {
			t.Errorf("%s depends on the kerf", path)
		}
	}
}

// cutLines is what MuPDF sees of the lines on a file's pages that are followed:
// solid ones of 0.1 mm, and dashed ones of 0.2 mm for edges.
func cutLines(t *testing.T, data []byte) string {
	t.Helper()
	path := t.TempDir() + "/pattern.pdf"
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := witness.Run(witness.Program(t, "mutool", "mupdf-tools"), "trace", path)
	if err != nil {
		t.Fatal(err)
	}
	var kept []string
	on := false
	for l := range strings.Lines(string(out)) {
		if strings.Contains(l, "<stroke_path") {
			dashed := strings.Contains(l, "dash_phase")
			on = strings.Contains(l, `linewidth=".1"`) && !dashed || strings.Contains(l, `linewidth=".2"`) && dashed
		}
		if on {
			kept = append(kept, l)
		}
		on = on && !strings.Contains(l, "</stroke_path>")
	}
	return strings.Join(kept, "")
}

// Every part has a pattern, and so has the groove; --only leaves out the rest.
func TestOnly(t *testing.T) {
	data := triangle(t, "")
	g := build.NewGraph(nil)
	all := g.Build("job.toml", data, build.Options{})
	for _, p := range all.Parts {
		file(t, all, "paper/"+p.Sheet.Name+".pdf")
		file(t, all, "templates/"+p.Sheet.Name+".dxf")
	}
	if f := file(t, all, "paper/groove.pdf"); f.Kind != build.PDF || f.Kind.String() != "pdf" || f.Role != "groove" {
		t.Errorf("%v %q", f.Kind, f.Role)
	}
	for _, c := range []struct {
		only            build.Want
		drawings, paper bool
	}{
		{build.Templates, true, false},
		{build.PaperPatterns, false, true},
		{build.Templates | build.PaperPatterns, true, true},
	} {
		r := g.Build("job.toml", data, build.Options{Only: c.only})
		has := func(ending string) bool {
			return slices.ContainsFunc(r.Files, func(f build.File) bool { return strings.HasSuffix(f.Path, ending) })
		}
		if has(".dxf") != c.drawings || has(".pdf") != c.paper || has("inlay.svg") {
			t.Errorf("only %b: %v", c.only, r.Files)
		}
	}
}
