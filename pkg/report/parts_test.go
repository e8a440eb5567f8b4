package report

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The list of sheets adds up to the parts, and nested ones are told.
func TestStock(t *testing.T) {
	for name, r := range examples(t) {
		section := flat(sections(t, r.sheet)["Have the parts cut"])
		told := 0
		for _, m := range regexp.MustCompile(`thick, (\d+) pieces? of`).FindAllStringSubmatch(section, -1) {
			n, _ := strconv.Atoi(m[1])
			told += n
		}
		parts := 0
		for _, p := range r.Parts {
			parts += p.Quantity
		}
		if told != parts {
			t.Errorf("%s: %d pieces are told of %d", name, told, parts)
		}
	}
	r := whole(t, bars)
	if s := flat(r.sheet); strings.Contains(s, "and not the single parts") {
		t.Error("sheets are spoken of that there aren't")
	}
}
