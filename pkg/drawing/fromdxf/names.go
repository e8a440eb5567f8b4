package fromdxf

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// firstUTF8 is the release 2007, from which on files are in UTF-8.
const firstUTF8 = "AC1021"

// codepages are those of $DWGCODEPAGE by number, after ANSI_ or DOS.
var codepages = map[string]encoding.Encoding{
	"437": charmap.CodePage437, "850": charmap.CodePage850, "852": charmap.CodePage852, "855": charmap.CodePage855,
	"860": charmap.CodePage860, "863": charmap.CodePage863, "865": charmap.CodePage865, "866": charmap.CodePage866,
	"874": charmap.Windows874, "1250": charmap.Windows1250, "1251": charmap.Windows1251, "1252": charmap.Windows1252,
	"1253": charmap.Windows1253, "1254": charmap.Windows1254, "1255": charmap.Windows1255, "1256": charmap.Windows1256,
	"1257": charmap.Windows1257, "1258": charmap.Windows1258,
	"932": japanese.ShiftJIS, "936": simplifiedchinese.GBK, "949": korean.EUCKR, "950": traditionalchinese.Big5,
}

// name is a layer's, a line type's or a block's name as text. Files since release 2007
// are in UTF-8, older ones in their code page, though some that say so are in UTF-8.
func (p *parser) name(s string) string {
	if !isASCII(s) {
		s = p.decode(s)
	}
	return unescape(s)
}

func (p *parser) decode(s string) string {
	page := strings.TrimLeft(strings.ToUpper(p.header.codepage), "ANSIDO_")
	twoBytes := len(page) == 3 && page[0] == '9'
	if utf8.ValidString(s) && (!twoBytes || p.header.release >= firstUTF8) {
		return s
	}
	table, ok := codepages[page]
	if !ok {
		table = charmap.Windows1252
	}
	text, err := table.NewDecoder().String(s)
	if err != nil {
		return strings.ToValidUTF8(s, "\ufffd")
	}
	return text
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// escaped is a character by its number, for files whose code page lacks it.
var escaped = regexp.MustCompile(`\\U\+[0-9A-Fa-f]{4}`)

func unescape(s string) string {
	if !strings.Contains(s, `\`) {
		return s
	}
	return escaped.ReplaceAllStringFunc(s, func(e string) string {
		n, err := strconv.ParseUint(e[3:], 16, 16)
		if err != nil {
			return e
		}
		return string(rune(n))
	})
}
