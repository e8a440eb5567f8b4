package fromdxf_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromdxf"
)

// Parts of files. What their groups mean is from the DXF Reference.

func layerEntry(name string, groups ...any) string {
	return tagged(append([]any{"LAYER", 2, name}, groups...)...)
}

func tables(entries ...string) string {
	return tagged("SECTION", 2, "TABLES") + strings.Join(entries, "") + tagged("ENDSEC")
}

func blockOf(name string, groups ...any) string {
	return tagged("BLOCK", 2, name, 10, 0, 20, 0) + tagged(groups...) + tagged("ENDBLK", 8, "0")
}

func blocks(of ...string) string {
	return tagged("SECTION", 2, "BLOCKS") + strings.Join(of, "") + tagged("ENDSEC")
}

// dash is a line type with gaps, solid one without.
const (
	dash  = "DASH"
	solid = "CONTINUOUS"
)

func lineTypes() string {
	return tagged("LTYPE", 2, dash, 73, 2, 40, 3, 49, 2, 49, -1) + tagged("LTYPE", 2, solid, 73, 0, 40, 0)
}

// line is a LINE with some groups of its own.
func line(groups ...any) []any {
	return append([]any{"LINE", 10, 0, 20, 0, 11, 3, 21, 4}, groups...)
}

// look is how a drawing's curves are drawn, a word for each.
func look(d drawing.Drawing) []string {
	var looks []string
	for _, c := range d.Curves {
		s := c.Layer + " " + c.Color
		if c.Dashed {
			s += " dashed"
		}
		if c.Width != 0 {
			s += fmt.Sprintf(" %g", c.Width)
		}
		looks = append(looks, s)
	}
	return looks
}

func join(groups ...[]any) []any {
	var all []any
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

// TestLooks: colour, line type and width are the entity's own, its layer's, or, in a block,
// those of the INSERT, as is the layer of what lies on layer 0.
func TestLooks(t *testing.T) {
	entries := tables(
		lineTypes(),
		layerEntry("Red", 62, 1, 6, dash, 370, 50),
		layerEntry("True", 62, 1, 420, 0x123456),
		layerEntry("Wide", 62, 3, 370, -3),
	)
	mm := section("HEADER", 9, "$INSUNITS", 70, 5) // centimetres
	at := []any{10, 0, 20, 0}
	tests := map[string]struct {
		blocks string
		groups []any
		want   []string
	}{
		"nothing said":     {"", line(), []string{"0 #000000"}},
		"unknown layer":    {"", line(8, "Nowhere"), []string{"Nowhere #000000"}},
		"layer's":          {"", line(8, "RED"), []string{"RED #ff0000 dashed 0.05"}},
		"layer's true one": {"", line(8, "True"), []string{"True #123456"}},
		"own":              {"", line(8, "Red", 62, 5, 6, solid, 370, 0), []string{"Red #0000ff"}},
		"own true colour":  {"", line(8, "Red", 62, 5, 420, 0xabcdef), []string{"Red #abcdef dashed 0.05"}},
		"by layer, said":   {"", line(8, "Red", 62, 256, 6, "ByLayer", 370, -1), []string{"Red #ff0000 dashed 0.05"}},
		"default width":    {"", line(8, "Wide", 6, "dash"), []string{"Wide #00ff00 dashed"}},
		"by block outside": {"", line(62, 0, 6, "BYBLOCK", 370, -2), []string{"0 #000000"}},
		"in a block": {
			blockOf("B", join(line(), line(8, "Red"), line(62, 0, 6, "ByBlock", 370, -2), line(8, "Red", 62, 0))...),
			join([]any{"INSERT", 2, "b", 8, "Wide", 62, 4, 6, dash, 370, 200}, at),
			[]string{"Wide #00ff00", "Red #ff0000 dashed 0.05", "Wide #00ffff dashed 0.2", "Red #00ffff dashed 0.05"},
		},
		"in a block in a block": {
			blockOf("IN", join(line(), line(62, 0))...) +
				blockOf("OUT", join([]any{"INSERT", 2, "IN", 62, 0}, at, []any{"INSERT", 2, "IN", 8, "Red", 62, 2}, at)...),
			join([]any{"INSERT", 2, "OUT", 8, "Wide", 62, 6}, at),
			[]string{"Wide #00ff00", "Wide #ff00ff", "Red #ff0000 dashed 0.05", "Red #ffff00 dashed 0.05"},
		},
		"a polyline's width": {"", []any{
			"LWPOLYLINE", 8, "Red", 43, 2.5, 10, 0, 20, 0, 10, 5, 20, 0,
			"LWPOLYLINE", 10, 0, 20, 0, 40, 1, 41, 3, 10, 5, 20, 0, 40, 9, 41, 9, // the last begins no edge
			"POLYLINE", 66, 1, 40, 1.5, 41, 1.5, "VERTEX", 10, 0, 20, 0, "VERTEX", 10, 5, 20, 0, "SEQEND",
		}, []string{"Red #ff0000 dashed 2.5", "0 #000000 3", "0 #000000 1.5"}},
		"a block's width grows": {
			blockOf("B", "LWPOLYLINE", 43, 2, 10, 0, 20, 0, 10, 5, 20, 0),
			[]any{"INSERT", 2, "B", 10, 0, 20, 0, 41, 3, 42, -3},
			[]string{"0 #000000 6"},
		},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			d := read(t, "", file(mm, entries, blocks(tt.blocks), section("ENTITIES", tt.groups...)))
			if diff := cmp.Diff(tt.want, look(d)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestPassedOver: what is hidden, on paper, no line, or out of the plane is counted by
// what it is.
func TestPassedOver(t *testing.T) {
	at := []any{10, 0, 20, 0}
	entries := tables(layerEntry("Off", 62, -1), layerEntry("Frozen", 62, 1, 70, 1), layerEntry("On", 62, 2))
	inside := blocks(
		blockOf("Three", join(line(), line(8, "On"), []any{"TEXT"})...),
		tagged("BLOCK", 2, "Elsewhere", 10, 0, 20, 0, 70, 4, 1, "other.dxf", "ENDBLK"),
	)
	circle := func(groups ...any) []any { return append([]any{"CIRCLE", 10, 1, 20, 2, 40, 3}, groups...) }
	tests := map[string]struct {
		groups []any
		curves int
		want   string
	}{
		"hidden layers":       {join(line(8, "off"), line(8, "FROZEN"), line(8, "On")), 1, "hidden layer 2"},
		"hidden, paper":       {join(line(60, 1), line(67, 1), []any{"TEXT", 67, 1}, line(60, 0, 67, 0)), 1, "hidden 1, paper space 2"},
		"no lines":            {[]any{"MTEXT", "TEXT", "DIMENSION", "HATCH", 10, "x", "POINT", "SOLID", "3DFACE", "VIEWPORT", "ATTDEF", "LEADER", "WHAT"}, 0, "text 3, dimension 2, hatch 1, point 1, filled shape 1, solid 1, view 1, unknown entity 1"},
		"attributes":          {join([]any{"INSERT", 2, "Three", 66, 1}, at, []any{"ATTRIB", 1, "x", "SEQEND", 8, "0"}), 2, "text 2"},
		"inserted, off":       {join([]any{"INSERT", 2, "Three", 8, "Off"}, at), 1, "text 1, hidden layer 1"},
		"inserted, frozen":    {join([]any{"INSERT", 2, "Three", 8, "Frozen"}, at), 0, "hidden layer 1"},
		"inserted thrice":     {join([]any{"INSERT", 2, "Three", 70, 3, 44, 10}, at), 6, "text 3"},
		"in another file":     {join([]any{"INSERT", 2, "Elsewhere"}, at), 0, "part in another file 1"},
		"at size 0":           {join([]any{"INSERT", 2, "Three", 41, 0}, at), 0, "line of no length 1"},
		"of no length":        {[]any{"LINE", 10, 1, 20, 2, 11, 1, 21, 2, "CIRCLE", 10, 1, 20, 1, 40, 0, "LWPOLYLINE", 10, 0, 20, 0, 10, 0, 20, 0, "ELLIPSE", 10, 0, 20, 0, 11, 1, 21, 0, 40, 0}, 0, "line of no length 4"},
		"askew":               {join(circle(210, 1, 220, 0, 230, 0), circle(210, 0.6, 220, 0, 230, 0.8), circle(210, 1e-9, 220, 0, 230, 1)), 1, "line out of the plane 2"},
		"askew insert":        {join([]any{"INSERT", 2, "Three", 220, 1, 230, 1}, at), 0, "line out of the plane 1"},
		"rising":              {[]any{"LINE", 10, 0, 20, 0, 11, 10, 21, 0, 31, 5, "LINE", 10, 0, 20, 0, 30, 7, 11, 10, 21, 0, 31, 7.001}, 1, "line out of the plane 1"},
		"rising polyline":     {[]any{"POLYLINE", 70, 8, "VERTEX", 10, 0, 20, 0, 30, 0, "VERTEX", 10, 5, 20, 0, 30, 5, "SEQEND"}, 0, "line out of the plane 1"},
		"meshes":              {[]any{"POLYLINE", 70, 16, "VERTEX", 10, 0, 20, 0, "SEQEND", "POLYLINE", 70, 64, "SEQEND"}, 0, "solid 2"},
		"faulty, but hidden":  {[]any{"SPLINE", 60, 1, "LINE", 67, 1, "CIRCLE", 8, "Off", 40, "x"}, 0, "hidden 1, paper space 1, hidden layer 1"},
		"not used, so no one": {nil, 0, ""},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			d := read(t, "", file(entries, inside, section("ENTITIES", tt.groups...)))
			var passed []string
			for _, p := range d.Passed {
				passed = append(passed, fmt.Sprintf("%s %d", p.What, p.Count))
				if p.Pos.Line == 0 {
					t.Errorf("%s has no place", p.What)
				}
			}
			if got := strings.Join(passed, ", "); got != tt.want || len(d.Curves) != tt.curves {
				t.Errorf("%d curves, passed over: %s; want %d, %s", len(d.Curves), got, tt.curves, tt.want)
			}
		})
	}
}

// TestUnits: those of $INSUNITS (DXF Reference; an inch is 25.4 mm by the agreement of
// 1959, a US survey foot 1200/3937 m), and none where it says none or isn't there.
// $MEASUREMENT says nothing.
func TestUnits(t *testing.T) {
	for insunits, mm := range map[string]float64{
		"0": 0, "1": 25.4, "2": 304.8, "4": 1, " 5": 10, "6": 1000, "9": 0.0254, "14": 100, "21": 304.8006096012192,
	} {
		d := read(t, "", file(section("HEADER", 9, "$MEASUREMENT", 70, 1, 9, "$INSUNITS", 70, insunits), section("ENTITIES", line()...)))
		if d.Unit != mm {
			t.Errorf("$INSUNITS %s: a unit is %v mm, want %v", insunits, d.Unit, mm)
		}
	}
	if d := read(t, "", file(section("HEADER", 9, "$MEASUREMENT", 70, 1), section("ENTITIES"))); d.Unit != 0 || !d.Page.Empty() {
		t.Errorf("without $INSUNITS: %v, page %v", d.Unit, d.Page)
	}
	for _, strange := range []int{18, 25, -1} {
		d, found := fromdxf.Read("a.dxf", file(section("HEADER", 9, "$INSUNITS", 70, strange), section("ENTITIES", line()...)))
		if len(found) != 1 || found.HasErrors() || found[0].Pos != (diag.Position{File: "a.dxf", Line: 8}) || d.Unit != 0 || len(d.Curves) != 1 {
			t.Errorf("$INSUNITS %d: %v, %v", strange, d, found)
		}
	}
}

// TestNames: layers' names are in UTF-8 since release 2007, before that in the file's code
// page, and characters by number are known everywhere. (Bytes from the tables of the code
// pages: ä is E4 in 1252, Ж is C6 in 1251, 你 is C4 E3 in 936, é is 82 in DOS 850.)
func TestNames(t *testing.T) {
	for _, tt := range []struct{ release, page, name, want string }{
		{"AC1021", "ANSI_1252", "Bänder 你", "Bänder 你"},
		{"AC1032", "", "Bänder", "Bänder"},
		{"", "", "Bänder", "Bänder"},
		{"", "", "B\xe4nder", "Bänder"},
		{"AC1015", "ANSI_1252", "B\xe4nder", "Bänder"},
		{"AC1015", "ANSI_1252", "Bänder", "Bänder"},
		{"AC1009", "ansi_1251", "\xc6", "Ж"},
		{"AC1009", "DOS850", "\x82", "é"},
		{"AC1015", "ANSI_936", "\xc4\xe3", "你"},
		{"AC1024", "ANSI_936", "你", "你"},
		{"AC1015", "ANSI_1252", `B\U+00E4nder \U+4F60 \U+12`, `Bänder 你 \U+12`},
	} {
		header := section("HEADER", 9, "$ACADVER", 1, tt.release, 9, "$DWGCODEPAGE", 3, tt.page)
		d := read(t, "", file(header, tables(layerEntry(tt.name, 62, 1)), section("ENTITIES", line(8, tt.name)...)))
		if got := look(d)[0]; got != tt.want+" #ff0000" {
			t.Errorf("%s %s: %q, want %q", tt.release, tt.page, got, tt.want)
		}
	}
}
