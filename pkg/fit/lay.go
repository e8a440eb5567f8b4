package fit

// What was measured, put to the strips and the grooves of the job.

import (
	"cmp"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/measured"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

// Rules of findings about what was measured.
const (
	ruleCount  = "strip-count"
	ruleFar    = "far-off"
	ruleStrips = "strips-thick"
	ruleNarrow = "narrow"
	ruleWide   = "wide"
	ruleBit    = "bit-wide"
	ruleUneven = "uneven"
	ruleAnew   = "build-anew"
)

// fitter works one plan out.
type fitter struct {
	Params
	card  Card
	plan  Plan
	found diag.Findings
}

// strips puts the card's blocks to the strips of the lay-up.
func (f *fitter) strips() {
	f.plan.Strips = kindsOf(f.Inlay.Strips)
	if f.card.sandwich(f.Inlay) {
		f.plan.Strips = []Strip{sandwich(f.Inlay.Strips)}
	}
	if len(f.plan.Strips) == 0 {
		f.own()
		return
	}
	var materials []string
	for _, s := range f.plan.Strips {
		if !slices.ContainsFunc(materials, func(m string) bool { return same(m, s.Material) }) {
			materials = append(materials, s.Material)
		}
	}
	for _, m := range materials {
		f.material(m)
	}
	for i := range f.plan.Strips {
		f.measureStrip(&f.plan.Strips[i])
	}
}

// own takes the strips of the card where the job has none.
func (f *fitter) own() {
	for i, row := range f.card.strips {
		s := Strip{Numbers: []int{i + 1}, Material: row.material, reading: row.thickness}
		f.measureStrip(&s)
		f.plan.Strips = append(f.plan.Strips, s)
	}
	if len(f.card.strips) == 0 {
		f.card.Errorf(&f.found, measured.Reading{}, measured.RuleUnmeasured, "the strips are not measured").
			Hintf(`write a block [[strip]] with material = "holly" and thickness = .. for each, left to right`)
	}
}

// material puts the blocks of a material to its strips: a block for those that are alike,
// the thinnest to the thinnest, or one for each strip from the left.
func (f *fitter) material(name string) {
	var kinds []*Strip
	strips := 0
	for i := range f.plan.Strips {
		if s := &f.plan.Strips[i]; same(s.Material, name) {
			kinds, strips = append(kinds, s), strips+s.Count()
		}
	}
	var rows []measured.Reading
	for _, row := range f.card.strips {
		if same(row.material, name) {
			rows = append(rows, row.thickness)
		}
	}
	switch len(rows) {
	case 0: // reported as not measured
	case len(kinds):
		if !slices.ContainsFunc(rows, func(r measured.Reading) bool { return len(r.Values) == 0 }) {
			slices.SortStableFunc(rows, func(a, b measured.Reading) int { return cmp.Compare(a.Mean(), b.Mean()) })
			slices.SortStableFunc(kinds, func(a, b *Strip) int { return cmp.Compare(a.Planned, b.Planned) })
		}
		for i, s := range kinds {
			s.reading = rows[i]
		}
	case strips:
		f.oneByOne(kinds, rows)
	default:
		f.card.Errorf(&f.found, rows[len(rows)-1], ruleCount, "there are %s of %s, and the lay-up has %s of it, of %s",
			unit.Count(len(rows), "block"), name, unit.Count(strips, "strip"), unit.Count(len(kinds), "thickness")).
			Hintf("write a block for each thickness, %d, or for each strip from the left, %d", len(kinds), strips)
	}
}

// oneByOne puts a block to each strip, from the left.
func (f *fitter) oneByOne(kinds []*Strip, rows []measured.Reading) {
	var numbers []int
	for _, s := range kinds {
		numbers = append(numbers, s.Numbers...)
	}
	slices.Sort(numbers)
	for _, s := range kinds {
		for _, n := range s.Numbers {
			s.reading = s.reading.With(rows[slices.Index(numbers, n)])
		}
	}
}

// name is what findings call strips.
func (s Strip) name() string {
	if s.Sandwich {
		return "the sandwich"
	}
	if s.Material == "" {
		return numbered(s)
	}
	return numbered(s) + " (" + s.Material + ")"
}

// stripRows are the rows of all strips but one, of which a reading may be.
func (f *fitter) stripRows(but *Strip) (list []measured.Row) {
	for i := range f.plan.Strips {
		if s := &f.plan.Strips[i]; s != but && s.Planned > 0 {
			list = append(list, measured.Row{Name: s.name(), Planned: s.Planned})
		}
	}
	return list
}

func (f *fitter) grooveRow() measured.Row {
	return measured.Row{Name: "a groove", Planned: f.Inlay.Width}
}

func (f *fitter) bitRow() measured.Row { return measured.Row{Name: "the bit", Planned: f.Bit} }

// measureStrip takes the readings of strips, or says what is wrong with them.
func (f *fitter) measureStrip(s *Strip) {
	r := s.reading
	if len(r.Values) == 0 {
		f.card.Errorf(&f.found, r, measured.RuleUnmeasured, "%s: the thickness is not measured", s.name()).
			Hintf("measure it at three places and write thickness = [.., .., ..] below its [[strip]]")
		return
	}
	row := measured.Row{Name: s.name(), Reading: r, Planned: s.Planned}
	if s.Planned > 0 && f.unusable(row, "take strips of that thickness, or write theirs into the job", append(f.stripRows(s), f.grooveRow())...) {
		return
	}
	s.Least, s.Most = r.Span()
	if spread := s.Most - s.Least; spread > received.Uneven+rounding {
		f.card.Warnf(&f.found, r, ruleUneven, "%s: the thickness varies by %s", s.name(), unit.Len(spread)).
			Hintf("bring it to one thickness first: where it is thickest it jams, and where it is thinnest it is loose")
	}
}

// unusable reports a reading that is a slip of the pen, or too far from what is planned to
// be used.
func (f *fitter) unusable(row measured.Row, right string, others ...measured.Row) bool {
	if f.card.Asked(&f.found, row, others...) {
		return true
	}
	i, far := row.Far()
	if far {
		r, said := row.Said(i)
		f.card.Errorf(&f.found, r, ruleFar, "%s for %s, which is planned %s", said, row.Name, unit.Len(row.Planned)).
			Hintf("measure again; if it is right, %s", right)
	}
	return far
}

// grooves puts the card's blocks to what makes the grooves.
func (f *fitter) grooves(ways []Way) {
	for i, w := range ways {
		g := Groove{Way: w}
		for _, row := range f.card.grooves {
			if row.way == i {
				g.reading = g.reading.With(row.width)
			}
		}
		f.measureGroove(&g)
		f.plan.Grooves = append(f.plan.Grooves, g)
	}
}

func (f *fitter) measureGroove(g *Groove) {
	r := g.reading
	if len(r.Values) == 0 {
		f.card.Errorf(&f.found, r, measured.RuleUnmeasured, "the groove of %s is not measured", g.said()).
			Hintf("cut it in scrap and write [[groove]], cut = %s and width = .., a line each", g.key())
		return
	}
	others := append(f.stripRows(nil), f.bitRow())
	if g.Track != nil {
		others = append(others, measured.Row{Name: "the track, from wall to wall", Planned: g.Track.Nominal})
	}
	row := measured.Row{Name: "the groove of " + g.said(), Reading: r, Planned: f.Inlay.Width}
	if f.unusable(row, "look at the track and the bit", others...) {
		return
	}
	g.Narrow, g.Broad = r.Span()
	if spread := g.Broad - g.Narrow; spread > received.Uneven+rounding {
		f.card.Warnf(&f.found, r, ruleUneven, "the groove of %s varies by %s in width", g.said(), unit.Len(spread)).
			Hintf("look for chips, and for a bump or a burr on the walls, and cut it again")
	}
}
