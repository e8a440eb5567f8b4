package fromdxf

import (
	"fmt"
	"math"
)

// Numbers of the colour table that stand for another's colour, and the one that a layer
// has unless it says otherwise (DXF Reference, group 62).
const (
	colorByBlock = 0
	foreground   = 7
	colorByLayer = 256
)

// An ink is a colour as it is stated: a number of the table, or red, green and blue.
type ink struct {
	index int // group 62
	rgb   int // group 420, 0xrrggbb; -1: not stated
}

// ink reads groups 62 and 420.
func (r *record) ink(without int) ink { return ink{r.whole(62, without), r.whole(420, -1)} }

// hex is the colour as #rrggbb; empty where the table has none of that number.
func (i ink) hex() string {
	switch {
	case i.rgb >= 0:
		return fmt.Sprintf("#%06x", i.rgb&0xffffff)
	case i.index >= 1 && i.index < len(firstColors):
		return firstColors[i.index]
	case i.index >= 10 && i.index < 250:
		return wheelColor(i.index)
	case i.index >= 250 && i.index <= 255:
		g := greys[i.index-250]
		return fmt.Sprintf("#%02x%02x%02x", g, g, g)
	}
	return ""
}

// firstColors are red, yellow, green, cyan, blue, magenta, what stands out from the
// ground (black on paper, white on a dark screen), and two greys.
var firstColors = [10]string{
	1: "#ff0000", 2: "#ffff00", 3: "#00ff00", 4: "#00ffff", 5: "#0000ff", 6: "#ff00ff",
	7: "#000000", 8: "#808080", 9: "#c0c0c0",
}

// greys are 250 to 255 (from memory; tables of different programs differ).
var greys = [6]int{0x33, 0x50, 0x69, 0x82, 0xbe, 0xff}

// shades are how bright the five pairs of each hue are.
var shades = [5]float64{1, 0.65, 0.5, 0.3, 0.15}

// wheelColor is a colour of 10 to 249: 24 hues 15 degrees apart, each in five shades, even
// numbers full and odd ones half mixed with grey of that brightness.
func wheelColor(index int) string {
	hue := float64(index/10-1) / 4 // in sixths of the wheel
	bright := 255 * shades[index%10/2]
	var c [3]int
	for i, at := range [3]float64{0, 2, 4} { // red, green, blue
		away := math.Abs(math.Mod(hue-at+12, 6) - 3) // 0 at the far side, 3 at the hue itself
		full := bright * min(1, max(0, away-1))
		if index%2 == 1 {
			full = (full + bright) / 2
		}
		c[i] = int(full)
	}
	return fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2])
}
