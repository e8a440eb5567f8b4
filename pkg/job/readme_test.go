package job_test

import (
	"os"
	"strings"
	"testing"

	"strapwork/pkg/job"
	"strapwork/pkg/motif"
)

// The motif that README.md shows is one that can be made: as it stands there it makes five
// strands that meet nowhere but where they cross.
func TestReadmeMotif(t *testing.T) {
	page, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(string(page), "## Writing a motif")
	_, text, _ = strings.Cut(text, "```toml\n")
	text, _, ok := strings.Cut(text, "```")
	if !ok {
		t.Fatal("README.md shows no motif")
	}
	j, found := job.Read("README.toml", []byte(text+"[inlay]\ndepth = 3\nwidth = 3.08\n[router]\nguide = \"bushing\"\nrider = 16\nbit = 3\n"))
	if j == nil {
		t.Fatal(found)
	}
	m, found := motif.Build(j.Motif)
	if found.HasErrors() || len(m.Strands) != 5 {
		t.Errorf("%d strands; %v", len(m.Strands), found)
	}
	for _, s := range m.Strands {
		if !s.Contour.Closed {
			t.Errorf("%s has ends", m.NameAt(0, 0))
		}
	}
}
