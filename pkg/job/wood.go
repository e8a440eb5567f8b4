package job

// What the board and the strips are of.

import (
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

const ruleMaterial = "material-unknown"

func (r *reader) readWood(top conf.Section) (work.Wood, *work.Seasons) {
	t, _ := top.Sub("wood")
	w := work.Wood{Species: wood.Board, Color: r.color(t)}
	if t.Given("species") {
		w.Species = t.Name("species")
		r.checkMaterial(t, "species", w.Species, w.Color)
	}
	t.Assume("")
	return w, r.readSeasons(t)
}

// readSeasons is what the wood goes through; nil where the job says nothing of moisture.
func (r *reader) readSeasons(t conf.Section) *work.Seasons {
	s := work.Seasons{Sawn: work.Sawn(max(0, t.Word("sawn"))), Radial: t.Ratio("radial"), Tangential: t.Ratio("tangential"), Source: t.Name("source")}
	moisture, humidity := t.Get("moisture"), t.Get("humidity")
	switch {
	case moisture != nil && humidity != nil:
		r.Errorf(humidity, ruleConflict, "moisture and humidity are both given").Hintf("the room's humidity makes the wood's moisture; remove one of them")
	case humidity != nil:
		t.Fill("humidity", s.Change[:])
		s.ByHumidity = true
	case moisture != nil:
		t.Fill("moisture", s.Change[:])
	default:
		for _, key := range []string{"sawn", "radial", "tangential", "source"} {
			t.NoEffect(key, "without moisture, or humidity, seasons aren't worked out")
		}
		return nil
	}
	if !t.Given("sawn") {
		t.Assumed(`sawn "flat": across its width the board moves tangentially`)
	}
	r.ownCoefficients(t, s)
	return &s
}

// ownCoefficients checks coefficients that the job gives: a figure without its source helps nobody.
func (r *reader) ownCoefficients(t conf.Section, s work.Seasons) {
	unused, why := "radial", "a board sawn flat moves tangentially across its width"
	if s.Sawn == work.SawnQuarter {
		unused, why = "tangential", "a quarter-sawn board moves radially across its width"
	}
	t.NoEffect(unused, why)
	for _, key := range []string{"radial", "tangential"} {
		if v := t.Get(key); v != nil && s.Source == "" && t.Get("source") == nil && !t.Misspelt("source") {
			r.Faultf(v, conf.Missing, "%s is given without its source", key).Hintf("%s", t.Hint("source"))
			return
		}
	}
	if s.Radial == 0 && s.Tangential == 0 {
		t.NoEffect("source", "it is of radial and tangential, which aren't given")
	}
}

// color is a colour of one's own; "" where none is given, or it was wrong and reported.
func (r *reader) color(t conf.Section) string {
	v := t.Get("color")
	if v == nil {
		return ""
	}
	text := t.Text("color")
	if _, ok := wood.FromHex(text); !ok && v.Kind == conf.KindString {
		r.Faultf(v, conf.BadValue, "%q is not a colour", v.Text).Hintf("%s", t.Hint("color"))
		return ""
	}
	return text
}

// checkMaterial reports a name that the pictures have no colour for, unless the file
// gives its own. One that is likely misspelt may be a metal, which wants other care.
func (r *reader) checkMaterial(t conf.Section, key, name, color string) {
	v := t.Value.Get(key)
	if v == nil || name == "" || color != "" {
		return
	}
	m, known := wood.Find(name)
	near := wood.Nearest(name)
	const own = `give its own: color = "#c8a165"`
	switch {
	case known && m.Vague:
		r.NoteAt(v.Off, ruleMaterial, "%q: the colour of the dye isn't given; it is drawn as %s", name, m.Name).
			Hintf("say it, as in \"black-dyed %s\", or %s", m.Name, own).Key = v.Key()
	case known:
	case near != "":
		r.Warnf(v, ruleMaterial, "pictures have no colour for %q", name).Hintf("did you mean %s? else %s", near, own)
	default:
		r.NoteAt(v.Off, ruleMaterial, "pictures have no colour for %q; it is drawn in one that differs", name).
			Hintf("%s", own).Key = v.Key()
	}
}

// checkFormula refuses a name that a spreadsheet would work out, in the lists that are
// opened there.
func (r *reader) checkFormula(t conf.Section, key, name string) {
	if name != "" && strings.ContainsRune("=+-@", rune(name[0])) {
		r.Faultf(t.Get(key), conf.BadValue, "%s cannot begin with %q", key, name[:1]).
			Hintf("a spreadsheet takes what begins so for a formula; begin with a letter")
	}
}
