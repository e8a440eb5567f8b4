package cli

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

var profilesCommand = command{
	name: "profiles", about: "lists the cutting shops, machines, bits and materials that are built in",
	text: `Shops are for cutting.profile, machines for program.machine, bits for program.cutter.
Materials say how far strips bend; tempers of metals are for temper in inlay.strips.
`,
	flags: []flag{
		jsonFlag("print them as JSON, layers and all"),
	},
	run: runProfiles,
}

type profileList struct {
	document
	Profiles  []profileEntry  `json:"profiles"`
	Machines  []machineEntry  `json:"machines"`
	Bits      []bitEntry      `json:"bits"`
	Materials []materialEntry `json:"materials"`
}

type profileEntry struct {
	Name      string       `json:"name"`
	About     string       `json:"about"`
	Cutter    string       `json:"cutter"`
	Units     string       `json:"units"`
	Bed       [2]float64   `json:"bed"`       // mm
	Tolerance float64      `json:"tolerance"` // mm
	Layers    []layerEntry `json:"layers"`
}

type layerEntry struct {
	Role  string `json:"role"`
	Name  string `json:"name"`
	Color int    `json:"color"`
}

type machineEntry struct {
	Name         string        `json:"name"`
	About        string        `json:"about"`
	Units        string        `json:"units"`
	Travel       [3]float64    `json:"travel"`       // mm
	TravelRange  [3][2]float64 `json:"travel_range"` // mm, in the machine's own coordinates: from where to where
	Feed         [2]float64    `json:"feed"`         // mm/min: across, vertical
	Rapid        [2]float64    `json:"rapid"`        // mm/min: across, vertical
	Acceleration [2]float64    `json:"acceleration"` // mm/s2: across, vertical
	Spindle      [2]float64    `json:"spindle"`      // rpm: least, greatest
	SpinUp       float64       `json:"spin_up"`      // s
	Decimals     int           `json:"decimals"`     // 0: as many as the units want
	DwellMillis  bool          `json:"dwell_millis"`
	Repeat       bool          `json:"repeat"`
	Rewind       bool          `json:"rewind"`
	Chord        float64       `json:"chord"`       // mm; 0: arcs
	DwellAgain   float64       `json:"dwell_again"` // s
	Helix        bool          `json:"helix"`
	Percent      bool          `json:"percent"`
	LineNumbers  bool          `json:"line_numbers"`
	Path         string        `json:"path"`
	Park         *[2]float64   `json:"park"` // mm, in a program's coordinates; null: stay
	StartsWith   []string      `json:"starts_with"`
	Stickout     float64       `json:"stickout"` // mm; 0: not known
	Nut          float64       `json:"nut"`
	NutLength    float64       `json:"nut_length"`
	Nose         float64       `json:"nose"`
}

type bitEntry struct {
	Name     string     `json:"name"`
	About    string     `json:"about"`
	Diameter float64    `json:"diameter"` // mm
	Flutes   int        `json:"flutes"`
	Flute    float64    `json:"flute"`     // mm
	Shank    float64    `json:"shank"`     // mm
	ChipLoad [2]float64 `json:"chip_load"` // mm/tooth: least, greatest
	Surface  [2]float64 `json:"surface"`   // m/min: least, greatest
	MaxSpeed float64    `json:"max_speed"` // rpm
}

type materialEntry struct {
	Name    string        `json:"name"`
	About   string        `json:"about"`
	Dry     *limitEntry   `json:"dry"` // null of a metal
	Heated  *limitEntry   `json:"heated"`
	Steamed *limitEntry   `json:"steamed"`
	Modulus float64       `json:"modulus"` // MPa; 0: a wood
	Source  string        `json:"source"`  // of the modulus
	Usual   string        `json:"usual"`   // the temper taken where none is given
	Tempers []temperEntry `json:"tempers"`
}

type limitEntry struct {
	Strain float64 `json:"strain"` // t / 2R
	Source string  `json:"source"`
}

type temperEntry struct {
	Name  string     `json:"name"`
	Yield [3]float64 `json:"yield"` // MPa: low, usual, high
	limitEntry
}

func runProfiles(e *env, c command, args []string) int {
	if status, done := e.parse(e.flagSet(c), c, args, 0, 0); done {
		return status
	}
	if !e.json {
		tables := []string{shopTable(profile.List()), machineTable(profile.Machines()), bitTable(profile.Bits()), woodTable(profile.Materials()), metalTable(profile.Materials())}
		return e.print(strings.Join(tables, "\n"), statusDone)
	}
	list := profileList{document: done("profiles", nil)}
	for _, s := range profile.List() {
		list.Profiles = append(list.Profiles, shopEntry(s))
	}
	for _, m := range profile.Machines() {
		list.Machines = append(list.Machines, entryOf(m))
	}
	for _, b := range profile.Bits() {
		list.Bits = append(list.Bits, bitEntry{b.Name, b.About, b.Diameter, b.Flutes, b.Flute, b.Shank, b.ChipLoad, b.Surface, b.MaxSpeed})
	}
	for _, m := range profile.Materials() {
		list.Materials = append(list.Materials, materialOf(m))
	}
	return e.printJSON(list, statusDone)
}

func materialOf(m profile.Material) materialEntry {
	limit := func(l profile.Limit) *limitEntry {
		if l.Strain == 0 {
			return nil
		}
		return &limitEntry{l.Strain, l.Source}
	}
	e := materialEntry{
		Name: m.Name, About: m.About, Dry: limit(m.Dry), Heated: limit(m.Heated), Steamed: limit(m.Steamed),
		Modulus: m.Modulus, Source: m.Source, Usual: m.Usual, Tempers: []temperEntry{},
	}
	for _, t := range m.Tempers {
		e.Tempers = append(e.Tempers, temperEntry{t.Name, t.Yield, limitEntry{t.Strain, t.Source}})
	}
	return e
}

func entryOf(m profile.Machine) machineEntry {
	e := machineEntry{
		Name: m.Name, About: m.About, Units: m.Units.String(), Travel: spans(m), TravelRange: m.Travel, Feed: m.Feed, Rapid: m.Rapid,
		Acceleration: m.Accel, Spindle: m.Spindle, SpinUp: m.SpinUp, Decimals: m.Decimals, DwellMillis: m.DwellMillis, Repeat: m.Repeat,
		Rewind: m.Rewind, Chord: m.Chord, DwellAgain: m.DwellAgain, Helix: !m.NoHelix, Percent: m.Percent, LineNumbers: m.LineNumbers,
		Path: m.Path.String(), StartsWith: append([]string{}, strings.Fields(m.StartsWith)...),
		Stickout: m.Body.Stickout, Nut: m.Body.NutDiameter, NutLength: m.Body.NutLength, Nose: m.Body.NoseDiameter,
	}
	if m.Parks {
		e.Park = &m.Park
	}
	return e
}

// spans is how far a machine's axes go.
func spans(m profile.Machine) [3]float64 { return [3]float64{m.Span(0), m.Span(1), m.Span(2)} }

func shopEntry(s profile.Shop) profileEntry {
	p := profileEntry{
		Name: s.Name, About: s.About, Cutter: s.Cutter.String(), Units: s.Units.String(),
		Bed: s.Bed, Tolerance: s.Tolerance,
	}
	for _, r := range profile.Roles() {
		p.Layers = append(p.Layers, layerEntry{r, s.Layer(r).Name, s.Layer(r).Color})
	}
	return p
}

func shopTable(shops []profile.Shop) string {
	return table("name\tbed, mm\ttolerance, mm\tdrawings\tabout", func(w io.Writer) {
		for _, s := range shops {
			fmt.Fprintf(w, "%s\t%g x %g\t%g\t%s\t%s\n", s.Name, s.Bed[0], s.Bed[1], s.Tolerance, s.Units, s.About)
		}
	})
}

func machineTable(machines []profile.Machine) string {
	return table("machine\ttravel, mm\tfeed, mm/min\trpm\tprograms\tabout", func(w io.Writer) {
		for _, m := range machines {
			t, f, s := spans(m), m.Feed, m.Spindle
			fmt.Fprintf(w, "%s\t%g x %g x %g\t%g, plunge %g\t%g to %g\t%s\t%s\n", m.Name, t[0], t[1], t[2], f[0], f[1], s[0], s[1], m.Units, m.About)
		}
	})
}

func bitTable(bits []profile.Bit) string {
	return table("bit\twide, mm\tlong, mm\tmm/tooth\tsurface speed, m/min\trpm\tabout", func(w io.Writer) {
		for _, b := range bits {
			c, v := b.ChipLoad, b.Surface
			fmt.Fprintf(w, "%s\t%g\t%g\t%g to %g\t%g to %g\tto %g\t%s\n", b.Name, b.Diameter, b.Flute, c[0], c[1], v[0], v[1], b.MaxSpeed, b.About)
		}
	})
}

// woodTable has the radius down to which a wood bends, in thicknesses of the strip: R / t
// = 1 / 2e for a strain of e.
func woodTable(materials []profile.Material) string {
	times := func(l profile.Limit) string {
		if l.Strain == 0 {
			return "not known"
		}
		return unit.Decimal(math.Ceil(0.5/l.Strain), 0)
	}
	return table("wood\tR/t dry\theated\tsteamed\tabout", func(w io.Writer) {
		for _, m := range materials {
			if !m.Metal() {
				fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", m.Name, times(m.Dry), times(m.Heated), times(m.Steamed), m.About)
			}
		}
	})
}

func metalTable(materials []profile.Material) string {
	return table("metal\tmodulus, MPa\ttempers, with the usual yield in MPa\tabout", func(w io.Writer) {
		for _, m := range materials {
			if !m.Metal() {
				continue
			}
			var tempers []string
			for _, t := range m.Tempers {
				tempers = append(tempers, fmt.Sprintf("%s %g", t.Name, t.Yield[1]))
			}
			fmt.Fprintf(w, "%s\t%g\t%s\t%s\n", m.Name, m.Modulus, strings.Join(tempers, ", "), m.About)
		}
	})
}

// table lines up what rows writes, with tabs between columns, below a heading.
func table(heading string, rows func(io.Writer)) string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	fmt.Fprintln(w, heading)
	rows(w)
	_ = w.Flush() // to a strings.Builder, which takes everything
	return b.String()
}
