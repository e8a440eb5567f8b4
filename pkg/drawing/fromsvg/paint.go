package fromsvg

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/image/colornames"
)

// A paint is what a line or an inside is painted with.
type paint struct {
	kind  paintKind
	color string // "#rrggbb", or "" where it isn't one colour
	alpha float64
}

type paintKind int

const (
	unpainted paintKind = iota
	painted
	current // by the property color
)

// paint reads a paint (SVG 1.1, section 11.2). A gradient or pattern is of no one colour;
// without it what stands after its name counts, or nothing.
func (r *reader) paint(value string) (paint, bool) {
	if strings.EqualFold(value, "currentcolor") {
		return paint{kind: current}, true
	}
	id, rest, ok := cutURL(value)
	if !ok {
		return parsePaint(value)
	}
	if r.ids[strings.TrimPrefix(id, "#")] != nil {
		return paint{kind: painted, alpha: 1}, true
	}
	if rest == "" {
		return paint{}, true
	}
	return r.paint(rest)
}

// cutURL takes url(...) from the start of a value.
func cutURL(value string) (address, rest string, ok bool) {
	if len(value) < 4 || !strings.EqualFold(value[:4], "url(") {
		return "", value, false
	}
	address, rest, _ = strings.Cut(value[4:], ")")
	return strings.Trim(strings.TrimSpace(address), `"'`), strings.TrimSpace(rest), true
}

// parsePaint reads none or a colour (CSS Color 4, the forms that drawings are written
// in). A variable, or a colour of another form of function, is some colour that isn't
// known.
func parsePaint(value string) (paint, bool) {
	value = strings.ToLower(value)
	if word, _, spaced := strings.Cut(value, " "); spaced && !strings.Contains(word, "(") {
		value = word // an ICC colour may follow
	}
	switch {
	case value == "none" || value == "transparent":
		return paint{}, true
	case strings.HasPrefix(value, "#"):
		return hexPaint(value[1:])
	case strings.HasPrefix(value, "context-"):
		return paint{kind: painted, alpha: 1}, true
	case strings.HasSuffix(value, ")"):
		return functionPaint(value)
	}
	c, ok := colornames.Map[value]
	return paint{kind: painted, color: fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B), alpha: 1}, ok
}

var hexDigits = regexp.MustCompile(`^[0-9a-f]+$`)

// hexPaint reads #rgb, #rgba, #rrggbb and #rrggbbaa.
func hexPaint(digits string) (paint, bool) {
	if !hexDigits.MatchString(digits) {
		return paint{}, false
	}
	if len(digits) == 3 || len(digits) == 4 {
		var twice strings.Builder
		for _, c := range digits {
			twice.WriteRune(c)
			twice.WriteRune(c)
		}
		digits = twice.String()
	}
	if len(digits) != 6 && len(digits) != 8 {
		return paint{}, false
	}
	alpha, _ := strconv.ParseUint((digits + "ff")[6:8], 16, 8)
	return paint{kind: painted, color: "#" + digits[:6], alpha: float64(alpha) / 255}, true
}

var colorFunction = regexp.MustCompile(`^(rgb|hsl)a?\((.*)\)$`)

// functionPaint reads rgb() and hsl() with commas or without.
func functionPaint(value string) (paint, bool) {
	parts := colorFunction.FindStringSubmatch(value)
	if parts == nil {
		return paint{kind: painted, alpha: 1}, true
	}
	var v []length
	for _, field := range strings.FieldsFunc(parts[2], func(c rune) bool { return strings.ContainsRune(" \t\n,/", c) }) {
		l, wrong := parseLength(strings.TrimSuffix(field, "deg"))
		if wrong != nil {
			return paint{}, false
		}
		v = append(v, l)
	}
	if len(v) != 3 && len(v) != 4 {
		return paint{}, false
	}
	alpha := 1.0
	if len(v) == 4 {
		if alpha = v[3].px; v[3].relative {
			alpha /= 100
		}
	}
	red, green, blue := shareOf(v[0]), shareOf(v[1]), shareOf(v[2])
	if parts[1] == "hsl" {
		red, green, blue = fromHSL(v[0].px, v[1].px/100, v[2].px/100)
	}
	return paint{kind: painted, color: fmt.Sprintf("#%02x%02x%02x", byteOf(red), byteOf(green), byteOf(blue)), alpha: alpha}, true
}

func shareOf(l length) float64 {
	if l.relative {
		return l.px / 100
	}
	return l.px / 255
}

func byteOf(share float64) int { return int(math.Round(255 * max(0, min(1, share)))) }

// fromHSL is CSS Color 4, section 7.1.
func fromHSL(hue, saturation, lightness float64) (red, green, blue float64) {
	f := func(n float64) float64 {
		k := math.Mod(math.Mod(n+hue/30, 12)+12, 12)
		return lightness - saturation*min(lightness, 1-lightness)*max(-1, min(k-3, 9-k, 1))
	}
	return f(0), f(8), f(4)
}
