package fromdxf_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromdxf"
)

// spline is a SPLINE of a degree with n control points on a zigzag, and knots.
func spline(degree, n int, knots ...float64) []any {
	groups := []any{"SPLINE", 71, degree}
	for _, k := range knots {
		groups = append(groups, 40, k)
	}
	for i := range n {
		groups = append(groups, 10, i, 20, i%2)
	}
	return groups
}

// TestRefusals: what can't be read exactly is refused in the line where its entity begins,
// or where the wrong number stands, with something to do about it.
func TestRefusals(t *testing.T) {
	at := []any{10, 0, 20, 0}
	deep := ""
	for i := range 18 {
		deep += blockOf(fmt.Sprint("B", i), join(line(), []any{"INSERT", 2, fmt.Sprint("B", i+1)}, at)...)
	}
	ring := blockOf("A", join([]any{"INSERT", 2, "B"}, at)...) + blockOf("B", join([]any{"INSERT", 2, "a"}, at)...)
	good := entities(line()...)
	tests := []struct {
		name string
		data []byte
		word string // the finding's line: the last that is this; empty: there is none
		want string
	}{
		{"empty", nil, "", "cut short"},
		{"something else", []byte("# A job\n"), "# A job", "not a group code"},
		{"binary", []byte("AutoCAD Binary DXF\r\n\x1a\x00\x00"), "", "binary DXF"},
		{"DWG", []byte("AC1015\x00\x00\x00"), "", "DWG file"},
		{"other binary", []byte("PK\x03\x04\x00\x00"), "", "not a DXF file"},
		{"too large", make([]byte, drawing.MaxSize+1), "", "32 MB"},
		{"cut short", bytes.TrimSuffix(good, []byte("  0\nEOF\n")), "", "cut short"},
		{"cut within an entity", good[:bytes.Index(good, []byte(" 11\n"))], "", "cut short"},
		{"no entities", file(section("HEADER")), "EOF", "no ENTITIES"},
		{"no section", []byte(tagged("LINE", "EOF")), "LINE", "expected SECTION"},
		{"section without a name", []byte(tagged("SECTION", "ENDSEC", "EOF")), "ENDSEC", "section's name"},
		{"section without an end", []byte(tagged("SECTION", 2, "OBJECTS", "EOF")), "EOF", "expected ENDSEC"},
		{"entities without an end", []byte(tagged("SECTION", 2, "ENTITIES", "EOF")), "EOF", "expected an entity or ENDSEC"},
		{"block without an end", file(section("BLOCKS", "BLOCK", 2, "B"), section("ENTITIES")), "", "expected an entity or ENDBLK"},
		{"long line", []byte("  0\n" + strings.Repeat("x", 9000)), "", "longer than"},
		{"no number", entities("LINE", 10, "0x10"), "0x10", `"0x10" is not a number`},
		{"infinite", entities("CIRCLE", 10, 0, 20, 0, 40, "inf"), "inf", "not a number"},
		{"far away", entities("CIRCLE", 10, 0, 20, 0, 40, "2e9"), "2e9", "beyond 1e+09"},
		{"far away at last", entities("CIRCLE", 10, 9e8, 20, 0, 40, "9e8"), "CIRCLE", "beyond 1e+09"},
		{"no whole number", entities(line(62, "1.5")...), "1.5", "whole number"},
		{"no y", entities("LINE", 10, 0, 11, 5, 21, 0), "LINE", "no group 20"},
		{"no radius", entities("ARC", 10, 0, 20, 0, 50, 0, 51, 90), "ARC", "no group 40"},
		{"vertex without y", entities("LWPOLYLINE", 10, 0, 20, 0, 10, 5), "LWPOLYLINE", "without y"},
		{"y without vertex", entities("LWPOLYLINE", 20, 77, 10, 5), "77", "before its vertex"},
		{"wrong vertex", entities("POLYLINE", "VERTEX", 10, 0, "SEQEND"), "VERTEX", "no group 20"},
		{"fit points", entities("SPLINE", 71, 3, 11, 0, 21, 0, 11, 5, 21, 5, 11, 9, 21, 0), "SPLINE", "fitted to alone"},
		{"degree 6", entities(spline(6, 7, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1)...), "SPLINE", "degree 6"},
		{"degree 0", entities(spline(0, 2, 0, 1, 2)...), "SPLINE", "degree 0"},
		{"few points", entities(spline(3, 3, 0, 0, 0, 0, 1, 1, 1)...), "SPLINE", "needs 4"},
		{"no knots", entities(spline(3, 4)...), "SPLINE", "0 knots"},
		{"knots fall", entities(spline(2, 3, 0, 0, 0, 2, 1, 1)...), "SPLINE", "don't rise"},
		{"knots stay", entities(spline(2, 3, 1, 1, 1, 1, 1, 1)...), "SPLINE", "don't rise"},
		{"few weights", entities(append(spline(2, 3, 0, 0, 0, 1, 1, 1), 41, 1)...), "SPLINE", "weight above 0"},
		{"weight 0", entities(append(spline(2, 3, 0, 0, 0, 1, 1, 1), 41, 1, 41, 0, 41, 1)...), "SPLINE", "weight above 0"},
		{"apart", entities(spline(2, 6, 0, 0, 0, 1, 1, 1, 2, 2, 2)...), "SPLINE", "comes apart"},
		{"no such block", entities(join([]any{"INSERT", 2, "Nowhere"}, at)...), "INSERT", `block "Nowhere"`},
		{"a block in itself", file(blocks(ring), section("ENTITIES", join([]any{"INSERT", 2, "A"}, at)...)), "", `block "a" holds itself`},
		{"nested deep", file(blocks(deep), section("ENTITIES", join([]any{"INSERT", 2, "B0"}, at)...)), "", "more than 16 deep"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, found := fromdxf.Read("a.dxf", tt.data)
			if len(found) != 1 || !found.HasErrors() || !strings.Contains(found[0].Message, tt.want) || found[0].Hint == "" {
				t.Fatalf("found %v, want one about %q with a hint", found, tt.want)
			}
			if len(d.Curves) != 0 || found[0].Pos.File != "a.dxf" {
				t.Errorf("%d curves, at %v", len(d.Curves), found[0].Pos)
			}
			lines := strings.Split(string(tt.data), "\n")
			slices.Reverse(lines)
			if i := slices.Index(lines, tt.word); tt.word != "" && found[0].Pos.Line != len(lines)-i {
				t.Errorf("in line %d, want %d", found[0].Pos.Line, len(lines)-i)
			}
		})
	}
}

// TestAllFaultsAtOnce: each entity's own, and one in a block once however often it is
// inserted.
func TestAllFaultsAtOnce(t *testing.T) {
	twice := []any{"INSERT", 2, "B", 10, 0, 20, 0, 70, 2, 44, 5}
	data := file(blocks(blockOf("B", "ARC")), section("ENTITIES", join([]any{"SPLINE", 71, 3}, twice, []any{"LINE"}, line())...))
	if _, found := fromdxf.Read("", data); len(found) != 3 {
		t.Errorf("found %v", found)
	}
	many := entities(slices.Repeat([]any{"LINE"}, 1000)...)
	if _, found := fromdxf.Read("", many); len(found) > 101 {
		t.Errorf("%d findings", len(found))
	}
}

// TestTooMuch: a drawing that grows beyond its limits by copies of copies is refused, and
// at once.
func TestTooMuch(t *testing.T) {
	t.Parallel()
	insert := func(name string, groups ...any) []any {
		return append([]any{"INSERT", 2, name, 10, 0, 20, 0}, groups...)
	}
	many := []any{70, 32767, 71, 32767, 44, 1, 45, 1}
	var doubled string
	for i := range 15 {
		name := fmt.Sprint("B", i+1)
		doubled += blockOf(fmt.Sprint("B", i), join(insert(name, many...), insert(name, many...))...)
	}
	long := join([]any{"LWPOLYLINE"}, slices.Repeat([]any{10, 0, 20, 0, 10, 1, 20, 1}, 30_000))
	wavy := []any{"SPLINE", 71, 1}
	for i := range 5000 {
		wavy = append(wavy, 10, i, 20, 0, 40, i)
	}
	wavy = append(wavy, 40, 5000, 40, 5001)
	tests := map[string][]byte{
		"lines":            entities(slices.Repeat(line(), drawing.MaxCurves+1)...),
		"one polyline":     entities(long...),
		"an array":         file(blocks(blockOf("B", line()...)), section("ENTITIES", insert("B", many...)...)),
		"an empty array":   file(blocks(blockOf("B")), section("ENTITIES", insert("B", many...)...)),
		"arrays of arrays": file(blocks(doubled+blockOf("B15")), section("ENTITIES", insert("B0", many...)...)),
		"long splines":     file(blocks(blockOf("B", wavy...)), section("ENTITIES", insert("B", many...)...)),
		"not drawn":        entities(slices.Repeat([]any{"LINE", 8, "0"}, 9*drawing.MaxCurves)...),
	}
	if testing.Short() {
		delete(tests, "not drawn") // takes a second
	}
	for name, data := range tests {
		begin := time.Now()
		_, found := fromdxf.Read("", data)
		if len(found) != 1 || !strings.Contains(found[0].Message, "more than") || found[0].Hint == "" {
			t.Errorf("%s: found %v", name, found)
		}
		// Seconds, on a machine that does ten things at once; without limits it were hours.
		if took := time.Since(begin); took > 20*time.Second {
			t.Errorf("%s took %v", name, took)
		}
	}
}
