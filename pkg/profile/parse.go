package profile

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// Rules of this package's findings.
const (
	RuleUnknown = "unknown-profile" // no such profile, or its file cannot be read
	RuleProfile = "bad-profile"     // there is one, but something in it is wrong
)

const (
	// maxSize in bytes is far more than a profile's dozen lines.
	maxSize = 64 << 10
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
)

// written is a profile as TOML has it.
type written struct {
	About     string    `toml:"about"`
	Cutter    string    `toml:"cutter"`
	Units     string    `toml:"units"`
	Bed       []float64 `toml:"bed"`
	Tolerance float64   `toml:"tolerance"`
	// Diameter in mm of a router's cutter; usualCutter if it is left out.
	CutterDiameter *float64                `toml:"cutter_diameter"`
	Layers         map[string]writtenLayer `toml:"layers"`
}

type writtenLayer struct {
	Name  string `toml:"name"`
	Color int    `toml:"color"`
}

var keys = []string{"about", "cutter", "units", "bed", "tolerance", "cutter_diameter", "layers"}

// Parse reads a profile; file is where it says its mistakes are. The error is
// a diag.Findings.
func Parse(name, file string, data []byte) (Shop, error) {
	p := parser{file: file, data: data, rule: RuleProfile, what: "a profile", keys: keys}
	if len(data) > maxSize {
		p.errorf("", "the profile is larger than %d KiB", maxSize>>10)
		return Shop{}, p.found
	}
	var w written
	p.decode(&w)
	if p.found.HasErrors() {
		p.found.Sort()
		return Shop{}, p.found
	}
	s := Shop{Name: name, About: w.About, Tolerance: w.Tolerance, Cutter: p.cutter(w.Cutter), Units: p.units(w.Units)}
	p.measures(w, &s)
	p.layers(w, &s)
	if p.found.HasErrors() {
		p.found.Sort()
		return Shop{}, p.found
	}
	return s, nil
}

// parser reads one file and collects what is wrong with it.
type parser struct {
	file  string
	data  []byte
	rule  string   // of its findings
	what  string   // the kind of file: "a profile"
	keys  []string // at the top of the file
	found diag.Findings
}

// errorf adds an error at the line on which a key is set, found by its text:
// a profile is short and flat. An unset key has no line.
func (p *parser) errorf(key, format string, args ...any) *diag.Finding {
	for i, line := range strings.Split(string(p.data), "\n") {
		rest, ok := strings.CutPrefix(strings.TrimSpace(line), key)
		if key != "" && ok && (rest == "" || strings.ContainsAny(rest[:1], " =\t")) {
			return p.at(i+1, strings.Index(line, key)+1, format, args...)
		}
	}
	return p.at(0, 0, format, args...)
}

func (p *parser) at(line, col int, format string, args ...any) *diag.Finding {
	f := p.found.ErrorAt(diag.Position{File: p.file, Line: line, Col: col}, p.rule, format, args...)
	if lines := strings.Split(string(p.data), "\n"); line > 0 && line <= len(lines) {
		f.Excerpt = strings.TrimSuffix(lines[line-1], "\r")
	}
	return f
}

// decode reads the file into w, a pointer to a struct.
func (p *parser) decode(w any) {
	d := toml.NewDecoder(bytes.NewReader(p.data)).DisallowUnknownFields()
	err := d.Decode(w)
	var strict *toml.StrictMissingError
	var one *toml.DecodeError
	switch {
	case err == nil:
		p.smallKeys()
	case errors.As(err, &strict):
		for _, e := range strict.Errors {
			row, col := e.Position()
			key := ""
			if k := e.Key(); len(k) > 0 {
				key = k[len(k)-1]
			}
			p.at(row, col, "there is no key %q in %s", key, p.what).Hintf("%s", p.suggest(key))
		}
	case errors.As(err, &one):
		row, col := one.Position()
		p.at(row, col, "%s", plain(one))
	default:
		p.at(0, 0, "%s cannot be read as TOML", p.file)
	}
}

// plain is a decoder's message without the names of Go's types.
func plain(e *toml.DecodeError) string {
	msg := strings.TrimPrefix(e.Error(), "toml: ")
	if k := e.Key(); len(k) > 0 || strings.Contains(msg, "Go ") || strings.Contains(msg, "struct") || strings.Contains(msg, "float64") {
		return "the value is of the wrong kind" + of(e.Key())
	}
	return msg
}

func of(k toml.Key) string {
	if len(k) == 0 {
		return ""
	}
	return " for " + strings.Join(k, ".")
}

func (p *parser) suggest(key string) string {
	if near := diag.Nearest(strings.ToLower(key), p.keys); near != "" {
		return "did you mean " + near + "?"
	}
	known := "known here: " + strings.Join(p.keys, ", ")
	if slices.Contains(p.keys, "layers") {
		known += "; in a layer: name, color"
	}
	return known
}

// smallKeys refuses keys that differ from the format's in case, which the
// decoder takes for the same.
func (p *parser) smallKeys() {
	var all map[string]any
	if toml.Unmarshal(p.data, &all) != nil {
		return // told already
	}
	var wrong []string
	for k := range all {
		if !slices.Contains(p.keys, k) {
			wrong = append(wrong, k)
		}
	}
	slices.Sort(wrong)
	for _, k := range wrong {
		p.errorf(k, "there is no key %q in %s", k, p.what).Hintf("%s", p.suggest(k))
	}
}

func (p *parser) cutter(word string) Cutter {
	switch word {
	case "laser":
		return Laser
	case "router":
		return Router
	}
	p.errorf("cutter", "cutter cannot be %q", word).Hintf(`write cutter = "laser" or "router"`)
	return Laser
}

func (p *parser) units(word string) unit.System {
	switch word {
	case "mm":
		return unit.MM
	case "in":
		return unit.Inch
	}
	p.errorf("units", "units cannot be %q", word).Hintf(`write units = "mm" or "in"`)
	return unit.MM
}

func (p *parser) measures(w written, s *Shop) {
	if len(w.Bed) != 2 {
		p.errorf("bed", "bed must be two lengths").Hintf("write bed = [900, 600], in mm")
	} else {
		s.Bed = [2]float64{w.Bed[0], w.Bed[1]}
		for _, v := range s.Bed {
			if !(v > 0 && v <= maxBed) {
				p.errorf("bed", "a bed cannot be %g mm long", v).Hintf("write bed = [900, 600], in mm")
			}
		}
	}
	if !(w.Tolerance > 0 && w.Tolerance <= maxTolerance) || math.IsInf(w.Tolerance, 0) {
		p.errorf("tolerance", "tolerance must be more than 0 and at most %g mm", float64(maxTolerance)).
			Hintf("write what the shop holds: tolerance = 0.1")
	}
	p.cutterDiameter(w, s)
}

func (p *parser) cutterDiameter(w written, s *Shop) {
	d := w.CutterDiameter
	switch {
	case s.Cutter == Laser && d != nil:
		p.errorf("cutter_diameter", "a laser has no cutter_diameter").Hintf("take the line out")
	case s.Cutter == Laser:
	case d == nil:
		s.CutterDiameter = usualCutter
	case !(*d > 0 && *d <= maxCutter):
		p.errorf("cutter_diameter", "cutter_diameter must be more than 0 and at most %d mm", maxCutter).
			Hintf("write the diameter of the cutter: cutter_diameter = %d", usualCutter)
	default:
		s.CutterDiameter = *d
	}
}

func (p *parser) layers(w written, s *Shop) {
	s.layers = map[string]Layer{}
	var roles []string
	for role := range w.Layers {
		roles = append(roles, role)
	}
	slices.Sort(roles)
	colors := map[string]int{}
	for _, role := range roles {
		l := Layer(w.Layers[role])
		s.layers[role] = l
		if !slices.Contains(Roles(), role) {
			p.errorf(role, "there is no layer %q", role).Hintf("layers are %s", strings.Join(Roles(), ", "))
		}
		if !layerName(l.Name) {
			p.errorf(role, "%q is no layer name", l.Name).Hintf("use up to %d letters, digits, _ and -", maxName)
		}
		if l.Color < 1 || l.Color > 255 {
			p.errorf(role, "the color %d does not exist", l.Color).Hintf("write a number of 1 to 255")
		}
		if c, ok := colors[l.Name]; ok && c != l.Color {
			p.errorf(role, "the layer %q has two colors, %d and %d", l.Name, c, l.Color).Hintf("give one of the two another name")
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

// String is the profile on one line, for a list.
func (s Shop) String() string {
	return fmt.Sprintf("%s: %s", s.Name, s.About)
}
