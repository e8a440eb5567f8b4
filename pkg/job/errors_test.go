package job_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/work"
)

// change replaces text in the table's job; each old text must be there.
func change(t *testing.T, pairs ...string) string {
	t.Helper()
	text := table
	for i := 0; i+1 < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("%q is not in the job", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// One mistake, one finding, at its line and column, with a hint.
func TestOneMistake(t *testing.T) {
	for _, c := range []struct {
		name, old, new string
		want           string // place and text
		hint           string // part of it
	}{
		{"misspelt key", "depth = 3", "depht = 3", `19:1: error: there is no key "depht" in [inlay]`, "did you mean depth?"},
		{"capital key", "depth = 3", "Depth = 3", `19:1: error: there is no key "Depth" in [inlay]`, "in lower case: depth"},
		{"key of another table", "rider = 100", "rider = 100\ndepth = 3", `32:1: error: there is no key "depth" in [router]`, "belongs in [inlay]"},
		{"key of the top", "rider = 100", "rider = 100\ntitle = \"x\"", `32:1: error: there is no key "title" in [router]`, "top of the file"},
		{"strange key", "rider = 100", "rider = 100\nvarnish = 3", `32:1: error: there is no key "varnish" in [router]`, "known here: guide, rider"},
		{"misspelt table", "[router]", "[ruoter]", `29:2: error: there is no table "ruoter"`, "did you mean router?"},
		{"table that comes later", "[router]", "[finish]\n[router]", `29:2: error: there is no table "finish"`, "known here: title"},
		{"paper's key", "[router]", "[paper]\npapr = \"A4\"\n[router]", `30:1: error: there is no key "papr" in [paper]`, "did you mean paper?"},
		{"one measured bar", "[router]", "[paper]\nmeasured = [\"148.9 mm\"]\n[router]", `30:12: error: measured must have two lengths, not 1`, `measured = ["148.9 mm", "150.3 mm"]`},
		{"measured in a text", "[router]", "[paper]\nmeasured = \"148.9 mm\"\n[router]", `30:12: error: measured must be a list of two lengths, not text`, `measured = [`},
		{"measured nothing", "[router]", "[paper]\nmeasured = [0, 150]\n[router]", `30:13: error: measured must be more than 0`, ""},
		{"no paper at all", "[router]", "[paper]\npaper = \" \"\n[router]", `30:9: error: paper is empty`, `paper = "A4"`},
		{"paper is no table", "units = \"mm\"", "units = \"mm\"\npaper = \"A4\"", `3:9: error: paper must be a table, not text`, "[paper] on a line of its own"},
		{"strip's key", "material = \"pear\"", "tree = \"pear\", material = \"pear\"", `25:5: error: there is no key "tree" in [inlay.strips]`, "material, thickness, temper, bends_like, color"},
		{"element's key", "sweep = 270", "sweep = 270\nkerf9 = 3", `18:1: error: there is no key "kerf9" in [motif.arc]`, "known here"},
		{"dotted stranger", "depth = 3", "depth = 3\na.b.c = 3", `20:1: error: there is no key "a" in [inlay]`, "belongs in"},
		{"twice", "depth = 3", "depth = 3\ndepth = 4", `20:1: error: "depth" is given twice`, "line 19"},
		{"twice in braces", "thickness = 0.8", "thickness = 0.8, thickness = 1", `25:41: error: "thickness" is given twice`, "line 25"},
		{"table twice", "[router]", "[let]\n[router]", `29:2: error: table [let] is given twice`, "line 3"},
		{"name of two elements", `name = "loop"`, `name = "bar"`, `13:8: error: the name "bar" is used twice`, "line 9"},
		{"name with a point", `name = "loop"`, `name = "loop.1"`, `13:8: error: an element cannot be called "loop.1"`, "letters"},
		{"empty name", `name = "loop"`, `name = ""`, `13:8: error: an element cannot be called ""`, "letters"},
		{"no units", `units = "mm"`, "", "1:1: error: units is missing", `units = "mm"`},
		{"strange units", `units = "mm"`, `units = "cm"`, `2:9: error: units cannot be "cm"`, `"mm"`},
		{"missing key", "depth = 3", "", "18:2: error: depth is missing", "depth = 3"},
		{"missing element key", "sweep = 270", "", "12:9: error: sweep is missing", "sweep = 90"},
		{"missing material", `material = "pear", `, "", "25:3: error: material is missing", "holly"},
		{"wrong type", "depth = 3", "depth = true", "19:9: error: depth must be a number or an expression, not true or false", "quotes"},
		{"date", "depth = 3", "depth = 2024-01-01", "19:9: error: depth must be a number or an expression, not a date", ""},
		{"text for a list", `center = ["reach", "reach"]`, `center = "reach"`, `14:10: error: center: there is no point "reach"`, "[x, y]"},
		{"three coordinates", `center = ["reach", "reach"]`, "center = [3, 5, 7]", "14:10: error: center must have two coordinates, not 3", "[x, y]"},
		{"number for a text", `title = "Walnut hall table"`, "title = 3", "1:9: error: title must be text", "quotes"},
		{"line break in the title", "hall", `\n`, "1:9: error: title must be one line", ""},
		{"nan", "depth = 3", "depth = nan", "19:9: error: depth cannot be nan", "number"},
		{"infinity", "rider = 100", "rider = +inf", "31:9: error: rider cannot be +inf", "number"},
		{"hexadecimal", "rider = 100", "rider = 0x64", "31:9: error: rider must be written in decimal", ""},
		{"huge number", "rider = 100", "rider = 1e999", "31:9: error: rider is too large a number", ""},
		{"zero depth", "depth = 3", "depth = 0", "19:9: error: depth must be more than 0", ""},
		{"negative radius", `radius = "reach - inset"`, `radius = "inset - reach"`, "15:10: error: radius must be more than 0, not -80 mm", ""},
		{"zero radius", `radius = "reach - inset"`, "radius = 0", "15:10: error: radius must be more than 0", ""},
		{"negative clearance", "clearance = 0.08", "clearance = -0.08", "21:13: error: clearance must not be negative", ""},
		{"beyond 100 m", `from = ["-reach", "inset"]`, "from = [-100001, 0]", "10:9: error: from: x of -100001 mm is beyond 100 m", "unit"},
		{"circle beyond 100 m", `center = ["reach", "reach"]`, "center = [99990, 0]", "15:10: error: the drawing goes beyond 100 m", ""},
		{"zero-length line", `to = ["reach", "inset"]`, `to = ["-reach", 60.0005]`, "11:6: error: the line's two ends coincide", "move one"},
		{"sweep of nothing", "sweep = 270", "sweep = 0", "17:9: error: sweep must not be 0", ""},
		{"sweep of more than a turn", "sweep = 270", "sweep = -360.1", "17:9: error: sweep is beyond a full turn", "360"},
		{"arc of no length", "sweep = 270", "sweep = 1e-5", "17:9: error: the arc is shorter than 0.001 mm", "degrees"},
		{"angle in mm", "start = 270", `start = "270 mm"`, "16:14: error: start: an angle takes no unit", "degrees"},
		{"no copies", "copies = 4", "copies = 0", "7:10: error: copies must be 1 to 360, not 0", ""},
		{"too many copies", "copies = 4", "copies = 361", "7:10: error: copies must be 1 to 360", ""},
		{"half a copy", "copies = 4", "copies = 4.5", "7:10: error: copies must be a whole number, not a number", ""},
		{"single brackets", "[[motif.arc]]", "[motif.arc]", "12:8: error: motif.arc must be a list of tables", "[[motif.arc]]"},
		{"strips and width", "depth = 3", "depth = 3\nwidth = 5", "20:9: error: strips and width are both given", "one of them"},
		{"no strips", table[strings.Index(table, "strips"):strings.Index(table, "[router]")], "strips = []\n", "22:10: error: strips is empty", "holly"},
		{"formula for a material", `"pear"`, `"=1+1"`, `25:16: error: material cannot begin with "="`, "spreadsheet"},
		{"command for a material", `"pear"`, `"@SUM(A1)"`, `25:16: error: material cannot begin with "@"`, "spreadsheet"},
		{"endless number", "depth = 3", "depth = 1e308", "19:9: error: depth of 1e+308 mm is beyond 100 m", "unit"},
		{"strip of nothing", "thickness = 0.8", "thickness = 0", "25:36: error: thickness must be more than 0", ""},
		{"bit wider than the groove", `bit = "1/8 in"`, "bit = 5.0801", "32:7: error: the bit of 5.0801 mm is wider than the groove of 5.08 mm", "narrower"},
		{"rider smaller than the bit", "rider = 100", "rider = 3", "31:9: error: the rider of 3 mm is smaller than the bit of 3.175 mm", "diameter"},
		{"strange guide", `guide = "base"`, `guide = "bass"`, `30:9: error: guide cannot be "bass"`, `"base"`},
		{"no guide", `guide = "base"`, "", "29:2: error: guide is missing", "bearing"},
		{"pivot with a rider", `guide = "base"`, `guide = "pivot"`, "31:9: error: a pivot has no rider", "remove"},
		{"base without a rider", "rider = 100", "", "29:2: error: rider is missing", "measured"},
		{"bushing without a rider", "guide = \"base\"\nrider = 100", `guide = "bushing"`, "29:2: error: rider is missing", "measured"},
		{"undefined name", `center = ["reach", "reach"]`, `center = ["raech", 0]`, `14:12: error: center: x: "raech" is not defined`, "did you mean reach?"},
		{"undefined function", "depth = 3", `depth = "sqr(9)"`, `19:10: error: depth: there is no function "sqr"`, "did you mean sqrt?"},
		{"name that needs itself", "inset = 60", `inset = "2 * inset"`, "4:9: error: inset is defined by itself", "inset -> inset"},
		{"names in a ring", "inset = 60", `inset = "reach - 80"`, "4:9: error: inset is defined by itself", "inset -> reach -> inset"},
		{"unit as a name", "inset = 60", "inset = 60\ncm = 3", `5:1: error: "cm" is a unit`, "another name"},
		{"hyphen in a name", "inset = 60", "inset = 60\nouter-edge = 3", `5:1: error: "outer-edge" cannot be used`, "another name"},
		{"mixed number", "depth = 3", `depth = "3-1/4"`, "19:10: error: depth: 3-1/4 can be read two ways", "3 1/4"},
		{"decimal comma", "depth = 3", `depth = "3,25"`, "19:11: error: depth: a comma is not a decimal point", "3.25"},
		{"zero divided by", "depth = 3", `depth = '1/(inset - 60)'`, "19:11: error: depth: division by zero", ""},
		{"escapes: the place is the value's", "depth = 3", `depth = "\u0033 mn"`, `19:9: error: depth: a number and "mn"`, "a unit: mm"},
		{"weave", "[inlay]", "[weave]\nfirst = \"ovr\"\n[inlay]", `19:9: error: first cannot be "ovr"`, `"over"`},
		{"flip", "[inlay]", "[weave]\nflip = [3, 4]\n[inlay]", "19:8: error: flip must be a list of points, not one point", "[[x, y]]"},
		{"points that are one", "[inlay]", "[[motif.line]]\npoints = [0, 0]\n[inlay]", "19:10: error: points must be a list of points, not one point", "[[x, y]"},
		{"names that lean too deep", "inset = 60", "inset = 60\n" + leaning(150), `105:8: error: [let] names are nested more than 100 deep`, ""},
		{"curve", "[inlay]", "[[motif.path]]\nd = 'M 0 0 C 1 1 2 2 3 3'\n[inlay]", "19:12: error: d: C is a Bezier", "arcs"},
		{"curve on a later line", "[inlay]", "[[motif.path]]\nd = '''\nM 0 0\n  Q 1 1 2 2'''\n[inlay]", "21:3: error: d: Q is a Bezier", "arcs"},
		{"arc too small", "[inlay]", "[[motif.path]]\nd = 'M 0 0 A 4 4 0 0 1 10 0'\n[inlay]", "19:14: error: d: an arc of radius 4 cannot join", "at least half"},
		{"path of nothing", "[inlay]", "[[motif.path]]\nd = ' '\n[inlay]", "19:5: error: d draws nothing", ""},
		{"short edge", "[inlay]", "[[motif.path]]\nd = 'M 0 0 h 0.0001 h 1'\n[inlay]", "19:5: error: this segment is shorter", ""},
		{"points and from", `from = ["-reach", "inset"]`, "from = [0, 0]\npoints = [[0, 0], [1, 1]]", "11:10: error: points and from, to", "one of them"},
		{"one point", "[inlay]", "[[motif.line]]\npoints = [[0, 0]]\n[inlay]", "19:10: error: points needs at least 2 points, not 1", ""},
		{"closed pair", "[inlay]", "[[motif.line]]\npoints = [[0, 0], [1, 1]]\nclosed = true\n[inlay]", "19:10: error: points needs at least 3 points", ""},
		{"closed twice", "[inlay]", "[[motif.line]]\npoints = [[0, 0], [1, 1], [2, 0], [0, 0]]\nclosed = true\n[inlay]", "19:35: error: the line's first and last point coincide", "leave out the last"},
		{"closed without points", "[inlay]", "[[motif.line]]\nfrom = [0, 0]\nto = [9, 9]\nclosed = true\n[inlay]", "21:10: error: closed goes with points", "points"},
		{"template flips a base", "[inlay]", "[template]\nflip = true\n[inlay]", "19:8: error: a base-riding panel cannot be turned over", "flip = false"},
		{"strange preference", "[inlay]", "[template]\nprefer = \"panel\"\n[inlay]", `19:10: error: prefer cannot be "panel"`, `"panels"`},
		{"web of nothing", "[inlay]", "[template]\nweb = 0\nwall = 6\n[inlay]", "19:7: error: web must be more than 0", ""},
		{"through the board", "[inlay]", "[board]\nsize = [600, 600]\nthickness = 3\n[inlay]", "22:9: error: the groove's depth of 3 mm goes through the board of 3 mm", ""},
		{"board without size", "[inlay]", "[board]\nthickness = 30\n[inlay]", "18:2: error: size is missing", "write size = [600, 400]: the board's width and height"},
		{"board of nothing", "[inlay]", "[board]\nthickness = 30\nsize = [0, 3]\n[inlay]", "20:8: error: size must be more than 0", ""},
		{"kerf by nobody", "[inlay]", "[cutting]\nprofile = \"laser-900x600\"\n[inlay]", "18:2: error: kerf_by is missing", "never both"},
		{"kerf by me, but what", "[inlay]", "[cutting]\nkerf_by = \"me\"\n[inlay]", "19:11: error: kerf_by = \"me\" needs the kerf", "kerf = 0.18"},
		{"kerf below 0", "[inlay]", "[cutting]\nkerf_by = \"me\"\nkerf = -0.1\n[inlay]", "20:8: error: kerf must not be negative", ""},
		{"kerf of a saw", "[inlay]", "[cutting]\nkerf_by = \"me\"\nkerf = 51\n[inlay]", "20:8: error: kerf must be at most 50 mm, not 51 mm", "kerf = 0.18: the cut's full width as measured in a test cut; lasers burn 0.1 to 0.3 mm"},
		{"table as a value", "[let]", "board = 3\n[let]", "3:9: error: board must be a table, not a whole number", "[board]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j, fs := job.Read("job.toml", []byte(change(t, c.old, c.new)))
			if j != nil || len(fs) != 1 {
				t.Fatalf("job %v, findings:\n%s", j != nil, fs.Error())
			}
			f := fs[0]
			if !strings.HasPrefix(f.Error(), "job.toml:"+c.want) || !strings.Contains(f.Hint, c.hint) {
				t.Errorf("%s\nhint: %s\nwant %s\nhint: %s", f.Error(), f.Hint, c.want, c.hint)
			}
			if job.Unreadable(fs) || f.Rule == "" {
				t.Errorf("rule %q", f.Rule)
			}
		})
	}
}

func TestWarnings(t *testing.T) {
	j, fs := job.Read("job.toml", []byte(change(t, "[inlay]", "[template]\nweb = 6\n[inlay]")))
	if j == nil || len(fs) != 1 || !strings.HasPrefix(fs[0].Error(), "job.toml:19:7: warning: a web of 6 mm is thinner than the wall's 9 mm") || fs[0].Hint != "write web = 9" {
		t.Errorf("%v, %s", j != nil, fs.Error())
	}
}

func TestExactFits(t *testing.T) {
	for _, change := range [][]string{
		{`bit = "1/8 in"`, "bit = 5.08"},
		{"rider = 100", "rider = 3.175"},
	} {
		if _, fs := job.Read("job.toml", []byte(strings.Replace(table, change[0], change[1], 1))); fs.HasErrors() {
			t.Errorf("%s: %s", change[1], fs.Error())
		}
	}
}

// All mistakes are reported in one go, in the file's order, and one that follows
// from another is not reported.
func TestAllMistakesAtOnce(t *testing.T) {
	text := change(t, "inset = 60", `inset = "sixty"`, "copies = 4", "copies = -4", "depth = 3", "depth = -3", "bit =", "bite =",
		"sweep = 270", "swep = 270", "[inlay]", "[[motif.path]]\nd = 'M 0 0'\n[inlay]\nclearance = 1")
	j, fs := job.Read("job.toml", []byte(text))
	if j != nil {
		t.Fatal("a job comes out")
	}
	var lines []string
	for _, f := range fs {
		lines = append(lines, f.Error())
		if f.Excerpt != strings.Split(text, "\n")[f.Pos.Line-1] {
			t.Errorf("%s: excerpt %q", f.Error(), f.Excerpt)
		}
	}
	want := []string{
		`4:10: error: inset: "sixty" is not defined`,
		"7:10: error: copies must be 1 to 360, not -4",
		`17:1: error: there is no key "swep" in [motif.arc]`,
		"19:6: error: d: nothing is drawn from this point",
		"22:9: error: depth must be more than 0, not -3 mm",
		`24:1: error: "clearance" is given twice`,
		`35:1: error: there is no key "bite" in [router]`,
	}
	if len(lines) != len(want) {
		t.Fatalf("got\n%s", strings.Join(lines, "\n"))
	}
	for i, w := range want {
		if !strings.HasPrefix(lines[i], "job.toml:"+w) {
			t.Errorf("%s\nwant %s", lines[i], w)
		}
	}
}

func TestEmptyFileNamesWhatIsMissing(t *testing.T) {
	_, fs := job.Read("job.toml", nil)
	for _, want := range []string{"units is missing", "table [motif] is missing", "table [inlay] is missing", "table [router] is missing"} {
		if !strings.Contains(fs.Error(), want) {
			t.Errorf("no %q in\n%s", want, fs.Error())
		}
	}
	if len(fs) != 4 || job.Unreadable(fs) {
		t.Errorf("%s", fs.Error())
	}
}

func TestSyntax(t *testing.T) {
	for _, c := range []struct{ name, text, want, hint string }{
		{"expression without quotes", "a = 1\nbit = 1/8 in", "2:8: error: the line should end here, but goes on with '/'", `bit = "1/8 in"`},
		{"name without quotes", "from = [reach, 0]", "1:9: error: no value starts with 'r'", "quotes"},
		{"decimal comma", "depth = 3,5", "1:10: error: a comma after the value", "3.5"},
		{"inch mark in double quotes", `bit = "1/8""`, "1:12: error: a quote after the value", "write in"},
		{"no value", "depth =\n", "1:8: error: no value starts with the end of the line", ""},
		{"no equals sign", "depth 3", "1:7: error: = is missing after the key, before '3'", "key = value"},
		{"open quote", "title = \"x\nunits = 3", "1:11: error: the text has no closing quote", "quote"},
		{"open list", "a = [1,\n2", "2:1: error: a list or table is not closed", "]"},
		{"junk", "\x00\x01\x02", "1:1: error: no key starts with", ""},
		{"not UTF-8", "title = \"a\nb\xff\"", "2:2: error: the file is not UTF-8 text", "UTF-8"},
		{"deep", "a = " + strings.Repeat("[", 20000), "error: lists are nested too deep", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			j, fs := job.Read("job.toml", []byte(c.text))
			if j != nil || len(fs) != 1 || !job.Unreadable(fs) {
				t.Fatalf("%v, %s", j, fs.Error())
			}
			if got := fs[0].Error(); !strings.Contains(got, c.want) || !strings.Contains(fs[0].Hint, c.hint) {
				t.Errorf("%s\nhint: %s\nwant %s, %s", got, fs[0].Hint, c.want, c.hint)
			}
		})
	}
}

// Files made to be slow are refused in a moment. The bound is fifty times
// what the slowest takes on an old machine.
func TestHostileFilesFailFast(t *testing.T) {
	const size = job.MaxSize / 16 // the time grows as the size
	fill := func(s string) []byte { return bytes.Repeat([]byte(s), size/len(s)) }
	var keys, names, meets, links bytes.Buffer
	for i := 0; keys.Len() < size; i++ {
		keys.WriteString("k" + strings.Repeat("x", i%40) + string(rune('a'+i%26)) + strings.Repeat("y", i/1000) + " = 1\n")
	}
	meets.WriteString("units = \"mm\"\n[motif]\n[[motif.path]]\nname = \"a\"\nd = \"M 0 0" + strings.Repeat("h1v1", 240) + "\"\n[[motif.path]]\nname = \"b\"\nd = \"M 9 0" + strings.Repeat("h1v1", 240) + "\"\n[points]\n")
	for i := range 900 {
		fmt.Fprintf(&meets, "P%d = { meet = [\"a\", \"b\"] }\n", i)
		fmt.Fprintf(&links, "[[motif.arc]]\ntangent = [\"a\", \"b\"]\nradius = 9000\n")
	}
	names.WriteString("units = \"mm\"\n[let]\nn0 = 1\n")
	for i := 1; i < 900; i++ {
		fmt.Fprintf(&names, "n%d = \"n%d + n%d\"\n", i, i-1, i-1)
	}
	for name, data := range map[string][]byte{
		"50 MB of junk":         bytes.Repeat([]byte{0xa5}, 50<<20),
		"one key again":         fill("a = 1\n"),
		"one key on one line":   append([]byte("a = {"), append(fill("a=1,"), '}')...),
		"many unknown keys":     keys.Bytes(),
		"names that double":     names.Bytes(),
		"one long line":         append(append([]byte(`title = "`), fill("x")...), '"'),
		"dots":                  append([]byte("a"), append(fill(".a"), []byte(" = 1")...)...),
		"many meetings":         meets.Bytes(),
		"many tangent arcs":     append(meets.Bytes()[:bytes.Index(meets.Bytes(), []byte("[points]"))], links.Bytes()...),
		"many bad points":       append([]byte("[[motif.line]]\npoints = ["), append(fill("[nan,0],"), ']')...),
		"many empty expression": append([]byte("[[motif.line]]\npoints = ["), append(fill(`["q","q"],`), ']')...),
	} {
		start := time.Now()
		j, fs := job.Read("job.toml", data)
		if took := time.Since(start); took > 20*time.Second {
			t.Errorf("%s took %v", name, took)
		}
		if j != nil || !fs.HasErrors() || len(fs) > diag.Most+1 {
			t.Errorf("%s: %d findings", name, len(fs))
		}
		if last := fs[len(fs)-1]; len(fs) > diag.Most && last.More.Sum() == 0 {
			t.Errorf("%s: the last of %d findings doesn't count the rest: %s", name, len(fs), last.Error())
		}
	}
	_, fs := job.Read("job.toml", make([]byte, job.MaxSize+1))
	if len(fs) != 1 || fs[0].Rule != "job-too-large" || !job.Unreadable(fs) {
		t.Errorf("%s", fs.Error())
	}
}

// leaning is n names, each defined by the next.
func leaning(n int) string {
	var b strings.Builder
	for i := 50; i < 50+n; i++ {
		fmt.Fprintf(&b, "n%d = \"n%d\"\n", i, i+1)
	}
	fmt.Fprintf(&b, "n%d = 1\n", 50+n)
	return b.String()
}

// leak matches the names of Go's types and packages.
var leak = regexp.MustCompile(`\b(float64|int64|struct|interface|toml:|strconv|unstable|map\[|nil)`)

// FuzzRead: no file panics; findings have a place within the file and speak
// no Go; a job that comes out is one that can be reckoned with.
func FuzzRead(f *testing.F) {
	f.Add([]byte(table))
	f.Add([]byte(full))
	f.Add([]byte(full + "[program]\nat = [1, '2 in', -3]\nfeed = 40\nramp = 2\norder = ['arc']\nzero = 'board'\nwiden = 0.01\n[[stock.clamp]]\nfrom = [0, 0]\nto = [1, 1]\nheight = 1\n"))
	for _, s := range []string{
		"", "\ufeff", "a.b.c = 1\n[a.b]\n[[a.b.c]]", "[motif]\nline = [3]", "[[motif.path]]\nd = '''\nM 0 0h1'''", "[inlay.strips]", "[[inlay.strips]]",
		"units = \"in\"\n[let]\na = \"b\"\nb = \"a\"", "x = [1, # one\n[2], {a = 3,\n b.c = 4}]", "[cutting]\nkerf = 1e9", "motif = {line = [{from=[0,0],to=[1,1]}]}",
	} {
		f.Add([]byte(s))
	}
	f.Add([]byte(meetJob(`{ meet = ["ring", "bar.1"], near = [3, "1 in"] }`, "[[motif.path]]\nd = 'M{1 in} 0 a {2/3} 1 0 1 0 4 {3 + 1}'\nscale = '1/2'\n")))
	f.Add([]byte(tangentJob(barX, circleRound(geom.Pt(3, 20), 10), "radius = 4\nlong = true\nnear = [0, 3]\ntrim = false")))
	f.Add([]byte(groupJob("[[motif.group]]\nname = 'A'\nof = ['bar', 'B']\ncopies = 3\nmirror = true\nsize = [30, 20]\nrepeat = [[2, 3, 4], [3, 0, 5]]\n" +
		"[[motif.group]]\nname = 'B'\nof = ['ring']\nscale = '1/3'\nturn = 90\nat = { r = 3, a = 4 }\nrepeat = [2, 0, 7]\n")))
	for _, name := range []string{"strips", "rider", "units"} { // near misses of a sound job
		f.Add([]byte(strings.Replace(table, name, name+"x", 1)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		j, fs := job.Read("job.toml", data)
		if (j == nil) != fs.HasErrors() {
			t.Fatalf("job %v, but\n%s", j != nil, fs.Error())
		}
		lines := bytes.Count(data, []byte("\n")) + 1
		for _, x := range fs {
			if x.Rule == "" || x.Message == "" || x.Pos.Line < 1 || x.Pos.Line > lines || x.Pos.Col < 1 {
				t.Fatalf("%#v", x)
			}
			// What the file itself says may be quoted.
			if !bytes.Contains(data, leak.Find([]byte(x.Message+x.Hint))) {
				t.Fatalf("%s, hint %s: leaks", x.Error(), x.Hint)
			}
		}
		if j != nil {
			sound(t, j)
		}
	})
}

// sound checks what every later stage relies on.
func sound(t *testing.T, j *job.Job) {
	t.Helper()
	for name, v := range map[string]float64{
		"depth": j.Inlay.Depth, "width": j.Inlay.Width, "bit": j.Router.Bit, "web": j.Template.Web, "wall": j.Template.Wall,
	} {
		if (name == "web" || name == "wall") && !j.Router.Guide.HasTemplates() {
			continue
		}
		if !(v > 0 && v < math.MaxInt32) {
			t.Fatalf("%s is %v", name, v)
		}
	}
	if j.Motif.Copies < 1 || len(j.Motif.Elements) == 0 {
		t.Fatalf("%+v", j.Motif)
	}
	names := map[string]bool{}
	for _, e := range j.Motif.Elements {
		name := fmt.Sprint(e.Name, ".", e.Nth)
		if names[name] || e.Name == "" || e.Contour.Len() == 0 || e.Line < 1 {
			t.Fatalf("%+v", e)
		}
		names[name] = true
		for _, edge := range e.Contour.Edges() {
			if !edge.A.Finite() || !edge.B.Finite() || !(math.Abs(edge.Bulge) <= 1) || !(edge.Length() > 0) {
				t.Fatalf("%s: %+v", e.Name, edge)
			}
		}
	}
	if p := j.Program; p != nil {
		ok := p.Feed >= 0 && p.Feed <= 20000 && p.Plunge >= 0 && p.Plunge <= 20000 && p.Speed >= 0 && p.Speed <= 1e5 && p.Safe > 0 && p.Rough >= 0 &&
			p.Step >= 0 && p.Ramp >= 0 && p.Ramp < 0.053 && p.Widen >= 0 && math.Abs(p.At[0]+p.At[1]+p.At[2]) < 1e6
		if !ok || p.Order != job.OrderShort && p.Order != job.OrderDrawn {
			t.Fatalf("%+v", p)
		}
	}
	if s := j.Clamping; s != nil {
		for _, c := range s.Clamps {
			if !(c.Height > 0 && c.Box.Max.X > c.Box.Min.X && c.Box.Max.Y > c.Box.Min.Y) {
				t.Fatalf("%+v", c)
			}
		}
	}
	if c := j.Cutting; c != nil && (c.KerfBy == work.KerfByUnknown || !(c.Kerf >= 0 && c.Kerf <= 1)) {
		t.Fatalf("%+v", c)
	}
}
