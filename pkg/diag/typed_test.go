package diag_test

import (
	"testing"

	"strapwork/pkg/diag"
)

func TestTyped(t *testing.T) {
	for name, want := range map[string]string{
		"lid.toml": "lid.toml", "jobs/lid-2.toml": "jobs/lid-2.toml", `C:\jobs\lid.toml`: `C:\jobs\lid.toml`,
		"my lid.toml": `"my lid.toml"`, "a&b.toml": `"a&b.toml"`, "it's.toml": `"it's.toml"`, "$x.toml": `'$x.toml'`, "": `""`,
	} {
		if got := diag.Typed(name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}
