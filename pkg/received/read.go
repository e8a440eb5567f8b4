package received

import (
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

const (
	// MaxSize is the size in bytes beyond which a card is not read: a line for
	// each track.
	MaxSize = 1 << 20
	// farthest in mm is more than any caliper measures.
	farthest = 10_000
	// mostReadings of one measure.
	mostReadings = 20
)

// Rules of findings about a card, besides those of package conf.
const (
	ruleOpening    = "unknown-opening"
	ruleUnmeasured = "unmeasured"
	ruleSlip       = "slip-of-the-pen"
)

// measured is what a measure may be: a reading, or several; a text with nothing in it is
// not measured yet.
var measured = conf.Either(conf.Length, conf.List(0, conf.Length))

var format = conf.Format{
	Name: "card", What: "a card", Title: "The receiving card", MaxSize: MaxSize, Rule: rule,
	Tables: []conf.Table{
		{Keys: []conf.Key{
			{Name: "job", Is: conf.Text, Example: conf.Typed{`"lid.toml"`}, Help: "the job file's name, without its folder"},
			{Name: "units", Is: conf.Word, Words: []string{"mm", "in"}, Said: "as in the job", Help: "what a bare number means in the card"},
			{Name: "rider", Is: measured, Range: conf.UpTo(farthest), Example: conf.Typed{"[100.02, 100, 99.98]"}, Help: "the rider's diameter, in three directions"},
			{Name: "bit", Is: measured, Range: conf.UpTo(farthest), Example: conf.Typed{"3.18"}, Help: "the slot that the bit cuts in scrap"},
			{Name: "track", Is: conf.TableOf("track"), Help: "the tracks' widths from wall to wall"},
		}},
		{Path: "track", Any: &measured, About: "A key for each track, as on the panels: `A1 = 101.9`; several readings of one are a list."},
	},
}

// Format is every key of a receiving card.
func Format() *conf.Format { return &format }

// rule is the rules of findings: what is wrong with an expression is a bad value.
func rule(f conf.Fault) string {
	if f == conf.BadExpression {
		f = conf.BadValue
	}
	return conf.Named("card")(f)
}

// Unreadable reports whether findings of Read say that the file could not be
// read: too large, not UTF-8, or not TOML.
func Unreadable(found diag.Findings) bool { return format.Unreadable(found) }

// Read reads a card. file is its name in findings, units what a bare number
// means where the card doesn't say, ids the openings that there are. The card
// means nothing when the findings have errors.
func Read(file string, data []byte, units unit.System, ids []string) (Card, diag.Findings) {
	in, ok := conf.Open(&format, file, data)
	in.Units = units
	r := &reader{Reader: in, ids: ids, card: Card{File: file, Tracks: map[string]Reading{}, text: in.File}}
	if ok {
		r.read()
	}
	return r.card, r.Findings().In(r.Units)
}

type reader struct {
	*conf.Reader
	ids  []string
	card Card
}

func (r *reader) read() {
	r.Suggest = func(table, name string) string {
		if table == "" && slices.Contains(r.ids, name) {
			return name + " is a track: write [track] on a line above it"
		}
		return ""
	}
	top := r.Whole()
	if top.Given("units") {
		r.Units = unit.System(max(0, top.Word("units")))
	}
	r.card.Job = top.Text("job")
	for _, f := range top.Value.Fields {
		switch f.Name {
		case "rider":
			r.card.Rider = r.reading(f)
		case "bit":
			r.card.Bit = r.reading(f)
		}
	}
	tracks, _ := top.Sub("track")
	for _, f := range tracks.Value.Fields {
		if !slices.Contains(r.ids, f.Name) {
			r.ErrorAt(f.Off, ruleOpening, "there is no track %q in this job", f.Name).Hintf("%s", r.meant(f.Name))
			continue
		}
		r.card.Tracks[f.Name] = r.reading(f)
	}
}

// meant is the hint for a track that there isn't.
func (r *reader) meant(id string) string {
	const few = 12
	if near := diag.Nearest(strings.ToUpper(id), r.ids); near != "" {
		return "did you mean " + near + "?"
	}
	if len(r.ids) == 0 {
		return "this job has no tracks"
	}
	if len(r.ids) > few {
		return "there are " + strings.Join(r.ids[:few], ", ") + " and more: see received.toml beside the set-up sheet"
	}
	return "there are " + strings.Join(r.ids, ", ")
}

// reading is a measure, or a list of them; what is an empty text is left out.
func (r *reader) reading(f conf.Field) Reading {
	out := Reading{Pos: r.At(f.Off)}
	items := []*conf.Value{f.Value}
	if f.Value.Kind == conf.KindList {
		items = f.Value.Items
	}
	if len(items) > mostReadings {
		r.Faultf(f.Value, conf.BadValue, "%s has %d readings", f.Name, len(items)).Hintf("give at most %d", mostReadings)
		return out
	}
	for _, v := range items {
		switch v.Kind {
		case conf.KindString, conf.KindInteger, conf.KindFloat:
			if v.Kind == conf.KindString && strings.TrimSpace(v.Text) == "" {
				continue
			}
			if mm := r.Length(v, f.Name, conf.UpTo(farthest), `write 101.9, or a length with its unit in quotes: "4.01 in"`); mm > 0 {
				out.Values = append(out.Values, mm)
				out.marks = append(out.marks, newMark(r.At(v.Off), v.Text, mm))
			}
		case conf.KindTable, conf.KindList, conf.KindBool, conf.KindDate:
			r.Faultf(v, conf.WrongType, "%s must be a number, or a length in quotes, not %s", f.Name, v.Kind).
				Hintf(`write 101.9, "4.01 in", or "" where it is not measured yet`)
		}
	}
	return out
}
