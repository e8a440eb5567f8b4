package profile_test

import (
	"flag"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/conf"
	"strapwork/pkg/profile"
)

var update = flag.Bool("update", false, "write the keys into profiles/README.md")

const pageFile = "../../profiles/README.md"

// TestPage: the page of the profiles has every key of their tables; -update writes them.
func TestPage(t *testing.T) {
	page, err := os.ReadFile(pageFile)
	if err != nil {
		t.Fatal(err)
	}
	want := string(page)
	for _, f := range profile.Formats() {
		var ok bool
		if want, ok = f.Insert(want); !ok {
			t.Fatalf("%s has no place for the keys of %s", pageFile, f.What)
		}
	}
	if *update {
		if err := os.WriteFile(pageFile, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if want != string(page) {
		t.Errorf("%s isn't what the tables say: go test ./pkg/profile -run TestPage -update", pageFile)
	}
	for _, f := range profile.Formats() {
		for _, table := range f.Tables {
			for _, key := range table.Keys {
				if !strings.Contains(want, "\n| `"+key.Name+"` | ") || key.Help == "" || strings.HasSuffix(key.Help, ".") {
					t.Errorf("%s: %s isn't described: %q", f.What, key.Name, key.Help)
				}
			}
		}
	}
}

// TestPageMachine: the page's machine has every key but chord, and the half that shows
// what programs get anyway is true.
func TestPageMachine(t *testing.T) {
	page, err := os.ReadFile(pageFile)
	if err != nil {
		t.Fatal(err)
	}
	block := regexp.MustCompile("(?s)```toml\n(kind = \"machine\".*?)```").FindSubmatch(page)
	if block == nil {
		t.Fatal("there is no machine on the page")
	}
	m, err := profile.ParseMachine("./cellar.toml", "cellar.toml", block[1])
	if err != nil {
		t.Fatal(err)
	}
	known, writing, _ := strings.Cut(string(block[1]), "\n\n")
	bare, err := profile.ParseMachine("./cellar.toml", "cellar.toml", []byte(known))
	if bare.Decimals = m.Decimals; err != nil || m != bare {
		t.Errorf("what the page shows isn't what programs get anyway: %+v, not %+v (%v)", m, bare, err)
	}
	for _, f := range profile.Formats() {
		for _, key := range f.Tables[0].Keys {
			if f.Name == "machine" && key.Name != "chord" && !strings.Contains("\n"+known+"\n"+writing, "\n"+key.Name+" =") {
				t.Errorf("the page's machine lacks the key %s", key.Name)
			}
		}
	}
}

// TestDefaults: a file that gives each key its default is read as one that leaves all of
// them out.
func TestDefaults(t *testing.T) {
	parse := map[string]func(text string) (any, error){
		"shop":    func(s string) (any, error) { return profile.Parse("x", "x.toml", []byte(s)) },
		"machine": func(s string) (any, error) { return profile.ParseMachine("x", "x.toml", []byte(s)) },
		"bit":     func(s string) (any, error) { return profile.ParseBit("x", "x.toml", []byte(s)) },
		"material": func(s string) (any, error) {
			return profile.ParseMaterial("x", "x.toml", []byte(s+"dry = {strain = 0.01, source = \"a\"}\n")) // its limits are in tables
		},
		"printer": func(s string) (any, error) { return profile.ParsePrinter("x.toml", []byte(s)) },
	}
	for _, f := range profile.Formats() {
		var bare, full strings.Builder
		given := 0
		for _, key := range f.Tables[0].Keys {
			switch {
			case key.Name == "cutter":
				bare.WriteString("cutter = \"router\"\n") // a laser has no diameter
			case key.Must && key.Example != (conf.Typed{}):
				bare.WriteString(key.Line(0) + "\n")
			case key.Must:
				fmt.Fprintf(&bare, "%s = %q\n", key.Name, key.Words[0])
			case key.Default != (conf.Typed{}):
				given++
				fmt.Fprintf(&full, "%s = %s\n", key.Name, key.Default[0])
			}
		}
		want, err := parse[f.Name](bare.String())
		if err != nil {
			t.Errorf("%s: %v", f.What, err)
		}
		got, err := parse[f.Name](bare.String() + full.String())
		if d := cmp.Diff(want, got, cmp.AllowUnexported(profile.Shop{})); d != "" || err != nil {
			t.Errorf("%s: %v, -left out +given\n%s", f.What, err, d)
		}
		if f.Name == "machine" && given < 8 {
			t.Errorf("only %d defaults of a machine are tried", given)
		}
	}
}
