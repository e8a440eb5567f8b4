package work

import (
	"fmt"
	"strconv"
	"strings"

	"strapwork/pkg/unit"
)

// Guide is what steers the router. What is true of each is a line of ways: stages ask
// a guide what they need to know and list no guides of their own.
type Guide int

const (
	// GuideBase rides the rim of the router's own base along the wall.
	GuideBase Guide = iota
	// GuideBushing rides a collar round the bit.
	GuideBushing
	// GuideBearing rides a ball bearing on the bit.
	GuideBearing
	// GuidePivot swings the router on a bar about a pin; rings only.
	GuidePivot
	// GuideNone is no guide: no templates are made, and the job is for a machine.
	GuideNone
)

// A way is what is true of a guide.
type way struct {
	word    string // in the job file
	rides   string // what rides the template, in a list of such; "" without panels
	rider   string // what makers call what guides the bit
	stands  Stand  // what the router's base stands on, where no floor lies in the track
	panels  bool   // a rider goes along the walls of panels
	base    bool   // and is the rim of the router's base
	floor   bool   // a floor may lie in the track, under the base
	central bool   // it runs true with its bit, whichever way the router faces
}

var ways = [...]way{
	GuideBase:    {word: "base", rides: "the router's base", rider: "base", stands: OnWork, panels: true, base: true, floor: true},
	GuideBushing: {word: "bushing", rides: "a bushing", rider: "collar", stands: OnTemplate, panels: true},
	GuideBearing: {word: "bearing", rides: "a bearing", rider: "bearing", stands: OnTemplate, panels: true, central: true},
	GuidePivot:   {word: "pivot", rider: "bar", stands: OnBar, central: true},
	GuideNone:    {word: "none", stands: OnNothing},
}

// Guides are the guides that pass every question, in the order of their numbers:
// Guides() is all of them, Guides(Guide.HasPanels) those that ride on panels.
func Guides(asked ...func(Guide) bool) []Guide {
	var list []Guide
next:
	for g := range Guide(len(ways)) {
		for _, is := range asked {
			if !is(g) {
				continue next
			}
		}
		list = append(list, g)
	}
	return list
}

// Either is the words of guides as they are typed: "base", "bushing" or "bearing", with
// the quotes.
func Either(guides []Guide) string {
	list := make([]string, len(guides))
	for i, g := range guides {
		list[i] = strconv.Quote(g.String())
	}
	return or(list)
}

// WhatRides says what may ride the walls of panels: "the router's base, a bushing or a
// bearing".
func WhatRides() string {
	var list []string
	for _, g := range Guides(Guide.HasPanels) {
		list = append(list, g.way().rides)
	}
	return or(list)
}

// or is a list as a sentence has it: "a", "a or b", "a, b or c".
func or(list []string) string {
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " or " + list[n-1]
	}
	return strings.Join(list, "")
}

// way is what is true of g; nothing of a guide that there isn't.
func (g Guide) way() way {
	if g < 0 || int(g) >= len(ways) {
		return way{}
	}
	return ways[g]
}

// String is the guide's word in the job file.
func (g Guide) String() string {
	if w := g.way().word; w != "" {
		return w
	}
	return fmt.Sprintf("guide(%d)", int(g))
}

// Rider is what makers call what guides the bit: base, collar, bearing or bar; ""
// where nothing does.
func (g Guide) Rider() string { return g.way().rider }

// HasTemplates reports whether anything is made that guides a router by hand.
func (g Guide) HasTemplates() bool { return g != GuideNone }

// HasPanels reports whether a rider goes along the walls of panels. What guides a
// router by hand without them is a pivot's bar.
func (g Guide) HasPanels() bool { return g.way().panels }

// RidesBase reports whether the rider is the rim of the router's own base, which then
// goes into the track.
func (g Guide) RidesBase() bool { return g.way().base }

// TakesFloor reports whether a floor may lie in the track, under the base.
func (g Guide) TakesFloor() bool { return g.way().floor }

// TurnsOver reports whether a panel may be used turned over: not where its floor would
// then be on top.
func (g Guide) TurnsOver() bool { return !g.way().floor }

// RunsTrue reports whether the rider runs true with its bit, whichever way the router faces.
func (g Guide) RunsTrue() bool { return g.way().central }

// Stands is what the router's base stands on while it cuts; floor is the thickness in
// mm of the sheet in the track, 0 for none.
func (g Guide) Stands(floor float64) Stand {
	if w := g.way(); !w.floor || floor <= 0 {
		return w.stands
	}
	return OnFloor
}

// Stand is what the router's base stands on while it cuts.
type Stand int

const (
	// OnNothing: no router is put down.
	OnNothing Stand = iota
	// OnWork: the board itself, in the track.
	OnWork
	// OnFloor: the floor in the track.
	OnFloor
	// OnTemplate: the panel's face.
	OnTemplate
	// OnBar: a pivot's bar.
	OnBar
)

var standWords = [...]string{OnNothing: "", OnWork: "work", OnFloor: "floor", OnTemplate: "template", OnBar: "bar"}

// String is the word in the manifest.
func (s Stand) String() string { return unit.Word(standWords[:], s, "stand") }

// Above is how high in mm the stand is above the work. A bar is as thick as a wall.
func (t Template) Above(s Stand) float64 {
	switch s {
	case OnFloor:
		return t.Floor
	case OnTemplate, OnBar:
		return t.Wall
	case OnNothing, OnWork:
	}
	return 0
}
