package dryrun

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/unit"
)

// rule is one thing that is held against every move.
type rule int

const (
	tooDeep rule = iota
	throughBoard
	deepAtOnce
	rapidInStock
	rapidDown
	rapidToTop
	plungeFast
	feedFast
	feedHigh
	noFeed
	spindleOff
	spindleWay
	spindleSpeed
	spindleSlow
	noDwell
	longDwell
	outOfTravel
	hitsClamp
	beyondReach
	wrongOrigin
	unstatedOrigin
	unstatedMode
	noPathMode
	roundsCorners
	unknownHeight
	unknownDepth
	unknownPlace
	lostPlace
	blindClamp
	blindStart
	spindleStart
	lowTravel
	pauseLow
	endsLow
	ruleCount
)

// ruleNames are the rules' names in findings.
var ruleNames = [ruleCount]string{
	tooDeep:        "too-deep",
	throughBoard:   "through-board",
	deepAtOnce:     "deep-at-once",
	rapidInStock:   "rapid-in-stock",
	rapidDown:      "rapid-down",
	rapidToTop:     "rapid-to-top",
	plungeFast:     "plunge-fast",
	feedFast:       "feed-fast",
	feedHigh:       "feed-high",
	noFeed:         "no-feed",
	spindleOff:     "spindle-off",
	spindleWay:     "spindle-way",
	spindleSpeed:   "spindle-speed",
	spindleSlow:    "spindle-slow",
	noDwell:        "no-dwell",
	longDwell:      "long-dwell",
	outOfTravel:    "out-of-travel",
	hitsClamp:      "hits-clamp",
	beyondReach:    "beyond-reach",
	wrongOrigin:    "wrong-origin",
	unstatedOrigin: "untold-origin",
	unstatedMode:   "unstated-mode",
	noPathMode:     "no-path-mode",
	roundsCorners:  "rounds-corners",
	unknownHeight:  "unknown-height",
	unknownDepth:   "unknown-depth",
	unknownPlace:   "unknown-place",
	lostPlace:      "lost-place",
	blindClamp:     "blind-clamp",
	blindStart:     "blind-start",
	spindleStart:   "spindle-start",
	lowTravel:      "low-travel",
	pauseLow:       "pause-low",
	endsLow:        "ends-low",
}

// warns are the rules that are only to be looked at. All others are faults.
var warns = [ruleCount]bool{
	deepAtOnce: true, rapidToTop: true, feedHigh: true, spindleSlow: true, noDwell: true, longDwell: true,
	unstatedOrigin: true, noPathMode: true, unknownHeight: true, blindStart: true, lowTravel: true, pauseLow: true,
}

// String is the rule's name in a finding.
func (r rule) String() string {
	if r >= 0 && r < ruleCount {
		return ruleNames[r]
	}
	return fmt.Sprintf("rule(%d)", int(r))
}

// severity is what a finding of the rule stops.
func (r rule) severity() diag.Severity {
	if warns[r] {
		return diag.Warning
	}
	return diag.Error
}

// unknown reports whether the rule is about what isn't known, or not known to be
// cut: behind a line that the reader could make nothing of, it says no more than
// that line's own fault.
func (r rule) unknown() bool {
	switch r {
	case unknownHeight, unknownDepth, unknownPlace, lostPlace, blindClamp, blindStart, deepAtOnce:
		return true
	}
	return false
}

// hit is one move that a rule is broken by.
type hit struct {
	rule   rule
	which  int        // what is distinguished within the rule: a clamp, an axis
	at     geom.Point // if hasAt
	hasAt  bool
	amount float64 // how bad it is; the worst is reported
	value  float64 // another number to report

	write   float64 // of a feed: the greatest F word that does no harm; of a group the least of all its moves
	inverse bool    // in inverse time
}

// group is hits that are reported as one finding.
type group struct {
	hit
	pos   diag.Position // of the first
	last  int           // line
	moves int
}

// tally gathers hits.
type tally struct {
	file     string
	open     [ruleCount][]*group // the latest of each kind
	groups   []*group
	reported [ruleCount]int
	more     [ruleCount]int // moves beyond what is reported
}

// hit counts a move against a rule: with the last ones, if those are near, else
// as the first of a group of its own.
func (t *tally) hit(m *ngc.Move, h hit) {
	line := int(m.Line)
	for _, g := range t.open[h.rule] {
		if g.which == h.which && (line-g.last <= nearLines || h.rule == roundsCorners) {
			g.last = line
			g.moves++
			h.write = math.Min(h.write, g.write)
			if h.amount > g.amount {
				g.hit = h
			}
			g.write = h.write
			return
		}
	}
	if t.reported[h.rule] == reportedMost {
		t.more[h.rule]++
		return
	}
	t.reported[h.rule]++
	g := &group{hit: h, pos: diag.Position{File: t.file, Line: line, Col: int(m.Col)}, last: line, moves: 1}
	t.groups = append(t.groups, g)
	t.open[h.rule] = slices.DeleteFunc(t.open[h.rule], func(o *group) bool { return o.which == h.which })
	t.open[h.rule] = append(t.open[h.rule], g)
}

// findings are the groups in words. What only comes of a line that the reader
// lost its place at is not reported.
func (j *judge) findings(lost int) diag.Findings {
	var out diag.Findings
	for _, g := range j.tally.groups {
		if g.pos.Line > lost && g.rule.unknown() {
			continue
		}
		words := j.words(g)
		f := diag.NewAt(g.rule.severity(), g.pos, g.rule.String(), "%s%s", words.text, andMore(g.moves))
		f.Hintf("%s", words.hint)
		if g.hasAt {
			f.SetAt(g.at.X, g.at.Y)
		}
		out.Add(f)
	}
	for r, n := range j.tally.more {
		if n > 0 && (lost == math.MaxInt || !rule(r).unknown()) {
			j.reportMore(&out, rule(r).String(), rule(r).severity(), n)
		}
	}
	return out
}

// reportMore counts what is not reported one by one, at the last finding of a rule.
func (j *judge) reportMore(out *diag.Findings, rule string, s diag.Severity, n int) {
	pos := diag.Position{File: j.tally.file}
	for _, f := range *out {
		if f.Rule == rule && f.Pos.Line >= pos.Line {
			pos = f.Pos
		}
	}
	f := diag.NewAt(s, pos, rule, "%s more of this kind (%s) not shown", unit.Count(n, "move"), rule)
	f.Hint = "fix those above and run it again"
	out.Add(f)
}

// sortFindings orders findings by their place in the file, errors first.
func sortFindings(fs diag.Findings) {
	slices.SortStableFunc(fs, func(a, b diag.Finding) int {
		return cmp.Or(cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(b.Severity, a.Severity), cmp.Compare(a.Pos.Col, b.Pos.Col))
	})
}
