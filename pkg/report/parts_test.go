package report

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
)

// The list of sheets adds up to the parts, and nested ones are said to be.
func TestStock(t *testing.T) {
	for name, r := range examples(t) {
		section := flat(sections(t, r.sheet)["Order the parts"])
		said := 0
		for _, m := range regexp.MustCompile(`thick, (\d+) pieces?, [^,;]+ in all`).FindAllStringSubmatch(section, -1) {
			n, _ := strconv.Atoi(m[1])
			said += n
		}
		parts := 0
		for _, p := range r.Parts {
			parts += p.Quantity
		}
		if said != parts {
			t.Errorf("%s: %d pieces are given of %d", name, said, parts)
		}
	}
	r := whole(t, bars)
	if s := flat(r.sheet); strings.Contains(s, "and not the single parts") {
		t.Error("sheets are spoken of that there aren't")
	}
}

// Every file of a panel in parts has a key of its own in the manifest, and the sheet
// says how its parts are joined.
func TestPanelInParts(t *testing.T) {
	text := "title = \"a border\"\nunits = \"mm\"\n[motif]\n[[motif.line]]\nname = \"a\"\nfrom = [-250, -40]\nto = [-60, 40]\n" +
		"[[motif.line]]\nname = \"b\"\nfrom = [60, 40]\nto = [240, -40]\n[inlay]\ndepth = 3\nwidth = 4\n" +
		"[router]\nguide = \"bushing\"\nrider = 12\nbit = 3\nbase = 100\nflute = 16\nshank = 6\ncollar = 8\n[template]\nframe = 0\nwall = 9\n" +
		"[cutting]\nprofile = \"small.toml\"\nkerf_by = \"shop\"\n"
	read := func(string) ([]byte, error) {
		return []byte("about = \"a laser\"\ncutter = \"laser\"\nunits = \"mm\"\nbed = [330, 250]\ntolerance = 0.1\n"), nil
	}
	r := build.Build("a.toml", []byte(text), read, build.Options{Only: build.Templates | build.PaperPatterns})
	if !r.OK() || len(r.Set.Panels) != 1 {
		t.Fatal(r.Findings)
	}
	p := newPanels(r)[0]
	for _, key := range []string{"wall_1_dxf", "wall_2_dxf", "wall_1_pdf", "wall_2_pdf"} {
		if p.Files[key] == "" {
			t.Errorf("no %s in %v", key, p.Files)
		}
	}
	if p.Parts != 2 || len(p.Joints) != 1 || p.Joints[0].Keys != 2 {
		t.Errorf("%d parts, joints %v", p.Parts, p.Joints)
	}
}
