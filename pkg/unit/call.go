package unit

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// A function takes at least min arguments, at most max (-1: any number).
type function struct {
	name     string
	min, max int
	f        func(x []float64) (float64, error)
}

// functions in the order of the job file's description.
var functions = []function{
	{"sqrt", 1, 1, sqrt},
	{"hypot", 2, 2, func(x []float64) (float64, error) { return math.Hypot(x[0], x[1]), nil }},
	{"abs", 1, 1, func(x []float64) (float64, error) { return math.Abs(x[0]), nil }},
	{"min", 1, -1, func(x []float64) (float64, error) { return slices.Min(x), nil }},
	{"max", 1, -1, func(x []float64) (float64, error) { return slices.Max(x), nil }},
	{"sin", 1, 1, func(x []float64) (float64, error) { s, _ := sincos(x[0]); return s, nil }},
	{"cos", 1, 1, func(x []float64) (float64, error) { _, c := sincos(x[0]); return c, nil }},
	{"tan", 1, 1, tan},
	{"asin", 1, 1, func(x []float64) (float64, error) { return inverse(math.Asin, x[0]) }},
	{"acos", 1, 1, func(x []float64) (float64, error) { return inverse(math.Acos, x[0]) }},
	{"atan", 1, 1, func(x []float64) (float64, error) { return degrees(math.Atan(x[0])), nil }},
	{"atan2", 2, 2, atan2},
}

// Words are the names that expressions know by themselves, in a fixed order:
// the functions and pi.
func Words() []string {
	words := []string{"pi"}
	for _, f := range functions {
		words = append(words, f.name)
	}
	return words
}

// CheckName says why a name cannot be defined, or nil if it can: it must be
// letters, digits and _, begin with no digit, and be no unit or function.
func CheckName(name string) error {
	p := parser{src: name}
	if _, ok := unitInMM(name); ok {
		return fmt.Errorf("%q is a unit", name)
	}
	if slices.Contains(Words(), name) {
		return fmt.Errorf("%q already means something in expressions", name)
	}
	if name == "" || p.nameLen(0) != len(name) {
		return fmt.Errorf("%q cannot be used in expressions: a name is letters, digits and _, a letter first", name)
	}
	return nil
}

func (p *parser) nameOrCall() (float64, error) {
	start := p.pos
	p.pos += p.nameLen(start)
	name := p.src[start:p.pos]
	after := p.pos
	if p.space(); p.peek() == '(' {
		return p.call(name, start)
	}
	p.pos = after
	v, err := p.value(name, start)
	if err != nil {
		return 0, err
	}
	return v, p.noUnit(fmt.Sprintf("the name %q", name))
}

func (p *parser) value(name string, start int) (float64, error) {
	if name == "pi" {
		return math.Pi, nil
	}
	if _, ok := unitInMM(name); ok {
		return 0, p.fail(start, fmt.Sprintf("the unit %q has no number before it", name), "write 1 "+name)
	}
	if slices.ContainsFunc(functions, func(f function) bool { return f.name == name }) {
		return 0, p.fail(start, fmt.Sprintf("%q is a function", name), fmt.Sprintf("write %s(...)", name))
	}
	err := ErrUndefined
	var v float64
	if p.env.Lookup != nil {
		v, err = p.env.Lookup(name)
	}
	if errors.Is(err, ErrUndefined) {
		return 0, &Error{Offset: start, Msg: fmt.Sprintf("%q is not defined", name), Hint: "define it in [let]", Unknown: name}
	}
	if err != nil {
		return 0, err
	}
	return p.finite(start, v)
}

func (p *parser) call(name string, start int) (float64, error) {
	i := slices.IndexFunc(functions, func(f function) bool { return f.name == name })
	if i < 0 {
		return 0, &Error{
			Offset: start, Msg: fmt.Sprintf("there is no function %q", name),
			Hint: "functions are sqrt hypot abs min max sin cos tan asin acos atan atan2", Unknown: name,
		}
	}
	args, err := p.args()
	if err != nil {
		return 0, err
	}
	f := functions[i]
	if len(args) < f.min || f.max >= 0 && len(args) > f.max {
		return 0, p.fail(start, fmt.Sprintf("%s takes %s, not %d", name, f.count(), len(args)),
			"a comma separates arguments; decimals have a point")
	}
	v, err := f.f(args)
	if err != nil {
		return 0, p.fail(start, err.Error(), "")
	}
	p.unit = false
	if v, err = p.finite(start, v); err != nil {
		return 0, err
	}
	return v, p.noUnit("a function")
}

func (f function) count() string {
	switch {
	case f.max < 0:
		return "one argument or more"
	case f.max == 1:
		return "one argument"
	}
	return fmt.Sprintf("%d arguments", f.max)
}

// args reads the arguments from the opening bracket to the closing one.
func (p *parser) args() ([]float64, error) {
	outer := p.inCall
	p.inCall = true
	defer func() { p.inCall = outer }()
	open := p.pos
	var args []float64
	for {
		v, err := p.inside(open)
		if err != nil {
			return nil, err
		}
		args = append(args, v)
		switch p.peek() {
		case ',':
		case ')':
			p.pos++
			return args, nil
		default:
			return nil, p.unclosed(open)
		}
	}
}

func degrees(rad float64) float64 { return rad * (180 / math.Pi) }

// sincos is the sine and cosine of an angle in degrees, exact at every
// quarter turn: the quarters are taken off in degrees, where they are whole.
func sincos(deg float64) (sin, cos float64) {
	rest := math.Remainder(deg, 90)
	quarters := math.Round((deg - rest) / 90)
	s, c := math.Sincos(rest * (math.Pi / 180))
	switch math.Mod(math.Mod(quarters, 4)+4, 4) {
	case 1:
		return c, -s
	case 2:
		return -s, -c
	case 3:
		return -c, s
	}
	return s, c
}

func sqrt(x []float64) (float64, error) {
	if x[0] < 0 {
		return 0, errors.New("the square root of a negative number")
	}
	return math.Sqrt(x[0]), nil
}

func tan(x []float64) (float64, error) {
	s, c := sincos(x[0])
	if c == 0 {
		return 0, errors.New("the tangent of a right angle is infinite")
	}
	return s / c, nil
}

func inverse(f func(float64) float64, x float64) (float64, error) {
	if x < -1 || x > 1 {
		return 0, errors.New("a sine or cosine is between -1 and 1")
	}
	return degrees(f(x)), nil
}

func atan2(x []float64) (float64, error) {
	if x[0] == 0 && x[1] == 0 {
		return 0, errors.New("atan2(0, 0) has no direction")
	}
	return degrees(math.Atan2(x[0], x[1])), nil
}
