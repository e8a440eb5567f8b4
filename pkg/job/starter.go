package job

// A whole job to start from: a pattern, and what a bench needs to know besides.

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Starter is what a starting job is written from.
type Starter struct {
	Family Family
	Given  []Given // what is given of the family's keys
	Units  unit.System
	Rider  string     // its diameter as typed; "" for a common one
	Guide  work.Guide // with panels
	Room   float64    // by how much a size that isn't given is larger than usual; 0: not at all
}

// Given is a key with what was typed for it.
type Given struct{ Key, Value string }

// starterRiders are the riders that a starting job has where none is given, in mm and in
// inches, common ones of their kinds (common practice).
var starterRiders = map[work.Guide]conf.Typed{
	work.GuideBase:    {"100", "4"},
	work.GuideBushing: {"16", `"5/8"`},
	work.GuideBearing: {"12.7", `"1/2"`},
}

// starterKeys are what a starting job writes in its tables: a lay-up of three strips,
// a common bit, and a shop that has the kerf drawn (common practice).
var starterKeys = []struct {
	table string
	keys  map[string]conf.Typed
}{
	{"inlay", map[string]conf.Typed{
		"depth": {"3", `"1/8"`}, "proud": {"0.3", `"1/64"`}, "clearance": {"0.08", "0.003"},
		"strips": {
			"[\n  { material = \"holly\", thickness = 0.6 },\n  { material = \"pear\", thickness = 1.8 },\n  { material = \"holly\", thickness = 0.6 },\n]",
			"[\n  { material = \"holly\", thickness = \"1/32\" },\n  { material = \"pear\", thickness = \"1/16\" },\n  { material = \"holly\", thickness = \"1/32\" },\n]",
		},
	}},
	{"router", map[string]conf.Typed{
		"bit": {"3", `"1/8"`}, "flute": {"16", `"5/8"`}, "shank": {"6", `"1/4"`}, "base": {"150", "6"}, "collar": {"5", `"3/16"`},
	}},
	{"template", map[string]conf.Typed{"frame": {"80", `"3 1/4"`}}},
	{"board", map[string]conf.Typed{"thickness": {"20", `"3/4"`}}},
	{"cutting", map[string]conf.Typed{"profile": {`"laser-1300x900"`}, "kerf": {"0.18", "0.007"}, "kerf_by": {`"me"`}}},
}

// starterFlute is a cutting length short enough for the bearing above it to bear on a
// usual wall from the first depth on.
var starterFlute = conf.Typed{"8", `"5/16"`}

// Write is the job's text, and what is wrong with what was given; then there is no text.
// Every key that the job could have in its tables stands in it, with what it is.
func (s Starter) Write() (string, diag.Findings) {
	if found := s.unknown(); found.HasErrors() {
		return "", found
	}
	r, j, found := s.read(s.text("", geom.Point{}))
	if j == nil {
		return "", found
	}
	size := ""
	for _, mm := range r.sizes { // there is one pattern
		size = unit.Len(r.roundUp(mm * max(1, s.Room))).Typed().In(s.Units)
	}
	if _, j, found = s.read(s.text(size, geom.Point{})); j == nil {
		return "", found
	}
	text := s.text(size, s.board(j))
	if _, j, found = s.read(text); j == nil {
		return "", found
	}
	return text, nil
}

// SizeGiven reports whether what is given says how large the pattern is.
func (s Starter) SizeGiven() bool {
	for _, key := range []string{s.Family.Size, s.Family.Other, "size"} {
		if key != "" && s.given(key) != "" {
			return true
		}
	}
	return false
}

func (s Starter) given(key string) string {
	for _, g := range s.Given {
		if g.Key == key {
			return s.typed(g)
		}
	}
	return ""
}

// unknown reports keys that the family doesn't have.
func (s Starter) unknown() (found diag.Findings) {
	var names []string
	for _, k := range s.Family.Keys() {
		names = append(names, k.Name)
	}
	for _, g := range s.Given {
		at := diag.Position{}
		switch near := diag.Nearest(g.Key, names); {
		case s.given(g.Key) != s.typed(g):
			found.ErrorAt(at, "job-duplicate-key", "%s is given twice", g.Key).Hintf("remove one of them")
		case slices.Contains(names, g.Key):
		case near != "":
			found.ErrorAt(at, "job-unknown-key", "%s has no %q", s.Family.Name, g.Key).Hintf("did you mean %s?", near)
		default:
			found.ErrorAt(at, "job-unknown-key", "%s has no %q", s.Family.Name, g.Key).Hintf("it has %s", strings.Join(names, ", "))
		}
	}
	return found
}

// read reads a starting job. What is found is said of the keys and of no file, since
// there is none yet.
func (s Starter) read(text string) (*reader, *Job, diag.Findings) {
	r, j, found := read(s.Family.Name, []byte(text), toMake, nil)
	j, found = whole(j, found)
	for i := range found {
		found[i].Pos = diag.Position{}
		found[i].SetExcerpt("")
	}
	return r, j, found
}

// bare is what a value of TOML looks like that isn't a text.
var bare = regexp.MustCompile(`^([\[{"'].*|[+-]?[0-9][0-9_]*(\.[0-9_]+)?|true|false)$`)

// pair is a point as one types it in a command, where brackets need quotes: 320,220.
var pair = regexp.MustCompile(`^([^\[\]{}"',]+),([^\[\]{}"',]+)$`)

// typed is what was typed for a key as the file has it.
func (s Starter) typed(g Given) string {
	for _, k := range s.Family.Keys() {
		if xy := pair.FindStringSubmatch(g.Value); xy != nil && k.Name == g.Key && k.Takes() == "[x, y]" {
			return "[" + typed(strings.TrimSpace(xy[1])) + ", " + typed(strings.TrimSpace(xy[2])) + "]"
		}
	}
	return typed(g.Value)
}

// typed is a value as the file has it: what is not a number, list or text in quotes is put
// into quotes.
func typed(value string) string {
	if bare.MatchString(value) {
		return value
	}
	return strconv.Quote(value)
}

// text is the job with a size, if that is known, and a board, if it has one.
func (s Starter) text(size string, board geom.Point) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# A starting job, to be read and changed: what stands behind # has no effect.\n"+
		"# Measure rider, bit and strips before you have anything cut. strapwork help job has every key.\n\n")
	fmt.Fprintf(&b, "title = %q\n%s\n[motif]\n\n[[motif.%s]]\n", s.title(), s.units(), s.Family.Name)
	for _, k := range s.Family.Keys() {
		value := s.given(k.Name)
		switch {
		case value != "":
		case k.Name == s.Family.Size && !s.SizeGiven():
			value = size
		default:
			value = k.Default.In(s.Units)
		}
		b.WriteString(k.Written(s.Units, value))
	}
	for _, t := range starterKeys {
		if t.table == "board" && board == (geom.Point{}) {
			continue
		}
		b.WriteString("\n[" + t.table + "]\n")
		for _, k := range format.Table(t.table).Keys {
			if !k.IsTable() && k.Serves(s.Guide.String()) || k.Name == "strips" {
				b.WriteString(k.Written(s.Units, s.value(t.keys, t.table, k, board)))
			}
		}
	}
	return b.String()
}

func (s Starter) title() string {
	name := s.Family.Name
	return strings.ToUpper(name[:1]) + name[1:]
}

func (s Starter) units() string {
	return strings.TrimSuffix(format.Table("").Key("units").Written(s.Units, strconv.Quote(s.Units.String())), "\n") + "\n"
}

// value is what a starting job writes for a key; "" where it leaves it out.
func (s Starter) value(keys map[string]conf.Typed, table string, k conf.Key, board geom.Point) string {
	switch table + "." + k.Name {
	case "router.guide":
		return strconv.Quote(s.Guide.String())
	case "router.rider":
		if s.Rider != "" {
			return typed(s.Rider)
		}
		return starterRiders[s.Guide].In(s.Units)
	case "router.flute":
		if s.Guide == work.GuideBearing {
			return starterFlute.In(s.Units)
		}
	case "board.size":
		return fmt.Sprintf("[%s, %s]", unit.Len(board.X).Typed().In(s.Units), unit.Len(board.Y).Typed().In(s.Units))
	}
	return keys[k.Name].In(s.Units)
}

const (
	// rim in mm is how far a starting job's board stands out beyond the way of its rider:
	// there the frame can be screwed down. What its size is a multiple of is even.
	rim, even = 50, 20
)

// board is the size of a board that has the pattern in its middle.
func (s Starter) board(j *Job) geom.Point {
	b := geom.EmptyBox()
	for _, e := range j.Motif.Elements {
		b = b.Join(e.Contour.Bounds())
	}
	step := float64(even)
	if s.Units == unit.Inch {
		step = unit.MMPerInch
	}
	half := geom.Pt(max(-b.Min.X, b.Max.X), max(-b.Min.Y, b.Max.Y))
	out := j.Router.RiderDiameter/2 + rim
	side := func(half float64) float64 { return math.Ceil((2*half+2*out)/step) * step }
	return geom.Pt(side(half.X), side(half.Y))
}
