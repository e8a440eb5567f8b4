package preview

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"strings"
	"testing"

	"strapwork/pkg/dryrun"
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
