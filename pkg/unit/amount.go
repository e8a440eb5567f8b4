package unit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// An Amount is part of a sentence that is printed in the units of whoever reads
// it. The stages of a job think in mm and don't know who reads: they put amounts
// into their sentences, and whoever shows them says in which units.
type Amount interface {
	In(s System) string
}

// side is the side to which a number is rounded.
type side int

const (
	nearest side = iota
	up           // so that "at least" holds
	down         // so that "at most" holds
)

// dimension is what a number measures.
type dimension int

const (
	length dimension = iota
	area
	rate
	chip
	edgeSpeed
	volume
)

// A Quantity is a length, an area, a volume, a feed or a speed, printed with its unit: "3.175 mm",
// "1/8 in", "18.36 mm²", "250 mm/min". Inches are a fraction where it is exact,
// else decimals to a thousandth. It is an Amount, and in a plain fmt verb is
// printed in mm.
type Quantity struct {
	mm       float64 // mm, mm², mm³ or mm/min
	dim      dimension
	side     side
	bare     bool // without the unit, as a number is typed
	rough    bool // to a tenth of a millimetre or a hundredth of an inch
	decimals int  // more than the usual number, if not 0
}

// Len is a length in mm.
func Len(mm float64) Quantity { return Quantity{mm: mm} }

// Area is an area in mm².
func Area(mm2 float64) Quantity { return Quantity{mm: mm2, dim: area} }

// Volume is a volume in mm³, of what is poured: "1.9 ml", "0.12 in³".
func Volume(mm3 float64) Quantity { return Quantity{mm: mm3, dim: volume} }

// Rate is a feed in mm/min.
func Rate(mm float64) Quantity { return Quantity{mm: mm, dim: rate} }

// ChipLoad is what each tooth of a bit takes off, in mm: "0.0375 mm".
func ChipLoad(mm float64) Quantity { return Quantity{mm: mm, dim: chip} }

// EdgeSpeed is how fast cutting edges go, in m/min; in inches it is printed in
// feet: "160 m/min", "524 ft/min".
func EdgeSpeed(m float64) Quantity { return Quantity{mm: m * mmPerMetre, dim: edgeSpeed} }

// AtLeast is a length in mm that is rounded up: whoever writes what is printed
// has written enough.
func AtLeast(mm float64) Quantity { return Len(mm).Up() }

// AtMost is a length in mm that is rounded down, never below nought.
func AtMost(mm float64) Quantity { return Len(math.Max(0, mm)).Down() }

// Up is q rounded up where it is printed.
func (q Quantity) Up() Quantity { q.side = up; return q }

// Down is q rounded down where it is printed.
func (q Quantity) Down() Quantity { q.side = down; return q }

// Typed is q as it is typed after a key or a letter: a decimal number without
// its unit.
func (q Quantity) Typed() Quantity { q.bare = true; return q }

// Rough is q as what is laid out or looked for is given: to a tenth of a millimetre
// or a hundredth of an inch.
func (q Quantity) Rough() Quantity { q.rough = true; return q }

// Apart is two lengths in mm with as many decimals as it takes to see that they
// differ, for sentences that compare them.
func Apart(a, b float64) (Quantity, Quantity) {
	p, q := Len(a), Len(b)
	for d := mmDecimals; a != b && d <= maxApart; d++ {
		// As decimals: 1/8 in is not seen to differ from 0.125 in.
		if p.Typed().In(MM) != q.Typed().In(MM) && p.Typed().In(Inch) != q.Typed().In(Inch) {
			break
		}
		p.decimals, q.decimals = d+1, d+1
	}
	return p, q
}

const (
	// maxApart is the decimals at which Apart gives up: an atom's width.
	maxApart = 9
	// sidedDecimals of a length of 1 mm or more that is rounded to a side: what a
	// caliper shows. Whoever is given a bound wants a number to type.
	sidedDecimals = 2
	// roughDecimals of a millimetre are what a rule shows; of an inch there is one more.
	roughDecimals = 1
	// thousandths of an inch are what the trade's calipers show.
	thousandths = 3
	// exactly is how near in inches a length must be to a fraction to be one: what
	// arithmetic in binary loses of lengths up to a hundred metres.
	exactly  = 1e-9
	mm3PerMl = 1000
	// mmPerMetre and mmPerFoot are exact by definition.
	mmPerMetre, mmPerFoot = 1000, 12 * MMPerInch
	// roundSlack takes a number as being on a step of its last decimal, in steps.
	roundSlack = 1e-6
)

// String is the quantity in mm.
func (q Quantity) String() string { return q.In(MM) }

// In is the quantity in the units of s.
func (q Quantity) In(s System) string {
	v, suffix := q.mm, " mm"
	if s == Inch {
		v, suffix = v/MMPerInch, " in"
	}
	switch q.dim {
	case length:
		if s == Inch && !q.bare && q.decimals == 0 {
			if text, ok := fraction(v); ok {
				return text + suffix
			}
		}
	case area:
		suffix += "²"
		if s == Inch {
			v /= MMPerInch
		}
	case rate:
		suffix += "/min"
	case chip:
	case volume:
		v, suffix = q.mm/mm3PerMl, " ml"
		if s == Inch {
			v, suffix = q.mm/(MMPerInch*MMPerInch*MMPerInch), " in³"
		}
	case edgeSpeed:
		v, suffix = v/mmPerMetre, " m/min"
		if s == Inch {
			v, suffix = q.mm/mmPerFoot, " ft/min"
		}
	}
	text := q.number(v, s)
	if q.bare {
		return text
	}
	return text + suffix
}

// number writes v, which is in the units of s.
func (q Quantity) number(v float64, s System) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	d := q.places(v, s)
	step := math.Pow10(d)
	switch q.side {
	case nearest:
	case up:
		v = math.Ceil(v*step-roundSlack) / step
	case down:
		v = math.Floor(v*step+roundSlack) / step
	}
	return Decimal(v, d)
}

// places is how many decimals v is shown with: at least two digits that count, of a
// chip load three.
func (q Quantity) places(v float64, s System) int {
	d, digits := max(thousandths, q.decimals), 2
	if s == MM {
		d = max(mmDecimals, q.decimals)
		if q.side != nearest && math.Abs(v) >= 1 {
			d = sidedDecimals
		}
	}
	if q.rough && math.Abs(v) >= 1 {
		d = roughDecimals
		if s == Inch {
			d++
		}
	}
	switch q.dim {
	case length:
		if q.bare && s == Inch && isFraction(v) {
			return maxDecimals // a fraction written out: 1/64 is 0.015625
		}
	case area:
		if s == MM {
			d = 2
		}
	case rate:
		d = 2
		if math.Abs(v) >= 100 {
			d = 0
		}
	case edgeSpeed:
		return 0
	case volume:
		d = roughDecimals
	case chip:
		digits = 3
	}
	if a := math.Abs(v); a > 0 && a < 1 {
		d = max(d, min(maxApart, digits-1-int(math.Floor(math.Log10(a)))))
	}
	return d
}

// A Place is a point on the work, mm, printed as "(69.3, 40) mm". It is an
// Amount.
type Place struct {
	X, Y  float64
	typed bool
}

// Typed is p as a point is typed in a job: "[69.3, 40]".
func (p Place) Typed() Place { p.typed = true; return p }

// String is the place in mm.
func (p Place) String() string { return p.In(MM) }

// In is the place in the units of s.
func (p Place) In(s System) string {
	d := 2
	if s == Inch {
		d = thousandths
	}
	x, y := Decimal(p.X/s.InMM(), d), Decimal(p.Y/s.InMM(), d)
	if p.typed {
		return "[" + x + ", " + y + "]"
	}
	return "(" + x + ", " + y + ") " + s.String()
}

// A Text is a sentence with amounts in it, made like fmt.Sprintf. It is an Amount
// itself, so that texts can be parts of one another.
type Text struct {
	format string
	args   []any
	mm     string // with its amounts in mm
}

// Say is a sentence. Those of its arguments that are an Amount are printed in the
// reader's units, with %s.
func Say(format string, args ...any) Text {
	return Text{format: format, args: args, mm: fmt.Sprintf(format, args...)}
}

// Join is texts with sep between them.
func Join(texts []Text, sep string) Text {
	args := make([]any, len(texts))
	for i, t := range texts {
		args[i] = t
	}
	return Say(strings.Join(slices.Repeat([]string{"%s"}, len(texts)), strings.ReplaceAll(sep, "%", "%%")), args...)
}

// List is texts as a sentence has them: "a", "a and b", "a, b and c".
func List(texts []Text) Text {
	if n := len(texts); n > 1 {
		return Say("%s and %s", Join(texts[:n-1], ", "), texts[n-1])
	}
	return Join(texts, "")
}

// String is the text with its amounts in mm.
func (t Text) String() string { return t.mm }

// In is the text with its amounts in the units of s.
func (t Text) In(s System) string {
	if s == MM {
		return t.mm
	}
	args := make([]any, len(t.args))
	for i, a := range t.args {
		if amount, ok := a.(Amount); ok {
			a = amount.In(s)
		}
		args[i] = a
	}
	return fmt.Sprintf(t.format, args...)
}

// HasAmounts reports whether the text reads otherwise in other units.
func (t Text) HasAmounts() bool {
	for _, a := range t.args {
		if _, ok := a.(Amount); ok {
			return true
		}
	}
	return false
}
