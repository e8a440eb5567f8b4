package ngc

// The modal groups of NISTIR 6556, section 3.4, table 4. Two words of one group
// may not stand in one block.

// group is a modal group of G or M words, by the number that table 4 gives it.
type group uint8

const (
	gNonModal   group = 0
	gMotion     group = 1
	gPlane      group = 2
	gDistance   group = 3
	gCenters    group = 4 // not in table 4; the number is free there among G words
	gFeedMode   group = 5
	gUnits      group = 6
	gRadiusComp group = 7
	gLengthComp group = 8
	gRetract    group = 10
	gOrigin     group = 12
	gPath       group = 13

	mStopping group = 4
	mTool     group = 6
	mSpindle  group = 7
	mCoolant  group = 8
	mOverride group = 9

	groups = 14 // one more than the greatest number
)

// G words by ten times their number, so that G59.1 is 591.
const (
	g0     = 0
	g1     = 10
	g2     = 20
	g3     = 30
	g4     = 40
	g17    = 170
	g20    = 200
	g53    = 530
	g54    = 540
	g59    = 590
	g593   = 593
	g61    = 610
	g611   = 611
	g64    = 640
	g80    = 800
	g91    = 910
	g93    = 930
	gLimit = 1000
)

// M words by their number.
const (
	m0     = 0
	m1     = 1
	m2     = 2
	m3     = 3
	m4     = 4
	m30    = 30
	mLimit = 100
)

// A code is what is known of a G or M word. The zero code is unknown.
type code struct {
	group   group
	known   bool
	refused string // why the reader doesn't take it, though NISTIR 6556 has it
	hint    string
}

const (
	whyProbe   = "probes, which is not read"
	whyCycle   = "is a canned cycle, which is not read"
	whyComp    = "is cutter compensation, which is not read: what is cut would depend on a table in the machine"
	whyMachine = "leads to a place that only the machine knows"
	whyShift   = "shifts the origin, so that places in the program are no longer places on the work"

	hintProbe = "remove the block"
	hintLines = "write the moves out with G0 and G1"
	hintComp  = "write the path of the bit's centre, with G40 and G49"
	hintHome  = "write a place in G54, such as G0 Z20"
	hintShift = "set the origin at the machine and select it with G54"
)

var (
	gCodes = listG()
	mCodes = listM()
)

func listG() [gLimit]code {
	var t [gLimit]code
	is := func(g group, numbers ...int) {
		for _, n := range numbers {
			t[n] = code{group: g, known: true}
		}
	}
	refuse := func(g group, why, hint string, numbers ...int) {
		for _, n := range numbers {
			t[n] = code{group: g, known: true, refused: why, hint: hint}
		}
	}
	is(gNonModal, g4, g53)
	is(gMotion, g0, g1, g2, g3, g80)
	is(gPlane, g17, 180, 190)
	is(gUnits, g20, 210)
	is(gRadiusComp, 400)
	is(gLengthComp, 490)
	is(gOrigin, 540, 550, 560, 570, 580, 590, 591, 592, 593)
	is(gPath, g61, g611, g64)
	is(gDistance, 900, g91)
	is(gCenters, 911)
	is(gFeedMode, g93, 940)
	is(gRetract, 980, 990)
	for n, c := range othersG() {
		t[n] = c
	}
	refuse(gMotion, whyProbe, hintProbe, 382)
	refuse(gMotion, whyCycle, hintLines, 810, 820, 830, 840, 850, 860, 870, 880, 890)
	refuse(gRadiusComp, whyComp, hintComp, 410, 420)
	refuse(gLengthComp, whyComp, hintComp, 430)
	refuse(gNonModal, whyMachine, hintHome, 280, 300)
	refuse(gNonModal, whyShift, hintShift, 100, 920, 921, 922, 923)
	return t
}

func listM() [mLimit]code {
	var t [mLimit]code
	for _, n := range []int{m0, m1, m2, m30} {
		t[n] = code{group: mStopping, known: true}
	}
	for _, n := range []int{m3, m4, 5} {
		t[n] = code{group: mSpindle, known: true}
	}
	for _, n := range []int{7, 8, 9} {
		t[n] = code{group: mCoolant, known: true}
	}
	for _, n := range []int{48, 49} {
		t[n] = code{group: mOverride, known: true}
	}
	for n, c := range othersM() {
		t[n] = c
	}
	t[6] = code{
		group: mTool, known: true, refused: "changes the tool, which is not read: the new one's length isn't known",
		hint: "write one program for each bit",
	}
	t[60] = code{group: mStopping, known: true, refused: "changes a pallet, which a router doesn't have", hint: "write M0 to stop"}
	return t
}
