package program_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/work"
)

// dialects are how machines want their programs.
var dialects = map[string]ngc.Options{
	"mm":                    {},
	"mm, 3 decimals":        {Decimals: 3},
	"mm, lines":             {Decimals: 3, Chord: 0.008},
	"mm, 4 decimals, lines": {Decimals: 4, Chord: 0.004},
	"inches":                {Units: ngc.Inches, Decimals: 4},
	"inches, usual":         {Units: ngc.Inches},
	"inches, lines":         {Units: ngc.Inches, Decimals: 4, Chord: 0.008},
	"forgetful":             {Decimals: 3, Repeat: true, DwellMillis: true, Rewind: true, Flat: true},
	"numbered":              {Percent: true, Numbers: true, Exact: true},
	"no helix":              {Decimals: 3, Exact: true, Flat: true},
	"bare":                  {Bare: true},
}

// eachDialect runs a test for every dialect, in order.
func eachDialect(t *testing.T, test func(t *testing.T, o ngc.Options)) {
	names := make([]string, 0, len(dialects))
	for n := range dialects {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		t.Run(n, func(t *testing.T) { test(t, dialects[n]) })
	}
}

func setting(o ngc.Options) program.Params {
	return program.Params{
		Title: "Box lid", Job: "lid.toml", Revision: "b", Zero: "the board's lower left corner", Shift: work.Shift(geom.Pt(120.5, 80.25)),
		Feed: 1200, Plunge: 250, Speed: 18000, SpinUp: 4, Again: 4, Safe: 10,
		Board: &work.Board{Size: geom.Pt(300, 200), Origin: geom.Pt(120, 80), Thickness: 22}, Time: 750, NGC: o,
	}
}

// chain makes a chain of moves: from a start, to (x, y, z, bulge).
func chain(role toolpath.Role, at geom.Point, to ...[4]float64) (list []toolpath.Move) {
	for _, v := range to {
		e := geom.Edge{A: at, B: geom.Pt(v[0], v[1]), Bulge: v[3]}
		list = append(list, toolpath.Move{Edge: e, Z: v[2], Role: role})
		at = e.B
	}
	return list
}

// plan is two strands: a bar that is ramped into along itself, forth and back
// at two depths, and a ring with helical entry, which is also plunged into.
func plan() toolpath.Plan {
	const b = 0.4142135623730951 // tan(pi/8): a quarter
	bar := toolpath.Run{Strand: 2, Name: "bar.1", Start: geom.Pt(-30, 1), Passes: []toolpath.Pass{
		{Depth: 1.4, Role: toolpath.Forward, Moves: append(
			chain(toolpath.Ramp, geom.Pt(-30, 1), [4]float64{-30 + 1.4/math.Tan(3*math.Pi/180), 1, -1.4, 0}, [4]float64{-30, 1, -1.4, 0}),
			chain(toolpath.Forward, geom.Pt(-30, 1), [4]float64{30, 1, -1.4, 0})...)},
		{Depth: 1.4, Role: toolpath.Back, Moves: append(
			chain(toolpath.Across, geom.Pt(30, 1), [4]float64{30, -1, -1.4, 0}),
			chain(toolpath.Back, geom.Pt(30, -1), [4]float64{-30, -1, -1.4, 0})...)},
		{Depth: 2.8, Role: toolpath.Forward, Moves: append(
			chain(toolpath.Plunge, geom.Pt(-30, -1), [4]float64{-30, -1, -2.8, 0}),
			chain(toolpath.Forward, geom.Pt(-30, -1), [4]float64{-30, 1, -2.8, 0}, [4]float64{30, 1, -2.8, 0})...)},
	}}
	ring := toolpath.Run{Strand: 0, Name: "s1", Start: geom.Pt(50, 0), Passes: []toolpath.Pass{
		{Depth: 2.8, Role: toolpath.Rough, Moves: append(
			chain(toolpath.Ramp, geom.Pt(50, 0),
				[4]float64{0, 50, -2.8 * 0.3, b}, [4]float64{-50, 0, -2.8 * 0.6, b}, [4]float64{0, -50, -2.8 * 0.9, b}, [4]float64{50, 0, -2.8, b}),
			chain(toolpath.Rough, geom.Pt(50, 0),
				[4]float64{0, 50, -2.8, b}, [4]float64{-50, 0, -2.8, b}, [4]float64{0, -50, -2.8, b}, [4]float64{50, 0, -2.8, b})...)},
		{Depth: 2.8, Role: toolpath.Forward, Moves: append(
			chain(toolpath.Across, geom.Pt(50, 0), [4]float64{51, 0, -2.8, 0}),
			chain(toolpath.Forward, geom.Pt(51, 0), [4]float64{-51, 0, -2.8, -1}, [4]float64{51, 0, -2.8, -1})...)},
	}}
	return toolpath.Plan{Runs: []toolpath.Run{bar, ring}, Depths: []float64{1.4, 2.8}, Bit: 3.175, Width: 5.175}
}

// steep is a strand whose entry is far steeper than a ramp may be, on a straight
// and on arcs of several sizes: there the plunge feed rules.
func steep() toolpath.Plan {
	at := geom.Pt(0, 0)
	pass := toolpath.Pass{Depth: 30, Role: toolpath.Forward}
	z := 0.0
	for i, v := range [][3]float64{{10, 0, 0}, {10, 2, 0}, {14, 2, 1}, {14, 40, 0.5}, {14.3, 40, 0.9}, {20, 40, 0}, {20.02, 40, 0}, {60, 41, -0.2}, {60.5, 41, 0}, {60.5, 44, 1}} {
		z -= []float64{1.5, 0.1, 0.02}[i%3]
		pass.Moves = append(pass.Moves, chain(toolpath.Ramp, at, [4]float64{v[0], v[1], z, v[2]})...)
		at = geom.Pt(v[0], v[1])
	}
	pass.Depth = -z
	r := toolpath.Run{Strand: 0, Name: "s1", Passes: []toolpath.Pass{pass}}
	return toolpath.Plan{Runs: []toolpath.Run{r}, Depths: []float64{-z}, Bit: 3, Width: 3}
}

// written is the program of a plan that must be writable.
func written(t *testing.T, p toolpath.Plan, s program.Params) (string, []program.Section) {
	t.Helper()
	var b bytes.Buffer
	sections, err := program.Groove(&b, p, s)
	if err != nil {
		t.Fatal(err)
	}
	return b.String(), sections
}

func TestGrooveIsSafe(t *testing.T) {
	eachDialect(t, func(t *testing.T, o ngc.Options) {
		for _, p := range []toolpath.Plan{plan(), steep(), plan().Only(0), plan().AtDepth(1)} {
			for _, change := range []func(*program.Params){
				func(*program.Params) {},
				func(s *program.Params) { s.Plunge = 33.3 },
				func(s *program.Params) { s.Feed, s.Plunge = 6000, 5999.99 },
				func(s *program.Params) { s.Safe = 0.4 },
			} {
				s := setting(o)
				change(&s)
				text, _ := written(t, p, s)
				checkText(t, text, s.NGC)
				checkMoves(t, readBack(t, text, o), s)
			}
		}
	})
}

// cuts is what a list of moves cuts: where from, where to, how fast.
func cuts(moves []ngc.Move) (list []string) {
	for _, m := range moves {
		if m.Kind == ngc.Line || m.Kind == ngc.Arc {
			list = append(list, fmt.Sprintf("%v %v %v %v %v %v", m.From, m.To, m.Center, m.Sweep, m.Feed, m.Speed))
		}
	}
	return list
}

// Cut off at any strand's place to start again, the rest is a sound program that
// cuts the same from there on.
func TestRestart(t *testing.T) {
	eachDialect(t, func(t *testing.T, o ngc.Options) {
		s := setting(o)
		p := plan()
		text, _ := written(t, p, s)
		whole := readBack(t, text, o)
		lines := strings.SplitAfter(text, "\n")
		var starts []int
		for i, line := range lines {
			if strings.Contains(line, " G17 ") {
				starts = append(starts, i)
			}
		}
		if len(starts) != len(p.Runs) {
			t.Fatalf("%d places to start from for %d strands", len(starts), len(p.Runs))
		}
		for _, from := range starts {
			rest := strings.Join(lines[from:], "")
			checkText(t, rest, s.NGC)
			moves := readBack(t, rest, o)
			checkMoves(t, moves, s)
			behind := slices.IndexFunc(whole, func(m ngc.Move) bool { return int(m.Line) > from })
			want, got := cuts(whole[behind:]), cuts(moves)
			if !slices.Equal(want, got) || len(got) == 0 {
				t.Errorf("from line %d: %d cuts, want %d", from+1, len(got), len(want))
			}
		}
		if !o.Bare && strings.Count(text, "the program can be started again from here") != len(p.Runs) {
			t.Errorf("the places aren't reported:\n%s", text)
		}
	})
}

// The program follows the plan: read back, the cuts of a pass are as long as its
// moves, end where it ends and go as deep; and each lies in the pass's section,
// no other move does.
func TestSectionsFollowThePlan(t *testing.T) {
	eachDialect(t, func(t *testing.T, o ngc.Options) {
		s := setting(o)
		for _, p := range []toolpath.Plan{plan(), steep(), plan().AtDepth(0)} {
			text, sections := written(t, p, s)
			moves := readBack(t, text, o)
			i := 0
			for _, r := range p.Runs {
				for _, pass := range r.Passes {
					if i == len(sections) {
						t.Fatalf("%d sections", i)
					}
					checkSection(t, sections[i], r, pass, moves, s)
					i++
				}
			}
			if i != len(sections) {
				t.Errorf("%d sections for %d passes", len(sections), i)
			}
			for _, m := range moves {
				in := 0
				for _, sec := range sections {
					if int(m.Line) >= sec.Line && int(m.Line) <= sec.Last {
						in++
					}
				}
				cutting := (m.Kind == ngc.Line || m.Kind == ngc.Arc) && m.To.Z < -slack(s)
				if cutting != (in == 1) || in > 1 {
					t.Errorf("line %d, %v to %v, is in %d sections", m.Line, m.Kind, m.To.Z, in)
				}
			}
		}
	})
}

func checkSection(t *testing.T, sec program.Section, r toolpath.Run, pass toolpath.Pass, moves []ngc.Move, s program.Params) {
	t.Helper()
	if sec.Strand != r.Strand || sec.Name != r.Name || sec.Depth != pass.Depth || sec.Role != pass.Role {
		t.Errorf("%+v for %s, %v", sec, r.Name, pass.Depth)
	}
	var got, want float64
	var last ngc.Move
	for _, m := range moves {
		if int(m.Line) >= sec.Line && int(m.Line) <= sec.Last {
			n, _ := m.Length()
			got += n
			last = m
		}
	}
	z := r.Z
	for i := range r.Passes {
		q := r.Passes[i]
		for _, m := range q.Moves {
			if q.Depth == pass.Depth && q.Role == pass.Role {
				want += math.Hypot(m.Edge.Length(), m.Z-z)
			}
			z = m.Z
		}
	}
	// Lines that leave arcs by 0.01 mm are shorter by 8/3 s^2/c for each chord
	// c: under 0.1 mm for all of the tests' arcs.
	if math.Abs(got-want) > 0.1 {
		t.Errorf("%s %v: %v mm, want %v", r.Name, pass.Role, got, want)
	}
	end := pass.Moves[len(pass.Moves)-1]
	if last.To.Point().Dist(s.Shift.Point(end.Edge.B)) > 2*slack(s) || math.Abs(last.To.Z-end.Z) > slack(s) {
		t.Errorf("%s %v ends at %v, want %v", r.Name, pass.Role, last.To, end)
	}
}

// The head says what the maker must know, in the program's units; lines are as
// many whether the time is reported or not.
func TestHead(t *testing.T) {
	s := setting(ngc.Options{})
	text, _ := written(t, plan(), s)
	for _, want := range []string{
		"(groove: Box lid)\n", "(job lid.toml, revision b)\n", "(bit: cuts a slot of 3.175 mm, as measured)\n",
		"(zero: x0 y0 is the board's lower left corner)\n", "(zero: z0 is the top of the work)\n",
		"(board: 300 mm by 200 mm, 22 mm thick)\n", "(board: x 0.5 to 300.5 mm, y 0.25 to 200.25 mm)\n",
		"(groove: 5.175 mm wide, to 2.8 mm deep, 2 depths)\n", "(bit's centre: x 69.5 to 171.5 mm, y 29.25 to 131.25 mm)\n", "(bit's tip: z -2.8 to 10 mm)\n",
		"(feed 1200 mm/min, plunge 250 mm/min)\n", "(spindle 18000 rpm clockwise)\n", "(time about 12 min 30 s)\n",
		"grab sleeves", "ear and breathing protection", "dust", "manuals of machine and cutter, local rules and trained people come before", "dry run", "perimeter", "scrap",
	} {
		if !strings.Contains(text, want) && !strings.Contains(strings.ReplaceAll(text, ")\n(", " "), want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	s.Time = 0
	unstated, sections := written(t, plan(), s)
	_, reported := written(t, plan(), setting(ngc.Options{}))
	if !slices.Equal(reported, sections) || strings.Replace(text, "time about 12 min 30 s", "time unknown", 1) != unstated {
		t.Error("the time moves lines")
	}
	s = setting(ngc.Options{Units: ngc.Inches})
	s.Board, s.Part = nil, "strand bar.1 alone"
	text, _ = written(t, plan(), s)
	for _, want := range []string{"(bit: cuts a slot of 1/8 in, as measured)", "(board: its size is not stated in the job)", "(feed 47.2441 in/min, plunge", "(strand bar.1 alone)", "G20 G17 G90 G94\nG40 G49 G80 G54\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	s.NGC.Bare = true
	if text, _ = written(t, plan(), s); strings.ContainsAny(text, "();%") {
		t.Errorf("comments in\n%s", text)
	}
}

func TestTimes(t *testing.T) {
	for seconds, want := range map[float64]string{
		0: "unknown", 0.4: "unknown", -3: "unknown", math.NaN(): "unknown", 42.4: "about 42 s", 59.6: "about 1 min 0 s",
		750: "about 12 min 30 s", 3599.4: "about 59 min 59 s", 7500: "about 2 h 5 min", math.Inf(1): "about 277777 h 46 min",
	} {
		s := setting(ngc.Options{})
		s.Time = seconds
		if text, _ := written(t, plan(), s); !strings.Contains(text, "(time "+want+")\n") {
			t.Errorf("%v s: no %q in\n%s", seconds, want, text)
		}
	}
}

// Names that hold what no comment may are made fit.
func TestHeadIsPlain(t *testing.T) {
	s := setting(ngc.Options{})
	s.Title, s.Job, s.Zero = "Größe (1; 2)\nM3 %", "a)b?.toml", ""
	text, _ := written(t, plan(), s)
	checkText(t, text, s.NGC)
	checkMoves(t, readBack(t, text, s.NGC), s)
	if !strings.Contains(text, "(job a-b-.toml, revision b)") || !strings.Contains(text, "x0 y0 is not stated") {
		t.Errorf("%s", text)
	}
}

func TestSameBytes(t *testing.T) {
	eachDialect(t, func(t *testing.T, o ngc.Options) {
		one, _ := written(t, plan(), setting(o))
		for range 3 {
			if other, _ := written(t, plan(), setting(o)); other != one {
				t.Fatal("two programs of one plan differ")
			}
		}
	})
}

// Where the spindle turns already, programs may wait less, and say so to whoever
// starts there; the first strand's wait stays.
func TestWaits(t *testing.T) {
	for _, again := range []float64{4, 1.5, 0} {
		s := setting(ngc.Options{})
		s.Again = again
		text, _ := written(t, plan(), s)
		var waits []float64
		for _, m := range readBack(t, text, s.NGC) {
			if m.Kind == ngc.Dwell {
				waits = append(waits, m.Seconds)
			}
		}
		want := []float64{4, again}
		if again == 0 {
			want = want[:1]
		}
		if !slices.Equal(waits, want) {
			t.Errorf("waits of %v s, want %v", waits, want)
		}
		if reported := strings.Contains(text, "start again from here once the spindle is at speed)"); reported != (again < 4) {
			t.Errorf("the waits are %v s, reported: %v\n%s", waits, reported, text)
		}
	}
}

// A program may end elsewhere: straight there at the safe height, the spindle off.
func TestPark(t *testing.T) {
	eachDialect(t, func(t *testing.T, o ngc.Options) {
		s := setting(o)
		s.Park = &geom.Point{X: -12.5, Y: 300}
		var b bytes.Buffer
		if err := program.Perimeter(&b, geom.Box{Max: geom.Pt(10, 10)}, s); err != nil {
			t.Fatal(err)
		}
		groove, _ := written(t, plan(), s)
		for _, text := range []string{groove, b.String()} {
			checkText(t, text, o)
			moves := readBack(t, text, o)
			last := moves[len(moves)-2]
			if last.Kind != ngc.Rapid || last.Spindle != ngc.SpindleOff || last.Named&ngc.AxisZ != 0 && last.From.Z != last.To.Z || !high(last.To.Z, s) ||
				!last.To.Point().Near(*s.Park, slack(s)) {
				t.Errorf("it ends with %+v", last)
			}
		}
	})
}

func TestBadSettings(t *testing.T) {
	for name, change := range map[string]func(*program.Params){
		"no feed":        func(s *program.Params) { s.Feed = 0 },
		"NaN plunge":     func(s *program.Params) { s.Plunge = math.NaN() },
		"still spindle":  func(s *program.Params) { s.Speed = 0 },
		"no wait":        func(s *program.Params) { s.SpinUp = 0 },
		"no safe height": func(s *program.Params) { s.Safe = -1 },
		"long wait":      func(s *program.Params) { s.Again = s.SpinUp + 1 },
		"NaN wait":       func(s *program.Params) { s.Again = math.NaN() },
		"park":           func(s *program.Params) { s.Park = &geom.Point{X: math.NaN()} },
		"shift":          func(s *program.Params) { s.Shift.X = math.Inf(1) },
		"tiny feed":      func(s *program.Params) { s.Plunge = 1e-9 },
	} {
		s := setting(ngc.Options{})
		change(&s)
		var b bytes.Buffer
		if _, err := program.Groove(&b, plan(), s); !errors.Is(err, program.ErrSetting) || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
		if err := program.Perimeter(&b, geom.Box{Max: geom.Pt(1, 1)}, s); !errors.Is(err, program.ErrSetting) || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
	}
	if _, err := program.Groove(&bytes.Buffer{}, toolpath.Plan{}, setting(ngc.Options{})); !errors.Is(err, program.ErrNothing) {
		t.Errorf("an empty plan: %v", err)
	}
	if _, err := program.Groove(&bytes.Buffer{}, plan(), setting(ngc.Options{Decimals: 9})); !errors.Is(err, ngc.ErrValue) {
		t.Errorf("nine decimals: %v", err)
	}
	torn := plan()
	torn.Runs[1].Passes[1].Moves[0].Edge.A.X += 1
	if _, err := program.Groove(&bytes.Buffer{}, torn, setting(ngc.Options{})); !errors.Is(err, ngc.ErrValue) {
		t.Errorf("a torn plan: %v", err)
	}
}

// What can't be written is reported.
func TestFullDisk(t *testing.T) {
	if _, err := program.Groove(full{}, plan(), setting(ngc.Options{})); !errors.Is(err, errFull) {
		t.Errorf("%v", err)
	}
}

var errFull = errors.New("full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }
