package received

import (
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/measured"
	"strapwork/pkg/unit"
)

// ruleOpening is the rule of a track that there isn't, besides those of packages conf and
// measured.
const ruleOpening = "unknown-opening"

var format = conf.Format{
	Name: "card", What: "a card", Title: "The receiving card", MaxSize: measured.MaxSize, Rule: measured.Rule,
	Tables: []conf.Table{
		{Keys: append(measured.Head(),
			conf.Key{Name: "rider", Is: measured.Measure, Range: measured.Range, Example: conf.Typed{"[100.02, 100, 99.98]"}, Help: "the rider's diameter, in three directions"},
			conf.Key{Name: "bit", Is: measured.Measure, Range: measured.Range, Example: conf.Typed{"3.18"}, Help: "the slot that the bit cuts in scrap"},
			conf.Key{Name: "rail", Is: measured.Measure, Range: measured.Range, Example: conf.Typed{"2102.1"}, Help: "the rail that panels are stepped along, from the middle of its first hole to that of its last"},
			conf.Key{Name: "track", Is: conf.TableOf("track"), Help: "the tracks' widths from wall to wall"},
		)},
		{Path: "track", Any: &measured.Measure, About: "A key for each track, as on the panels: `A1 = 101.9`; several readings of one are a list."},
	},
}

// Format is every key of a receiving card.
func Format() *conf.Format { return &format }

// Unreadable reports whether findings of Read say that the file could not be
// read: too large, not UTF-8, or not TOML.
func Unreadable(found diag.Findings) bool { return format.Unreadable(found) }

// Read reads a card. file is its name in findings, units what a bare number
// means where the card doesn't say, ids the openings that there are. The card
// means nothing when the findings have errors.
func Read(file string, data []byte, units unit.System, ids []string) (Card, diag.Findings) {
	in, ok := measured.Open(&format, file, data, units)
	r := &reader{Reader: in, ids: ids, card: Card{Tracks: map[string]measured.Reading{}}}
	if ok {
		r.read()
	}
	r.card.Card = r.Card
	return r.card, r.Findings().In(r.Units)
}

type reader struct {
	measured.Reader
	ids  []string
	card Card
}

// example is a track's width as hints show it.
var example = measured.Example{Bare: "101.9", Quoted: `"4.01 in"`}

func (r *reader) read() {
	r.Suggest = func(table, name string) string {
		if table == "" && slices.Contains(r.ids, name) {
			return name + " is a track: write [track] on a line above it"
		}
		return ""
	}
	top := r.Top()
	for _, f := range top.Value.Fields {
		switch f.Name {
		case "rider":
			r.card.Rider = r.Reading(f, example)
		case "bit":
			r.card.Bit = r.Reading(f, example)
		case "rail":
			r.card.Rail = r.Reading(f, example)
		}
	}
	tracks, _ := top.Sub("track")
	for _, f := range tracks.Value.Fields {
		if !slices.Contains(r.ids, f.Name) {
			r.ErrorAt(f.Off, ruleOpening, "there is no track %q in this job", f.Name).Hintf("%s", r.meant(f.Name))
			continue
		}
		r.card.Tracks[f.Name] = r.Reading(f, example)
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
