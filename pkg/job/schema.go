package job

import (
	"slices"
	"strings"

	"strapwork/pkg/diag"
)

// schema is every key of the job file, by table, in the order in which the
// format describes them. [let] may hold any name.
var schema = map[string][]string{
	"":             {"title", "units", "let", "motif", "weave", "inlay", "router", "template", "board", "cutting", "paper", "program", "stock"},
	"motif":        {"copies", "mirror", "line", "arc", "circle", "path"},
	"motif.line":   {"name", "from", "to", "points", "closed", "open", "smooth", "fit"},
	"motif.arc":    {"name", "center", "radius", "start", "sweep", "open", "smooth"},
	"motif.circle": {"name", "center", "radius"},
	"motif.path":   {"name", "d", "open", "smooth", "fit"},
	"weave":        {"first", "flip"},
	"inlay":        {"depth", "proud", "clearance", "width", "strips"},
	"inlay.strips": {"material", "thickness"},
	"router":       {"guide", "rider", "bit", "flute", "shank", "base", "collar", "plunge", "off_center", "stickout", "nut", "nut_length", "nose"},
	"template":     {"web", "margin", "wall", "floor", "turn", "flip", "prefer", "frame", "play"},
	"board":        {"size", "thickness", "grain", "origin"},
	"cutting":      {"profile", "kerf", "kerf_by"},
	"paper":        {"paper", "margin", "measured", "diagonals", "revision", "date"},
	"program": {
		"machine", "cutter", "zero", "at", "feed", "plunge", "speed", "climb", "rough", "ramp", "step", "safe", "order", "widen", "split", "comments",
	},
	"stock":       {"clearance", "clamp"},
	"stock.clamp": {"from", "to", "height"},
}

// known tells every key of a table that the format lacks.
func (r *reader) known(path string, t *node) {
	for _, f := range t.fields {
		if slices.Contains(schema[path], f.name) {
			continue
		}
		if r.full() {
			r.miss(diag.Error)
			continue
		}
		what := "key"
		if f.value.kind == nodeTable && f.value.def != byBraces && path == "" {
			what = "table"
		}
		meant, hint := suggest(path, f.name)
		if meant != "" {
			t.meant = append(t.meant, meant)
		}
		r.errorf(ruleUnknown, f.off, "there is no %s %q%s", what, f.name, in(path)).Hintf("%s", hint)
	}
}

func in(path string) string {
	if path == "" {
		return ""
	}
	return " in [" + path + "]"
}

// suggest is what may have been meant by an unknown key: one like it in the
// same table, which is also named, the same key in another table, or any of
// the table's keys.
func suggest(path, name string) (meant, hint string) {
	lower := strings.ToLower(name)
	if slices.Contains(schema[path], lower) {
		return lower, "keys are written small: " + lower
	}
	if near := diag.Nearest(lower, schema[path]); near != "" {
		return near, "did you mean " + near + "?"
	}
	var tables []string
	for table, keys := range schema {
		if slices.Contains(keys, lower) {
			tables = append(tables, table)
		}
	}
	slices.Sort(tables)
	switch {
	case len(tables) > 0 && tables[0] == "":
		return "", lower + " belongs at the top of the file, before the first [table]"
	case len(tables) > 0:
		return "", lower + " belongs in [" + strings.Join(tables, "] or [") + "]"
	}
	return "", "known here: " + strings.Join(schema[path], ", ")
}
