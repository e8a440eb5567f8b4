package conf_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"strapwork/pkg/job"
	"strapwork/pkg/profile"
)

// asJSON is a TOML file as JSON has it, by the library's own decoder; dates are texts.
func asJSON(t *testing.T, text []byte) any {
	t.Helper()
	var all map[string]any
	if err := toml.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// A checker holds values against a JSON Schema (draft 2020-12, as far as ours go), and
// panics at what it doesn't know.
type checker struct{ root map[string]any }

func schemaOf(t *testing.T, text []byte) checker {
	t.Helper()
	var c checker
	if err := json.Unmarshal(text, &c.root); err != nil {
		t.Fatal(err)
	}
	return c
}

// faults are where a value breaks a schema.
func (c checker) faults(at string, schema map[string]any, v any) (list []string) {
	bad := func(format string, args ...any) { list = append(list, at+": "+fmt.Sprintf(format, args...)) }
	for word, says := range schema {
		switch word {
		case "$schema", "$defs", "title", "description", "default", "examples":
		case "$ref":
			def, ok := c.root["$defs"].(map[string]any)[strings.TrimPrefix(says.(string), "#/$defs/")]
			if !ok {
				panic("no definition " + says.(string))
			}
			list = append(list, c.faults(at, def.(map[string]any), v)...)
		case "type":
			if !isA(says, v) {
				bad("%v is no %v", v, says)
			}
		case "enum":
			if !slices.Contains(says.([]any), v) {
				bad("%v is none of %v", v, says)
			}
		case "anyOf":
			if !slices.ContainsFunc(says.([]any), func(s any) bool { return len(c.faults(at, s.(map[string]any), v)) == 0 }) {
				bad("%v is nothing of %v", v, says)
			}
		case "minimum", "maximum", "exclusiveMinimum":
			x, number := v.(float64)
			b := says.(float64)
			if number && (word == "minimum" && x < b || word == "maximum" && x > b || word == "exclusiveMinimum" && x <= b) {
				bad("%v breaks the %s %v", v, word, b)
			}
		case "maxLength":
			if s, ok := v.(string); ok && float64(len([]rune(s))) > says.(float64) {
				bad("it is too long")
			}
		case "minItems", "maxItems":
			if l, ok := v.([]any); ok && (word == "minItems") == (float64(len(l)) < says.(float64)) && float64(len(l)) != says.(float64) {
				bad("it has %d items", len(l))
			}
		case "items":
			l, _ := v.([]any)
			for i, item := range l {
				list = append(list, c.faults(fmt.Sprintf("%s.%d", at, i+1), says.(map[string]any), item)...)
			}
		case "required":
			o, ok := v.(map[string]any)
			for _, key := range says.([]any) {
				if _, has := o[key.(string)]; ok && !has {
					bad("%v is missing", key)
				}
			}
		case "properties", "additionalProperties":
			list = append(list, c.fields(at, schema, word, v)...)
		default:
			panic("the checker doesn't know " + word)
		}
	}
	return list
}

// fields checks an object's values by properties, or by what others may be.
func (c checker) fields(at string, schema map[string]any, word string, v any) (list []string) {
	known, _ := schema["properties"].(map[string]any)
	o, _ := v.(map[string]any)
	for key, value := range o {
		own, listed := known[key]
		switch {
		case listed && word == "properties":
			list = append(list, c.faults(at+"."+key, own.(map[string]any), value)...)
		case !listed && word == "additionalProperties" && schema[word] == false:
			list = append(list, at+"."+key+": no such key")
		case !listed && word == "additionalProperties":
			list = append(list, c.faults(at+"."+key, schema[word].(map[string]any), value)...)
		}
	}
	return list
}

// isA reports whether a value is of a type, or of one of several.
func isA(types, v any) bool {
	if several, ok := types.([]any); ok {
		return slices.ContainsFunc(several, func(t any) bool { return isA(t, v) })
	}
	switch x := v.(type) {
	case string:
		return types == "string"
	case bool:
		return types == "boolean"
	case float64:
		return types == "number" || types == "integer" && x == float64(int(x))
	case []any:
		return types == "array"
	case map[string]any:
		return types == "object"
	}
	return false
}

// TestJobsFitTheSchema: what the reader takes, the schema that editors get takes.
func TestJobsFitTheSchema(t *testing.T) {
	c := schemaOf(t, job.Format().JSONSchema())
	files, _ := filepath.Glob("../../testdata/*/*.toml")
	if len(files) < 20 {
		t.Fatalf("%d jobs", len(files))
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if list := c.faults("", c.root, asJSON(t, text)); len(list) > 0 {
			t.Errorf("%s: %s", file, strings.Join(list, "; "))
		}
	}
}

// TestProfilesFitTheirSchemas: so do the built-in profiles.
func TestProfilesFitTheirSchemas(t *testing.T) {
	seen := 0
	for _, f := range profile.Formats() {
		c := schemaOf(t, f.JSONSchema())
		files, _ := filepath.Glob("../../profiles/" + f.Name + "-*.toml")
		if f.Name == "shop" {
			files, _ = filepath.Glob("../../profiles/[lr]*-*.toml") // lasers and routers
		}
		seen += len(files)
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if list := c.faults("", c.root, asJSON(t, text)); len(list) > 0 {
				t.Errorf("%s: %s", file, strings.Join(list, "; "))
			}
			if spoilt := append(text, "[strange]\nx = 1\n"...); len(c.faults("", c.root, asJSON(t, spoilt))) != 1 {
				t.Errorf("%s: a table that there isn't goes unnoticed", file)
			}
		}
	}
	if all, _ := filepath.Glob("../../profiles/*.toml"); seen != len(all) {
		t.Errorf("%d of %d profiles are tried", seen, len(all))
	}
}

// TestSchemaRefuses: mistakes in a sound job are found by the schema, and by the reader
// as well.
func TestSchemaRefuses(t *testing.T) {
	c := schemaOf(t, job.Format().JSONSchema())
	const sound = "units = \"mm\"\n[let]\na = 3\n[motif]\ncopies = 4\n[[motif.line]]\nfrom = [0, 0]\nto = [\"a * 10\", 9]\n[inlay]\ndepth = \"3 mm\"\n" +
		"strips = [{ material = \"holly\", thickness = 4 }]\n[router]\nguide = \"base\"\nrider = 90\nbit = 3\n[weave]\nflip = [[0, 0]]\n" +
		"[program]\nat = [1, 2, 3]\nfeed = 1200\nspeed = 18000\nramp = 2\norder = [\"line\"]\n[[stock.clamp]]\nfrom = [0, 0]\nto = [1, 1]\nheight = 4\n[paper]\ndate = 2026-11-28\n"
	if list := c.faults("", c.root, asJSON(t, []byte(sound))); len(list) > 0 {
		t.Fatal(list)
	}
	if j, found := job.Read("j.toml", []byte(sound)); j == nil {
		t.Fatal(found)
	}
	for _, swap := range [][3]string{
		{`units = "mm"`, `units = "cm"`, ".units"},
		{`units = "mm"`, ``, "units is missing"},
		{"a = 3", "a = true", ".let.a"},
		{"copies = 4", "copies = 4.5", ".motif.copies"},
		{"copies = 4", "copies = 400", ".motif.copies"},
		{"copies = 4", "copys = 4", ".motif.copys: no such key"},
		{"from = [0, 0]\nto = [\"", "from = [0]\nto = [\"", ".motif.line.1.from"},
		{"from = [0, 0]\nto = [\"", "from = [0, 0, 0]\nto = [\"", ".motif.line.1.from"},
		{`depth = "3 mm"`, `depth = -3`, ".inlay.depth"},
		{`depth = "3 mm"`, ``, "depth is missing"},
		{`material = "holly", `, ``, "material is missing"},
		{"thickness = 4", "thickness = 0", ".inlay.strips.1.thickness"},
		{`guide = "base"`, `guide = "rim"`, ".router.guide"},
		{"bit = 3", "bit = [3]", ".router.bit"},
		{"flip = [[0, 0]]", "flip = [0, 0]", ".weave.flip.1"},
		{"at = [1, 2, 3]", "at = [1, 2]", ".program.at"},
		{"speed = 18000", "speed = 18", ".program.speed"},
		{"speed = 18000", `speed = "fast"`, ".program.speed"},
		{"feed = 1200", "feed = 0", ".program.feed"},
		{"ramp = 2", "ramp = 4", ".program.ramp"},
		{`order = ["line"]`, "order = 3", ".program.order"},
		{"height = 4\n", "height = false\n", ".stock.clamp.1.height"},
		{"[paper]", "[papers]", ".papers: no such key"},
	} {
		if !strings.Contains(sound, swap[0]) {
			t.Fatalf("%q isn't in the job", swap[0])
		}
		text := []byte(strings.Replace(sound, swap[0], swap[1], 1))
		list := c.faults("", c.root, asJSON(t, text))
		if !strings.Contains(strings.Join(list, "\n"), swap[2]) {
			t.Errorf("%q for %q: %v", swap[1], swap[0], list)
		}
		if j, _ := job.Read("j.toml", text); j != nil {
			t.Errorf("%q for %q is read", swap[1], swap[0])
		}
	}
}
