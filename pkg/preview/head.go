package preview

import (
	"strapwork/pkg/dryrun"
	"strapwork/pkg/setup"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// head is all of a page's data but the arrays of its moves, as the page's
// scripts read it.
type head struct {
	Title     string       `json:"title"`
	Job       string       `json:"job"`
	Revision  string       `json:"revision"`
	Units     string       `json:"units"` // mm or in
	Board     *headBoard   `json:"board"`
	Groove    []outline    `json:"groove"`
	Width     num          `json:"width"`
	Depth     num          `json:"depth"`
	Bit       num          `json:"bit"`
	Strands   []headStrand `json:"strands"`
	Crossings []headCross  `json:"crossings"`
	Clamps    []headClamp  `json:"clamps"`
	Program   *headProgram `json:"program"` // null: none
	Gouges    []spot       `json:"gouges"`
	Left      []spot       `json:"left"`
	SetUps    []headSetUp  `json:"setups"`
	Frame     []outline    `json:"frame"`
	Station   *headStation `json:"station,omitempty"` // absent: panels are laid on what the program cuts
	Labels    headLabels   `json:"labels"`
	Rider     num          `json:"rider"`
	Base      num          `json:"base"`
	RouterBit num          `json:"routerBit"`
	Strips    headStrips   `json:"strips"`
	Origin    []num        `json:"origin"`
	Along     []headStrand `json:"along,omitempty"` // that the strips are laid along, from the motif's origin; absent: strands
	Top       *headTop     `json:"top,omitempty"`   // absent: the work doesn't come apart
	Cautions  []string     `json:"cautions"`
	Findings  []Finding    `json:"findings"` // on the job
	Pictures  pictures     `json:"pictures"`
	Arrays    []array      `json:"arrays"`
	Of        string       `json:"of,omitempty"` // the section that the program is for
	Others    []other      `json:"others,omitempty"`
}

// An other is what the page shows in place of its own when another section's program is watched.
type other struct {
	Head  head   `json:"head"`
	Moves string `json:"moves"`
}

func otherOf(p Page) other {
	moves := packed(p)
	return other{headOf(p, moves.Index), moves.text()}
}

// pictures are SVG files by what they show; null: none.
type pictures map[string]string

type headStation struct {
	Board  *headBoard `json:"board"`
	Groove []outline  `json:"groove"`
}

type headBoard struct {
	Box   []num `json:"box"`
	Grain num   `json:"grain"`
}

type headStrand struct {
	Name string  `json:"name"`
	Line outline `json:"line"`
}

type headCross struct {
	At    []num       `json:"at"`
	Over  headPassage `json:"over"`
	Under headPassage `json:"under"`
}

type headPassage struct {
	Strand string `json:"strand"`
	Part   string `json:"part"`
	Along  []num  `json:"along"`
}

type headClamp struct {
	Box    []num `json:"box"`
	Height num   `json:"height"`
}

type headProgram struct {
	Path     string      `json:"path"`
	Steps    int         `json:"steps"`
	Speeds   []num       `json:"speeds"`
	Roles    []string    `json:"roles"`
	Findings []Finding   `json:"findings"`
	Totals   headTotals  `json:"totals"`
	Facts    [][2]string `json:"facts"`
	Unseen   []string    `json:"unseen"`
}

type headTotals struct {
	Seconds     num   `json:"seconds"`
	Cutting     num   `json:"cutting"`
	Plunging    num   `json:"plunging"`
	Rapids      num   `json:"rapids"`
	Dwells      num   `json:"dwells"`
	Length      num   `json:"length"`
	RapidLength num   `json:"rapidLength"`
	Extents     []num `json:"extents"`
	Lowest      num   `json:"lowest"`
	Highest     num   `json:"highest"`
	LeftArea    num   `json:"leftArea"`
	MissedArea  num   `json:"missedArea"`
}

type headSetUp struct {
	Number  int         `json:"number"`
	Panel   string      `json:"panel"`
	Lies    string      `json:"lies"`
	Outline outline     `json:"outline"`
	Tracks  []headTrack `json:"tracks"`
}

type headTrack struct {
	ID      string  `json:"id"`
	Number  int     `json:"number"` // of the cut; 0: none
	Name    string  `json:"name"`
	Opening outline `json:"opening"`
	Ride    outline `json:"ride"`
	Spare   bool    `json:"spare,omitempty"`
}

func strandOf(s Strand) headStrand { return headStrand{s.Name, outlineOf(s.Line)} }

func passageOf(p Passage) headPassage { return headPassage{p.Strand, p.Part, place(p.Along)} }

func headOf(p Page, arrays []array) head {
	h := head{
		Title: p.Title, Job: p.Job, Revision: p.Revision, Units: p.Units.String(),
		Groove: outlines(p.Groove), Width: num(p.Width), Depth: num(p.Depth), Bit: num(p.Bit),
		Strands: each(p.Strands, strandOf),
		Crossings: each(p.Crossings, func(c Crossing) headCross {
			return headCross{place(c.At), passageOf(c.Over), passageOf(c.Under)}
		}),
		Clamps:  each(p.Clamps, func(c work.Clamp) headClamp { return headClamp{box(c.Box), num(c.Height)} }),
		Program: programOf(p.Program),
		Gouges:  each(p.Program.Report.Gouges, spotOf),
		Left:    each(p.Program.Report.Left, spotOf),
		SetUps:  each(p.SetUps, func(r setup.Ride) headSetUp { return setUpOf(r, p.Units) }),
		Frame:   outlines(p.Frame),
		Labels:  labelsOf(p),
		Rider:   num(p.Rider), Base: num(p.Base), RouterBit: num(routerBit(p)),
		Strips: stripsOf(p.Strips, p.Units), Origin: place(p.Origin), Top: topOf(p.Top),
		Cautions: each(p.Cautions, func(s string) string { return s }),
		Findings: FindingsOf(p.Findings),
		Pictures: p.Pictures,
		Arrays:   arrays, Of: p.Of,
	}
	h.Board = boardOf(p.Board)
	if s := p.Station; s != nil {
		h.Station = &headStation{boardOf(s.Board), outlines(s.Groove)}
	}
	for _, o := range p.Others {
		h.Others = append(h.Others, otherOf(o))
	}
	if len(p.Along) > 0 {
		h.Along = each(p.Along, strandOf)
	}
	return h
}

func boardOf(b *work.Board) *headBoard {
	if b == nil {
		return nil
	}
	return &headBoard{box(b.Box()), num(b.Grain)}
}

func routerBit(p Page) float64 {
	if p.RouterBit > 0 {
		return p.RouterBit
	}
	return p.Bit
}

func programOf(p Program) *headProgram {
	if len(p.Steps) == 0 && len(p.Text) == 0 && len(p.Report.Findings) == 0 {
		return nil
	}
	return &headProgram{
		Path: p.Path, Steps: len(p.Steps), Speeds: speeds(p.Steps), Roles: roles(p.Sections),
		Findings: FindingsOf(p.Report.Findings),
		Totals:   totalsOf(p.Report.Totals),
		Unseen:   unseen(p.Report),
		Facts:    each(p.Facts, func(f Fact) [2]string { return [2]string{f.Name, f.Value} }),
	}
}

// unseen are sentences on what was not looked at.
func unseen(r dryrun.Report) []string {
	if !r.Unseen {
		return []string{}
	}
	return []string{"Not all of the spindle’s body above the bit is known: it was not held against the clamps."}
}

func totalsOf(t dryrun.Totals) headTotals {
	return headTotals{
		num(t.Seconds), num(t.Cutting), num(t.Plunging), num(t.Rapids), num(t.Dwells), num(t.Length), num(t.RapidLength),
		box(t.Extents), num(t.Lowest), num(t.Highest), num(t.LeftArea), num(t.MissedArea),
	}
}

func setUpOf(r setup.Ride, units unit.System) headSetUp {
	h := headSetUp{Number: r.Number, Panel: r.PanelID, Lies: r.Position.InWords(units), Outline: outlineOf(r.Outline), Tracks: []headTrack{}}
	for i, t := range r.Tracks {
		h.Tracks = append(h.Tracks, headTrack{t.ID, t.Number, t.Cut.Name, outlineOf(r.Ways[i].Opening), outlineOf(r.Ways[i].Path), t.Spare})
	}
	return h
}
