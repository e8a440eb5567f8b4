package bend

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/profile"
)

func layer(t testing.TB, material, temper string, thickness float64) Layer {
	t.Helper()
	m, err := profile.OpenMaterial(material, nil)
	if err != nil {
		t.Fatal(err)
	}
	of, _ := m.Temper(temper)
	return Layer{Material: material, Thickness: thickness, Of: m, Temper: of, Known: true}
}

// TestJudge: strains and limits by hand: R = t / 2e for the profiles' limits e.
func TestJudge(t *testing.T) {
	for _, c := range []struct {
		material, temper string
		thickness, r     float64
		want             Way
	}{
		{"walnut", "", 0.8, 46, Dry},       // 0.8 / (2 * 0.0087) = 45.98
		{"walnut", "", 0.8, 45.8, Heated},  // and to 0.8 / (2 * 0.035) = 11.43
		{"walnut", "", 0.8, 11.5, Heated},  //
		{"walnut", "", 0.8, 11.3, Steamed}, // and to 0.8 / (2 * 0.15) = 2.67
		{"walnut", "", 0.8, 2.7, Steamed},  //
		{"walnut", "", 0.8, 2.6, Tight},    //
		{"bronze", "", 1.2, 181, Dry},      // 0.5 * 105000 * 1.2 / 350 = 180
		{"bronze", "", 1.2, 179, Cold},     // and to 1.2 / (2 * 0.12) = 5
		{"bronze", "", 1.2, 4.9, Tight},    //
		{"bronze", "annealed", 1.2, 4.9, Cold},
		{"bronze", "spring", 1.2, 59, Tight}, // 1.2 / (2 * 0.01) = 60
	} {
		s := Stuff{layer(t, c.material, c.temper, c.thickness)}
		if got := s.Judge(c.r); got.Way != c.want || math.Abs(got.Strain-c.thickness/2/c.r) > 1e-12 {
			t.Errorf("%s %s %g to R %g: %v", c.material, c.temper, c.thickness, c.r, got)
		}
	}
	if got := (Stuff{{Material: "x", Thickness: 1}}).Judge(1); got.Way != Unknown {
		t.Errorf("a material that isn't known: %v", got)
	}
}

// TestJudgeGlued: a lay-up of walnut, bronze, walnut glued first bends about its middle,
// and its outer faces decide: 1.4 mm from it at R 300 is 0.00467, at R 100 0.014, which
// walnut doesn't take dry; alone 0.8 mm there is 0.004.
func TestJudgeGlued(t *testing.T) {
	s := Stuff{layer(t, "walnut", "", 0.8), layer(t, "bronze", "", 1.2), layer(t, "walnut", "", 0.8)}
	if got := s.Judge(300); !got.Glued || got.Way != Dry {
		t.Errorf("R 300: %+v", got)
	}
	if got := s.Judge(100); got.Glued || got.Way != Cold || got.Layer != 1 {
		t.Errorf("R 100: %+v", got)
	}
	if got := s.Judge(10); got.Glued || got.Way != Heated && got.Way != Steamed {
		t.Errorf("R 10: %+v", got)
	}
}

// TestLaminate: as few as do, and one fewer doesn't; none thinner than veneer.
func TestLaminate(t *testing.T) {
	l := layer(t, "holly", "", 3.4)
	// Three of 1.13 mm: the innermost at R 80 - 1.7 + 0.57 = 78.87, strained 0.0072; two
	// of 1.7 at R 79.15 are strained 0.0107; the limit is 0.009.
	if got := l.Laminate(80); got.N != 3 || math.Abs(got.Each-3.4/3) > 1e-12 || got.Way != Dry {
		t.Errorf("%+v", got)
	}
	// At R 12 even veneer of 0.4 mm is strained 0.019 dry; four of 0.85 at R 10.725 are
	// strained 0.0396, six of 0.567 at R 10.58 0.0268, seven of 0.486 at 10.54 0.023.
	if got := l.Laminate(12); got.N != 7 || got.Way != Heated {
		t.Errorf("%+v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		l.Thickness = rapid.Float64Range(0.4, 6).Draw(t, "t")
		r := rapid.Float64Range(4, 400).Draw(t, "R")
		got := l.Laminate(r)
		if got.N == 0 {
			return
		}
		way := func(n int) Way {
			each := l.Thickness / float64(n)
			return Stuff{{Material: "holly", Thickness: each, Of: l.Of, Known: true}}.Judge(r - l.Thickness/2 + each/2).Way
		}
		if got.Each < thinnest || way(got.N) > got.Way || got.N > 1 && way(got.N-1) <= got.Way {
			t.Errorf("%+v", got)
		}
		if thickest := Thickest(l.Dry(), r); (got.N == 1 && got.Way == Dry) != (l.Thickness <= thickest*(1+slack)) {
			t.Errorf("%g bends dry at R %g, yet %+v of %g", thickest, r, got, l.Thickness)
		}
	})
}
