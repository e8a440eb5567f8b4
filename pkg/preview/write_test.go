package preview

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"math"
	"regexp"
	"strings"
	"testing"

	"strapwork/pkg/dryrun"
	"strapwork/pkg/ngc"
	"strapwork/pkg/plan"
	"strapwork/pkg/setup"
)

func written(t *testing.T, p Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// element is the text of the page's element with an id.
func element(t *testing.T, page, id string) string {
	t.Helper()
	m := regexp.MustCompile(`(?s)<script type="[^"]*" id="` + id + `">(.*?)</script>`).FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no element %s", id)
	}
	return m[1]
}

// TestEscape holds that words from outside can't break out of the page.
func TestEscape(t *testing.T) {
	const evil = `</script><script>alert(1)</script>"'<!--` + "\u2028\xff"
	for name, p := range map[string]Page{
		"title":    {Title: evil},
		"cautions": {Cautions: []string{evil}},
		"strand":   {Strands: []Strand{{Name: evil}}},
		"program":  {Program: Program{Text: []byte(evil), Path: evil, Steps: []dryrun.Step{{}}}},
		"set-up":   {SetUps: []setup.Ride{{SetUp: plan.SetUp{PanelID: evil}}}},
	} {
		t.Run(name, func(t *testing.T) {
			got := written(t, p)
			if strings.Contains(got, "alert(1)</script>") || strings.Contains(got, `"'<!--`) {
				t.Error("words from outside stand in the page as they are")
			}
			if n, want := strings.Count(got, "</script>"), strings.Count(written(t, Page{}), "</script>"); n != want {
				t.Errorf("got %d scripts, want %d", n, want)
			}
			if !json.Valid([]byte(element(t, got, "head"))) {
				t.Error("the page's data is no JSON")
			}
		})
	}
}

func TestSameBytes(t *testing.T) {
	first, second := written(t, page(t)), written(t, page(t))
	if first != second {
		t.Error("the same page gives different bytes")
	}
}

// TestAlone holds that the page refers to nothing outside itself and lets
// nothing in.
func TestAlone(t *testing.T) {
	got := strings.Replace(written(t, page(t)), `<meta http-equiv="Content-Security-Policy"`, "<meta", 1)
	for _, word := range []string{"http", "//cdn", "@import", "url(", "eval(", "new Function", "import(", "fetch(", "src="} {
		if strings.Contains(got, word) {
			t.Errorf("the page has %q in it", word)
		}
	}
	if !strings.Contains(got, `content="default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"`) {
		t.Error("the page's policy isn't there")
	}
}

// TestRoundTrip reads the moves back out of the page.
func TestRoundTrip(t *testing.T) {
	p := page(t)
	got := written(t, p)
	var h head
	if err := json.Unmarshal([]byte(element(t, got, "head")), &h); err != nil {
		t.Fatal(err)
	}
	raw, err := base64.StdEncoding.DecodeString(strings.TrimSpace(element(t, got, "moves")))
	if err != nil {
		t.Fatal(err)
	}
	if h.Program.Text != string(ringAndBar) || h.Program.Steps != len(p.Program.Steps) || len(h.Program.Sections) != len(p.Program.Sections) {
		t.Error("the program isn't the one that was written")
	}
	at := map[string]array{}
	for _, a := range h.Arrays {
		at[a.Name] = a
		if a.From%packAlign != 0 {
			t.Errorf("%s begins at byte %d", a.Name, a.From)
		}
	}
	f4 := func(name string, i int) float64 {
		return float64(math.Float32frombits(binary.LittleEndian.Uint32(raw[at[name].From+4*i:])))
	}
	arc, ends := 0, 0.0
	for i, s := range p.Program.Steps {
		m := s.Move
		ends += s.Seconds
		same := func(name string, got, want, tol float64) {
			if !(math.Abs(got-want) <= tol) {
				t.Errorf("move %d: got %s %v, want %v", i, name, got, want)
			}
		}
		if m.To.Has(ngc.AxesXYZ) {
			same("x", f4("x", i), m.To.X, 1e-4)
			same("y", f4("y", i), m.To.Y, 1e-4)
			same("z", f4("z", i), m.To.Z, 1e-4)
		} else if !math.IsNaN(f4("x", i)) {
			t.Errorf("move %d: got x %v of a place that isn't known", i, f4("x", i))
		}
		same("line", float64(binary.LittleEndian.Uint32(raw[at["line"].From+4*i:])), float64(m.Line), 0)
		same("end", math.Float64frombits(binary.LittleEndian.Uint64(raw[at["end"].From+8*i:])), ends, 1e-9)
		flags := raw[at["flags"].From+i]
		if ngc.Kind(flags&kindBits) != m.Kind || flags&faultBit != 0 != s.Fault || ngc.Spindle(flags>>spinShift) != m.Spindle {
			t.Errorf("move %d: got flags %b", i, flags)
		}
		if m.Kind == ngc.Arc {
			same("arc", float64(binary.LittleEndian.Uint32(raw[at["arc"].From+4*arc:])), float64(i), 0)
			same("cx", f4("cx", arc), m.Center.X, 1e-4)
			same("sweep", f4("sweep", arc), m.Sweep, 1e-6)
			arc++
		}
	}
	if arc != at["arc"].Len || arc == 0 {
		t.Errorf("got %d arcs, want %d", at["arc"].Len, arc)
	}
}

func TestNum(t *testing.T) {
	for in, want := range map[float64]string{
		0: "0", math.Copysign(0, -1): "0", -0.00001: "0", 1.5: "1.5", -2.25: "-2.25", 1000: "1000", 1.0 / 3: "0.3333",
		math.Inf(1): "null", math.NaN(): "null",
	} {
		if got, err := num(in).MarshalJSON(); err != nil || string(got) != want {
			t.Errorf("%v: got %s, %v, want %s", in, got, err, want)
		}
	}
}
