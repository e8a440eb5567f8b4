package profile

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// RulePaper is the rule of findings about paper.
const RulePaper = "bad-paper"

const (
	// ProofBar is the length in mm of the bars that are printed for measuring
	// what the printer does: the longest round one that A4 and Letter hold.
	ProofBar = 150.0
	// MaxStretch is the largest part by which a printer may be out and be
	// corrected. Printers are out by up to a percent (common practice); more
	// is a page that was fitted to the paper, or another bar.
	MaxStretch = 0.03
	// DefaultMargin in mm is what is not printed at a sheet's edges
	// unless given: desktop printers leave 3 to 6, some 10 at the lower edge
	// (common practice).
	DefaultMargin = 10.0
	// DefaultMarginIn is the same in mm for whoever works in inches: 0.4 in.
	DefaultMarginIn = 0.4 * unit.MMPerInch
	// MaxMargin in mm leaves room for the proof bars across A4.
	MaxMargin = 18.0
	// MaxPage in mm is the largest side of a page: 14,400 units of 1/72 in
	// (PDF Reference, sixth edition, appendix C, implementation limits). What
	// is longer is split; a page with larger units would be scaled by readers
	// that don't know them.
	MaxPage = 14400 * unit.MMPerInch / 72
	// minRoll in mm holds the proof bars.
	minRoll = 200.0
)

// A Paper is what patterns are printed on, upright, and what is known of the
// printer. Lengths are mm.
type Paper struct {
	Name          string  // "A4", "roll 610 mm"
	Width, Height float64 // of a sheet, Width the shorter; of a roll Height is the longest page
	Roll          bool    // pages are as long as they need to be, up to Height
	Margin        float64 // that the printer leaves clear on each side
	// Measured are the printed proof bars' lengths across the sheet's short
	// side (the roll's width) and along its long side; 0 when not measured.
	Measured [2]float64
	// Diagonals are the printed proof square's: from lower left to upper
	// right, then the other; 0 when not measured.
	Diagonals [2]float64
}

// sizes are of ISO 216 and of ANSI/ASME Y14.1 and US office practice: width
// and height in mm, upright.
var sizes = []Paper{
	{Name: "A4", Width: 210, Height: 297},
	{Name: "Letter", Width: 8.5 * unit.MMPerInch, Height: 11 * unit.MMPerInch},
	{Name: "A3", Width: 297, Height: 420},
	{Name: "Tabloid", Width: 11 * unit.MMPerInch, Height: 17 * unit.MMPerInch},
	{Name: "Legal", Width: 8.5 * unit.MMPerInch, Height: 14 * unit.MMPerInch},
}

// Papers are the names of the known sizes of sheets.
func Papers() []string {
	var list []string
	for _, p := range sizes {
		list = append(list, p.Name)
	}
	return list
}

// OpenPaper finds a paper: a known size by its name, a roll as "roll 610 mm",
// or a printer's file if name holds a slash or ends in .toml, read with
// readFile. The error is a diag.Findings; findings about the name itself
// carry no position.
func OpenPaper(name string, readFile func(path string) ([]byte, error)) (Paper, error) {
	if IsPath(name) {
		data, err := readFile(name)
		if err != nil {
			var found diag.Findings
			found.ErrorAt(diag.Position{}, RulePaper, "the printer's file %q cannot be read: %v", name, err).
				Hintf("a path is taken from the job file's folder")
			return Paper{}, found
		}
		return ParsePrinter(name, data)
	}
	p, text, hint, ok := named(name)
	if !ok {
		var found diag.Findings
		found.ErrorAt(diag.Position{}, RulePaper, "%s", text).Hintf("%s", hint)
		return Paper{}, found
	}
	p.Margin = DefaultMargin
	return p, nil
}

// named is a paper by its name; text says what is wrong with one that is not ok.
func named(name string) (p Paper, text, hint unit.Text, ok bool) {
	for _, p := range sizes {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return p, text, hint, true
		}
	}
	lower := strings.ToLower(strings.TrimSpace(name))
	if width, ok := strings.CutPrefix(lower, "roll"); ok {
		return roll(strings.TrimSpace(width))
	}
	all := Papers()
	known := "known are " + strings.Join(all, ", ") + `, and rolls such as "roll 610 mm"`
	var lowered []string
	for _, s := range all {
		lowered = append(lowered, strings.ToLower(s))
	}
	if near := diag.Nearest(lower, lowered); near != "" {
		for _, s := range all {
			if strings.ToLower(s) == near {
				known = fmt.Sprintf("did you mean %q? ", s) + known
			}
		}
	}
	return Paper{}, unit.Say("there is no paper %q", name), unit.Say("%s", known), false
}

// roll is a roll of a width that is written with its unit.
func roll(width string) (p Paper, text, hint unit.Text, ok bool) {
	example := unit.Say(`write its width with the unit: "roll 610 mm" or "roll 24 in"`)
	if width == "" || !strings.ContainsAny(width, `abcdefghijklmnopqrstuvwxyz"`) {
		return Paper{}, unit.Say("a roll needs its width"), example, false
	}
	mm, err := unit.Eval(width, unit.Env{})
	if err != nil {
		return Paper{}, unit.Say("the roll's width: %v", err), example, false
	}
	if !(mm >= minRoll && mm <= MaxPage) {
		return Paper{}, unit.Say("a roll of %s can't be used", unit.Len(mm)),
			unit.Say("rolls are from %s, which the proof bars need, to %s wide", unit.AtLeast(minRoll), unit.AtMost(MaxPage)), false
	}
	return Paper{Name: "roll " + width, Width: mm, Height: MaxPage, Roll: true}, text, hint, true
}

// CheckMargin says what is wrong with a margin in mm, and what to write, unless
// it is ok.
func CheckMargin(mm float64) (text, hint unit.Text, ok bool) {
	if mm >= 0 && mm <= MaxMargin {
		return text, hint, true
	}
	return unit.Say("a margin of %s can't be used", unit.Len(mm)),
		unit.Say("it is the edge that the printer leaves clear, from 0 to %s", unit.AtMost(MaxMargin)), false
}

// CheckMeasured says what is wrong with the measured length in mm of what
// should be want mm long, unless it is ok.
func CheckMeasured(mm, want float64) (text, hint unit.Text, ok bool) {
	off := mm/want - 1
	if math.Abs(off) <= MaxStretch {
		return text, hint, true
	}
	return unit.Say("%s for %s is %.1f %% out, more than any printer is", unit.Len(mm), unit.Len(want), 100*off),
		unit.Say("print page one at actual size, not fitted to the page, and measure the bars of %s or the square's diagonals again", unit.Len(ProofBar)), false
}

// ProofDiagonal is the length in mm of the proof square's diagonals.
var ProofDiagonal = ProofBar * math.Sqrt2

// Scale is by how much a page is drawn larger, across the sheet's short side
// and along its long side, so that the bars print true; 1 where nothing was
// measured.
func (p Paper) Scale() (short, long float64) {
	short, long = 1, 1
	if p.Measured[0] > 0 && p.Measured[1] > 0 {
		short, long = ProofBar/p.Measured[0], ProofBar/p.Measured[1]
	}
	return short, long
}

// Corrected reports whether the printer was measured and is out.
func (p Paper) Corrected() bool {
	short, long := p.Scale()
	return short != 1 || long != 1
}

// Skew is the angle in degrees by which the printer's axes are out of square,
// positive where they include less than a right angle: with the sides a and b
// and the diagonals d and e of a parallelogram, d^2 - e^2 = 4 a b sin(skew).
func (p Paper) Skew() float64 {
	d, e := p.Diagonals[0], p.Diagonals[1]
	if d == 0 || e == 0 {
		return 0
	}
	short, long := p.Scale()
	a, b := ProofBar/short, ProofBar/long
	return math.Asin((d*d-e*e)/(4*a*b)) * 180 / math.Pi
}
