package plait

import "testing"

// TestStrandCount checks the number of strands against Fisher and Mellor's
// theorem, with cases worked by hand from gcd(a, b).
func TestStrandCount(t *testing.T) {
	for _, c := range []struct{ a, b, strands int }{
		{1, 1, 1},
		{2, 2, 2},
		{4, 5, 1},
		{12, 9, 3},
		{7, 14, 7},
		{6, 1, 1},
	} {
		lines := Lines(c.a, c.b, 10)
		if len(lines) != c.strands {
			t.Errorf("%d x %d: %d strands, want %d", c.a, c.b, len(lines), c.strands)
		}
		turns := 0
		for _, l := range lines {
			turns += l.Len()
		}
		if want := 2 * (c.a + c.b); turns != want {
			t.Errorf("%d x %d: %d bounces, want one for each square at the border, %d", c.a, c.b, turns, want)
		}
	}
}
