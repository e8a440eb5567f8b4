package pdf

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"unicode/utf16"
)

// errForm is that the library's output isn't what finish knows.
var errForm = errors.New("pdf: the renderer's file has another form than expected")

// An object of a PDF: what stands between "n 0 obj" and "endobj".
type object struct {
	number int
	body   []byte
}

var (
	startAt  = regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`)
	tableRow = regexp.MustCompile(`^(\d{10}) (\d{5}) ([nf]) \n`)
	objHead  = regexp.MustCompile(`^(\d+) 0 obj\n`)
)

// The objects that the library always numbers so.
const (
	catalogObject = 1
	infoObject    = 2
)

// finish takes the library's file apart by its cross-reference table and writes
// it again with these objects exchanged: the catalogue asks viewers not to scale
// when printing (ISO 32000-1, table 150), the information leaves out the time,
// and the named fonts become embedded ones. Everything else is copied byte for
// byte. The file's identifier is made from its content.
func finish(data []byte, title string) ([]byte, error) {
	objects, err := parse(data)
	if err != nil {
		return nil, err
	}
	for i := range objects {
		switch o := &objects[i]; o.number {
		case catalogObject:
			if !bytes.Contains(o.body, []byte("/Type/Catalog/Pages 3 0 R")) {
				return nil, errForm
			}
			o.body = []byte("<</Type/Catalog/Pages 3 0 R/Lang(en)/ViewerPreferences<</PrintScaling/None/DisplayDocTitle true>>>>")
		case infoObject:
			o.body = fmt.Appendf(nil, "<</Title%s/Producer(strapwork)>>", textString(title))
		}
	}
	objects = embedFonts(objects)
	return assemble(objects), nil
}

// parse finds the objects of a file with one cross-reference table.
func parse(data []byte) ([]object, error) {
	m := startAt.FindSubmatch(data)
	if m == nil {
		return nil, errForm
	}
	table, err := strconv.Atoi(string(m[1]))
	if err != nil || table >= len(data) {
		return nil, errForm
	}
	starts := []int{table}
	var n int
	rest := data[table:]
	if _, err := fmt.Sscanf(string(rest[:min(len(rest), 40)]), "xref\n0 %d\n", &n); err != nil {
		return nil, errForm
	}
	rest = rest[len(fmt.Sprintf("xref\n0 %d\n", n)):]
	for range n {
		row := tableRow.FindSubmatch(rest)
		if row == nil {
			return nil, errForm
		}
		if row[3][0] == 'n' {
			at, err := strconv.Atoi(string(row[1]))
			if err != nil || at >= table {
				return nil, errForm
			}
			starts = append(starts, at)
		}
		rest = rest[len(row[0]):]
	}
	slices.Sort(starts)
	var objects []object
	for i := range len(starts) - 1 {
		o, err := objectOf(data[starts[i]:starts[i+1]])
		if err != nil {
			return nil, err
		}
		objects = append(objects, o)
	}
	slices.SortFunc(objects, func(a, b object) int { return a.number - b.number })
	for i, o := range objects {
		if o.number != i+1 {
			return nil, errForm
		}
	}
	return objects, nil
}

func objectOf(data []byte) (object, error) {
	m := objHead.FindSubmatch(data)
	body, ok := bytes.CutSuffix(bytes.TrimRight(data, "\n"), []byte("endobj"))
	if m == nil || !ok {
		return object{}, errForm
	}
	number, err := strconv.Atoi(string(m[1]))
	if err != nil {
		return object{}, errForm
	}
	return object{number: number, body: bytes.TrimSuffix(body[len(m[0]):], []byte("\n"))}, nil
}

// embedFonts puts fonts in place of the names that stand for them, and adds
// what they refer to at the end.
func embedFonts(objects []object) []object {
	next := len(objects) + 1
	for _, t := range typefaces() {
		want := "<</Type/Font/Subtype/Type1/BaseFont/" + t.stands + "/Encoding/WinAnsiEncoding>>"
		i := slices.IndexFunc(objects, func(o object) bool { return string(o.body) == want })
		if i < 0 {
			continue // not used in this file
		}
		objects[i].body = fmt.Appendf(nil, "<</Type/Font/Subtype/TrueType/BaseFont/%s/FirstChar %d/LastChar %d/Widths %s/Encoding/WinAnsiEncoding/FontDescriptor %d 0 R>>",
			t.name, firstCode, lastCode, t.widthsOf(), next)
		program := t.program()
		stream := fmt.Appendf(nil, "<</Length %d/Length1 %d/Filter/FlateDecode>>stream\n", len(program), len(t.data))
		stream = append(append(stream, program...), "\nendstream"...)
		objects = append(objects,
			object{number: next, body: fmt.Appendf(nil, "<</Type/FontDescriptor/FontName/%s%s/StemV %d/FontFile2 %d 0 R>>", t.name, descriptor, t.weight, next+1)},
			object{number: next + 1, body: stream})
		next += 2
	}
	return objects
}

// assemble writes objects, numbered 1, 2, ..., as a file.
func assemble(objects []object) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	offsets := make([]int, len(objects))
	for i, o := range objects {
		offsets[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n", o.number)
		b.Write(o.body)
		b.WriteString("\nendobj\n")
	}
	id := sha256.Sum256(b.Bytes())
	table := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, at := range offsets {
		fmt.Fprintf(&b, "%010d 00000 n \n", at)
	}
	const idBytes = 16 // as is usual (ISO 32000-1, 14.4)
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root %d 0 R/Info %d 0 R/ID[<%x><%x>]>>\nstartxref\n%d\n%%%%EOF\n",
		len(objects)+1, catalogObject, infoObject, id[:idBytes], id[:idBytes], table)
	return b.Bytes()
}

// textString is a text as PDF has it: UTF-16 with a byte order mark, in
// hexadecimal.
func textString(s string) string {
	var b bytes.Buffer
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	b.WriteByte('>')
	return b.String()
}
