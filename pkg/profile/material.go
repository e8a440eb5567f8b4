package profile

import (
	"fmt"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
)

const (
	// maxModulus in MPa is beyond tungsten's.
	maxModulus = 500_000
	// maxYield in MPa is beyond spring wire's.
	maxYield = 3_000
	// maxStrain is where a strip is bent about its own edge: t / 2R is 1 at R = t / 2.
	maxStrain = 1
	// mostTempers is more than a metal is sold in.
	mostTempers = 20
)

// A Material is how far a wood or a metal can be bent. A wood has limits by how it is
// bent; a metal a modulus and tempers.
type Material struct {
	Name  string // of a built-in one, or the path it was read from
	About string
	// Dry is bent cold as it is, Heated damp on a hot pipe or iron, or steamed without a
	// strap, Steamed hot from the steam with a strap round its outer side.
	Dry, Heated, Steamed Limit
	Modulus              float64 // of elasticity, MPa; 0: a wood
	Source               string  // of the modulus
	Tempers              []Temper
	Usual                string // the temper that strips are mostly sold in
}

// A Limit is the largest strain of the outermost fibre, t / 2R with R at the strip's
// middle, and where that is from; 0: it isn't known.
type Limit struct {
	Strain float64
	Source string
}

// A Temper is how hard a metal is.
type Temper struct {
	Name  string
	Yield [3]float64 // MPa: low, usual, high
	Limit
}

// Metal reports whether the material is one.
func (m Material) Metal() bool { return m.Modulus > 0 }

// Temper finds a temper by its name, the usual one by "".
func (m Material) Temper(name string) (Temper, bool) {
	if name == "" {
		name = m.Usual
	}
	i := slices.IndexFunc(m.Tempers, func(t Temper) bool { return strings.EqualFold(t.Name, name) })
	if i < 0 {
		return Temper{}, false
	}
	return m.Tempers[i], true
}

// TemperNames are the material's tempers, softest first as its file has them.
func (m Material) TemperNames() []string {
	names := make([]string, len(m.Tempers))
	for i, t := range m.Tempers {
		names[i] = t.Name
	}
	return names
}

var limitKeys = []conf.Key{
	{Name: "strain", Is: conf.Number, Must: true, Range: conf.UpTo(maxStrain), Example: conf.Typed{"0.0085"}, Ask: "t / 2R at the tightest bend that it takes", Help: "the largest t / 2R that it takes: thickness over twice the radius of the strip's middle"},
	sourceKey,
}

var sourceKey = conf.Key{Name: "source", Is: conf.Text, Must: true, Example: conf.Typed{`"tried on scrap"`}, Ask: "where the value is from", Help: "where the value is from"}

var materialFormat = conf.Format{
	Name: kindMaterial.String(), What: "a material's profile", Title: "What a strip is of", MaxSize: maxSize, Rule: badProfile,
	Tables: []conf.Table{
		{About: "A wood has `[dry]` and what else is known of it; a metal `modulus` and its tempers.", Keys: []conf.Key{
			kindKey(kindMaterial), aboutKey,
			{Name: "dry", Is: conf.TableOf("dry"), Help: "how far a wood bends cold"},
			{Name: "heated", Is: conf.TableOf("heated"), Help: "how far it bends damp on a hot pipe or iron, or steamed without a strap"},
			{Name: "steamed", Is: conf.TableOf("steamed"), Help: "how far it bends hot from the steam with a strap round its outer side"},
			{Name: "modulus", Is: conf.Number, Unit: "MPa", Range: conf.UpTo(maxModulus), Example: conf.Typed{"105000"}, Ask: "in MPa", Help: "modulus of elasticity of a metal"},
			{Name: "source", Is: conf.Text, Example: conf.Typed{`"the maker's sheet"`}, Ask: "where the modulus is from", Help: "where the modulus is from"},
			{Name: "usual", Is: conf.Text, Said: "the first", Example: conf.Typed{`"half hard"`}, Ask: "the temper that strips are mostly sold in", Help: "the temper taken where a job names none"},
			{Name: "temper", Is: conf.List(0, conf.TableOf("temper")), Help: "how hard a metal is sold, the softest first; as often as needed"},
		}},
		{Path: "dry", Keys: limitKeys},
		{Path: "heated", Keys: limitKeys},
		{Path: "steamed", Keys: limitKeys},
		{Path: "temper", About: "A temper of a metal.", Keys: []conf.Key{
			{Name: "name", Is: conf.Text, Must: true, Example: conf.Typed{`"half hard"`}, Help: "what it is called"},
			{Name: "yield", Is: conf.List(3, conf.Number), Must: true, Unit: "MPa", Range: conf.UpTo(maxYield), Example: conf.Typed{"[250, 350, 450]"}, Ask: "in MPa: low, usual, high", Help: "yield stress: low, usual, high"},
			limitKeys[0], sourceKey,
		}},
	},
}

// ParseMaterial reads a material's profile; file is where it says its mistakes are. The
// error is a diag.Findings.
func ParseMaterial(name, file string, data []byte) (Material, error) {
	p, ok := begin(&materialFormat, kindMaterial, file, data)
	if !ok {
		return Material{}, p.done()
	}
	m := Material{
		Name: name, About: p.Text("about"), Dry: p.limit("dry"), Heated: p.limit("heated"), Steamed: p.limit("steamed"),
		Modulus: p.Number("modulus"), Source: p.Text("source"), Usual: p.Text("usual"),
	}
	for _, t := range p.List("temper", mostTempers) {
		temper := Temper{Name: t.Name("name"), Limit: parser{t}.own()}
		parser{t}.rising("yield", temper.Yield[:])
		m.Tempers = append(m.Tempers, temper)
	}
	p.whole(&m)
	if err := p.done(); err != nil {
		return Material{}, err
	}
	return m, nil
}

// limit reads a table that is one.
func (p parser) limit(name string) Limit {
	t, ok := p.Sub(name)
	if !ok {
		return Limit{}
	}
	return parser{t}.own()
}

// own reads the table's own limit.
func (p parser) own() Limit { return Limit{p.Number("strain"), p.Text("source")} }

// whole holds what a profile says together: a wood or a metal, and its usual temper.
func (p parser) whole(m *Material) {
	wood, metal := p.Given("dry") || p.Given("heated") || p.Given("steamed"), p.Given("modulus") || p.Given("temper")
	switch {
	case wood && metal:
		p.FaultAt(conf.Top, conf.BadValue, "the profile has limits of a wood and values of a metal").Hintf("keep [dry], [heated] and [steamed], or modulus and temper")
	case !wood && !metal && (p.Misspelt("dry") || p.Misspelt("modulus") || p.Misspelt("temper")): // reported
	case !wood && !metal:
		p.FaultAt(conf.Top, conf.Missing, "the profile doesn't say how far the material bends").Hintf("write [dry] of a wood, or modulus and [[temper]] of a metal")
	case wood && !p.Given("dry"):
		p.FaultAt(conf.Top, conf.Missing, "table [dry] is missing").Hintf("write [dry] with strain and source")
	case metal && (!p.Given("modulus") || !p.Given("temper")):
		p.FaultAt(conf.Top, conf.Missing, "a metal needs modulus and at least one [[temper]]").Hintf("%s", p.Hint("modulus"))
	case metal && m.Source == "":
		p.Require("source")
	}
	for i, key := range []string{"heated", "steamed"} {
		limits := []Limit{m.Dry, m.Heated, m.Steamed}
		if got := limits[i+1]; p.Given(key) && got.Strain < limits[i].Strain {
			p.Faultf(p.Get(key), conf.BadValue, "%s bends less than cooler wood: its strain is %g, below %g", key, got.Strain, limits[i].Strain).
				Hintf("leave [%s] out, or give it more", key)
		}
	}
	if !metal || len(m.Tempers) == 0 {
		return
	}
	if m.Usual == "" {
		m.Usual = m.Tempers[0].Name
	}
	if _, ok := m.Temper(m.Usual); !ok {
		p.Faultf(p.Get("usual"), conf.BadValue, "there is no temper %q", m.Usual).Hintf("%s", m.known(m.Usual))
	}
}

// known is the hint for a temper that isn't among the material's.
func (m Material) known(temper string) string {
	names := m.TemperNames()
	if near := diag.Nearest(strings.ToLower(temper), names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "it has " + strings.Join(names, ", ")
}

// OpenMaterial finds a material's profile, as OpenMachine a machine's.
func OpenMaterial(name string, readFile func(path string) ([]byte, error)) (Material, error) {
	data, file, err := open(kindMaterial, name, readFile)
	if err != nil {
		return Material{}, err
	}
	return ParseMaterial(name, file, data)
}

// Materials is all built-in materials, by name.
func Materials() []Material {
	var list []Material
	for _, n := range namesOf(kindMaterial) {
		if m, err := OpenMaterial(n, nil); err == nil { // a test reads every one of them
			list = append(list, m)
		}
	}
	return list
}
