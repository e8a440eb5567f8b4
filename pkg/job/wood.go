package job

// What the board and the strips are of.

import (
	"strapwork/pkg/conf"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

const ruleMaterial = "material-unknown"

func (r *reader) readWood(top conf.Section) work.Wood {
	t, _ := top.Sub("wood")
	w := work.Wood{Species: wood.Board, Color: r.color(t)}
	if t.Given("species") {
		w.Species = t.Name("species")
		r.checkMaterial(t, "species", w.Species, w.Color)
	}
	t.Assume("")
	return w
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
