package unit_test

import (
	"testing"

	"strapwork/pkg/unit"
)

func TestWord(t *testing.T) {
	type kind uint8
	words := [...]string{"base", "pivot"}
	for k, want := range map[kind]string{0: "base", 1: "pivot", 2: "guide(2)", 255: "guide(255)"} {
		if got := unit.Word(words[:], k, "guide"); got != want {
			t.Errorf("%d is %q, want %q", uint8(k), got, want)
		}
	}
	if got := unit.Word(words[:], -1, "guide"); got != "guide(-1)" {
		t.Error(got)
	}
}
