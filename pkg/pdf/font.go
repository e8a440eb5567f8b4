package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"math"
	"sync"

	"github.com/tdewolff/canvas"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"strapwork/pkg/paper"
)

// family is the name under which the library is given the fonts: one of the
// fourteen that every reader has, so that it writes plain codes and embeds
// nothing (its embedded fonts carry the time of day). finish puts the font
// itself in place of the name.
const family = "helvetica"

// A typeface is one font as it is embedded.
type typeface struct {
	stands string // the base font that the library writes for it
	name   string // its PostScript name
	data   []byte
	bold   bool
	weight int // StemV: of the vertical stems, thousandths of the body (measured off the letter l)
}

func typefaces() []typeface {
	return []typeface{
		{stands: "Helvetica", name: "GoRegular", data: goregular.TTF, weight: 92},
		{stands: "Helvetica-Bold", name: "Go-Bold", data: gobold.TTF, bold: true, weight: 140},
	}
}

// faces are the library's fonts in all sizes that were asked for.
type faces struct {
	family *canvas.FontFamily
	known  map[faceKey]*canvas.FontFace
}

type faceKey struct {
	size  float64
	bold  bool
	color string
}

// spare holds faces that a document is done with: reading the fonts takes
// longer than writing a small document, and the library's fonts aren't made to
// be used by two at once.
var spare sync.Pool

func newFaces() (*faces, error) {
	if f, ok := spare.Get().(*faces); ok {
		return f, nil
	}
	f := &faces{family: canvas.NewFontFamily(family), known: map[faceKey]*canvas.FontFace{}}
	for _, t := range typefaces() {
		style := canvas.FontRegular
		if t.bold {
			style = canvas.FontBold
		}
		if err := f.family.LoadFont(t.data, 0, style); err != nil {
			return nil, fmt.Errorf("pdf: the font %s can't be read: %w", t.name, err)
		}
	}
	return f, nil
}

// face is the font of a line of lettering, of its size and colour.
func (f *faces) face(t paper.Text) *canvas.FontFace {
	key := faceKey{t.Size, t.Bold, t.Color}
	if face, ok := f.known[key]; ok {
		return face
	}
	style := canvas.FontRegular
	if t.Bold {
		style = canvas.FontBold
	}
	face := f.family.Face(t.Size/mmPerPoint, paint(t.Color, 0).Color, style, canvas.FontNormal)
	f.known[key] = face
	return face
}

// Codes of the letters that a font's dictionary lists.
const (
	firstCode = 32
	lastCode  = 255
)

// widthsOf writes the letters' widths in thousandths of the body.
func (t typeface) widthsOf() string {
	var b bytes.Buffer
	b.WriteByte('[')
	for c := firstCode; c <= lastCode; c++ {
		if c > firstCode {
			b.WriteByte(' ')
		}
		fmt.Fprintf(&b, "%d", int(math.Round(1000*paper.Advance(byte(c), t.bold))))
	}
	b.WriteByte(']')
	return b.String()
}

// program is the font's compressed file; it is the same for all documents.
func (t typeface) program() []byte {
	programs.Lock()
	defer programs.Unlock()
	if data, ok := programs.byName[t.name]; ok {
		return data
	}
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	_, _ = z.Write(t.data) // to a buffer, which takes everything
	_ = z.Close()
	programs.byName[t.name] = b.Bytes()
	return b.Bytes()
}

var programs = struct {
	sync.Mutex
	byName map[string][]byte
}{byName: map[string][]byte{}}

// The fonts' measures in thousandths of the body, from their own head and OS/2
// tables (2048 units to the body).
const descriptor = "/Flags 32/FontBBox[-440 -432 1176 1114]/ItalicAngle 0/Ascent 947/Descent -211/CapHeight 723"
