package paper

import (
	"slices"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// The sizes of lettering, mm of body: capitals are 1.9, 2.3, 3.2 and 4.6 mm
// high. 1.8 mm is the smallest that ISO 3098-1 has.
const (
	small  = 2.6
	medium = 3.2
	large  = 4.4
	huge   = 6.4
)

// capHeight is the height of capitals over the body, of the Go fonts.
const capHeight = 0.72

// descent is how far letters reach below the base line, over the body.
const descent = 0.25

// advances are the letters' widths over the body, by their code in Windows
// code page 1252, which PDF calls WinAnsiEncoding.
type advances [256]float64

var widths = sync.OnceValue(func() *[2]advances {
	var w [2]advances
	for i, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(data)
		if err != nil {
			continue // the fonts are compiled in, and a test parses them
		}
		var b sfnt.Buffer
		em := fixed.Int26_6(f.UnitsPerEm())
		for code := 32; code < 256; code++ {
			glyph, err := f.GlyphIndex(&b, letter(byte(code)))
			if err != nil {
				continue
			}
			if a, err := f.GlyphAdvance(&b, glyph, em, font.HintingNone); err == nil {
				w[i][code] = float64(a) / float64(em)
			}
		}
	}
	return &w
})

// Advance is the width of a letter by its code in Windows code page 1252, over
// the body's size.
func Advance(code byte, bold bool) float64 {
	if bold {
		return widths()[1][code]
	}
	return widths()[0][code]
}

// Width is the length of a line of lettering of the given size.
func Width(s string, size float64, bold bool) float64 {
	sum := 0.0
	for _, r := range s {
		sum += Advance(code(r), bold)
	}
	return sum * size
}

// high are the letters with the codes 80 to 9F hexadecimal of Windows code page
// 1252 (PDF Reference, appendix D.2); the rest of it is as in Unicode. A space
// stands where there is none.
var high = []rune("\u20ac \u201a\u0192\u201e\u2026\u2020\u2021\u02c6\u2030\u0160\u2039\u0152 \u017d  " +
	"\u2018\u2019\u201c\u201d\u2022\u2013\u2014\u02dc\u2122\u0161\u203a\u0153 \u017e\u0178")

// letter is the letter that has a code.
func letter(code byte) rune {
	if code >= 0x80 && code < 0xa0 {
		return high[code-0x80]
	}
	return rune(code)
}

// Lacks returns the letters of s that the patterns' font has not, in their order.
func Lacks(s string) []rune {
	var missing []rune
	for _, r := range s {
		if r != '?' && code(r) == '?' {
			missing = append(missing, r)
		}
	}
	return missing
}

// code is a letter's code; what the code page lacks is "?".
func code(r rune) byte {
	if i := slices.Index(high, r); i >= 0 && r != ' ' {
		return byte(0x80 + i)
	}
	if r >= ' ' && r < 0x7f || r >= 0xa0 && r <= 0xff {
		return byte(r)
	}
	return '?'
}

// writable writes letters that the code page lacks with what it has.
var writable = strings.NewReplacer("\u2300", "\u00d8", "\u2264", "<=", "\u2265", ">=", "\u2212", "-", "\u2033", "\"", "\u2032", "'", literalStar, "*", literalTick, "`", heldSpace, " ")

// Legible returns s with only letters that can be printed: those of Windows
// code page 1252, which has the fractions of a quarter, degrees and the
// diameter's Ø. The diameter sign proper and a few relations are written with
// what it has; anything else becomes "?".
func Legible(s string) string {
	s = writable.Replace(s)
	return strings.Map(func(r rune) rune { return letter(code(r)) }, s)
}

// wrap breaks a text into lines of at most the given width; a word that is
// longer stands on a line of its own and is cut to fit.
func wrap(s string, size float64, bold bool, width float64) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(s) {
		next := w
		if line != "" {
			next = line + " " + w
		}
		if line != "" && Width(next, size, bold) > width {
			lines = append(lines, line)
			next = w
		}
		line = next
	}
	return append(lines, line)
}

// fit shortens a text to a width, with dots at its end where it was too long,
// and to nothing where not even those find room.
func fit(s string, size float64, bold bool, width float64) string {
	if Width(s, size, bold) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && Width(string(r)+"...", size, bold) > width {
		r = r[:len(r)-1]
	}
	if len(r) == 0 {
		return ""
	}
	return strings.TrimSpace(string(r)) + "..."
}
