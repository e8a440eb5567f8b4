package received_test

import (
	"strings"
	"testing"

	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

// Slips of the pen in a job with a rider of 100 mm, a bit of 3 and tracks of 102:
// each is asked for at its place, with what to write, and makes no groove. What is
// written as the hint says is taken.
func TestSlips(t *testing.T) {
	for _, c := range []struct{ card, want, hint string }{
		{"[track]\nA1 = 10.205", "2:6: error: 10.205 for the track A1, which is planned 102 mm: is 102.05 meant?", "write 102.05, or measure again"},
		{"[track]\nA1 = 1.0205", "2:6: error: 1.0205 for the track A1, which is planned 102 mm: is 102.05 meant?", "write 102.05, or measure again"},
		{"[track]\nA1 = 10205", "2:6: error: 10205 for", ""}, // beyond calipers, too
		{"[track]\nA1 = 1020.5", "2:6: error: 1020.5 for the track A1, which is planned 102 mm: is 102.05 meant?", "write 102.05, or measure again"},
		{"[track]\nA1 = 120.05", "2:6: error: 120.05 for the track A1, which is planned 102 mm: is 102.05 meant?", "write 102.05, or measure again"},
		{"[track]\nA1 = [102.01, 120.05, 102]", "2:15: error: 120.05 for the track A1, which is planned 102 mm: is 102.05 meant?", "write 102.05, or measure again"},
		{"[track]\nA1 = 4.018", "2:6: error: 4.018 for the track A1, which is planned 102 mm: is 4.018 in meant?", `write "4.018 in", or measure again`},
		{"[track]\nA1 = \"102.05 in\"", "2:6: error: \"102.05 in\" for the track A1, which is planned 102 mm: is 102.05 mm meant?", `write "102.05 mm", or measure again`},
		{"[track]\nA1 = '10.2 cm'", "", ""},
		{"[track]\nA1 = [102,1]", "2:11: error: 1 for the track A1, which is planned 102 mm: is 102.1 meant?", "write 102.1, or measure again"},
		{"bit = 30.5", "1:7: error: 30.5 for the bit, which is planned 3 mm: is 3.05 meant?", "write 3.05, or measure again"},
		{"bit = 0.12", "1:7: error: 0.12 for the bit, which is planned 3 mm: is 0.12 in meant?", `write "0.12 in", or measure again`},
		{"bit = 100.02", "1:7: error: 100.02 for the bit, which is planned 3 mm: is it the rider?", "put each reading into its own row: the rider is planned 100 mm"},
		{"bit = 102.1", "1:7: error: 102.1 for the bit, which is planned 3 mm: is it a track?", "put each reading into its own row: a track is planned 102 mm"},
		{"[track]\nA1 = 3.02", "2:6: error: 3.02 for the track A1, which is planned 102 mm: is it the bit?", "put each reading into its own row: the bit is planned 3 mm"},
		{"rider = [100, 10.01, 99.99]", "1:15: error: 10.01 for the rider, which is planned 100 mm: is 100.1 meant?", "write 100.1, or measure again"},
		// No slips: bad parts, and another bit than the job's.
		{"[track]\nA1 = 103.9", "", ""},
		{"[track]\nA1 = 100.2", "", ""},
		{"[track]\nA1 = 105", "", ""},
		{"[track]\nA1 = \"4 1/64 in\"", "", ""},
		{"bit = 3.175", "", ""},
		{"bit = 2", "", ""},
		{"bit = 4", "", ""},
		{"rider = 98.5", "", ""},
	} {
		card := c.card
		for _, row := range []string{"bit = 3\n", "rider = 100\n"} {
			if !strings.HasPrefix(card, row[:3]) {
				card = strings.Replace(card+"\n", "[track]", row+"[track]", 1)
				if !strings.Contains(card, row) {
					card += row
				}
			}
		}
		if !strings.Contains(card, "[track]") {
			card += "[track]\nA1 = 102\n"
		}
		read, found := received.Read("card.toml", []byte(card), unit.MM, []string{"A1"})
		if found.HasErrors() {
			if c.want == "" || !strings.Contains(found.Error(), "must be at most") {
				t.Errorf("%s\n%v", card, found)
			}
			continue
		}
		grooves, found := received.Judge(work(t, "mm"), read, openings("A1"))
		slips := 0
		for _, f := range found {
			if f.Rule != "slip-of-the-pen" {
				continue
			}
			slips++
			// The lines before [track] were put in above.
			want := c.want
			if strings.HasPrefix(c.card, "[track]") {
				want = strings.Replace(want, "2:", "4:", 1)
			}
			if !strings.HasPrefix(f.Error(), "card.toml:"+want) || c.hint != "" && f.Hint != c.hint || f.Excerpt == "" {
				t.Errorf("%s\n got %s (%s)\nwant %s (%s)", card, f.Error(), f.Hint, want, c.hint)
			}
		}
		if want := min(1, len(c.want)); slips != want {
			t.Errorf("%s\n%d slips, want %d: %v", card, slips, want, found)
		}
		if g := grooves[0]; slips > 0 && g.Verdict != received.Unknown {
			t.Errorf("%s\nis %s", card, g.Verdict)
		}
	}
}

// A card in inches: the plan is printed in the job's units, what was typed as it
// was typed.
func TestSlipInInches(t *testing.T) {
	card, found := received.Read("card.toml", []byte("rider = 3.937\nbit = 0.118\n[track]\nA1 = 102\n"), unit.Inch, []string{"A1"})
	if len(found) > 0 {
		t.Fatal(found)
	}
	_, found = received.Judge(work(t, "in"), card, openings("A1"))
	found = found.In(unit.Inch)
	if len(found) != 1 || found[0].Message != "102 for the track A1, which is planned 4.016 in: is 102 mm meant?" || found[0].Hint != `write "102 mm", or measure again` {
		t.Errorf("%v %q", found, found[0].Hint)
	}
}
