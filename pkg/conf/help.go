package conf

import (
	"fmt"
	"strconv"
	"strings"
	"text/tabwriter"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// wide is how many characters a line of help has at most.
const wide = 100

// Overview is all tables and keys with their help, for a terminal.
func (f *Format) Overview() string {
	var b strings.Builder
	fmt.Fprintf(&b, "keys of %s; * must be given\n", f.What)
	for i := range f.Tables {
		f.outline(&b, &f.Tables[i])
	}
	fmt.Fprintf(&b, "\nstrapwork help %s KEY says more about one, such as %s\n", f.Name, f.sample())
	return b.String()
}

// sample is the last of the format's keys that is no table.
func (f *Format) sample() (name string) {
	for _, t := range f.Tables {
		for _, k := range t.Keys {
			if k.Is.form != formTable {
				name = path(t.Path, k.Name)
			}
		}
	}
	return name
}

// path is a key with its table.
func path(table, name string) string {
	if table == "" {
		return name
	}
	return table + "." + name
}

// outline is a table's keys, a line or more for each.
func (f *Format) outline(b *strings.Builder, t *Table) {
	b.WriteString("\n" + f.heading(t) + "\n")
	if t.About != "" {
		b.WriteString(Wrapped(strings.ReplaceAll(t.About, "`", ""), "  "))
	}
	long := 0
	for _, k := range t.Keys {
		long = max(long, len(k.Name))
	}
	for _, k := range t.Keys {
		star := " "
		if k.Must {
			star = "*"
		}
		lines := Wrapped(k.Help, strings.Repeat(" ", long+5))
		fmt.Fprintf(b, "  %-*s%s  %s", long, k.Name, star, strings.TrimLeft(lines, " "))
	}
}

// heading is a table as it is typed.
func (f *Format) heading(t *Table) string {
	switch {
	case t.Path == "":
		return "at the top"
	case f.several(t.Path):
		return "[[" + t.Path + "]]"
	}
	return "[" + t.Path + "]"
}

// Wrapped is a text in lines of a terminal, each ended and indented.
func Wrapped(text, indent string) string {
	var b strings.Builder
	line := ""
	for word := range strings.FieldsSeq(text) {
		if line != "" && len(indent)+len(line)+1+len(word) > wide {
			b.WriteString(indent + line + "\n")
			line = ""
		}
		line = strings.TrimLeft(line+" "+word, " ")
	}
	b.WriteString(indent + line + "\n")
	return b.String()
}

// Explain says what there is to know about a key: one with its table as in
// "router.rider", a key alone, or a whole table. Where there is none, near is one like
// it.
func (f *Format) Explain(name string) (text, near string, ok bool) {
	name = bare(name)
	var b strings.Builder
	if t := f.Table(name); t != nil && name != "" {
		f.outline(&b, t)
		return strings.TrimLeft(b.String(), "\n"), "", true
	}
	var all []string
	for _, t := range f.Tables {
		for _, k := range t.Keys {
			full := path(t.Path, k.Name)
			all = append(all, full, k.Name)
			if (name == full || name == k.Name) && k.Is.form != formTable {
				b.WriteString("\n" + k.explained(full))
			}
		}
	}
	if b.Len() > 0 {
		return b.String()[1:], "", true
	}
	return "", diag.Nearest(strings.ToLower(name), all), false
}

// bare is a key without brackets, and without the numbers of lists' items.
func bare(name string) string {
	var parts []string
	for part := range strings.SplitSeq(strings.Trim(name, "[]"), ".") {
		if _, err := strconv.Atoi(part); err != nil {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, ".")
}

// explained is all that is said of the key.
func (k Key) explained(full string) string {
	var b strings.Builder
	b.WriteString(full + "\n" + Wrapped(k.Help, "  ") + "\n")
	w := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(w, "  takes\t%s%s\n", k.Takes(), k.bounds())
	if k.Must {
		fmt.Fprintf(w, "  must be given\t\n")
	} else if out := k.LeftOut(); out != "" {
		fmt.Fprintf(w, "  if left out\t%s\n", out)
	}
	if len(k.For) > 0 {
		fmt.Fprintf(w, "  for guides\t%s\n", strings.Join(k.For, ", "))
	}
	if k.Example != (Typed{}) && k.Is.form != formEither {
		fmt.Fprintf(w, "  example\t%s\n", k.example())
	}
	_ = w.Flush() // to a strings.Builder, which takes everything
	return b.String()
}

// example is the key as it is typed in files of both kinds.
func (k Key) example() string {
	if k.Is.form == formWord {
		return k.Name + " = " + strconv.Quote(k.Words[0])
	}
	text := k.Line(unit.MM)
	if inch := k.Line(unit.Inch); inch != text {
		text += "   (in a file in inches: " + inch + ")"
	}
	return text
}

// leaf is the form of the key's single values.
func (k Key) leaf() form {
	t := k.list()
	for len(t.of) > 0 {
		t = t.of[0]
	}
	return t.form
}

// bounds says what the key's range is: ", more than 0".
func (k Key) bounds() string {
	as := plainly(k.Unit)
	switch k.leaf() {
	case formLength:
		as = (&Reader{}).lengths()
	case formFeed:
		as = (&Reader{}).rates()
	default:
	}
	r, text := k.Range, ""
	switch {
	case !r.Low:
	case r.Most > 0 && !r.Above:
		text = as.least(r.Least) + " to " + as.most(r.Most)
	case r.Least > 0:
		text = "at least " + as.say(r.Least)
	case r.Above:
		text = "more than 0"
	default:
		text = "0 or more"
	}
	if r.Most > 0 && r.Above {
		text += ", at most " + as.most(r.Most)
	}
	if r.Zero {
		text = "0, or " + text
	}
	if k.Unit != "" && r.Most == 0 {
		text += ", " + k.Unit
	}
	if text == "" || text[0] == ',' {
		return text
	}
	return ": " + text
}

// LeftOut is what becomes of the key where it isn't given, for pages and help: "8 mm, or
// 5/16 in".
func (k Key) LeftOut() string {
	mm, inch := k.assumed(unit.MM), k.assumed(unit.Inch)
	switch {
	case k.Must:
		return "must be given"
	case k.Default[0] == "0" && k.Said == "":
		return "0"
	case mm == inch || k.Default[1] == "":
		return mm
	}
	return mm + ", or " + inch
}
