package preview

import (
	"bufio"
	"embed"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"text/template"

	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

//go:embed page.html page.css *.js
var assets embed.FS

// layout is page.html with what goes into it named.
var layout = template.Must(template.New("page.html").ParseFS(assets, "page.html"))

// parts are what page.html is filled in with. Style and Script are our own
// files; Head is JSON as encoding/json writes it, with every <, > and &
// escaped, and Moves is base64, so neither can end the element it stands in.
type parts struct {
	Title  string // escaped by the layout
	Style  string
	Script string
	Head   string
	Moves  string
	Live   live
}

// live is where a page that is watched asks for what is new: addresses relative to its
// own. In a page of a build it is zero.
type live struct {
	Events string // text/event-stream: see watch.js
	Whole  string // the page of a build, as it is now
}

// Write writes the page. The same page gives the same bytes. An error is w's.
func Write(w io.Writer, p Page) error { return write(w, p, live{}) }

// WriteLive writes the page without data, which asks for them: for events at one
// address, which watch.js distinguishes, and for a page of Write's at another.
func WriteLive(w io.Writer, title, events, whole string) error {
	return write(w, Page{Title: title}, live{events, whole})
}

func write(w io.Writer, p Page, from live) error {
	moves := packed(p)
	data, err := json.Marshal(headOf(p, moves.Index))
	if err != nil {
		return err
	}
	style, err := fs.ReadFile(assets, "page.css")
	if err != nil {
		return err
	}
	script, err := script(from.Events != "")
	if err != nil {
		return err
	}
	out := bufio.NewWriter(w)
	err = layout.Execute(out, parts{
		Title: p.Title, Style: string(style) + woodStyle(p.Wood), Script: script,
		Head: string(data), Moves: moves.text(), Live: from,
	})
	if err != nil {
		return err
	}
	return out.Flush()
}

// Lightness of the board, from black woods to white ones, by day and in the dark: so much
// that lines and words on it are seen, and as far apart that walnut isn't maple.
var (
	boardDay  = [2]float64{77, 92}
	boardDark = [2]float64{65, 76}
)

// boardChroma is how rich a board's colour is at the most.
const boardChroma = 16

// woodStyle sets the colours of the board, by day and in the dark: of its wood's hue, and
// so light that what is cut, and the lines on it, are seen whatever the wood.
func woodStyle(w work.Wood) string {
	c := wood.BoardColor(w)
	set := func(dark, pale float64) string {
		const deeper, more = 6.5, 4 // the grain is a little darker and richer
		return fmt.Sprintf("--wood: %s; --grain: %s;", c.Tint(dark, pale, boardChroma).Hex(), c.Tint(dark-deeper, pale-deeper, boardChroma+more).Hex())
	}
	return ":root { " + set(boardDay[0], boardDay[1]) + " }\n" +
		"@media (prefers-color-scheme: dark) { :root:not([data-ink=\"print\"]) { " + set(boardDark[0], boardDark[1]) + " } }\n"
}

// script is the page's script, a strict function that nobody else sees into. The
// numbered .js files, in the order of their names, are the body of a function in it
// that makes the page of its data; live.js calls that as often as the data change. A
// page of a build has nothing in it that asks anybody for anything: a watched one has
// watch.js.
func script(watched bool) (string, error) {
	names, err := fs.Glob(assets, "[0-9]*.js")
	if err != nil {
		return "", err
	}
	var b strings.Builder
	b.WriteString("(() => {\n\"use strict\";\nfunction page(DATA, PACKED, KEPT, ENDED) {\n")
	names = append(names, "live.js", "start.js")
	if watched {
		names = append(names, "watch.js")
	}
	for _, name := range names {
		text, err := fs.ReadFile(assets, name)
		if err != nil {
			return "", err
		}
		if name == "live.js" {
			b.WriteString("}\n")
		}
		b.Write(text)
	}
	b.WriteString("})();\n")
	return b.String(), nil
}
