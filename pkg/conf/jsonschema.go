package conf

import (
	"encoding/json"
	"strconv"
	"strings"
)

// draft is the JSON Schema that editors are given: draft 2020-12 (json-schema.org,
// core and validation).
const draft = "https://json-schema.org/draft/2020-12/schema"

// JSONSchema is the format for editors, as JSON: a file's keys with their help, their
// types and what of their ranges doesn't depend on the file's units. TOML is taken for
// JSON of the same shape; dates are strings.
func (f *Format) JSONSchema() []byte {
	defs := map[string]any{}
	for _, t := range f.Tables[1:] {
		defs[t.Path] = f.object(t)
	}
	root := f.object(f.Tables[0])
	root["$schema"] = draft
	root["title"] = f.Title
	if len(defs) > 0 {
		root["$defs"] = defs
	}
	text, _ := json.MarshalIndent(root, "", "  ") // maps, lists, texts and numbers: they all can be written
	return append(text, '\n')
}

// object is a table's schema.
func (f *Format) object(t Table) map[string]any {
	o := map[string]any{"type": "object", "additionalProperties": false}
	if t.About != "" {
		o["description"] = t.About
	}
	if t.Any != nil {
		o["additionalProperties"] = Key{}.schema(*t.Any)
		return o
	}
	properties, required := map[string]any{}, []string{}
	for _, k := range t.Keys {
		s := k.schema(k.Is)
		s["description"] = k.described()
		if text := k.Default[0]; text != "" && (k.Default[1] == "" || k.Default[1] == text) {
			s["default"] = plainValue(text)
		}
		properties[k.Name] = s
		if british := toBritish.Replace(k.Name); british != k.Name {
			properties[british] = s
			continue // either will do
		}
		if k.Must {
			required = append(required, k.Name)
		}
	}
	o["properties"] = properties
	if len(required) > 0 {
		o["required"] = required
	}
	return o
}

// described is a key's help with what is taken where it is left out.
func (k Key) described() string {
	text := k.Help
	if out := k.LeftOut(); out != "" && !k.Must {
		text += "; left out: " + out
	}
	if len(k.For) > 0 {
		text += "; for guides " + strings.Join(k.For, ", ")
	}
	return text
}

// plainValue is a TOML value that is a text, a number or a truth, for JSON.
func plainValue(text string) any {
	if word, err := strconv.Unquote(text); err == nil {
		return word
	}
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		return v
	}
	return text == "true"
}

// schema is what a value of a type may be.
func (k Key) schema(t Type) map[string]any {
	switch t.form {
	case formText, formDate:
		return map[string]any{"type": "string", "maxLength": longest}
	case formData:
		return map[string]any{"type": "string"}
	case formWord:
		return map[string]any{"enum": k.Words}
	case formFlag:
		return map[string]any{"type": "boolean"}
	case formWhole:
		return k.bounded(map[string]any{"type": "integer"}, true)
	case formNumber:
		return k.bounded(map[string]any{"type": "number"}, true)
	case formLength, formFeed:
		// The bounds are in mm, and the file may be in inches: nothing is nothing in both.
		return k.bounded(map[string]any{"type": []string{"number", "string"}}, false)
	case formAngle, formRatio:
		return k.bounded(map[string]any{"type": []string{"number", "string"}}, true)
	case formPoint:
		return Key{}.schema(List(2, Length))
	case formPlace:
		return map[string]any{"anyOf": []map[string]any{k.schema(Point), {"type": []string{"string", "object"}}}}
	case formTable:
		return map[string]any{"$ref": "#/$defs/" + t.table}
	case formList:
		o := map[string]any{"type": "array", "items": k.schema(t.of[0])}
		if t.n > 0 {
			o["minItems"], o["maxItems"] = t.n, t.n
		}
		return o
	case formEither:
		var all []map[string]any
		for _, one := range t.of {
			all = append(all, k.schema(one))
		}
		return map[string]any{"anyOf": all}
	}
	return map[string]any{}
}

// bounded adds the key's range to a number's schema: all of it, or only that it isn't
// less than nothing.
func (k Key) bounded(o map[string]any, whole bool) map[string]any {
	r := k.Range
	switch {
	case !r.Low, !whole && r.Least < 0:
	case r.Zero:
		o["minimum"] = 0
	case r.Above:
		o["exclusiveMinimum"] = r.Least
	case whole:
		o["minimum"] = r.Least
	case r.Least > 0:
		o["exclusiveMinimum"] = 0
	default:
		o["minimum"] = 0
	}
	if r.Most > 0 && whole {
		o["maximum"] = r.Most
	}
	return o
}
