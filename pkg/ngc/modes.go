package ngc

// What a program states of how its words are meant, and what it leaves to
// whichever way the machine was left.

import (
	"fmt"
	"math"
	"strings"
)

// Modes is a set of what a program may state of how its words are meant.
type Modes uint8

const (
	// DistanceMode is whether X, Y and Z are places or increments: G90, G91.
	DistanceMode Modes = 1 << iota
	// PlaneMode is the plane of arcs: G17, G18, G19.
	PlaneMode
	// PathMode is whether corners may be rounded for speed: G61, G61.1, G64.
	PathMode
	// FeedMode is whether F is a feed or an inverse time: G93, G94.
	FeedMode
)

// Has reports whether all of the given modes are in the set.
func (m Modes) Has(of Modes) bool { return m&of == of }

// String is the modes' words, such as "distance mode, plane"; the empty set is "".
func (m Modes) String() string {
	var list []string
	for i, word := range []string{"distance mode", "plane", "path mode", "feed mode"} {
		if m.Has(1 << i) {
			list = append(list, word)
		}
	}
	return strings.Join(list, ", ")
}

// needs are the modes that a motion depends on. A move in the machine's own
// coordinates is always to a place.
func needs(motion int, machine bool) Modes {
	m := DistanceMode
	if machine {
		m = 0
	}
	if isArc(motion) {
		m |= PlaneMode
	}
	if motion != g0 {
		m |= PathMode | FeedMode
	}
	return m
}

// setPath takes a path mode. P and Q of G64 are not in NISTIR 6556; as later
// interpreters have them (common practice), P is how far the path may be left and
// Q how far blocks may be off the line that replaces them, so at worst both add
// up. Without P, and on some with P0, there is no limit.
func (s *state) setPath(b *block) *fault {
	if !b.g.has(uint8(gPath)) {
		return nil
	}
	s.stated |= PathMode
	s.blend = 0
	if b.gs[gPath] != g64 {
		return nil
	}
	s.blend = math.Inf(1)
	if !b.word('P') {
		return nil
	}
	if s.units == UnitsUnstated {
		return unstated(b.place('P'))
	}
	if p := b.value('P'); p > 0 {
		s.blend = p * s.units.mm()
	}
	if b.word('Q') {
		s.blend += b.value('Q') * s.units.mm()
	}
	return nil
}

// toMachine leads m's Z to a place in the machine's own coordinates (NISTIR 6556,
// 3.5.13). How they lie to the program's isn't known here.
func (s *state) toMachine(b *block, m *Move) *fault {
	if s.incremental {
		return faultf(b.gAt[gNonModal], "g-word", "write G90 on a line before it", "G53 with increments (G91) in force")
	}
	m.Machine, m.MachineZ = true, b.value('Z')*s.units.mm()
	m.To.Z, m.To.Known = 0, m.To.Known&^AxisZ
	m.Named = AxisZ
	return nil
}

// start takes what a machine starts with.
func (s *state) start(words string) error {
	var b block
	var out moves
	f := b.parse([]byte(words))
	if f == nil {
		f = s.run(&b, &out)
	}
	switch {
	case f != nil:
		return fmt.Errorf("a machine can't start with %q: %s", words, f.msg)
	case b.has|b.m != 0 || out.n > 0:
		return fmt.Errorf("a machine can't start with %q: these are not modes alone", words)
	}
	return nil
}
