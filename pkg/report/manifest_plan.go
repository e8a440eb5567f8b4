package report

// The manifest's lists: strands, cuts, panels, crossings, files, findings.

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/proof"
)

func newStrands(m motif.Motif) []strandJSON {
	list := make([]strandJSON, 0, len(m.Strands))
	for _, s := range m.Strands {
		list = append(list, strandJSON{s.ID, num(s.Length()), s.Contour.Closed})
	}
	return list
}

// newCuts lists the cuts by the set-ups that make them.
func newCuts(r build.Result, order []plan.SetUp) []cutJSON {
	list := make([]cutJSON, 0, len(r.Cuts))
	for _, s := range order {
		for _, t := range s.Made() {
			c := t.Cut
			first, last := ends(c.Line)
			list = append(list, cutJSON{
				Name: c.Name, Strand: r.Motif.Strands[c.Strand].ID, Along: t.Along, Length: num(c.Length()),
				From: newStop(r, c.Strand, c.From, first), To: newStop(r, c.Strand, c.To, last),
				Panel: s.PanelID, SetUp: s.Number, Track: t.ID, Again: newOverlaps(t.Elsewhere),
			})
		}
	}
	return list
}

// ends are the first and last point of a line; the origin for an empty one.
func ends(c geom.Contour) (first, last geom.Point) {
	if len(c.Vertices) == 0 {
		return first, last
	}
	return c.Start(), c.End()
}

func newOverlaps(all []plan.Overlap) []overlapJSON {
	var list []overlapJSON
	for _, o := range all {
		list = append(list, overlapJSON{Cut: o.Cut, SetUp: o.SetUp, Length: num(o.Length)})
	}
	return list
}

func newStop(r build.Result, strand int, s groove.Stop, bit geom.Point) stopJSON {
	return stopJSON{At: toXY(s.At), Kind: s.Kind.String(), Bit: toXY(bit), Hidden: s.Hidden, Under: hider(r, strand, s)}
}

func newPanels(r build.Result) []panelJSON {
	list := make([]panelJSON, 0, len(r.Set.Panels))
	for _, p := range r.Set.Panels {
		out := panelJSON{ID: p.ID, Cuts: []string{}, Size: toXY(p.Outline.Bounds().Size()), Files: partFiles(r, p.ID)}
		for _, o := range p.Openings {
			out.Cuts = append(out.Cuts, o.Cut.Name)
		}
		for _, pos := range p.Positions {
			out.Positions = append(out.Positions, positionJSON{num(pos.TurnDeg), pos.Flip})
		}
		list = append(list, out)
	}
	return list
}

func newSetUps(order []plan.SetUp) []setUpJSON {
	list := make([]setUpJSON, 0, len(order))
	for _, s := range order {
		out := setUpJSON{Number: s.Number, Panel: s.PanelID, TurnDeg: num(s.Position.TurnDeg), Flip: s.Position.Flip, Cuts: []string{}}
		for _, t := range s.Made() {
			out.Cuts = append(out.Cuts, t.Cut.Name)
		}
		for _, t := range s.Spare() {
			out.Spare = append(out.Spare, spareJSON{Track: t.ID, By: newOverlaps(t.Elsewhere)})
		}
		list = append(list, out)
	}
	return list
}

type proofJSON struct {
	By          string         `json:"by"`          // what was read back and judged: "templates" or, where there are none, "program"
	OvercutMax  num            `json:"overcut_max"` // beyond the groove
	OvercutArea num            `json:"overcut_area"`
	OvercutAt   *xy            `json:"overcut_at,omitempty"` // absent where nothing is cut beyond the groove
	UncutMax    num            `json:"uncut_max"`            // of the groove, from what is cut
	UncutArea   num            `json:"uncut_area"`
	MissedMax   num            `json:"missed_max"` // of that, what the bit could reach and the templates leave all the same
	MissedArea  num            `json:"missed_area"`
	MissedAt    *xy            `json:"missed_at,omitempty"` // absent where nothing is missed
	Tolerance   num            `json:"tolerance"`           // the overcut that counts as none
	Leftovers   []leftoverJSON `json:"leftovers"`
}

type leftoverJSON struct {
	Where string `json:"where"`
	At    xy     `json:"at"`
	Depth num    `json:"depth"` // in the plane: how far At is from what the bit cuts
	Area  num    `json:"area"`

	MissedDepth num `json:"missed_depth"` // of what the bit could reach
	MissedArea  num `json:"missed_area"`
}

func proofOf(r build.Result) proofJSON {
	out := newProof(r.Proof)
	if !r.Job.Router.Guide.HasTemplates() {
		out.By = "program"
	}
	return out
}

func newProof(p proof.Proof) proofJSON {
	out := proofJSON{
		By:         "templates",
		OvercutMax: num(p.OvercutMax), OvercutArea: num(p.OvercutArea), UncutMax: num(p.UncutMax), UncutArea: num(p.UncutArea),
		MissedMax: num(p.MissedMax), MissedArea: num(p.MissedArea),
		Tolerance: groove.Overcut, Leftovers: []leftoverJSON{},
	}
	if p.OvercutMax > 0 {
		at := toXY(p.OvercutAt)
		out.OvercutAt = &at
	}
	if p.MissedMax > 0 {
		at := toXY(p.MissedAt)
		out.MissedAt = &at
	}
	for _, l := range p.Leftovers {
		out.Leftovers = append(out.Leftovers, leftoverJSON{l.Where, toXY(l.At), num(l.Depth), num(l.Area), num(l.MissedDepth), num(l.MissedArea)})
	}
	return out
}

func newCrossings(r build.Result) []crossJSON {
	list := make([]crossJSON, 0, len(r.Weave.Crossings))
	for _, x := range r.Weave.Crossings {
		over, under := passes(r.Motif, x)
		list = append(list, crossJSON{
			At: toXY(x.At), Over: over, Under: under,
			OverStrand: r.Motif.Strands[x.Upper().Strand].ID, UnderStrand: r.Motif.Strands[x.Lower().Strand].ID,
			AngleDeg: num(x.Angle * 180 / math.Pi), Broken: x.Broken,
		})
	}
	return list
}

// newFiles lists all outputs but the manifest, which can't hold its own sum.
func newFiles(r build.Result) []fileJSON {
	files := withOwn(r)
	list := make([]fileJSON, 0, len(files))
	for _, f := range files {
		if f.Path == ManifestPath {
			continue
		}
		sum := sha256.Sum256(f.Data)
		list = append(list, fileJSON{f.Path, f.Kind.String(), f.Role, f.Panel, len(f.Data), hex.EncodeToString(sum[:])})
	}
	slices.SortFunc(list, func(a, b fileJSON) int { return cmp.Compare(a.Path, b.Path) })
	return list
}

func newFindings(found diag.Findings) []findingJSON {
	list := make([]findingJSON, 0, len(found))
	for _, f := range found {
		out := findingJSON{
			Rule: f.Rule, Severity: f.Severity.String(), Message: f.Message, Hint: f.Hint,
			File: baseName(f.Pos.File), Line: max(0, f.Pos.Line), Col: max(0, f.Pos.Col), Cures: f.Cures,
		}
		if f.HasAt {
			out.At = &xy{num(f.At[0]), num(f.At[1])}
		}
		list = append(list, out)
	}
	return list
}
