package cli_test

import (
	"bytes"
	"strings"
	"testing"

	"strapwork/pkg/cli"
)

// completed are the words that a line may be completed with.
func completed(t *testing.T, typed ...string) []string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := cli.Run(append([]string{"__complete"}, typed...), strings.NewReader(""), &out, &errs); status != 0 || errs.Len() > 0 {
		t.Fatalf("%q: status %d, %s", typed, status, errs.String())
	}
	var words []string
	for line := range strings.Lines(out.String()) {
		word, _, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		words = append(words, word)
	}
	return words
}

// Commands, flags, what flags take, files by their endings, patterns and their keys, and
// nothing where there is nothing to say.
func TestComplete(t *testing.T) {
	for typed, want := range map[string]string{
		"b":                            "build",
		"pat":                          "pattern",
		"build ":                       ":files toml",
		"build lid.toml ":              "",
		"build lid.toml --o":           "--out --only",
		"build --out ":                 ":folders",
		"build --only p":               "paper preview program",
		"build --only paper,t":         "paper,templates",
		"build --dxf=r1":               "--dxf=r12",
		"build --out x lid.toml --dx":  "--dxf",
		"received a.toml ":             ":files toml",
		"received a.toml b.toml ":      "",
		"fit a.toml ":                  ":files toml",
		"dryrun --job ":                ":files toml",
		"dryrun --as ":                 "groove part widen coupon",
		"trace ":                       ":files svg dxf",
		"pattern bor":                  "border",
		"pattern border acr":           "across=",
		"pattern --guide b":            "base bushing bearing",
		"help words ker":               "kerf",
		"help job router.ri":           "router.rider",
		"completion p":                 "powershell",
		"version ":                     "",
		"nothing ":                     "",
		`build lid.toml --dxf ""`:      "r2000 r12",
		"trace x.svg --weave alternat": "alternate",
	} {
		if got := strings.Join(completed(t, strings.Split(typed, " ")...), " "); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
	if got := completed(t); len(got) < 10 {
		t.Errorf("an empty line: %q", got)
	}
}

// What somebody new is shown first can be typed as it stands: each line names a command
// and flags that it has.
func TestFirstStepsCanBeTyped(t *testing.T) {
	var out, errs bytes.Buffer
	cli.Run(nil, strings.NewReader(""), &out, &errs)
	steps := 0
	for line := range strings.Lines(errs.String()) {
		line, _, isStep := strings.Cut(strings.TrimSpace(line), "   ")
		words := strings.Fields(line)
		if !isStep || len(words) < 2 || words[0] != "strapwork" {
			continue
		}
		steps++
		if got := completed(t, words[1]); len(got) == 0 || got[0] != words[1] {
			t.Errorf("%q: there is no command %s", line, words[1])
		}
		for _, w := range words[2:] {
			if strings.HasPrefix(w, "--") && strings.Join(completed(t, words[1], w), "") != w {
				t.Errorf("%q: %s has no flag %s", line, words[1], w)
			}
		}
	}
	if steps < 3 {
		t.Errorf("%d steps in\n%s", steps, errs.String())
	}
}

// The manual page has every command with its flags, and no line that man would take for
// a request that it isn't (man(7): those here are TH, SH, SS, TP, PP, B, br, nf and fi).
func TestManual(t *testing.T) {
	var out, errs bytes.Buffer
	if status := cli.Run([]string{"help", "--man"}, strings.NewReader(""), &out, &errs); status != 0 {
		t.Fatal(errs.String())
	}
	page := out.String()
	for line := range strings.Lines(page) {
		if name, _, _ := strings.Cut(strings.TrimSpace(strings.TrimPrefix(line, ".")), " "); strings.HasPrefix(line, ".") &&
			!strings.Contains(" TH SH SS TP PP B br nf fi ", " "+name+" ") {
			t.Errorf("a request of its own: %q", line)
		}
	}
	for _, c := range completed(t) {
		if !strings.Contains(page, `.SS "strapwork `+c) {
			t.Errorf("%s isn't in it", c)
		}
		for _, f := range completed(t, c, "--") {
			if !strings.Contains(page, `.B "`+strings.ReplaceAll(f, "-", `\-`)) {
				t.Errorf("%s of %s isn't in it", f, c)
			}
		}
	}
}
