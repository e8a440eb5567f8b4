package conf

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// A Reader takes the values out of one file and collects what is wrong with it.
type Reader struct {
	*File
	Format *Format
	Units  unit.System // what a bare number means
	// Lookup gives a name's value in the Units, for expressions; ErrReported ends one
	// whose mistake is reported elsewhere. Names are those that there are.
	Lookup func(name string) (float64, error)
	Names  func() []string
	// PointOf makes a point, in mm, of what is no pair of coordinates: of a name, say. It
	// says what is wrong, and then gives Bad.
	PointOf func(v *Value, what string) (x, y float64)
	Named   func(name string) bool // whether there is a point of the name
	// Suggest, unless nil, gives a hint for a key that a table lacks; "" for the usual one.
	Suggest func(table, name string) string
	Notes   diag.Findings // what was assumed, and what has no effect

	found diag.Findings
	more  diag.Counts // findings that there was no room for
	dead  bool        // the file can't be read at all
}

// Rules of notes.
const (
	RuleAssumed  = "assumed"
	RuleNoEffect = "no-effect"
)

// Open reads a file into its values; name is the file's in findings. What it finds is
// in Findings; when it is not OK there is nothing to read.
func Open(format *Format, name string, data []byte) (r *Reader, ok bool) {
	if len(data) > format.MaxSize {
		r = &Reader{File: newFile(name, ""), Format: format, dead: true}
		r.Root = &Value{Kind: KindTable, Off: Top}
		r.found.ErrorAt(diag.Position{File: name}, format.rule(TooLarge), "the file is larger than %s", size(format.MaxSize)).
			Hintf("%s is a short text; is this the right file?", format.What)
		return r, false
	}
	// Some editors begin a file with a byte order mark.
	r = &Reader{File: newFile(name, strings.TrimPrefix(string(data), "\ufeff")), Format: format}
	r.Root = &Value{Kind: KindTable, Off: Top}
	if !utf8.ValidString(r.data) {
		r.dead = true
		r.FaultAt(invalid(r.data), Encoding, "the file is not UTF-8 text").Hintf("save it again as UTF-8")
		return r, false
	}
	r.Root = build(r.File, func(fault Fault, off int, hint, text string, args ...any) {
		r.dead = r.dead || fault == Syntax
		r.FaultAt(off, fault, text, args...).Hintf("%s", hint)
	}, format.several)
	return r, !r.dead
}

// size is a size in bytes as people say it.
func size(bytes int) string {
	if bytes >= 8<<20 {
		return count(bytes>>20) + " MiB"
	}
	return count(bytes>>10) + " KiB"
}

// invalid is the place of the first byte that is not UTF-8.
func invalid(s string) int {
	for i, c := range s {
		if c != utf8.RuneError {
			continue
		}
		if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
			return i
		}
	}
	return len(s)
}

// Findings are the errors, in the order of the file, and then the warnings, up to
// diag.Most and how many more there are.
func (r *Reader) Findings() diag.Findings {
	r.found.Sort()
	return r.found.AndMore(r.more)
}

// OK reports whether nothing is wrong so far.
func (r *Reader) OK() bool { return !r.found.HasErrors() }

// full reports whether enough is reported.
func (r *Reader) full() bool { return len(r.found) >= diag.Most }

// miss counts a finding that there is no room for.
func (r *Reader) miss(s diag.Severity) *diag.Finding {
	r.more[s]++
	return &diag.Finding{} // to be filled in and shown to nobody
}

// put shows the line of a finding that has one.
func (r *Reader) put(f *diag.Finding, off int) *diag.Finding {
	if off != Top {
		f.SetExcerpt(r.Excerpt(f.Pos.Line))
	}
	return f
}

// ErrorAt adds an error at a byte of the file.
func (r *Reader) ErrorAt(off int, rule, format string, args ...any) *diag.Finding {
	if r.full() {
		return r.miss(diag.Error)
	}
	return r.put(r.found.ErrorAt(r.At(off), rule, format, args...), off)
}

// FaultAt adds an error of the kinds that any file may have at a byte of the file.
func (r *Reader) FaultAt(off int, fault Fault, format string, args ...any) *diag.Finding {
	return r.ErrorAt(off, r.Format.rule(fault), format, args...)
}

// Errorf adds an error about a value.
func (r *Reader) Errorf(v *Value, rule, format string, args ...any) *diag.Finding {
	f := r.ErrorAt(v.Off, rule, format, args...)
	f.Key = v.Key()
	return f
}

// Faultf adds an error of the kinds that any file may have about a value.
func (r *Reader) Faultf(v *Value, fault Fault, format string, args ...any) *diag.Finding {
	return r.Errorf(v, r.Format.rule(fault), format, args...)
}

// Warnf adds a warning about a value.
func (r *Reader) Warnf(v *Value, rule, format string, args ...any) *diag.Finding {
	if r.full() {
		return r.miss(diag.Warning)
	}
	f := r.put(r.found.WarnAt(r.At(v.Off), rule, format, args...), v.Off)
	f.Key = v.Key()
	return f
}

// Take adds what was found elsewhere: about keys of the file at their place, in the
// file's units, and about other files as it is.
func (r *Reader) Take(found diag.Findings) {
	for _, f := range found.In(r.Units) {
		v := r.Find(f.Key)
		switch {
		case f.Severity == diag.Note:
			if f.Pos.File == "" {
				f.Pos = r.At(v.Off)
			}
			r.Notes.Add(f)
		case r.full():
			r.more[f.Severity]++
		default:
			if f.Pos.File == "" {
				f.Pos = r.At(v.Off)
				r.put(&f, v.Off)
			}
			r.found.Add(f)
		}
	}
}

// NoteAt adds a note at a byte of the file.
func (r *Reader) NoteAt(off int, rule, format string, args ...any) *diag.Finding {
	return r.put(r.Notes.NoteAt(r.At(off), rule, format, args...), off)
}

// Notef adds a note about a value.
func (r *Reader) Notef(v *Value, rule, format string, args ...any) {
	r.NoteAt(v.Off, rule, format, args...).Key = v.Key()
}

// hinted gives what read reports a hint, where it has none.
func (r *Reader) hinted(hint string, read func()) {
	before := len(r.found)
	read()
	for i := range r.found[before:] {
		if f := &r.found[before+i]; f.Hint == "" {
			f.Hint = hint
		}
	}
}

// absentValue is a table that the file lacks.
func absentValue() *Value { return &Value{Kind: KindTable, def: absent, Off: Top} }

// known reports every key of a table that the format lacks.
func (r *Reader) known(t *Table, v *Value) {
	if t.Any != nil {
		return
	}
	r.american(t, v)
	for _, f := range v.Fields {
		if t.Key(f.Name) != nil {
			continue
		}
		if r.full() {
			r.miss(diag.Error)
			continue
		}
		what := "key"
		if f.Value.Kind == KindTable && f.Value.def != byBraces && t.Path == "" {
			what = "table"
		}
		meant, hint := r.suggest(t, f.Name)
		if r.Suggest != nil {
			hint = cmp.Or(r.Suggest(t.Path, f.Name), hint)
		}
		if meant != "" {
			v.meant = append(v.meant, meant)
		}
		r.FaultAt(f.Off, Unknown, "there is no %s %q in %s", what, f.Name, r.where(v)).Hintf("%s", hint).Key = f.Value.Key()
	}
}

// where is what a sentence calls a table.
func (r *Reader) where(v *Value) string {
	if path := bare(string(v.Key())); path != "" {
		return "[" + path + "]"
	}
	return r.Format.What
}

// suggest is what may have been meant by an unknown key: one like it in the same
// table, which is also named, the same key in another table, or any of the table's
// keys.
func (r *Reader) suggest(t *Table, name string) (meant, hint string) {
	names, lower := t.Names(), strings.ToLower(name)
	if i := slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, name) }); i >= 0 {
		if names[i] == lower {
			return lower, "keys are in lower case: " + lower
		}
		return names[i], "write " + names[i]
	}
	if near := diag.Nearest(lower, names); near != "" {
		return near, "did you mean " + near + "?"
	}
	tables := r.Format.within(lower)
	switch {
	case len(tables) > 0 && tables[0] == "":
		return "", lower + " belongs at the top of the file, before the first [table]"
	case len(tables) > 0:
		return "", lower + " belongs in [" + strings.Join(tables, "] or [") + "]"
	}
	return "", "known here: " + strings.Join(names, ", ")
}
