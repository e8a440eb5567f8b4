package cli_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"strapwork/pkg/cli"
)

const (
	readmeFile = "../../README.md"
	triangle   = "../../testdata/jobs/looped-triangle.toml"
)

func text(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// pieces are what a page shows of a job.
func pieces(t *testing.T, page string, least int) []string {
	t.Helper()
	return chapter(t, page, "", least)
}

// chapter are what one of a page's chapters shows, all of them for "".
func chapter(t *testing.T, page, name string, least int) []string {
	t.Helper()
	part := text(t, page)
	if name != "" {
		_, rest, ok := strings.Cut(part, "\n## "+name+"\n")
		if !ok {
			t.Fatalf("%s has no chapter %q", page, name)
		}
		part, _, _ = strings.Cut(rest, "\n## ")
	}
	var list []string
	for _, block := range regexp.MustCompile("(?s)```toml\n(.*?)```").FindAllStringSubmatch(part, -1) {
		list = append(list, block[1])
	}
	if len(list) < least {
		t.Fatalf("%s has %d pieces of a job, not %d or more", page, len(list), least)
	}
	return list
}

// buildsWithSkew builds a job whose one warning is of the printer that is out of
// square, which the pages say is reported.
func buildsWithSkew(t *testing.T, job string) {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, "readme.toml")
	if err := os.WriteFile(path, []byte(job), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	status := cli.Run([]string{"build", path, "--out", filepath.Join(dir, "out"), "--only", "paper,program,preview"}, strings.NewReader(""), &out, &errs)
	if status != 0 || strings.Count(errs.String(), "warning:") != 1 || !strings.Contains(errs.String(), "out of square") {
		t.Errorf("status %d, and\n%s", status, errs.String())
	}
}

// TestJobPage: the job that the page of the job file goes through is the one of
// testdata/jobs; and with its machine and its paper, it is a job that can be built.
func TestJobPage(t *testing.T) {
	job := pieces(t, "../job/README.md", 3)
	if job[0] != text(t, triangle) {
		t.Error("the job of the page isn't the looped triangle of testdata/jobs")
	}
	buildsWithSkew(t, strings.Join(job, "\n"))
}

// TestReadmeRoutes: the looped triangle with what the README adds for a laser shop,
// for paper and for a machine is a job that can be built.
func TestReadmeRoutes(t *testing.T) {
	job, cutting, ok := strings.Cut(text(t, triangle), "\n[cutting]\n")
	if !ok || strings.Contains(cutting, "[") {
		t.Fatal("the looped triangle doesn't end with [cutting]")
	}
	buildsWithSkew(t, job+"\n"+strings.Join(chapter(t, readmeFile, "Three routes", 3), "\n"))
}

// TestReadmeMotif: the motif that the README writes by hand is one that can be made.
func TestReadmeMotif(t *testing.T) {
	rest := "[inlay]\ndepth = 2\nwidth = 2.5\n[router]\nguide = \"bearing\"\nbit = 2.5\n"
	var out, errs bytes.Buffer
	in := strings.NewReader(chapter(t, readmeFile, "Writing a motif", 1)[0] + rest)
	if status := cli.Run([]string{"check", "-"}, in, &out, &errs); status != 0 || !strings.HasPrefix(out.String(), "can be made: ") {
		t.Errorf("status %d: %s%s", status, out.String(), errs.String())
	}
}

// TestReadmeDrawing: what the README adds to a motif that is traced makes it a job, and
// so does a drawing that the job reads by itself.
func TestReadmeDrawing(t *testing.T) {
	dir := t.TempDir()
	svg := `<svg xmlns="http://www.w3.org/2000/svg"><circle r="50" fill="none" stroke="#000"/><circle r="54" fill="none" stroke="#000"/></svg>`
	drawing, path := filepath.Join(dir, "knot.svg"), filepath.Join(dir, "knot.toml")
	if err := os.WriteFile(drawing, []byte(svg), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if status := cli.Run([]string{"trace", drawing, "--width", "180", "--edges", "--out", path, "--picture", filepath.Join(dir, "p.svg")}, strings.NewReader(""), &out, &errs); status != 0 {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	rest := chapter(t, readmeFile, "Your own job", 1)[0]
	read := "units = \"mm\"\n[motif]\n[[motif.drawing]]\nfile = \"knot.svg\"\nwidth = 180\nedges = true\n"
	for name, motif := range map[string]string{"traced.toml": text(t, path), "read.toml": read} {
		job := filepath.Join(dir, name)
		if err := os.WriteFile(job, []byte(motif+"\n"+rest), 0o644); err != nil {
			t.Fatal(err)
		}
		out.Reset()
		errs.Reset()
		if status := cli.Run([]string{"check", job}, strings.NewReader(""), &out, &errs); status != 0 || !strings.HasPrefix(out.String(), "can be made: 1 strand") {
			t.Errorf("%s: status %d: %s%s", name, status, out.String(), errs.String())
		}
	}
}

// TestReadmeLinks: what the README names is there.
func TestReadmeLinks(t *testing.T) {
	links := regexp.MustCompile(`\]\(([^)]*)\)`).FindAllStringSubmatch(text(t, readmeFile), -1)
	if len(links) < 4 {
		t.Fatalf("only %d links", len(links))
	}
	for _, l := range links {
		if _, err := os.Stat(filepath.Join("../..", l[1])); err != nil {
			t.Error(err)
		}
	}
}
