package paper

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// sixInches is the length in mm of the bars for a rule in inches.
const sixInches = 6 * unit.MMPerInch

// proof makes page one: bars to measure, a square with its diagonals, and what
// to do about what was measured. x is across the sheet's short side and y along
// its long one, so the page is always upright.
func (b *binder) proof() []Page {
	f := b.flow()
	f.down(huge)
	f.put(0, "Print at actual size", huge, true)
	f.para("100 %, not fitted to the page, and not from a browser. This page proves it: measure it before you cut anything.", medium, 0)
	f.skip(3)
	corner := geom.Pt(f.area().Min.X+13, f.y-profile.ProofBar-4)
	b.proofSquare(f.page(), corner)
	f.y = corner.Y - 13
	for _, text := range b.proofWords() {
		f.para(text, small, 0)
		f.skip(0.8)
	}
	return f.pages
}

// proofSquare draws the square, whose lower and left sides are the bars, its
// diagonals, and the bars of 6 in outside it.
func (b *binder) proofSquare(p *Page, o geom.Point) {
	side := profile.ProofBar
	x, y := geom.Pt(1, 0), geom.Pt(0, 1)
	p.box(penThin, geom.Box{Min: o, Max: o.Add(geom.Pt(side, side))})
	p.line(penPoint, o, o.Add(geom.Pt(side, side)))
	p.line(penPoint, o.Add(geom.Pt(side, 0)), o.Add(geom.Pt(0, side)))
	mm := rule{step: 1, half: 5, long: 10, num: 10, unit: 1}
	inch := rule{step: unit.MMPerInch / 16, half: 8, long: 16, num: 16, unit: unit.MMPerInch}
	const apart = 3.0
	proofBar(p, o, x, y, side, mm, "x: 150 mm")
	proofBar(p, o, y, x, side, mm, "y: 150 mm")
	proofBar(p, o.Sub(y.Scale(apart)), x, y.Scale(-1), sixInches, inch, "x: 6 in")
	proofBar(p, o.Sub(x.Scale(apart)), y, x.Scale(-1), sixInches, inch, "y: 6 in")
	say := func(at geom.Point, angle float64, text string) {
		up := geom.Pt(0, 1.2).Turn(angle)
		p.text(Text{At: at.Add(up), String: text, Size: small, Angle: angle, Align: Center})
	}
	quarter := geom.Pt(side, side).Scale(0.73)
	say(o.Add(quarter), math.Pi/4, "first diagonal: "+b.diagonal())
	say(o.Add(geom.Pt(side-quarter.X, quarter.Y)), -math.Pi/4, "second diagonal: "+b.diagonal())
}

// proofBar draws a bar from o: a line with ticks to the side in, numbers, end
// marks that reach beyond it, and what it is.
func proofBar(p *Page, o, dir, in geom.Point, length float64, r rule, say string) {
	p.line(penThin, o, o.Add(dir.Scale(length)))
	n := int(math.Round(length / r.step))
	angle := 0.0
	if dir.Y != 0 {
		angle = math.Pi / 2
	}
	for i := 0; i <= n; i++ {
		tick := tickShort
		switch {
		case i == 0 || i == n:
			tick = 2 * tickLong
		case i%r.long == 0:
			tick = tickLong
		case i%r.half == 0:
			tick = tickHalf
		}
		at := o.Add(dir.Scale(float64(i) * r.step))
		p.line(penProof, at, at.Add(in.Scale(tick)))
		if i%r.num != 0 || i == 0 || i == n {
			continue
		}
		base := at.Add(in.Scale(tickLong + 0.5))
		if in.Y < 0 || in.X > 0 {
			base = base.Add(in.Scale(capHeight * 2))
		}
		p.text(Text{At: base, String: unit.Decimal(float64(i)*r.step/r.unit, 0), Size: 2, Angle: angle, Align: Center})
	}
	base := o.Add(dir.Scale(length / 2)).Add(in.Scale(tickLong + 3))
	if in.Y < 0 || in.X > 0 {
		base = base.Add(in.Scale(capHeight * small))
	}
	p.text(Text{At: base, String: say, Size: small, Bold: true, Angle: angle, Align: Center})
}

// proofWords are what to do, and what is known of the printer.
func (b *binder) proofWords() []string {
	p := b.o.Paper
	rule, typed := "The bars of 6 in are for a rule in inches.", `measured = ["148.9 mm", "150.3 mm"]  diagonals = ["212.0 mm", "212.3 mm"]`
	if b.o.inches() {
		rule, typed = "With a rule in inches measure the bars of 6 in, and write what you read in place of 5.96 and 6.01 below.", `measured = ["150 mm * 5.96 / 6", "150 mm * 6.01 / 6"]  diagonals = ["8.346 in", "8.358 in"]`
	}
	words := []string{
		fmt.Sprintf("**Measure** with a steel rule, from end mark to end mark: bar x, bar y, and both diagonals (%s when true). %s", b.diagonal(), rule),
		"**Out by several percent:** the page was fitted to the paper or to a browser's idea of it. Print again at actual size; nothing else fixes it.",
		"**Out by up to 3 percent:** write what you measured into the job file, x first, and build again; each axis is then drawn so that a bar prints true:   [paper]  " + typed,
		b.printerWords(),
		"**Unequal diagonals** mean that the printer's axes are not square to one another (skew). Scaling can't fix that: use another printer, or lay each sheet by its crosses and share the error out.",
		"**Paper itself moves** by 0.1 to 0.3 % with damp and glue, more across the grain than along it. Glue it down flat all over, let it dry, then check it again, here and at the grey bars over several sheets, before you cut.",
	}
	if skew := p.Skew(); skew != 0 {
		words = append(words, fmt.Sprintf("**This printer is out of square by %s degrees**, %s mm in 100 mm: that is in every page here, corrected or not.",
			unit.Decimal(math.Abs(skew), 2), unit.Decimal(math.Abs(100*math.Tan(skew*math.Pi/180)), 2)))
	}
	return append(words, "Saws, routers, dust and glue can hurt you: the tool's manual, the rules of the place where you work and people trained on it come before these sheets.")
}

// printerWords say what these pages were corrected by.
func (b *binder) printerWords() string {
	p := b.o.Paper
	if !p.Corrected() {
		return "**These pages are not corrected** for any printer."
	}
	x, y := p.Scale()
	return fmt.Sprintf("**These pages are corrected** for bars that printed %s (x) and %s (y) long: x is drawn %s and y %s times as large. The bars above should now be true. If they aren't, take measured out, print, and measure afresh.",
		unit.Format(p.Measured[0], b.o.Units), unit.Format(p.Measured[1], b.o.Units), factor(x), factor(y))
}

// diagonal is the proof square's, in the job's units.
func (b *binder) diagonal() string {
	if b.o.inches() {
		return unit.Decimal(profile.ProofDiagonal/unit.MMPerInch, 3) + " in"
	}
	return unit.Decimal(profile.ProofDiagonal, 1) + " mm"
}
