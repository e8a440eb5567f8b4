package build

// Hints that name a value, typed in. Whoever does what a hint says must be rid of
// its finding: of the very finding, in millimetres and in inches, whatever the
// sizes.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// sound is a job in which nothing is wrong. Lengths in angle brackets are mm, or a
// range to take one of.
const sound = `
title = "a ring"
units = "UNITS"

[motif]
[[motif.circle]]
center = [<0>, <0>]
radius = <60>

[inlay]
depth = <3>
width = <5.08>

[router]
guide = "bushing"
rider = <16>
bit = <3.175>
flute = <14>
shank = <6.35>
collar = <6>
base = <90>

[template]
web = <10>
margin = <50>
wall = <9>

[board]
size = [<400>, <400>]
thickness = <22>

[program]
feed = <900>
`

// A wrong is what makes a sound job provoke the finding of a rule, by key.
type wrong struct {
	rule string
	keys string // "router.flute = <2..2.9>; router.shank = -; ..."
}

// wrongs are jobs that provoke each rule whose hint names a value.
var wrongs = []wrong{
	{"arc-tight", `router.rider = <121..160>`},
	{"arc-tight", `motif.circle.1.radius = <4..9>`},
	{"arc-tight", `motif.circle.1.radius = <0.5..2.5>; router.rider = <5..8>; motif.circle.1.center = [<20>, <3..5>]`},
	{"thin-nose", `router.rider = <110..117>`},
	{"flip-nothing", `motif.circle.2.center = [<30..60>, <1..9>]; motif.circle.2.radius = <50..70>; weave.flip = [[<60>, <11..13>]]`},
	{"step-pitch", `template.step = 2`},
	{"thin-web", `template.web = <3..8.5>`},
	{"margin-thin", `template.margin = <4..9.5>; template.frame = <0>; router.base = <20>`},
	{"base-tips", `template.margin = <11..20>; template.frame = <0>`},
	{"base-tips", `template.margin = <12..16>; template.frame = <20..30>; router.base = <150..170>`},
	{"clamp-room", `template.frame = <20..30>; router.base = <150..170>`},
	{"frame-thin", `template.frame = <8..20>`},
	{"frame-round", `board.size = [<225>, <225>]`},
	{"board-thin", `board.thickness = <4..4.9>`},
	{"board-thin", `inlay.depth = <4..5>; board.thickness = <5.5..6.5>`},
	{"collar-long", `router.collar = <9.1..14>`},
	{"collar-long", `template.wall = <3..5>; router.collar = <5.1..6>; template.web = <9>`},
	{"collar-short", `router.collar = <0.3..1.9>`},
	{"collar-thin", `router.rider = <3.2..3.9>; router.shank = <3.175>`},
	{"glue-metal", `inlay.width = -; inlay.glue = "pva"; inlay.strips = [{ material = "bronze", thickness = <5.08> }]`},
	{"flute-short", `router.flute = <2..2.99>`},
	{"flute-short", `router.flute = <5..11.9>; router.shank = <15.5..20>`},
	{"flute-short", `router.guide = "base"; router.rider = <90>; router.flute = <3.1..5.9>; template.floor = <3>; router.shank = <12..13>`},
	{"flute-short", `router.guide = "base"; router.rider = <90>; router.flute = <3.1..3.9>; template.floor = <3>`},
	{"flute-short", `router.guide = "base"; router.rider = <90>; router.flute = <1..2.9>; template.floor = <3>`},
	{"flute-short", `router.guide = "bearing"; router.rider = <16>; router.flute = <1.5..2.9>`},
	{"flute-short", `router.guide = "pivot"; router.rider = -; router.flute = <6..11.9>`},
	{"bearing-high", `router.guide = "bearing"; router.rider = <16>; router.flute = <12..20>`},
	{"bearing-high", `router.guide = "bearing"; router.rider = <16>; router.flute = <6.1..7>; template.wall = <4..5>; template.web = <6>`},
	{"bearing-shank", `router.guide = "bearing"; router.rider = <4..6>; router.shank = <6.35..8>; router.flute = <5>`},
	{"does-not-fit", `program.widen = <6.5..9>`},
	{"beyond-machine", `program.machine = "machine-300x180"; program.feed = <1501..2500>; motif.circle.1.radius = <40>; router.rider = <12>`},
	{"beyond-machine", `program.machine = "machine-300x180"; program.plunge = <501..800>; motif.circle.1.radius = <40>; router.rider = <12>`},
	{"beyond-machine", `program.machine = "machine-300x180"; program.speed = 26500; motif.circle.1.radius = <40>; router.rider = <12>`},
	{"beyond-machine", `program.machine = "machine-300x180"; program.speed = 5000; motif.circle.1.radius = <40>; router.rider = <12>`},
	{"beyond-machine", `program.machine = "machine-300x180"; program.at = [<3..40>, <91>, -<20>]; motif.circle.1.radius = <40>; router.rider = <12>`},
	{"beyond-machine", `program.machine = "machine-300x180"; program.at = [<260..400>, -<2..40>, -<0.5..9>]; motif.circle.1.radius = <40>; router.rider = <12>`},
	{"bit-use", `program.cutter = "straight-3.175"; program.feed = <2500..6000>`},
	{"bit-use", `program.cutter = "straight-3.175"; program.feed = <100..350>; program.speed = 16000`},
	{"bit-use", `program.feed = <2100..6000>; program.speed = 15500`},
	{"bit-use", `program.feed = <900>; program.plunge = <1900..3000>; program.speed = 15500`},
	{"bit-use", `program.cutter = "straight-3.175"; program.feed = <900>; program.speed = 33000`},
	{"bit-use", `program.cutter = "straight-3.175"; program.feed = <300>; program.speed = 3000`},
	{"pivot-small", `router.guide = "pivot"; router.rider = -; motif.circle.1.radius = <4..6.9>`},
	{"beyond-machine", `program.machine = "machine-300x180"; program.safe = <43..60>; motif.circle.1.radius = <40>; router.rider = <12>; program.feed = <500>`},
	{"safe-height", `program.safe = <5..9>; stock.clamp.1.from = [<100>, <100>]; stock.clamp.1.to = [<130>, <130>]; stock.clamp.1.height = <8..21>`},
	{"bad-value", `cutting.profile = "router-1200x800"; cutting.kerf_by = "me"; cutting.kerf = <0.1..0.9>`},
	{"bed-small", `router.guide = "pivot"; router.rider = -; cutting.profile = "laser-600x400"; cutting.kerf_by = "shop"; motif.circle.1.radius = <570..590>; board.size = [<1300>, <1300>]; router.flute = <14>`},
}

var bracketed = regexp.MustCompile(`<(\d+(?:\.\d+)?)(?:\.\.(\d+(?:\.\d+)?))?>`)

// written is a text with its bracketed lengths in the units of s; of a range one is
// taken that has some odd decimals.
func written(text string, s unit.System, rnd *rand.Rand) string {
	return bracketed.ReplaceAllStringFunc(text, func(m string) string {
		part := bracketed.FindStringSubmatch(m)
		mm, _ := strconv.ParseFloat(part[1], 64)
		if part[2] == "" {
			return strconv.FormatFloat(mm/s.InMM(), 'g', -1, 64)
		}
		to, _ := strconv.ParseFloat(part[2], 64)
		mm += (to - mm) * rnd.Float64()
		if v := mm / s.InMM(); s == unit.Inch && rnd.IntN(2) == 0 {
			return strconv.FormatFloat(math.Round(v*64)/64, 'f', -1, 64)
		}
		return strconv.FormatFloat(mm/s.InMM(), 'f', 2+rnd.IntN(3), 64)
	})
}

// job is the sound job made wrong.
func (w wrong) job(s unit.System, rnd *rand.Rand) string {
	text := strings.Replace(written(sound, s, rnd), "UNITS", s.String(), 1)
	for line := range strings.SplitSeq(w.keys, ";") {
		key, value, _ := strings.Cut(strings.TrimSpace(line), " = ")
		if value == "-" { // the job is to do without it
			name := key[strings.LastIndex(key, ".")+1:]
			text = regexp.MustCompile(`(?m)^`+name+` = .*\n`).ReplaceAllString(text, "")
			continue
		}
		text, _ = typedIn(text, key, written(value, s, rnd))
	}
	return text
}

// typedIn is a job file with a value written for a key, and by how many lines what
// comes after a line has moved.
func typedIn(text, key, value string) (string, func(line int) int) {
	names := strings.Split(key, ".")
	last := len(names) - 1
	if n, err := strconv.Atoi(names[last]); err == nil { // an item of a list
		return itemTypedIn(text, strings.Join(names[:last], "."), n, value)
	}
	lines := strings.Split(text, "\n")
	from := tableOf(lines, names[:last])
	if from < 0 { // the table isn't there: it comes last
		head := "[" + strings.Join(names[:last], ".") + "]"
		if n, err := strconv.Atoi(names[max(0, last-1)]); err == nil && n > 0 {
			head = "[[" + strings.Join(names[:last-1], ".") + "]]"
		}
		return text + "\n" + head + "\n" + names[last] + " = " + value + "\n", func(n int) int { return n }
	}
	for i := from; i < len(lines) && (i == from || !strings.HasPrefix(lines[i], "[")); i++ {
		if name, _, ok := strings.Cut(lines[i], "="); ok && strings.TrimSpace(name) == names[last] {
			lines[i] = names[last] + " = " + value
			return strings.Join(lines, "\n"), func(n int) int { return n }
		}
	}
	lines = slices.Insert(lines, from, names[last]+" = "+value)
	return strings.Join(lines, "\n"), func(n int) int {
		if n > from {
			return n + 1
		}
		return n
	}
}

func seeded(n uint64) *rand.Rand { return rand.New(rand.NewPCG(n, n)) }

// tableOf is the index of the line after a table's head; negative if there is none.
func tableOf(lines, names []string) int {
	if len(names) == 0 {
		return 0
	}
	head, want := "["+strings.Join(names, ".")+"]", 1
	if n, err := strconv.Atoi(names[len(names)-1]); err == nil {
		head, want = "[["+strings.Join(names[:len(names)-1], ".")+"]]", n
	}
	for i, l := range lines {
		l, _, _ = strings.Cut(l, "#")
		if strings.TrimSpace(l) == head {
			if want--; want == 0 {
				return i + 1
			}
		}
	}
	return -1
}

// itemTypedIn writes the n-th item of a list of points that stands in one line.
func itemTypedIn(text, key string, n int, value string) (string, func(int) int) {
	name := key[strings.LastIndex(key, ".")+1:]
	line := regexp.MustCompile(`(?m)^` + name + `\s*=.*$`)
	count := 0
	return line.ReplaceAllStringFunc(text, func(l string) string {
		return regexp.MustCompile(`\[[^\[\]]*\]`).ReplaceAllStringFunc(l, func(item string) string {
			if count++; count == n {
				return value
			}
			return item
		})
	}), func(n int) int { return n }
}

// said reports whether a hint says a value: as it is typed, a place in round brackets,
// or a length that is as long.
func said(hint, value string, s unit.System) bool {
	if strings.Contains(hint, value) || strings.Contains(hint, strings.NewReplacer("[", "(", "]", ")").Replace(value)) {
		return true
	}
	want, err := unit.Eval(value, unit.Env{System: s})
	for _, m := range regexp.MustCompile(`[0-9][0-9./ ]*(mm|in)\b`).FindAllString(hint, -1) {
		if v, bad := unit.Eval(m, unit.Env{System: s}); err == nil && bad == nil && math.Abs(v-want) < 1e-9 {
			return true
		}
	}
	return false
}

// cured counts what was typed in, by rule.
type cured map[string]int

// curing is the graph of all these jobs, most of which differ in little.
var curing = func() *Graph {
	g := NewGraph(os.ReadFile)
	g.keep = 12
	return g
}()

// try types in whatever the findings of a job propose, one at a time, and returns the
// rules that proposed anything. what names the job.
func (c cured) try(t *testing.T, what, text string) (rules []string) {
	check := func(text string) Result { return curing.Check("job.toml", []byte(text), nil) }
	r := check(text)
	units := unit.MM
	if strings.Contains(text, `units = "in"`) {
		units = unit.Inch
	}
	for _, f := range r.Findings {
		c.speaks(t, what, f, units)
		for _, cure := range f.Cures {
			rules = append(rules, f.Rule)
			c[f.Rule]++
			name := fmt.Sprintf("%s: %s\n\t%s\n\t%s = %s", what, f.Error(), f.Hint, cure.Key, cure.Value)
			if !said(f.Hint, cure.Value, units) {
				t.Errorf("%s: the hint doesn't say so", name)
			}
			after, moved := typedIn(text, string(cure.Key), cure.Value)
			if after == text {
				t.Errorf("%s: it changes nothing", name)
				continue
			}
			then := check(after)
			for _, g := range then.Findings {
				same := g.Rule == f.Rule && g.Severity == f.Severity && g.Pos.Line == moved(f.Pos.Line) && g.HasAt == f.HasAt && near2(g.At, f.At)
				if same {
					t.Errorf("%s: the finding is still there: %s", name, g.Error())
				}
			}
			if g, worse := spoilt(r, then, cure.Key, moved); worse {
				t.Errorf("%s: it makes another error: %s", name, g.Error())
			}
		}
	}
	return rules
}

// namesValue is a hint that says what to write.
var namesValue = regexp.MustCompile(`\b(at least|at most|or less|[a-z_.]+ =) "?[0-9]`)

// inMM is a number of millimetres.
var inMM = regexp.MustCompile(`[0-9] ?(mm\b|mm²|cm)`)

// noKey are rules whose hints name a value that no key of the job takes, with the
// reason.
var noKey = map[string]string{
	"near-edge":      "it is the wood to be left, whichever of motif, board and origin is changed",
	"ends-near":      "it is how near ends must be, whichever is moved",
	"crossing-slant": "an angle, whichever strand is turned",
	"missing-key":    "an example of what is missing",
}

// speaks holds a finding to the units of its job, and to proposing what it names.
func (c cured) speaks(t *testing.T, what string, f diag.Finding, s unit.System) {
	if s == unit.Inch && (inMM.MatchString(f.Message) || inMM.MatchString(f.Hint)) {
		t.Errorf("%s: not in %s: %s\n\t%s", what, s, f.Error(), f.Hint)
	}
	if namesValue.MatchString(f.Hint) && len(f.Cures) == 0 && noKey[f.Rule] == "" {
		t.Errorf("%s: %s\n\t%s: nothing is proposed", what, f.Error(), f.Hint)
	}
}

func near2(a, b [2]float64) bool { return math.Hypot(a[0]-b[0], a[1]-b[1]) < 0.5 }

// spoilt is an error at a key's own line that wasn't there before.
func spoilt(before, after Result, key diag.Key, moved func(int) int) (diag.Finding, bool) {
	line := 0
	if after.Job != nil {
		line = after.Job.Pos(key).Line
	}
	for _, g := range after.Findings {
		is := func(f diag.Finding) bool { return f.Rule == g.Rule && moved(f.Pos.Line) == g.Pos.Line }
		if g.Severity == diag.Error && (after.Job == nil || g.Pos.Line == line) && !slices.ContainsFunc(before.Findings, is) {
			return g, true
		}
	}
	return diag.Finding{}, false
}

// TestCures types in what the hints of jobs propose in which something is wrong, in
// both units, and demands that each rule has been provoked.
func TestCures(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	done := cured{}
	for i, w := range wrongs {
		for _, s := range []unit.System{unit.MM, unit.Inch} {
			for seed := range uint64(1) {
				rnd := rand.New(rand.NewPCG(seed, uint64(2*i)+uint64(s)))
				text := w.job(s, rnd)
				rules := done.try(t, fmt.Sprintf("%s, %s, seed %d", w.keys, s, seed), text)
				if !slices.Contains(rules, w.rule) {
					r := Check("job.toml", []byte(text), os.ReadFile, nil)
					t.Errorf("%s in %s, seed %d, proposes nothing for %s:\n%s", w.keys, s, seed, w.rule, r.Findings.Error())
				}
			}
		}
	}
	var names []string
	sum := 0
	for rule, n := range done {
		names = append(names, fmt.Sprintf("%s %d", rule, n))
		sum += n
	}
	slices.Sort(names)
	t.Logf("%d typed in: %s", sum, strings.Join(names, ", "))
}

// TestInchesAreSpoken builds jobs in inches and holds whatever is found to speaking
// inches.
func TestInchesAreSpoken(t *testing.T) {
	for _, name := range []string{"clamps-higher-than-safe", "rider-flute-and-board-too-large", "flute-a-hair-short"} {
		path := "../../testdata/inches/" + name + ".toml"
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		r := Build(path, text, os.ReadFile, Options{Only: Templates | Programs})
		if len(r.Findings) == 0 {
			t.Errorf("%s: nothing is found", name)
		}
		for _, f := range r.Findings {
			cured{}.speaks(t, name, f, unit.Inch)
		}
	}
}

// TestSoundJob holds the job that others are made of to having no error or warning.
func TestSoundJob(t *testing.T) {
	for _, s := range []unit.System{unit.MM, unit.Inch} {
		text := wrong{keys: "inlay.depth = <3>"}.job(s, seeded(0))
		for _, f := range Check("job.toml", []byte(text), os.ReadFile, nil).Findings {
			if f.Severity > diag.Note {
				t.Errorf("in %s: %s", s, f.Error())
			}
		}
	}
}
