package build_test

import (
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
)

// meander is a key pattern whose corners are all square: n turns of a running
// border, 8 corners to a turn.
func meander(n int) string {
	d := "M 0 0"
	for range n {
		d += " h 28.575 v -19.05 h -9.525 v 9.525 h -9.525 v -19.05 h 28.575 v 28.575"
	}
	return "[[motif.path]]\nname = \"key\"\nd = \"" + d + " h 20\"\n"
}

// Where one change halves cuts, panels or set-ups, one note says which, and with
// the change it is as it says, or better.
func TestWhyMany(t *testing.T) {
	const (
		inlay   = "[inlay]\ndepth = 2\nwidth = 3.2\n"
		bushing = "[router]\nguide = \"bushing\"\nrider = 12\nbit = 3\nflute = 12\ncollar = 6\nbase = 90\n"
		bearing = "[router]\nguide = \"bearing\"\nrider = 3\nbit = 3\nflute = 6\nshank = 2.5\nbase = 90\n"
		tilted  = "[motif]\nmirror = true\n[[motif.line]]\nfrom = [-100, -40]\nto = [110, 60]\n"
		threes  = "[motif]\ncopies = 3\n[[motif.line]]\nfrom = [-100, 20]\nto = [100, 20]\n"
	)
	rails := ""
	for i := range 6 {
		rails += fmt.Sprintf("[[motif.line]]\nfrom = [-80, %[1]d]\nto = [80, %[1]d]\n", 15*i)
	}
	for _, c := range []struct {
		name, motif, before, after, said string
		count                            func(r build.Result) int
	}{
		{"every corner splits the groove", meander(4), bushing, bearing, "with a rider as wide as the bit", func(r build.Result) int { return len(r.Cuts) }},
		{"panels that would do turned over", tilted, bushing + "[template]\nmargin = 60\n", bushing + "[template]\nmargin = 60\nflip = true\n", "with flip = true", func(r build.Result) int { return len(r.Set.Panels) }},
		{"panels that would do turned", threes, bushing + "[template]\nmargin = 60\nturn = false\n", bushing + "[template]\nmargin = 60\nturn = true\n", "with turn = true", func(r build.Result) int { return len(r.Set.Panels) }},
		{"a rider that reaches over its neighbours", rails, strings.Replace(bushing, "rider = 12", "rider = 60", 1), bearing, "with a rider of 3 mm in place of 60 mm", func(r build.Result) int { return r.Set.SetUps() }},
	} {
		t.Run(c.name, func(t *testing.T) {
			head := "title = \"why\"\nunits = \"mm\"\n" + c.motif + inlay
			before, after := build.Check("job.toml", []byte(head+c.before), noFiles, nil), build.Check("job.toml", []byte(head+c.after), noFiles, nil)
			if !before.OK() || !after.OK() {
				t.Fatalf("%v\n%v", before.Findings, after.Findings)
			}
			why := whys(before)
			if len(why) != 1 || !strings.Contains(why[0].Message, c.said) {
				t.Fatalf("%d in place of %d, and %v is said, want %q", c.count(after), c.count(before), why, c.said)
			}
			numbers := regexp.MustCompile(`^(\d+) .* it is (\d+) `).FindStringSubmatch(why[0].Message + " ")
			if numbers == nil {
				t.Fatalf("no numbers in %q", why[0].Message)
			}
			had, has := number(t, numbers[1]), number(t, numbers[2])
			if had != c.count(before) || has < c.count(after) || 2*has > had {
				t.Errorf("%q, but it is %d before and %d after", why[0].Message, c.count(before), c.count(after))
			}
			if again := whys(after); len(again) > 0 {
				t.Errorf("after the change: %v", again)
			}
		})
	}
}

// Nothing is said of jobs that no such change makes much better, nor of jobs with
// errors; and of a lid of 164 cuts it is in the job's units.
func TestWhyNotMany(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	for name, text := range jobs(t) {
		if name != "rosette.toml" && name != "star-tray.toml" { // the one is beyond what is asked, the other all corners
			if why := whys(build.Check(name, []byte(text), noFiles, nil)); len(why) > 0 {
				t.Errorf("%s: %v", name, why)
			}
		}
	}
	data, err := os.ReadFile("testdata/greek-key-164-cuts.toml")
	if err != nil {
		t.Fatal(err)
	}
	const want = "164 cuts: a rider of 1/4 in can't turn a sharp corner, and the groove is split at each of the 164; with a rider as wide as the bit it is 4 cuts"
	if why := whys(build.Check("key.toml", data, noFiles, nil)); len(why) != 1 || why[0].Message != want {
		t.Errorf("%v, want %q", why, want)
	}
	wrong := strings.Replace(string(data), `flute = "1/2"`, `flute = "1/64"`, 1)
	if why := whys(build.Check("key.toml", []byte(wrong), noFiles, nil)); len(why) > 0 {
		t.Errorf("beside an error: %v", why)
	}
}

func whys(r build.Result) diag.Findings {
	var out diag.Findings
	for _, f := range r.Findings {
		if f.Rule == build.RuleWhyMany {
			out.Add(f)
		}
	}
	return out
}

func number(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}
