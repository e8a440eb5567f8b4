package conf

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

const (
	// Farthest is the largest length and coordinate in mm that makes sense: 100 m,
	// beyond any room.
	Farthest = 100_000
	// longest is how many characters a text may have; a title fills two lines of a page.
	longest = 200
	// degreeSlack in degrees lets 3 degrees be 3 degrees after their way through
	// radians.
	degreeSlack = 1e-9
)

// hintMeasure is for lengths in files that have no names.
const hintMeasure = `write 12.5, or a length with its unit in quotes: "9/64 in"`

// Bad is a value that is missing or wrong, which is reported where it is read. From then on
// it is NaN: every comparison with it is false, so one mistake is reported once.
var Bad = math.NaN()

// ErrReported ends an expression whose mistake is reported elsewhere.
var ErrReported = errors.New("reported already")

// wrongType reports that a value is of the wrong kind.
func (r *Reader) wrongType(v *Value, what, want, hint string) {
	r.Faultf(v, WrongType, "%s must be %s, not %s", what, want, v.Kind).Hintf("%s", hint)
}

// WrongType reports that a key's value is of the wrong kind.
func (s Section) WrongType(name, want string) {
	s.wrongType(s.Value.Get(name), name, want, s.Hint(name))
}

// number is a bare number or an expression, in the file's units.
func (r *Reader) number(v *Value, what string, in unit.Env) float64 {
	switch v.Kind {
	case KindInteger, KindFloat:
		return r.plain(v, what)
	case KindString:
		return r.expression(v, what, in)
	case KindTable, KindList, KindBool, KindDate:
		hint := `write 12.5, or an expression in quotes: "inset + 80 mm"`
		if r.Names == nil {
			hint = hintMeasure
		}
		r.wrongType(v, what, "a number or an expression", hint)
	}
	return Bad
}

// Expression is a bare number or an expression in the file's units.
func (r *Reader) Expression(v *Value, what string) float64 { return r.number(v, what, unit.Env{}) }

// Degrees is a bare number or an expression of an angle, in radians.
func (r *Reader) Degrees(v *Value, what string) float64 {
	return r.number(v, what, unit.Env{Angle: true}) * (math.Pi / 180)
}

// plain is a number as TOML writes it.
func (r *Reader) plain(v *Value, what string) float64 {
	x, err := strconv.ParseFloat(strings.ReplaceAll(v.Text, "_", ""), 64)
	switch {
	case strings.Contains(v.Text, "nan"), strings.Contains(v.Text, "inf"):
		r.Faultf(v, BadValue, "%s cannot be %s", what, v.Text).Hintf("write a number")
	case errors.Is(err, strconv.ErrRange):
		r.Faultf(v, BadValue, "%s is too large a number", what)
	case err != nil, len(v.Text) > 1 && (v.Text[1] == 'x' || v.Text[1] == 'o' || v.Text[1] == 'b'):
		r.Faultf(v, BadValue, "%s must be written in decimal, not as %s", what, v.Text)
	default:
		return x + 0 // no negative zero
	}
	return Bad
}

func (r *Reader) expression(v *Value, what string, in unit.Env) float64 {
	in.System, in.Lookup = r.Units, r.Lookup
	x, err := unit.Eval(v.Text, in)
	if err == nil {
		return x
	}
	var e *unit.Error
	if !errors.As(err, &e) {
		return Bad // a name whose own mistake is reported where it stands
	}
	if r.full() {
		r.miss(diag.Error)
		return Bad
	}
	hint, known := e.Hint, unit.Words()
	switch {
	case r.Names != nil:
		known = append(r.Names(), known...)
	case e.Unknown != "":
		hint = hintMeasure
	}
	if near := diag.Nearest(e.Unknown, known); near != "" {
		hint = "did you mean " + near + "?"
	}
	r.FaultAt(v.Within(e.Offset), BadExpression, "%s: %s", what, e.Msg).Hintf("%s", hint).Key = v.Key()
	return Bad
}

// Within is the place of a byte of a string's content; the value's own where the string
// holds escapes.
func (v *Value) Within(offset int) int {
	if v.textOff < 0 {
		return v.Off
	}
	return v.textOff + offset
}

// Part is some of a text's bytes as a text of their own, in their place.
func (v *Value) Part(from, to int) *Value {
	p := *v
	p.Text, p.Off = v.Text[from:to], v.Within(from)
	if v.textOff >= 0 {
		p.textOff += from
	}
	return &p
}

// A shown is how amounts of a kind are said: one that is wrong, and what bounds it.
type shown struct {
	say, most func(float64) string // with the unit
	least     func(float64) string // without it
	slack     float64
	of        string // what a length is taken by, "a minute"; " " for nothing: the unit may be wrong
}

func (r *Reader) lengths() shown {
	return shown{
		say:   func(v float64) string { return unit.Len(v).In(r.Units) },
		most:  func(v float64) string { return unit.AtMost(v).In(r.Units) },
		least: func(v float64) string { return unit.AtLeast(v).Typed().In(r.Units) },
		of:    " ",
	}
}

func (r *Reader) rates() shown {
	s := r.lengths()
	s.of = "/min"
	s.say = func(v float64) string { return unit.Rate(v).In(r.Units) }
	s.most = func(v float64) string { return unit.Rate(v).Down().In(r.Units) }
	return s
}

// plainly is numbers of a unit, or of none.
func plainly(of string) shown {
	bare := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	with := func(v float64) string { return strings.TrimSpace(bare(v) + " " + of) }
	return shown{say: bare, most: with, least: bare, slack: degreeSlack}
}

// inRange is a value if it is within its range; if not that is reported.
func (r *Reader) inRange(v *Value, what string, x float64, in Range, as shown, hint string) float64 {
	if math.IsNaN(x) || in.holds(x, as.slack) {
		return x
	}
	f := r.Faultf(v, BadValue, "%s must %s", what, in.broken(x, as))
	if as.of != "" && x > 0 {
		hint = strings.TrimSuffix(r.unitHint(as.of)+"; "+hint, "; ")
	}
	f.Hintf("%s", hint)
	return Bad
}

// broken says what a value outside the range must be.
func (r Range) broken(x float64, as shown) string {
	low := r.Low && (x < r.Least || x == r.Least && r.Above)
	switch {
	case low && r.Least == 0 && r.Above:
		return "be more than 0, not " + as.say(x)
	case low && r.Least == 0:
		return "not be negative, as " + as.say(x) + " is"
	case r.Zero:
		return "be 0, or " + as.least(r.Least) + " to " + as.most(r.Most) + ", not " + as.say(x)
	case r.Most == 0:
		return "be at least " + as.say(r.Least) + ", not " + as.say(x)
	case r.Least == 0:
		return "be at most " + as.most(r.Most) + ", not " + as.say(x)
	}
	return "be " + as.least(r.Least) + " to " + as.most(r.Most) + ", not " + as.say(x)
}

// unitHint asks whether a length has the unit that was meant.
func (r *Reader) unitHint(of string) string {
	return "is the unit right? a bare number means " + strings.TrimSpace(r.Units.Name()+of) + " here"
}

// Length is a length in mm within a range.
func (r *Reader) Length(v *Value, what string, in Range, hint string) float64 {
	x := r.number(v, what, unit.Env{}) * r.Units.InMM()
	if math.Abs(x) > Farthest {
		r.Faultf(v, BadValue, "%s of %s is beyond 100 m", what, unit.Len(x).In(r.Units)).Hintf("%s", r.unitHint(""))
		return Bad
	}
	return r.inRange(v, what, x, in, r.lengths(), hint)
}

// one reads a key's value with a hint for whatever is wrong with it, or takes its
// default: 0 where there is none.
func (s Section) one(name string, read func(v *Value, k *Key, hint string) float64) (x float64) {
	k, v := s.key(name), s.Get(name)
	switch {
	case v != nil:
		hint := s.Hint(name)
		s.hinted(hint, func() { x = read(v, k, hint) })
		return x
	case k.Must:
		return Bad
	}
	return k.value(s.Units)
}

// Length is a length in mm.
func (s Section) Length(name string) float64 {
	return s.one(name, func(v *Value, k *Key, hint string) float64 { return s.Reader.Length(v, name, k.Range, hint) })
}

// Feed is a length per minute in mm.
func (s Section) Feed(name string) float64 {
	return s.one(name, func(v *Value, k *Key, hint string) float64 {
		return s.feed(v, name, k, hint)
	})
}

func (s Section) feed(v *Value, what string, k *Key, hint string) float64 {
	return s.inRange(v, what, s.number(v, what, unit.Env{})*s.Units.InMM(), k.Range, s.rates(), hint)
}

// Angle is an angle in radians, written in degrees.
func (s Section) Angle(name string) float64 {
	return s.one(name, func(v *Value, k *Key, hint string) float64 {
		x := s.number(v, name, unit.Env{Angle: true})
		if math.Abs(x) > Farthest {
			s.Faultf(v, BadValue, "%s is far more than a full turn", name).Hintf("angles are in degrees")
			return Bad
		}
		return s.inRange(v, name, x, k.Range, plainly("degrees"), hint)
	}) * (math.Pi / 180)
}

// Ratio is a number without a unit, or an expression of one.
func (s Section) Ratio(name string) float64 {
	return s.one(name, func(v *Value, k *Key, hint string) float64 {
		return s.inRange(v, name, s.number(v, name, unit.Env{Ratio: true}), k.Range, plainly(""), hint)
	})
}

// Number is a number that is no length: of the key's unit, or none.
func (s Section) Number(name string) float64 {
	return s.one(name, func(v *Value, k *Key, hint string) float64 { return s.bare(v, name, k, hint) })
}

// bare is a number that is no expression.
func (s Section) bare(v *Value, what string, k *Key, hint string) float64 {
	if v.Kind != KindInteger && v.Kind != KindFloat {
		s.wrongType(v, what, "a number", hint)
		return Bad
	}
	return s.inRange(v, what, s.plain(v, what), k.Range, plainly(k.Unit), hint)
}

// Count is a whole number; 0 where it is wrong.
func (s Section) Count(name string) int {
	x := s.one(name, func(v *Value, k *Key, hint string) float64 {
		if v.Kind != KindInteger {
			s.wrongType(v, name, "a whole number", hint)
			return Bad
		}
		return s.bare(v, name, k, hint)
	})
	if math.IsNaN(x) {
		return 0
	}
	return int(x)
}

// Flag is true or false.
func (s Section) Flag(name string) bool {
	k, v := s.key(name), s.Get(name)
	if v == nil {
		return k.Default.In(s.Units) == "true"
	}
	if v.Kind != KindBool {
		s.wrongType(v, name, "true or false", "write true or false, without quotes")
	}
	return v.Text == "true"
}

// Word is the index of a word among the key's: of the default where it isn't given, -1
// where there is none, or the word is wrong.
func (s Section) Word(name string) int {
	k, v := s.key(name), s.Get(name)
	if v != nil {
		return s.Choice(v, name, k.Words)
	}
	for i, w := range k.Words {
		if k.Default.In(s.Units) == strconv.Quote(w) {
			return i
		}
	}
	return -1
}

// Choice is the index of a value among words, -1 if it is none of them, which is reported.
func (r *Reader) Choice(v *Value, what string, words []string) int {
	hint := "write one of: " + quoted(words)
	if v.Kind != KindString {
		r.wrongType(v, what, "a word in quotes", hint)
		return -1
	}
	for i, w := range words {
		if v.Text == w {
			return i
		}
	}
	if near := diag.Nearest(strings.ToLower(v.Text), words); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	r.Faultf(v, BadValue, "%s cannot be %q", what, v.Text).Hintf("%s", hint)
	return -1
}

// Text is a line of text; "" where it isn't given.
func (s Section) Text(name string) string {
	if v := s.Get(name); v != nil {
		return s.Reader.Text(v, name)
	}
	return ""
}

// Name is a line of text without space round it that can't be empty.
func (s Section) Name(name string) string {
	v := s.Get(name)
	if v == nil {
		return ""
	}
	text := strings.TrimSpace(s.Reader.Text(v, name))
	if v.Kind == KindString && strings.TrimSpace(v.Text) == "" {
		s.Faultf(v, BadValue, "%s is empty", name).Hintf("%s", s.Hint(name))
	}
	return text
}

// Text is a line of text; "" if it was wrong and reported.
func (r *Reader) Text(v *Value, what string) string {
	switch {
	case v.Kind != KindString:
		r.wrongType(v, what, "text", "write it in quotes")
	case strings.ContainsFunc(v.Text, func(c rune) bool { return c < ' ' || c == 0x7f }):
		r.Faultf(v, BadValue, "%s must be one line without control characters", what)
	case len([]rune(v.Text)) > longest:
		r.Faultf(v, BadValue, "%s is longer than %d characters", what, longest)
	default:
		return v.Text
	}
	return ""
}

// list is the list that the key takes, among what else it may.
func (k Key) list() Type {
	for _, t := range append(k.Is.of, k.Is) {
		if t.form == formList {
			return t
		}
	}
	return k.Is
}

// Items are the values of a key that is a list of n values, or of any number where n is
// 0; none where it isn't given, or is no such list, which is reported.
func (s Section) Items(name string, n int) []*Value {
	k, v := s.key(name), s.Get(name)
	t := k.list()
	switch {
	case v == nil:
		return nil
	case v.Kind != KindList:
		want := t.list()
		if k.Is.form == formEither {
			want += ", or " + quoted(k.Words)
		}
		s.wrongType(v, name, want, s.Hint(name))
		return nil
	case n > 0 && len(v.Items) != n:
		s.Faultf(v, WrongType, "%s must have %s %s, not %d", name, count(n), t.of[0].plural(), len(v.Items)).Hintf("%s", s.Hint(name))
		return nil
	}
	return v.Items
}

// Fill reads a list of as many values as into has, and reports whether it is given; what
// is wrong is reported.
func (s Section) Fill(name string, into []float64) bool {
	k, items := s.key(name), s.Items(name, len(into))
	hint, of := s.Hint(name), s.key(name).list().of[0].form
	s.hinted(hint, func() {
		for i, item := range items {
			what := name
			if len(into) == 3 {
				what += ": " + string(rune('x'+i))
			}
			switch of {
			case formLength:
				into[i] = s.Reader.Length(item, what, k.Range, hint)
			case formFeed:
				into[i] = s.feed(item, what, k, hint)
			default:
				into[i] = s.bare(item, what, k, hint)
			}
		}
	})
	return len(items) > 0
}

// value is a number's default, in mm or in the key's unit; 0 where there is none.
func (k Key) value(u unit.System) float64 {
	text := k.Default.In(u)
	if text == "" {
		return 0
	}
	env := unit.Env{System: u}
	if k.Is.form == formAngle {
		env.Angle = true
	}
	x, _ := unit.Eval(text, env) // a test reads every default
	if k.Is.form == formLength || k.Is.form == formFeed {
		return x * u.InMM()
	}
	return x
}

// assumed is the default as notes have it: "8 mm", "true"; "" where there is none.
func (k Key) assumed(u unit.System) string {
	text := k.Default.In(u)
	switch {
	case k.Said != "":
		return k.Said
	case text == "":
		return ""
	case k.Is.form == formLength:
		return unit.Len(k.value(u)).In(u)
	case k.Is.form == formAngle:
		return text + " degrees"
	}
	return strings.TrimSpace(text + " " + k.Unit)
}
