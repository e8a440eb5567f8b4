// Package unit reads lengths and angles as people write them, and shows
// lengths and times as people read them.
package unit

// System is what a bare number means.
type System int

const (
	// MM is millimetres.
	MM System = iota
	// Inch is inches of exactly 25.4 mm (ISO 80000-3; the international inch
	// of 1959).
	Inch
)

// MMPerInch is exact by definition.
const MMPerInch = 25.4

var systemWords = [...]string{
	MM:   "mm",
	Inch: "in",
}

// String is the system's word in files: mm or in.
func (s System) String() string { return Word(systemWords[:], s, "system") }

// Name is what the units are called in a sentence: mm or inches.
func (s System) Name() string {
	if s == Inch {
		return "inches"
	}
	return s.String()
}

// InMM is the number of millimetres in one unit of s.
func (s System) InMM() float64 {
	switch s {
	case MM:
		return 1
	case Inch:
		return MMPerInch
	}
	return 1
}
