package unit

import (
	"math"
	"strconv"
	"strings"
)

const (
	// maxDecimals keeps what a person may have typed and drops the noise of
	// arithmetic.
	maxDecimals = 6
	// mmDecimals and inDecimals show a micrometre and a ten-thousandth of an
	// inch (2.5 micrometres): finer than any measuring tool in the trade.
	mmDecimals = 3
	inDecimals = 4
)

// Format shows a length given in mm in the units of s, with its unit and
// without needless zeros: "5.08 mm", "0.2 in"; fractions of an inch with all their
// decimals, as wall charts have them: "0.09375 in".
func Format(mm float64, s System) string {
	return Number(mm, s) + " " + s.String()
}

// Number is Format without the unit.
func Number(mm float64, s System) string {
	switch s {
	case MM:
		return Decimal(mm, mmDecimals)
	case Inch:
		if isFraction(mm / MMPerInch) {
			return Decimal(mm/MMPerInch, maxDecimals)
		}
		return Decimal(mm/MMPerInch, inDecimals)
	}
	return Decimal(mm, mmDecimals)
}

// endless is from where not every whole number is a float64 any more (IEEE 754), so that its
// last digits mean nothing.
const endless = 1 << 53

// Decimal is a number for a sentence or a list: at most so many decimals, without
// trailing zeros, with a point whatever the language, and never "-0". What is rounded
// is the number in binary: 4.175 is a little less there, and "4.17" to two decimals.
// A slip such as 1e308 is as short as it was typed.
func Decimal(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	if math.Abs(v) >= endless {
		return strconv.FormatFloat(v, 'g', mmDecimals, 64)
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
