package fit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/measured"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Rules of findings about a measured card, besides those of packages conf and measured.
const (
	ruleStrip = "unknown-strip"
	ruleCut   = "unknown-cut"
)

// mostBlocks is more than any lay-up has strips and any job has cuts.
const mostBlocks = 2000

var format = conf.Format{
	Name: "measured", What: "a measured card", Title: "The measured card", MaxSize: measured.MaxSize, Rule: measured.Rule,
	Tables: []conf.Table{
		{Keys: append(measured.Head(),
			conf.Key{Name: "strip", Is: conf.List(0, conf.TableOf("strip")), Help: "the strips; a block for those that are alike, or for each of the lay-up from the left"},
			conf.Key{Name: "groove", Is: conf.List(0, conf.TableOf("groove")), Help: "the grooves of the trial in scrap; one at least of each track"},
		)},
		{Path: "strip", About: "Strips of one material and thickness. Several readings of one are a list.", Keys: []conf.Key{
			{Name: "material", Is: conf.Text, Must: true, Example: conf.Typed{`"holly"`}, Help: "the material, as the job has it"},
			{Name: "thickness", Is: measured.Measure, Range: measured.Range, Example: conf.Typed{"[0.9, 0.91, 0.9]", "[0.035, 0.036, 0.035]"}, Help: "the thickness of one strip"},
		}},
		{Path: "groove", About: "A test groove, cut in scrap as in the work. Several readings of one are a list.", Keys: []conf.Key{
			{Name: "cut", Is: conf.Either(conf.Whole, conf.Text), Must: true, Example: conf.Typed{"1"}, Help: "the cut's number or name, or its track: 1, \"A1\"; without templates the strand or an element of it"},
			{Name: "width", Is: measured.Measure, Range: measured.Range, Example: conf.Typed{"[4.68, 4.7, 4.69]", "[0.184, 0.185, 0.184]"}, Help: "the groove's width"},
		}},
	},
}

// Format is every key of a measured card.
func Format() *conf.Format { return &format }

// Unreadable reports whether findings of Read say that the file could not be read: too
// large, not UTF-8, or not TOML.
func Unreadable(found diag.Findings) bool { return format.Unreadable(found) }

// example is a width as hints show it.
var example = measured.Example{Bare: "4.68", Quoted: `"0.184 in"`}

// Read reads a card. file is its name in findings, units what a bare number means where
// the card doesn't say, lay the job's lay-up and ways what makes its grooves. The card
// means nothing when the findings have errors.
func Read(file string, data []byte, units unit.System, lay work.Inlay, ways []Way) (Card, diag.Findings) {
	in, ok := measured.Open(&format, file, data, units)
	r := &reader{Reader: in, lay: lay, ways: ways}
	if ok {
		r.read()
	}
	r.card.Card = r.Card
	return r.card, r.Findings().In(r.Units)
}

type reader struct {
	measured.Reader
	lay  work.Inlay
	ways []Way
	card Card
}

func (r *reader) read() {
	top := r.Top()
	for _, s := range top.List("strip", mostBlocks) {
		r.card.strips = append(r.card.strips, r.strip(s))
	}
	for _, s := range top.List("groove", mostBlocks) {
		if way := r.way(s); way >= 0 {
			r.card.grooves = append(r.card.grooves, grooveRow{way, r.measure(s, "width")})
		}
	}
}

// measure is a block's reading; at the block where there is none.
func (r *reader) measure(s conf.Section, name string) measured.Reading {
	for _, f := range s.Value.Fields {
		if f.Name == name {
			return r.Reading(f, example)
		}
	}
	return measured.Reading{Pos: r.At(s.Value.Off)}
}

func (r *reader) strip(s conf.Section) stripRow {
	row := stripRow{material: strings.TrimSpace(s.Text("material")), thickness: r.measure(s, "thickness")}
	if v := s.Value.Get("material"); v != nil && v.Kind == conf.KindString && len(r.lay.Strips) > 0 && !r.known(row.material) {
		r.Errorf(v, ruleStrip, "there is no strip of %q in the lay-up", row.material).Hintf("%s", r.meantStrip(row.material))
	}
	return row
}

func (r *reader) known(material string) bool {
	return glued(r.lay) && same(material, sandwiched) || slices.ContainsFunc(r.lay.Strips, func(s work.Strip) bool { return same(s.Material, material) })
}

// meantStrip is the hint for a material that the lay-up lacks.
func (r *reader) meantStrip(material string) string {
	var names []string
	for _, s := range r.lay.Strips {
		if !slices.Contains(names, s.Material) {
			names = append(names, s.Material)
		}
	}
	if near := diag.Nearest(material, names); near != "" {
		return "did you mean " + near + "?"
	}
	return "the job's strips are of " + strings.Join(names, ", ")
}

// way is what makes the cut of a block; -1 if there is no such cut, which is reported.
func (r *reader) way(s conf.Section) int {
	v := s.Get("cut")
	if v == nil {
		return -1
	}
	name := strings.TrimSpace(v.Text)
	switch v.Kind {
	case conf.KindInteger, conf.KindString:
		way := byName(r.ways, name)
		if n, err := strconv.Atoi(name); err == nil && way < 0 {
			way = byNumber(r.ways, n)
		}
		if way < 0 {
			if v.Kind == conf.KindString {
				name = fmt.Sprintf("%q", name)
			}
			r.Errorf(v, ruleCut, "there is no cut %s in this job", name).Hintf("%s", r.meantCut(v.Text))
		}
		return way
	case conf.KindTable, conf.KindList, conf.KindBool, conf.KindDate, conf.KindFloat:
		r.Faultf(v, conf.WrongType, "cut must be a number, or a name in quotes, not %s", v.Kind).Hintf("%s", r.there())
	}
	return -1
}

// meantCut is the hint for a cut that there isn't.
func (r *reader) meantCut(name string) string {
	var names []string
	for _, w := range r.ways {
		names = append(names, w.ID)
		names = append(names, w.Names...)
	}
	if near := diag.Nearest(name, names); near != "" && near != name {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return r.there()
}

// there is the hint that says which cuts there are.
func (r *reader) there() string {
	most := 0
	for _, w := range r.ways {
		if n := w.numbers(); len(n) > 0 {
			most = max(most, slices.Max(n))
		}
	}
	switch last := len(r.ways) - 1; {
	case last < 0:
		return "this job has no cuts"
	case most > 0:
		return fmt.Sprintf("write a cut's number, 1 to %d, or a track, %q to %q", most, r.ways[0].ID, r.ways[last].ID)
	case last == 0:
		return fmt.Sprintf("write cut = %q", r.ways[0].ID)
	default:
		return fmt.Sprintf("write the name of a strand, %q to %q", r.ways[0].ID, r.ways[last].ID)
	}
}
