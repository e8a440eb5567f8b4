package diag_test

import (
	"strings"
	"testing"

	"strapwork/pkg/diag"
)

// TestShorten: errors are shown before what weighs less, nothing is shown out
// of order, and what isn't shown is counted, once, however often it is shortened.
func TestShorten(t *testing.T) {
	const notes, warnings, errs = 30, 60, 55
	var fs diag.Findings
	for i := range notes + warnings + errs {
		pos := diag.Position{File: "f", Line: i + 1}
		switch {
		case i%5 < 2 && fs.Count(diag.Error) < errs:
			fs.ErrorAt(pos, "r", "e")
		case fs.Count(diag.Warning) < warnings:
			fs.WarnAt(pos, "r", "w")
		case fs.Count(diag.Note) < notes:
			fs.NoteAt(pos, "r", "n")
		default:
			fs.ErrorAt(pos, "r", "e")
		}
	}
	short := fs.Shorten()
	last := short[len(short)-1]
	if len(short) != diag.Most+1 || last.More.Sum() != len(fs)-diag.Most || last.Severity != diag.Warning || last.Message != "and 45 more not shown" {
		t.Errorf("%d findings, the last %+v", len(short), last)
	}
	for s, want := range map[diag.Severity]int{diag.Error: errs, diag.Warning: warnings, diag.Note: notes} {
		if n := short.Count(s); n != want {
			t.Errorf("%d of severity %v are counted, want %d", n, s, want)
		}
	}
	short.Sort()
	if short[len(short)-1].More.Sum() == 0 {
		t.Error("sorting moves the count away from the end")
	}
	short.WarnAt(diag.Position{File: "f", Line: 999}, "r", "late")
	if again := short.Shorten(); len(again) != diag.Most+1 || again[diag.Most].More.Sum() != len(fs)-diag.Most+1 {
		t.Errorf("shortened twice: %d findings, %+v", len(again), again[len(again)-1])
	}
	if few := fs[:diag.Most]; len(few.Shorten()) != diag.Most {
		t.Error("a hundred are shortened")
	}
}

// Notes become one line that says what they are about; one alone stays, and so do
// those that are to.
func TestFoldNotes(t *testing.T) {
	words := func(rule string) string { return strings.ToUpper(rule) }
	var fs diag.Findings
	fs.ErrorAt(diag.Position{}, "e", "wrong")
	fs.WarnAt(diag.Position{}, "w", "thin")
	fs.NoteAt(diag.Position{}, "a", "one")
	if got := fs.FoldNotes("-n", words); got.Error() != fs.Error() {
		t.Errorf("one note:\n%s", got.Error())
	}
	fs.NoteAt(diag.Position{}, "file", "replaced")
	fs.NoteAt(diag.Position{}, "b", "two")
	fs.NoteAt(diag.Position{}, "a", "three")
	want := "error: wrong\nwarning: thin\nnote: replaced\nnote: 3 notes, shown by -n: A (2), B"
	if got := fs.FoldNotes("-n", words, "file"); got.Error() != want {
		t.Errorf("got\n%s\nwant\n%s", got.Error(), want)
	}
	if fs.Count(diag.Note) != 4 {
		t.Error("folding changes the list")
	}
}
