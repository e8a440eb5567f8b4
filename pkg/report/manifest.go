package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/job"
)

// schema is the version of the manifest's form. Fields are added without
// changing it; a change of meaning, or a field taken away, raises it.
const schema = 1

// manifest is manifest.json. Lengths are mm, angles degrees, areas square
// millimetres, places [x, y] from the motif's origin with y up.
type manifest struct {
	Schema    int           `json:"schema"`
	Title     string        `json:"title"`
	Job       string        `json:"job"`   // the job file's name without its folders
	Units     string        `json:"units"` // what a bare number means in the job file; numbers here are mm
	Traced    []drawingJSON `json:"drawings,omitempty"`
	Groove    grooveJSON    `json:"groove"`
	Inlay     inlayJSON     `json:"inlay"`
	Guide     guideJSON     `json:"guide"`
	Template  templateJSON  `json:"template"`
	Cutting   cuttingJSON   `json:"cutting"`
	Heights   *heightsJSON  `json:"heights,omitempty"` // absent where there are no templates
	Boards    *stockJSON    `json:"stock,omitempty"`   // absent where the job names no strips
	Strands   []strandJSON  `json:"strands"`
	Cuts      []cutJSON     `json:"cuts"`
	Panels    []panelJSON   `json:"panels"`
	Frame     *frameJSON    `json:"frame,omitempty"` // absent where the job has none
	Rail      *railJSON     `json:"rail,omitempty"`  // absent where no panels are stepped along one
	SetUps    []setUpJSON   `json:"set_ups"`
	Table     *tableJSON    `json:"table,omitempty"`    // absent where the work doesn't come apart
	Stations  []stationJSON `json:"stations,omitempty"` // absent where the motif is laid once
	Proof     proofJSON     `json:"proof"`
	Program   *programJSON  `json:"program,omitempty"` // absent where no program was written
	Budget    budgetJSON    `json:"budget"`
	Seasons   *seasonsJSON  `json:"seasons,omitempty"` // absent where the job says nothing of moisture, or they were left out
	Glue      glueJSON      `json:"glue"`
	Crossings []crossJSON   `json:"crossings"`
	Files     []fileJSON    `json:"files"`
	Findings  []findingJSON `json:"findings"`
}

// newManifest gathers all of it but the list of files.
func newManifest(r build.Result) manifest {
	j := r.Job
	setUps := newSetUps(r)
	stations := newStations(r, setUps)
	m := manifest{
		Schema: schema, Title: j.Title, Job: jobName(r.File), Units: j.Units.String(),
		Traced:    newDrawings(j),
		Groove:    newGroove(r),
		Inlay:     newInlay(j),
		Guide:     newGuide(j),
		Template:  newTemplate(j),
		Cutting:   newCutting(r.Shop),
		Heights:   newHeights(r),
		Boards:    newBoards(r),
		Strands:   newStrands(r.Motif),
		Cuts:      []cutJSON{},
		Panels:    newPanels(r),
		Frame:     newFrame(r),
		Rail:      newRail(r),
		SetUps:    newSetUpsAt(r, setUps),
		Table:     newTable(r),
		Stations:  stations,
		Proof:     newProof(r),
		Program:   newProgram(r),
		Budget:    newBudget(r),
		Seasons:   newSeasons(r),
		Glue:      newGlue(r),
		Crossings: newCrossings(r),
		Findings:  newFindings(r.Findings),
	}
	for _, s := range setUps {
		m.Cuts = append(m.Cuts, s.Made...)
	}
	return m
}

// drawingJSON is a drawing that the motif was traced from.
type drawingJSON struct {
	File   string `json:"file"` // as the job names it
	SHA256 string `json:"sha256"`
}

func newDrawings(j *job.Job) []drawingJSON {
	var all []drawingJSON
	for _, d := range j.Drawings {
		all = append(all, drawingJSON{d.File, d.SHA256})
	}
	return all
}

type strandJSON struct {
	ID     string `json:"id"`
	Length num    `json:"length"`
	Closed bool   `json:"closed"`

	Start   xy     `json:"-"`
	Heading string `json:"-"` // which way it runs there: "right", "up", "left", "down"
	First   string `json:"-"` // the element that it begins with
}

type cutJSON struct {
	Number int      `json:"number,omitempty"` // 1 to N through the job, in the order of work
	Name   string   `json:"name"`
	Strand string   `json:"strand"`
	Along  []string `json:"along"` // the elements that it follows
	From   stopJSON `json:"from"`
	To     stopJSON `json:"to"`
	Length num      `json:"length"` // of the bit's way along the centre line
	Panel  string   `json:"panel"`
	SetUp  int      `json:"set_up"`
	Track  string   `json:"track"` // the panel's opening: "A1"

	Again []overlapJSON `json:"again,omitempty"` // what earlier set-ups cut of it, so that it is cut again there

	// The cut as its opening makes it with the panel as it is laid.
	Start   endFacts `json:"-"`
	Stop    endFacts `json:"-"`
	Way     num      `json:"-"` // from end to end
	Pilot   xy       `json:"-"` // where the bit goes in, if it can't plunge
	Shown   []string `json:"-"` // of Along, what the sheet names; none where that is the cut's own name
	Unshown int      `json:"-"` // how many more there are
}

// endFacts is where a cut begins or ends: at the "right", "left", "upper" or "lower"
// end of its track, and the bit's place there.
type endFacts struct {
	End string
	At  xy
}

// overlapJSON is a stretch that another set-up's cut makes too.
type overlapJSON struct {
	Cut    string `json:"cut"`
	SetUp  int    `json:"set_up"`
	Length num    `json:"length"`

	Number int `json:"-"` // the cut's
}

// spareJSON is a track that is left alone in a set-up.
type spareJSON struct {
	Track string        `json:"track"`
	By    []overlapJSON `json:"cut_by"` // the cuts that make all of what it would

	Own string `json:"-"` // the cut that it makes as the panel first lies
}

type stopJSON struct {
	At     xy     `json:"at"`
	Kind   string `json:"kind"` // "free end", "corner", "tee", "split"
	Bit    xy     `json:"bit"`  // where the bit's centre begins or ends
	Hidden bool   `json:"hidden"`
	Under  string `json:"under,omitempty"` // the element that hides a split
}

type panelJSON struct {
	ID        string            `json:"id"`
	Cuts      []string          `json:"cuts"`
	Positions []positionJSON    `json:"positions"`
	Size      xy                `json:"size"`  // of the outline
	Files     map[string]string `json:"files"` // by role and kind: "wall_dxf"; of one in parts "wall_1_dxf"

	Parts  int          `json:"-"` // that it is made in; 0: it is in one
	Joints []jointFacts `json:"-"` // between them
	Floor  bool         `json:"-"` // it has a floor under its wall
	Dowels int          `json:"-"` // through both
}

type positionJSON struct {
	TurnDeg num  `json:"turn_deg"`
	Flip    bool `json:"flip"`
	Shift   *xy  `json:"shift,omitempty"` // mm, after turning; absent where panels aren't stepped along
}

type setUpJSON struct {
	Number  int      `json:"number"`
	Panel   string   `json:"panel"`
	TurnDeg num      `json:"turn_deg"`
	Flip    bool     `json:"flip"`
	Shift   *xy      `json:"shift,omitempty"` // mm, after turning; absent where panels aren't stepped along
	Cuts    []string `json:"cuts"`
	Station int      `json:"station,omitempty"` // where it is made; absent where there is but one

	Spare []spareJSON `json:"spare,omitempty"`

	Along string    `json:"-"` // by how much it is shifted, in words; "" where it isn't
	Edge  string    `json:"-"` // of the panel's picture, that is up; "" for a turn that is no quarter
	Arrow bool      `json:"-"` // an arrow with the set-up's number is engraved
	First int       `json:"-"` // number of its first cut, and of its last; 0 where it makes none
	Last  int       `json:"-"`
	Laid  string    `json:"-"` // path of the picture of the panel as it is laid; or else
	Wall  string    `json:"-"` // that of its wall; "" for none
	Made  []cutJSON `json:"-"`
}

type crossJSON struct {
	At          xy     `json:"at"`
	Over        string `json:"over"`
	Under       string `json:"under"`
	OverStrand  string `json:"over_strand"`
	UnderStrand string `json:"under_strand"`
	AngleDeg    num    `json:"angle_deg"` // the acute angle between the passages
	Broken      bool   `json:"broken"`    // over and under fail to alternate near it
}

type fileJSON struct {
	Path   string           `json:"path"`
	Kind   string           `json:"kind"`
	Role   string           `json:"role"`
	Panel  string           `json:"panel,omitempty"`
	Pages  map[string][]int `json:"pages,omitempty"` // of patterns: those of each part by its name, counted from 1
	Bytes  int              `json:"bytes"`
	SHA256 string           `json:"sha256"`
}

type findingJSON struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	Message  string `json:"message"`
	Hint     string `json:"hint"`
	At       *xy    `json:"at,omitempty"`
	Also     []xy   `json:"also,omitempty"` // more places of the same fault
	File     string `json:"file,omitempty"` // name of the file that line is in
	Line     int    `json:"line,omitempty"`
	Col      int    `json:"col,omitempty"`
	// Key is what it is about, as in the job file: "router.rider"; absent where that isn't known.
	Key diag.Key `json:"key,omitempty"`
	// Cures are changes of which each ends the finding by itself.
	Cures []diag.Cure `json:"cures,omitempty"`

	weight diag.Severity
}
