package ngc

// What a block may hold together: the error rules of NISTIR 6556, section 3.5,
// that need no position.

var (
	axisWords   = letters("XYZ")
	centerWords = letters("IJK")
	arcWords    = letters("IJKR")
)

// motionFor is the motion word in force for a block, and the byte that a
// message about it points at: the word itself, or the first axis word where it
// is in force from an earlier block.
func (b *block) motionFor(modal int) (motion, at int) {
	if b.g.has(uint8(gMotion)) {
		return b.gs[gMotion], b.gAt[gMotion]
	}
	return modal, b.first(axisWords)
}

func isArc(motion int) bool { return motion == g2 || motion == g3 }

// check holds a block against the rules, given the motion word in force before
// it and the plane in force in it.
func (b *block) check(modal int) *fault {
	for _, f := range [...]*fault{b.checkCounts(), b.checkDwell(), b.checkPath(), b.checkMachine(), b.checkMotion(modal)} {
		if f != nil {
			return f
		}
	}
	return nil
}

// checkCounts reports feeds, speeds and tools that are less than nothing.
func (b *block) checkCounts() *fault {
	for _, c := range []byte("FST") {
		if b.word(c) && b.value(c) < 0 {
			return faultf(b.place(c), "negative", "write 0 or more", "%c is less than 0", c)
		}
	}
	if t := b.value('T'); b.word('T') && t-float64(int(t+nearInteger)) > nearInteger {
		return faultf(b.place('T'), "tool", "write a whole number", "T%s is not a tool's number", short(t))
	}
	return nil
}

// nonModal reports whether the block has a word of no modal group.
func (b *block) nonModal(word int) bool { return b.g.has(uint8(gNonModal)) && b.gs[gNonModal] == word }

// blends reports whether the block has G64.
func (b *block) blends() bool { return b.g.has(uint8(gPath)) && b.gs[gPath] == g64 }

func (b *block) checkDwell() *fault {
	dwell := b.nonModal(g4)
	switch {
	case dwell && !b.word('P'):
		return faultf(b.gAt[gNonModal], "dwell", "write how long, such as G4 P2", "G4 without P")
	case dwell && b.value('P') < 0:
		return faultf(b.place('P'), "dwell", "write 0 or more", "a dwell of less than 0")
	case dwell && b.blends():
		return faultf(b.place('P'), "dwell", "write G4 and G64 on a line each", "P with both G4 and G64")
	case b.word('P') && !dwell && !b.blends():
		return faultf(b.place('P'), "unused-word", "write G4 with it, or remove it", "P without G4")
	}
	return nil
}

// checkPath holds the words of G64 against what they can mean.
func (b *block) checkPath() *fault {
	switch {
	case b.word('Q') && !b.blends():
		return faultf(b.place('Q'), "unused-word", "remove it", "Q belongs to words that are not read")
	case b.word('Q') && !b.word('P'):
		return faultf(b.place('Q'), "path-mode", "write P with it: how far the path may be left", "Q of G64 without P")
	case b.blends() && b.word('P') && b.value('P') < 0:
		return faultf(b.place('P'), "path-mode", "write 0 or more", "P of G64 is less than 0")
	case b.word('Q') && b.value('Q') < 0:
		return faultf(b.place('Q'), "path-mode", "write 0 or more", "Q of G64 is less than 0")
	}
	return nil
}

// checkMachine: G53 is taken to lift the bit out of the way and for nothing else.
// X and Y in the machine's coordinates would be places that aren't known here.
func (b *block) checkMachine() *fault {
	if !b.nonModal(g53) {
		return nil
	}
	at := b.gAt[gNonModal]
	straight := b.g.has(uint8(gMotion)) && (b.gs[gMotion] == g0 || b.gs[gMotion] == g1)
	switch {
	case b.word('X') || b.word('Y'):
		return faultf(b.first(letters("XY")), "g-word", "write G53 G0 Z0 to lift the bit, and X and Y in G54 on a line of their own",
			"X or Y with G53 leads to a place that only the machine knows")
	case !straight || !b.word('Z'):
		return faultf(at, "g-word", "write G0 and Z on the same line, such as G53 G0 Z0, or remove it", "G53 without G0 or G1 and Z")
	}
	return nil
}

func (b *block) checkMotion(modal int) *fault {
	motion, at := b.motionFor(modal)
	axes := b.has&axisWords != 0
	reported := b.g.has(uint8(gMotion))
	switch {
	case axes && motion == g80:
		return faultf(b.first(axisWords), "no-motion", "write G0, G1, G2 or G3 with it", "a place with no motion word in force")
	case reported && motion != g80 && !axes:
		return faultf(at, "no-axis", "write where to, such as X0", "G%d without X, Y or Z", motion/10)
	case (!axes || !isArc(motion)) && b.has&arcWords != 0:
		at := b.first(arcWords)
		return faultf(at, "unused-word", "write G2 or G3 and where to, or remove it", "%c without an arc", upper(b.line[at]))
	case axes && isArc(motion):
		return b.checkArc(at)
	}
	return nil
}

// checkArc holds the words of an arc in the XY plane against NISTIR 6556,
// 3.5.3.
func (b *block) checkArc(at int) *fault {
	switch {
	case b.word('K'):
		return faultf(b.place('K'), "arc-words", "remove it", "K in an arc of the XY plane")
	case !b.word('X') && !b.word('Y'):
		return faultf(at, "arc-words", "write the end's X or Y, also where it doesn't change", "an arc without X and Y")
	case b.word('R') && b.has&centerWords != 0:
		return faultf(b.place('R'), "arc-words", "leave one of them", "an arc with both a radius and a centre")
	case !b.word('R') && b.has&centerWords == 0:
		return faultf(at, "arc-words", "write the centre with I and J, or the radius with R", "an arc without I, J and R")
	}
	return nil
}
