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
	mine, theirs := cutLines(t, file(t, me, build.PatternsPath).Data), cutLines(t, file(t, byShop, build.PatternsPath).Data)
	if mine == "" || mine != theirs {
		t.Error("the patterns depend on the kerf")
	}
}

// cutLines is what MuPDF sees of the lines on a file's pages that are followed:
// those of 0.4 mm.
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
			on = strings.Contains(l, `linewidth=".4"`)
		}
		if on {
			kept = append(kept, l)
		}
		on = on && !strings.Contains(l, "</stroke_path>")
	}
	return strings.Join(kept, "")
}

// Every part has pages in the patterns, and so has the groove, or a file of its
// own; --only leaves out the rest.
func TestOnly(t *testing.T) {
	data := triangle(t, "")
	g := build.NewGraph(nil)
	all := g.Build("job.toml", data, build.Options{})
	bound := file(t, all, build.PatternsPath)
	if bound.Kind != build.PDF || bound.Role != "patterns" || len(bound.Pages["groove"]) == 0 {
		t.Errorf("%v %q %v", bound.Kind, bound.Role, bound.Pages)
	}
	for _, p := range all.Parts {
		if len(bound.Pages[p.Sheet.Name]) == 0 {
			t.Errorf("no page has %s", p.Sheet.Name)
		}
		file(t, all, "templates/"+p.Sheet.Name+".dxf")
	}
	if len(bound.Pages) != len(all.Parts)+1 {
		t.Errorf("pages of %d pieces, for %d parts and the groove", len(bound.Pages), len(all.Parts))
	}
	apart := g.Build("job.toml", data, build.Options{Only: build.PaperPatterns, Separate: true})
	n := 0
	for _, f := range apart.Files {
		if f.Pages != nil {
			n++
		}
	}
	if n != len(all.Parts)+1 {
		t.Errorf("%d files for %d parts and the groove", n, len(all.Parts))
	}
	for _, p := range all.Parts {
		f := file(t, apart, "paper/"+p.Sheet.Name+".pdf")
		if f.Role != p.Ply.String() || f.Panel != p.Panel || len(f.Pages) != 1 || f.Pages[p.Sheet.Name][0] != 3 {
			t.Errorf("%s: role %q of panel %q, pages %v", f.Path, f.Role, f.Panel, f.Pages)
		}
	}
	if f := file(t, apart, "paper/groove.pdf"); f.Kind.String() != "pdf" || f.Role != "groove" || len(f.Pages["groove"]) == 0 {
		t.Errorf("%v %q %v", f.Kind, f.Role, f.Pages)
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
