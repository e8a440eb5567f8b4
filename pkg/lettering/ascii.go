package lettering

import (
	"strings"
	"unicode"
)

// spelt are characters that have no letter here, and how they are written out.
var spelt = map[rune]string{
	'°': " deg", '⌀': "dia ", '±': "+/-", '×': "x", '÷': "/", '·': ".", '•': "*", 'µ': "u", 'μ': "u",
	'²': "2", '³': "3", '…': "...", '′': "'", '″': "\"", '→': "->", '←': "<-",
	'‘': "'", '’': "'", '‚': "'", '“': "\"", '”': "\"", '„': "\"", '«': "\"", '»': "\"",
	'‐': "-", '‑': "-", '‒': "-", '–': "-", '—': "-", '−': "-", '⁄': "/", '∕': "/",
	'ß': "ss", 'Æ': "AE", 'æ': "ae", 'Œ': "OE", 'œ': "oe", 'Þ': "Th", 'þ': "th", 'Ð': "D", 'ð': "d",
	'Đ': "D", 'đ': "d", 'Ł': "L", 'ł': "l", 'ı': "i", 'Ø': "O", 'ø': "o",
}

// fractions are written out with a space before them where a digit stands
// there: 3 1/4, never 31/4.
var fractions = map[rune]string{
	'½': "1/2", '⅓': "1/3", '⅔': "2/3", '¼': "1/4", '¾': "3/4", '⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5",
	'⅙': "1/6", '⅚': "5/6", '⅐': "1/7", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅑': "1/9", '⅒': "1/10",
}

// accented are letters by the plain letter under their accents.
var accented = unaccented(
	"AÀÁÂÃÄÅĀĂĄ", "CÇĆĈĊČ", "DĎ", "EÈÉÊËĒĔĖĘĚ", "GĜĞĠĢ", "HĤĦ", "IÌÍÎÏĨĪĬĮİ", "JĴ", "KĶ", "LĹĻĽ",
	"NÑŃŅŇ", "OÒÓÔÕÖŌŎŐ", "RŔŖŘ", "SŚŜŞŠȘ", "TŢŤŦȚ", "UÙÚÛÜŨŪŬŮŰŲ", "WŴ", "YÝŶŸ", "ZŹŻŽ",
	"aàáâãäåāăą", "cçćĉċč", "dď", "eèéêëēĕėęě", "gĝğġģ", "hĥħ", "iìíîïĩīĭį", "jĵ", "kķ", "lĺļľ",
	"nñńņň", "oòóôõöōŏő", "rŕŗř", "sśŝşšș", "tţťŧț", "uùúûüũūŭůűų", "wŵ", "yýÿŷ", "zźżž",
)

func unaccented(rows ...string) map[rune]string {
	m := map[rune]string{}
	for _, row := range rows {
		for _, c := range row[1:] {
			m[c] = row[:1]
		}
	}
	return m
}

// ASCII writes s in the characters that there are letters for. Degree,
// diameter and the like are spelt out (" deg", "dia "), fractions too (1/8, with
// a space after a digit), letters lose their accents, and dashes and quotation
// marks become the plain ones. Whatever counts as white space is a space;
// marks that stand on another character, and characters without a shape, go.
// Anything else is "?", so that it can be seen that something is missing.
func ASCII(s string) string {
	var b strings.Builder
	digit := false // the last character was one
	for _, c := range s {
		if f, ok := fractions[c]; ok {
			if digit {
				b.WriteByte(' ')
			}
			b.WriteString(f)
		} else {
			b.WriteString(plain(c))
		}
		digit = c >= '0' && c <= '9'
	}
	return b.String()
}

// plain writes one character.
func plain(c rune) string {
	switch {
	case c >= firstChar && c <= lastChar:
		return string(c)
	case unicode.IsSpace(c):
		return " "
	case unicode.In(c, unicode.Mn, unicode.Cf, unicode.Cc):
		return ""
	}
	if t, ok := spelt[c]; ok {
		return t
	}
	if t, ok := accented[c]; ok {
		return t
	}
	return "?"
}
