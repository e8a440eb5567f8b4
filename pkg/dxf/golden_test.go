package dxf_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"strapwork/pkg/dxf"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// The bytes are the same from one build to the next. What they mean is held
// against an independent reader in the witness tests, not here.
func TestGolden(t *testing.T) {
	for name, o := range map[string]dxf.Options{
		"testdata/part-r2000.dxf":  {},
		"testdata/part-r12-in.dxf": {Version: dxf.R12, Units: dxf.Inches},
	} {
		got := write(t, part(), o)
		if *update {
			if err := os.WriteFile(name, got, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s differs; if that is meant, run the test with -update", name)
		}
	}
}
