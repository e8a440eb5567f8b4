package job_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/job"
	"strapwork/pkg/work"
)

const stocked = `[stock]
kerf = 0.8
sanding = "0.1 mm"
spares = "1 / 5"
match = true
[[stock.board]]
material = "holly"
length = 900
width = "4 in"
thickness = 12
price = 18.5
count = 3
[[stock.board]]
material = "maple"
length = 600
width = 100
thickness = 1.2
`

// Boards are read, and say nothing of how the work is held.
func TestReadBoards(t *testing.T) {
	j := read(t, with(stocked))
	want := work.Stock{Kerf: 0.8, Sanding: 0.1, Spares: 0.2, Match: true, Boards: []work.StockBoard{
		{Material: "holly", Length: 900, Width: 101.6, Thickness: 12, Price: 18.5, Count: 3, Key: "stock.board.1"},
		{Material: "maple", Length: 600, Width: 100, Thickness: 1.2, Key: "stock.board.2"},
	}}
	if diff := cmp.Diff(want, j.Stock, near); diff != "" || j.Clamping != nil {
		t.Errorf("clamps %+v, -want +got\n%s", j.Clamping, diff)
	}
	if strings.Contains(j.Notes.Error(), "[stock]") {
		t.Errorf("all is given, but:\n%s", j.Notes.Error())
	}
	j = read(t, with("[[stock.board]]\nmaterial = \"holly\"\nlength = 900\nwidth = 100\nthickness = 12\n"))
	if !strings.Contains(j.Notes.Error(), "[stock] assumed: kerf 1 mm, sanding 0.1 mm, spares 0.1") || j.Clamping != nil {
		t.Errorf("%+v, notes:\n%s", j.Clamping, j.Notes.Error())
	}
	j = read(t, with("[stock]\nsanding = 1\nmatch = true\n[[stock.clamp]]\nfrom = [0, 0]\nto = [1, 1]\nheight = 2\n"))
	if j.Clamping == nil || strings.Count(j.Notes.Error(), "has no effect: there is no [[stock.board]]") != 2 || !strings.Contains(j.Notes.Error(), "[stock] assumed: clearance 3 mm\n") {
		t.Errorf("%+v, notes:\n%s", j.Clamping, j.Notes.Error())
	}
}

// What a board can't be is refused at its line.
func TestBadBoards(t *testing.T) {
	for change, want := range map[string]string{
		"width = \"4 in\"->width = 0":    "job.toml:41:9: error: width must be more than 0, not 0 mm",
		"count = 3->count = 0":           "count",
		"price = 18.5->price = -1":       "price",
		"price = 18.5->cost = 18.5":      `there is no key "cost" in [stock.board]`,
		"spares = \"1 / 5\"->spares = 2": "spares",
		"material = \"holly\"->":         "material is missing",
		"kerf = 0.8->kerf = 80":          "kerf",
	} {
		from, to, _ := strings.Cut(change, "->")
		_, found := job.Read("job.toml", []byte(with(strings.Replace(stocked, from, to, 1))))
		if !found.HasErrors() || !strings.Contains(found.Error(), want) {
			t.Errorf("%s: got %s, want %s", change, found.Error(), want)
		}
	}
}
