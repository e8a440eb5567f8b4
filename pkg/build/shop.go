// Package build takes one job through all stages, once: read, joined, woven,
// grooved, cut into stretches, shared out over panels, drawn, written, read
// back and proved. It touches no disk; what is to be written comes back as
// Files.
//
// Lengths are mm and angles radians, in the motif's own coordinates.
package build

import (
	"strapwork/pkg/aids"
	"strapwork/pkg/bend"
	"strapwork/pkg/cutlist"
	"strapwork/pkg/diag"
	"strapwork/pkg/fullsize"
	"strapwork/pkg/groove"
	"strapwork/pkg/inlay"
	"strapwork/pkg/job"
	"strapwork/pkg/joint"
	"strapwork/pkg/motif"
	"strapwork/pkg/paper"
	"strapwork/pkg/profile"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
	"strapwork/pkg/stock"
	"strapwork/pkg/table"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
)

// A Stage is how far a job came. A stage counts as reached when its output is
// whole: what comes before it holds too.
type Stage int

const (
	// Unread: the job file has errors, and Result.Job is nil.
	Unread Stage = iota
	// Read: Job and Shop hold.
	Read
	// Joined: Motif holds.
	Joined
	// Woven: Weave holds.
	Woven
	// Grooved: Groove holds.
	Grooved
	// Stretched: Cuts holds.
	Stretched
	// Planned: Set, Inlay, List and Stock hold. Check ends here.
	Planned
	// Proved: Parts and Proof hold, and Files if there is no error. Build ends
	// here.
	Proved
)

var stageWords = [...]string{
	Unread:    "unread",
	Read:      "read",
	Joined:    "joined",
	Woven:     "woven",
	Grooved:   "grooved",
	Stretched: "stretched",
	Planned:   "planned",
	Proved:    "proved",
}

// String is the stage's word in reports.
func (s Stage) String() string { return unit.Word(stageWords[:], s, "stage") }

// A Kind is the kind of an output file, as the manifest has it.
type Kind int

// The kinds of file.
const (
	DXF Kind = iota
	SVG
	JSON
	Markdown
	CSV
	TOML
	PDF
	Program
	HTML
)

var kindWords = [...]string{
	DXF:      "dxf",
	SVG:      "svg",
	JSON:     "json",
	Markdown: "markdown",
	CSV:      "csv",
	TOML:     "toml",
	PDF:      "pdf",
	Program:  "program",
	HTML:     "html",
}

// String is the kind's word in the manifest.
func (k Kind) String() string { return unit.Word(kindWords[:], k, "kind") }

// A File is one output.
type File struct {
	Path  string // within the output folder, with slashes: "templates/A-wall.dxf"
	Kind  Kind
	Role  string           // "wall", "floor", "aid", "pivot", "groove", "inlay", "perimeter", "coupon", "preview", "manifest", "setup", "card", ...
	Panel string           // the panel's ID; empty where the file belongs to none
	Pages map[string][]int // of patterns: the pages of each part by its name, counted from 1
	Data  []byte
}

// A Result is all that is known of a job after Check or Build.
type Result struct {
	File    string   // the job file's name as given
	Reached Stage    // which of the fields below hold
	Alone   bool     // its program alone was asked for, and it was read for that
	Dropped bool     // nobody waited for it (Options.Dropped), so nothing else of it holds
	Job     *job.Job // nil when it has errors
	// Revision distinguishes one state of the job file from another: it is marked on
	// what Build draws, and empty after Check.
	Revision   string
	Shop       profile.Shop
	Paper      profile.Paper // what patterns are printed on
	Motif      motif.Motif
	Weave      weave.Weave
	Groove     groove.Groove
	Grooving   Grooving // by a machine; its plan holds once the groove does
	Cuts       []groove.Cut
	Set        template.Set  // without panels when the router swings on a bar
	Pivot      aids.Pivot    // the bar then, else without holes
	Table      *table.Table  // nil where the work doesn't come apart; else Motif and what is made of it are what is laid at every station, and
	Sectioned  []Sectioned   // its kinds of sections
	Apart      *Apart        // all sections, as the strips are laid
	Joints     *joint.Joints // what its joints cost
	Inlay      inlay.Inlay
	List       cutlist.List         // the pieces of its strips
	Seasons    *Seasons             // how the board moves under them; nil where the job says nothing of its moisture
	Stock      stock.Plan           // how they are got from boards
	Figures    []fullsize.Figure    // the kinds of pieces at full size; none unless they are to be printed
	Bends      bend.Plan            // how they are bent
	Parts      []sheet.Part         // the sheets as written, by panel, wall before floor; aids last
	Proof      proof.Proof          // of the wall openings, or the bar's holes, as read back from the DXF files
	Pictures   []paper.Illustration // of the inlay and the set-ups, by path
	Files      []File               // by path, less what pkg/report makes; none when there is an error
	SheetNeeds []SheetNeed          // what sheet the parts take, the thickest first
	Sheets     []NestedSheet        // the sheets that the parts are on; none unless that was asked for
	// Findings are those of all stages, and what the job assumed, by their
	// place in the job file.
	Findings diag.Findings
}

// OK reports whether no stage found an error.
func (r Result) OK() bool { return !r.Findings.HasErrors() }
