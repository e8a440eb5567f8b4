package svg_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"strapwork/pkg/svg"
)

var update = flag.Bool("update", false, "rewrite the golden file")

// The bytes are the same from one build to the next; what they mean is tested
// by reading them back.
func TestGolden(t *testing.T) {
	const name = "testdata/part.svg"
	got := write(t, part(), svg.Options{})
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
