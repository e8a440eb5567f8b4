package report

// How facts are printed: through the templates of this package's folder, in one
// system of units, with a few functions that say a length, a place or a number.

import (
	"embed"
	"fmt"
	"math"
	"path"
	"regexp"
	"strconv"
	"strings"
	"sync"
	texttemplate "text/template"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

//go:embed templates/*.tmpl
var templates embed.FS

// The templates with their functions in each system of units, read when first
// they are asked for.
var (
	inMM     = sync.OnceValue(func() *texttemplate.Template { return readTemplates(unit.MM) })
	inInches = sync.OnceValue(func() *texttemplate.Template { return readTemplates(unit.Inch) })
)

// printed is what a template makes of its facts.
func printed(u unit.System, name string, facts any) (string, error) {
	all := inMM
	if u == unit.Inch {
		all = inInches
	}
	return execute(all(), name, facts)
}

func execute(t *texttemplate.Template, name string, facts any) (string, error) {
	var b strings.Builder
	if err := t.ExecuteTemplate(&b, name, facts); err != nil {
		return "", fmt.Errorf("report: %w", err)
	}
	return b.String(), nil
}

// readTemplates reads all templates. They are part of the program: one that can't be
// read is a mistake in it.
func readTemplates(u unit.System) *texttemplate.Template {
	t := texttemplate.New("")
	t.Funcs(functions(u)).Funcs(texttemplate.FuncMap{
		// words is a template's text as a value.
		"words": func(name string, facts any) (string, error) { return execute(t, name, facts) },
	})
	files, err := templates.ReadDir("templates")
	if err != nil {
		panic(err)
	}
	for _, f := range files {
		text, err := templates.ReadFile(path.Join("templates", f.Name()))
		if err != nil {
			panic(err)
		}
		texttemplate.Must(t.New(f.Name()).Parse(unwrapped(string(text))))
	}
	return t
}

// unwrapped is a template as it is read: a line that is indented goes on with the line
// before it, and one of nothing but what steers the template (conditions, loops,
// definitions, comments) leaves no line in what is printed.
func unwrapped(text string) string {
	return actionLine.ReplaceAllString(indented.ReplaceAllString(text, " "), "$1")
}

var (
	indented   = regexp.MustCompile(`\n[ \t]+`)
	actionLine = regexp.MustCompile(`(?m)^((?:\{\{(?:if|else|end|range|with|define|\$|/\*)[^\n{}]*\}\})+)[ \t]*\n`)
)

// functions are what templates can call, for lengths in u.
func functions(u unit.System) texttemplate.FuncMap {
	w := words{u}
	return texttemplate.FuncMap{
		// lengths: as measured, without the unit, as laid out with a rule, a proof's
		"size": w.size, "own": w.own, "number": w.number, "rough": w.rough, "coarse": w.coarse, "fine": w.fine, "cutTo": w.cutTo, "gap": w.gap, "deep": w.deep, "tenth": tenth, "meters": w.meters,
		// those of the budget, without and with the unit
		"out": w.out, "figure": w.figure,
		// places, rectangles and areas
		"place": w.place, "point": w.point, "height": w.height, "by": w.by, "across": w.across, "area": w.area, "sheetArea": w.sheetArea, "veneerArea": w.veneerArea,
		// amounts as findings have them
		"say":      func(a unit.Amount) string { return a.In(u) },
		"length":   func(mm num) string { return unit.Len(float64(mm)).In(u) },
		"lengthUp": func(mm num) string { return unit.Len(float64(mm)).Up().In(u) },
		"volume":   func(mm3 num) string { return unit.Volume(float64(mm3)).In(u) },
		"percent":  func(v num) string { return decimal(num(math.Abs(float64(v))), 2) + " %" },
		"surface":  func(mm2 num) string { return unit.Area(float64(mm2)).In(u) },
		"rate":     func(mm num) string { return unit.Rate(float64(mm)).In(u) },
		// the units: "mm" or "in"; "mm" or "inches"; whether they are inches
		"units": u.String, "unitName": u.Name, "inches": func() bool { return u == unit.Inch },
		// other numbers
		"count": func(n int, one string) string { return unit.Count(n, one) }, "decimal": decimal, "degrees": degrees, "duration": func(s num) string { return unit.Duration(float64(s)) },
		"some": func(n int, one string) string {
			if n == 0 {
				return "no " + unit.Plural(one)
			}
			return unit.Count(n, one)
		},
		"inc":   func(i int) int { return i + 1 },
		"recip": func(share num) num { return 1 / share }, // one in so many
		// cuts' numbers: "1 and 3"; "1 to 4"
		"numbers": func(all []int) string { return list(each(all, strconv.Itoa)) }, "numbersTo": numbersTo,
		// words
		"plain": plain, "list": list, "sep": separator, "sentence": sentence, "capital": capital, "typed": diag.Typed,
	}
}
