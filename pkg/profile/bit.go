package profile

// Speeds and feeds of a bit by the handbook formulas: the surface speed is
// v = pi d n / 1000 (v in m/min, d in mm, n in rpm), the chip
// load c = f / (n z) (f in mm/min, z teeth).

import "math"

const (
	// maxFlutes is more teeth than bits for grooves have.
	maxFlutes = 12
	// maxBitLength in mm is beyond any bit for a router.
	maxBitLength = 200
	// maxChip in mm/tooth is what large cutters take in soft board.
	maxChip = 2
	// maxSurface in m/min is beyond carbide in wood.
	maxSurface = 6000
)

// A Bit is what is known of a straight bit.
type Bit struct {
	Name     string // of a built-in one, or the path it was read from
	About    string
	Diameter float64    // mm
	Flutes   int        // teeth
	Flute    float64    // cutting length, mm; 0: not known
	Shank    float64    // its diameter, mm; 0: not known
	ChipLoad [2]float64 // mm/tooth, least and greatest; 0: not known
	Surface  [2]float64 // surface speed in m/min, least and greatest; 0: not known
	MaxSpeed float64    // rpm; 0: not known
	// From is the diameters in mm of the two built-in bits between which the chip
	// load was interpolated, twice the same where it is one's; 0: it is the bit's own.
	From [2]float64
}

// ParseBit reads a bit's profile; file is where it says its mistakes are. Its
// diameter and number of flutes must be there. The error is a diag.Findings.
func ParseBit(name, file string, data []byte) (Bit, error) {
	p, ok := begin(&bitFormat, kindBit, file, data)
	if !ok {
		return Bit{}, p.done()
	}
	b := Bit{
		Name: name, About: p.Text("about"), Diameter: p.Length("diameter"), Flutes: p.Count("flutes"), Flute: p.Length("flute"), Shank: p.Length("shank"),
		MaxSpeed: p.Number("max_speed"),
	}
	p.rising("chip_load", b.ChipLoad[:])
	p.rising("surface", b.Surface[:])
	return b, p.done()
}

// OpenBit finds a bit's profile, as OpenMachine a machine's.
func OpenBit(name string, readFile func(path string) ([]byte, error)) (Bit, error) {
	data, file, err := open(kindBit, name, readFile)
	if err != nil {
		return Bit{}, err
	}
	return ParseBit(name, file, data)
}

// Bits is all built-in bits, by name.
func Bits() []Bit {
	var list []Bit
	for _, n := range namesOf(kindBit) {
		if b, err := OpenBit(n, nil); err == nil { // a test reads every one of them
			list = append(list, b)
		}
	}
	return list
}

// SurfaceSpeed is how fast the cutting edges go at a speed in rpm, in
// m/min: pi d n / 1000.
func (b Bit) SurfaceSpeed(rpm float64) float64 { return math.Pi * b.Diameter * rpm / 1000 }

// SpeedFor is the speed in rpm that gives a surface speed in m/min:
// 1000 v / (pi d).
func (b Bit) SpeedFor(surface float64) float64 { return 1000 * surface / (math.Pi * b.Diameter) }

// ChipLoadAt is the thickness in mm that each tooth takes off at a feed in
// mm/min and a speed in rpm: f / (n z). It is infinite at no turns.
func (b Bit) ChipLoadAt(feed, rpm float64) float64 { return feed / (rpm * float64(b.Flutes)) }

// FeedFor is the feed in mm/min that gives a chip load in mm: n z c.
func (b Bit) FeedFor(chip, rpm float64) float64 { return rpm * float64(b.Flutes) * chip }
