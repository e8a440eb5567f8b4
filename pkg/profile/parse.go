package profile

import (
	"fmt"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/unit"
)

// Rules of this package's findings.
const (
	RuleUnknown = "unknown-profile" // no such profile, or its file cannot be read
	RuleProfile = "bad-profile"     // there is one, but something in it is wrong
)

const (
	// maxBed in mm is beyond any sheet.
	maxBed = 20_000
	// maxTolerance in mm is where a template stops being one.
	maxTolerance = 2
	// maxCutter in mm is more than any cutter for sheet.
	maxCutter = 50
	// usualCutter in mm is a router's for thin sheet (common practice).
	usualCutter = 6
	// maxName is the length of a layer name that every DXF version takes (R12).
	maxName = 31
	// layerHint is what a layer may be called.
	layerHint = "up to 31 letters, digits, _ and -"
)

// A parser reads one file and collects what is wrong with it.
type parser struct{ conf.Section }

// begin opens a file of a kind; false means that it can't be gone on with.
func begin(format *conf.Format, k kind, file string, data []byte) (p parser, ok bool) {
	r, ok := conf.Open(format, file, data)
	p.Reader = r
	if !ok || k != kindShop && !isOf(r, k) {
		return p, false
	}
	p.Section = r.Whole()
	return p, true
}

// done is what was found wrong, nil if nothing.
func (p parser) done() error {
	if p.OK() {
		return nil
	}
	return p.Findings()
}

// Parse reads a profile; file is where it says its mistakes are. The error is
// a diag.Findings.
func Parse(name, file string, data []byte) (Shop, error) {
	p, ok := begin(&shopFormat, kindShop, file, data)
	if !ok {
		return Shop{}, p.done()
	}
	s := Shop{
		Name: name, About: p.Text("about"), Cutter: Cutter(max(0, p.Word("cutter"))), Units: unit.System(max(0, p.Word("units"))),
		Tolerance: p.Length("tolerance"), layers: map[string]Layer{},
	}
	p.Fill("bed", s.Bed[:])
	if v := p.Get("cutter_diameter"); s.Cutter == Router {
		s.CutterDiameter = p.Length("cutter_diameter")
	} else if v != nil {
		p.Faultf(v, conf.BadValue, "a laser has no cutter_diameter").Hintf("remove the line")
	}
	p.layers(&s)
	if err := p.done(); err != nil {
		return Shop{}, err
	}
	return s, nil
}

func (p parser) layers(s *Shop) {
	layers, _ := p.Sub("layers")
	colors := map[string]int{}
	for _, role := range slices.Sorted(slices.Values(Roles())) {
		t, ok := layers.Sub(role)
		if !ok {
			continue
		}
		l := Layer{Name: t.Text("name"), Color: t.Count("color")}
		s.layers[role] = l
		if v := t.Get("name"); v != nil && v.Kind == conf.KindString && !layerName(l.Name) {
			p.Faultf(v, conf.BadValue, "%q is not a layer name", l.Name).Hintf("use %s", layerHint)
		}
		if c, ok := colors[l.Name]; ok && c != l.Color {
			p.Faultf(t.Value, conf.BadValue, "the layer %q has two colors, %d and %d", l.Name, c, l.Color).Hintf("give one of the two another name")
		}
		colors[l.Name] = l.Color
	}
}

// layerName reports whether every DXF version takes a name.
func layerName(s string) bool {
	ok := func(c rune) bool {
		return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '_' || c == '-'
	}
	return s != "" && len(s) <= maxName && !strings.ContainsFunc(s, func(c rune) bool { return !ok(c) })
}

// rising reads some numbers, the least first.
func (p parser) rising(key string, into []float64) {
	p.Fill(key, into)
	for i, next := range into[1:] {
		if into[i] > next && next > 0 {
			p.Faultf(p.Get(key), conf.BadValue, "%s goes from %g down to %g", key, into[i], next).Hintf("write the lesser first: %s", p.Table.Key(key).Line(p.Units))
			return
		}
	}
}

// String is the profile on one line, for a list.
func (s Shop) String() string {
	return fmt.Sprintf("%s: %s", s.Name, s.About)
}
