package fromsvg_test

import (
	"fmt"
	"strconv"
	"strings"

	"pgregory.net/rapid"
)

// A snippet is a small drawing. What it draws is lines alone unless it says so; then the
// browser's picture of it and that of what was read are compared too.
type snippet struct {
	name, svg string
	apart     bool // the pictures differ rightly: something is passed over, or joined otherwise
}

const (
	open = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" `
	thin = `fill="none" stroke="#000" stroke-width="2" `
)

// snippets have each element, unit, transform, mode of preserveAspectRatio, rule of CSS,
// <use>, <symbol> and <switch> that is read. Every shape that stands to be seen by itself
// has an id.
func snippets() []snippet {
	list := []snippet{
		{name: "lines absolute and relative", svg: open + `viewBox="0 0 100 60"><path id="a" ` + thin +
			`d="M10 10L50 20 90 10m-80 20l40 10 40-10M10 50H40V30h20v20H90"/></svg>`},
		{name: "compact numbers", svg: open + `viewBox="-5 -5 30 30"><path id="a" ` + thin + `d="M1.5.5-3 4+10 7L1e1-.5.5.5M2 12l.5e1.5-2-.5"/></svg>`, apart: true},
		{name: "curves", svg: open + `viewBox="0 0 200 120"><path id="a" ` + thin +
			`d="M10 60C20 0 60 0 70 60S120 120 130 60s50-60 60 0M10 100q20-40 40 0t40 0T130 100t50 0"/></svg>`},
		{name: "smooth after another command", svg: open + `viewBox="0 0 200 120"><path id="a" ` + thin + `d="M10 60S60 0 70 60L90 60T140 90S150 20 190 60"/></svg>`},
		{name: "arcs with all flags", svg: open + `viewBox="0 0 240 200"><path id="a" ` + thin +
			`d="M60 60A40 25 30 0 0 100 80M60 60A40 25 30 0 1 100 80M60 60A40 25 30 1 0 100 80M60 60A40 25 30 1 1 100 80"/>` +
			`<path id="b" ` + thin + `d="m140 100a30 20-20 01 20 10a30 20-20 11.5 40"/></svg>`},
		{name: "arcs too small", svg: open + `viewBox="0 0 200 100"><path id="a" ` + thin + `d="M20 50a1 1 0 0 1 60 0a3 1 20 0 0 60 10A16.936 16.936 0 0 1 173.87223 60"/></svg>`},
		{name: "arcs of no radius and no way", svg: open + `viewBox="0 0 200 100"><path id="a" ` + thin + `d="M20 50A0 10 0 0 1 60 20A10-10 0 0 1 60 20A-30 30 0 0 1 100 50"/></svg>`, apart: true},
		{name: "closed and going on", svg: open + `viewBox="0 0 100 100"><path id="a" ` + thin + `d="M20 20h30v30zl-10 40h30zM80 80v10h10Z"/></svg>`},
		{name: "rect", svg: open + `viewBox="0 0 200 100">` +
			`<rect id="a" ` + thin + `x="10" y="10" width="40" height="30"/><rect id="b" ` + thin + `x="60" y="10" width="40" height="30" rx="10"/>` +
			`<rect id="c" ` + thin + `x="110" y="10" width="40" height="30" ry="5"/><rect id="d" ` + thin + `x="10" y="50" width="40" height="30" rx="500" ry="9"/>` +
			`<rect id="e" ` + thin + `x="60" y="50" width="40" height="30" rx="100"/><rect id="f" ` + thin + `x="110" y="50" width="40" height="30" rx="0" ry="10"/></svg>`},
		{name: "round things", svg: open + `viewBox="0 0 200 100"><circle id="a" ` + thin + `cx="40" cy="50" r="30"/>` +
			`<ellipse id="b" ` + thin + `cx="110" cy="50" rx="20" ry="40"/><ellipse id="c" ` + thin + `cx="165" cy="50" rx="25"/></svg>`},
		{name: "straight things", svg: open + `viewBox="0 0 200 100"><line id="a" ` + thin + `x1="10" y1="10" x2="90" y2="40"/>` +
			`<polyline id="b" ` + thin + `points="10,90 50,50,90,90"/><polygon id="c" ` + thin + `points="110 10 190 10 150,90"/></svg>`},
		{name: "units", svg: open + `width="6in" height="3in"><g ` + thin + `>` +
			`<line id="a" x1="1mm" y1="1mm" x2="5cm" y2=".5cm"/><line id="b" x1="12pt" y1="1pc" x2="1.5in" y2="72Q"/><circle id="c" cx="50%" cy="50%" r="20%"/>` +
			`<rect id="d" x="10px" y="40%" width="25%" height="50%"/></g></svg>`},
		{name: "units in a viewBox", svg: open + `width="60mm" height="30mm" viewBox="0 0 120 60"><g fill="none" stroke="#000" stroke-width="1mm">` +
			`<line id="a" x1="1mm" y1="1mm" x2="2cm" y2="1cm"/><ellipse id="b" cx="50%" cy="50%" rx="10%" ry="10%"/></g></svg>`},
		{name: "transforms", svg: open + `viewBox="0 0 300 200"><g ` + thin + `>` +
			`<path id="a" transform="translate(20) rotate(30)" d="M0 0h40a10 10 0 0 1 0 20"/>` +
			`<path id="b" transform="translate(100,20)rotate(-45 20 10),scale(1.5)" d="M0 0h40v10"/>` +
			`<path id="c" transform="translate(200 20) scale(1 2)" d="M0 0c10 20 30 20 40 0"/>` +
			`<circle id="d" transform="matrix(1 .2 -.3 .8 60 120)" r="30"/>` +
			`<path id="e" transform="translate(140 120) skewX(20)" d="M0 0h40v30h-40z"/>` +
			`<path id="f" transform=" translate( 220 , 120 )  skewY(-15) " d="M0 0h40v30h-40z"/></g></svg>`, apart: true},
		{name: "transforms by CSS", svg: open + `viewBox="0 0 300 200"><style>.t{transform:translate(50px,40px) rotate(.125turn)} #b{transform-origin:150px 100px;transform:rotate(90deg)} #c{transform-origin:center;transform:rotate(100grad) scale(.5)}</style><g ` + thin + `>` +
			`<path id="a" class="t" d="M0 0h40v20"/><path id="b" d="M150 100h40v20"/><path id="c" d="M150 60h40v20"/></g></svg>`},
		{name: "nested transforms in pt", svg: open + `width="145pt" height="145pt" viewBox="0 0 145 145"><g transform="translate(0,145) scale(.1,-.1)">` +
			`<g transform="rotate(15)"><path id="a" fill="none" stroke="#000" stroke-width="20" d="M300 100C600 0 900 400 600 700l-200 100z"/></g></g></svg>`},
		{name: "nested svg", svg: open + `viewBox="0 0 200 100"><svg x="20" y="10" width="100" height="80" viewBox="0 0 50 50"><circle id="a" ` + thin + `cx="25" cy="25" r="20"/>` +
			`<svg x="50%" width="50%" height="25"><rect id="b" ` + thin + `x="10%" y="10%" width="80%" height="80%"/></svg></svg></svg>`},
		{name: "properties that cascade", svg: open + `viewBox="0 0 100 60"><style type="text/css"><![CDATA[
			path { stroke: red; stroke-width: 2; fill: none }
			.wide { stroke-width: 4 } #b { stroke: green } path.wide#b { stroke: #00f }
			g > path { stroke-dasharray: 4 2 } svg g .deep { stroke: rgb(10%, 20%, 30%) !important }
			* { stroke-opacity: .5 } path:hover { stroke-width: 9 } /* path { stroke: pink } */
			@media print { path { stroke: yellow } } @media screen { #d { stroke: hsl(120, 100%, 25%) } }
			]]></style><path id="a" stroke="blue" d="M10 10h80"/><path id="b" class="wide" d="M10 20h80"/>` +
			`<g><path id="c" class="deep wide" style="stroke: lime; stroke-width: 3px" d="M10 30h80"/></g><path id="d" d="M10 40h80"/></svg>`, apart: true},
		{name: "properties that are inherited", svg: open + `viewBox="0 0 100 80" color="teal"><g fill="none" stroke="currentColor" stroke-width="3" stroke-dasharray="5,3,1">` +
			`<path id="a" d="M10 10h80"/><g color="#f80"><path id="b" d="M10 20h80"/><path id="c" stroke="inherit" stroke-width="initial" d="M10 30h80"/></g>` +
			`<path id="d" style="stroke:navy;stroke-dasharray:none" d="M10 40h80"/><path id="e" stroke="nonsense" stroke-width="-3" d="M10 50h80"/>` +
			`<path id="f" stroke="#00ff0080" d="M10 60h80"/><path id="g" stroke="url(#none) #123" d="M10 70h80"/></g></svg>`},
		{name: "hidden things", svg: open + `viewBox="0 0 100 60"><style>.off{display:none} .veil{visibility:hidden}</style><g ` + thin + `>` +
			`<path id="a" class="off" d="M10 10h80"/><g class="off"><path id="b" d="M10 20h80"/></g><g class="veil"><path id="c" d="M10 30h80"/><path id="d" visibility="visible" d="M10 40h80"/></g>` +
			`<path id="e" stroke="none" d="M10 50h80"/><path id="f" stroke-opacity="0" d="M10 50h80"/><path id="g" stroke-width="0" d="M10 50h80"/><g opacity="0"><path id="h" d="M10 50h80"/></g></g></svg>`},
		{name: "use", svg: open + `viewBox="0 0 200 100"><defs><path id="petal" d="M0 0c10-20 30-20 40 0"/><g id="pair"><use href="#petal"/><use xlink:href="#petal" transform="scale(1 -1)" x="5"/></g></defs>` +
			`<g ` + thin + `><use href="#pair" x="10" y="50"/><use href="#pair" transform="rotate(20 100 50)" x="60" y="50"/><use href="#petal" x="150" y="50" stroke="red"/></g></svg>`},
		{name: "symbols", svg: open + `viewBox="0 0 200 100"><symbol id="s" viewBox="0 0 40 20"><ellipse cx="20" cy="10" rx="18" ry="8"/></symbol><symbol id="t"><path d="M0 0l30 30"/></symbol>` +
			`<g ` + thin + `><use href="#s" width="80" height="80" x="10" y="10"/><use href="#s" x="100" y="10" width="40" height="60"/><use href="#t" x="150" y="20" width="40" height="40"/></g></svg>`},
		{name: "use of svg", svg: open + `viewBox="0 0 200 100"><defs><svg id="s" width="40" height="40" viewBox="0 0 10 10"><circle cx="5" cy="5" r="4" stroke-width=".5"/></svg></defs>` +
			`<g ` + thin + `><use href="#s" x="10" y="10"/><use href="#s" x="60" y="10" width="80"/></g></svg>`},
		{name: "switch", svg: open + `viewBox="0 0 100 60"><g ` + thin + `><switch><path id="a" systemLanguage="xx" d="M10 10h80"/><g systemLanguage="de,en"><path id="b" d="M10 20h80"/></g><path id="c" d="M10 30h80"/></switch>` +
			`<switch><path id="x" requiredExtensions="http://example.org/x" d="M10 40h40v9"/><path id="d" d="M10 40h80"/></switch><path id="e" systemLanguage="xx" d="M10 50h80"/></g></svg>`},
		{name: "a link, words and foreign matter", svg: open + `xmlns:e="http://example.org/editor" viewBox="0 0 100 60"><e:guides><path id="x" d="M0 0h9"/></e:guides><title>knot</title><a xlink:href="http://example.org"><path id="a" ` + thin + `e:kind="line" d="M10 10h80"/></a>` +
			`<text x="10" y="30">words</text><metadata><e:a/></metadata><path id="b" ` + thin + `d="M10 50h80"/></svg>`, apart: true},
		{name: "fills", svg: open + `viewBox="0 0 100 60"><linearGradient id="grad"><stop stop-color="red"/></linearGradient><path id="a" d="M10 10h30v30z"/><circle id="b" cx="60" cy="25" r="15" fill="seagreen"/><path id="c" fill="url(#grad)" d="M80 10h10v30z"/>` +
			`<path id="d" style="fill:#abc;stroke:#321" d="M10 45h30l-10 10"/></svg>`, apart: true},
		{name: "non-scaling line", svg: open + `width="200" height="100" viewBox="0 0 100 50"><g transform="scale(4)"><path id="a" ` + thin + `vector-effect="non-scaling-stroke" d="M2 2h20v8"/></g></svg>`, apart: true},
		{name: "dashes", svg: open + `viewBox="0 0 200 60"><g ` + thin + `><path id="a" stroke-dasharray="20 5 3" stroke-dashoffset="7" d="M10 10h180"/><circle id="b" cx="30" cy="40" r="15" stroke-dasharray="10% 5"/>` +
			`<rect id="c" x="80" y="25" width="80" height="30" rx="9" stroke-dasharray="11,4" transform="translate(20) scale(.8)"/>` +
			`<path id="d" pathLength="8" stroke-dasharray="1" stroke-dashoffset="-.3" d="M60 50h20V20h10"/></g></svg>`},
		{name: "geometry by CSS", svg: open + `viewBox="0 0 100 60"><style>circle{r:12px;cx:20px;cy:30px} rect{rx:4px;width:30px} #c{d:path("M80 10v40")}</style><g ` + thin + `><circle id="a" r="3"/><rect id="b" x="40" y="20" height="20" width="2"/><path id="c" d="M0 0h1"/></g></svg>`},
	}
	list = append(list, snippet{name: "random paths", svg: randomPaths(), apart: true}, snippet{name: "modes", svg: modes(), apart: true})
	for _, mode := range []string{"none", "xMinYMin meet", "xMaxYMax meet", "xMidYMid slice", "xMinYMax slice"} {
		list = append(list, snippet{name: "page " + mode, svg: open + `width="300" height="100" viewBox="10 20 60 60" preserveAspectRatio="` + mode +
			`"><circle id="a" ` + thin + `cx="40" cy="50" r="20"/><path id="b" ` + thin + `d="M30 40l20 20"/></svg>`, apart: mode == "none"})
	}
	return list
}

// randomPaths is paths of all commands, as rapid makes them, with the seeds 1 to 40.
func randomPaths() string {
	var b strings.Builder
	b.WriteString(open + `viewBox="-500 -500 1000 1000">`)
	for seed := range 40 {
		fmt.Fprintf(&b, `<path id="p%d" `+thin+`d="%s"/>`, seed, randomPath.Example(seed+1))
	}
	return b.String() + "</svg>"
}

var randomPath = rapid.Custom(func(t *rapid.T) string {
	number := rapid.Custom(func(t *rapid.T) string {
		return strconv.FormatFloat(float64(rapid.IntRange(-9000, 9000).Draw(t, "number"))/100, 'f', -1, 64)
	})
	var b strings.Builder
	b.WriteString("M0 0")
	for range rapid.IntRange(2, 12).Draw(t, "commands") {
		command := rapid.SampledFrom(strings.Split("MLHVCSQTAmlhvcsqtazlcsqa", "")).Draw(t, "command")
		b.WriteString(command)
		switch command {
		case "z":
			continue
		case "a", "A":
			fmt.Fprintf(&b, "%d %d %s ", rapid.IntRange(1, 80).Draw(t, "rx"), rapid.IntRange(1, 80).Draw(t, "ry"), number.Draw(t, "turned"))
			b.WriteString(rapid.SampledFrom([]string{"00", "01", "10", "1,1 "}).Draw(t, "flags"))
		}
		for range map[string]int{"h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "a": 2}[strings.ToLower(command)] + map[string]int{"m": 2, "l": 2, "t": 2}[strings.ToLower(command)] {
			b.WriteString(number.Draw(t, "coordinate") + rapid.SampledFrom([]string{" ", ",", "  ,\n"}).Draw(t, "space"))
		}
	}
	return b.String()
})

// modes is nested viewports of all modes of preserveAspectRatio, too wide and too high
// for what is in them.
func modes() string {
	var b strings.Builder
	b.WriteString(open + `viewBox="0 0 1600 400">`)
	n := 0
	for _, align := range strings.Fields("xMinYMin xMidYMin xMaxYMin xMinYMid xMidYMid xMaxYMid xMinYMax xMidYMax xMaxYMax none") {
		for i, how := range []string{"", " meet", " slice"} {
			fmt.Fprintf(&b, `<svg x="%d" y="%d" width="80" height="40" viewBox="5 5 30 30" overflow="visible" preserveAspectRatio="%s%s"><circle id="wide%d" fill="none" stroke="#000" stroke-width="%d" cx="20" cy="20" r="8"/></svg>`,
				40+150*(n%10), 40+120*i, align, how, n+10*i, 1)
			fmt.Fprintf(&b, `<svg x="%d" y="%d" width="20" height="90" viewBox="-5 -5 10 20" overflow="visible" preserveAspectRatio="%s%s"><path id="high%d" fill="none" stroke="#000" d="M-4-4h8v8z"/></svg>`,
				130+150*(n%10), 20+120*i, align, how, n+10*i)
		}
		n++
	}
	return b.String() + "</svg>"
}
