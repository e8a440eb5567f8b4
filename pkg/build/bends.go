package build

// What strips are of, as far as bending goes, and how their bends are made.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/bend"
	"strapwork/pkg/cutlist"
	"strapwork/pkg/diag"
	"strapwork/pkg/inlay"
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// ruleTemper is the rule of a temper that a strip's material hasn't.
const ruleTemper = "temper-unknown"

// openMaterials finds how far each strip of the lay-up bends.
func openMaterials(j *job.Job, readFile ReadFile) (layers []bend.Layer, found diag.Findings) {
	for i, s := range j.Inlay.Strips {
		key := diag.Key(fmt.Sprintf("inlay.strips.%d", i+1))
		l := bend.Layer{Material: s.Material, Thickness: s.Thickness}
		for k, o := range j.Inlay.Strips {
			if o.Material == s.Material && o.Thickness == s.Thickness && o.Temper == s.Temper && o.BendsLike == s.BendsLike {
				l.Strips = append(l.Strips, k+1)
			}
		}
		if first := l.Strips[0] - 1; first < i {
			layers = append(layers, layers[first])
			continue
		}
		var faults diag.Findings
		l.Of, l.Known, faults = openMaterial(s, key, readFile)
		found.Add(faults...)
		if len(faults) == 0 {
			l.Temper, faults = temperOf(s, l, key)
			found.Add(faults...)
			l.Known = l.Known && len(faults) == 0
		}
		layers = append(layers, l)
	}
	return layers, found
}

// openMaterial finds a strip's own profile, or that of its material; false where there
// is none.
func openMaterial(s work.Strip, key diag.Key, readFile ReadFile) (profile.Material, bool, diag.Findings) {
	name := s.BendsLike
	if name == "" {
		m, _ := wood.Find(s.Material)
		known := profile.Materials()
		if i := slices.IndexFunc(known, func(p profile.Material) bool { return p.Name == m.Base }); i >= 0 {
			return known[i], true, nil
		}
		return profile.Material{}, false, nil
	}
	if m, ok := wood.Find(name); ok && !profile.IsPath(name) {
		name = m.Base // "hard maple"
	}
	m, err := profile.OpenMaterial(name, readFile)
	if err != nil {
		return m, false, profileFaults(key+".bends_like", profile.RuleUnknown, "material", s.BendsLike, err)
	}
	return m, true, nil
}

// temperOf is the temper of a metal strip.
func temperOf(s work.Strip, l bend.Layer, key diag.Key) (profile.Temper, diag.Findings) {
	var found diag.Findings
	temper, ok := l.Of.Temper(s.Temper)
	switch {
	case ok || s.Temper == "":
	case !l.Known:
		found.Errorf(key+".temper", ruleTemper, "nothing is known of how %s bends, so it has no tempers", s.Material).
			Hintf("name a metal that it bends like: bends_like = \"brass\"; or remove temper")
	case !l.Of.Metal():
		found.Errorf(key+".temper", ruleTemper, "%s is a wood, which has no tempers", s.Material).Hintf("remove temper")
	default:
		names := l.Of.TemperNames()
		f := found.Errorf(key+".temper", ruleTemper, "%s has no temper %q", s.Material, s.Temper)
		if near := diag.Nearest(strings.ToLower(s.Temper), names); near != "" {
			f.Hintf("did you mean %q?", near).Propose(key+".temper", unit.Say("%q", near))
		} else {
			f.Hintf("it has %s", strings.Join(names, ", "))
		}
	}
	return temper, found
}

// BendParams are what the bends of a job's pieces depend on.
func BendParams(layers []bend.Layer, l cutlist.List) bend.Params {
	if len(layers) == 0 { // the job gives the groove's width alone
		return bend.Params{}
	}
	var p bend.Params
	of := map[int]int{} // stuff by strip
	for i, layer := range layers {
		if layer.Strips[0] == i+1 {
			of[i+1] = len(p.Stuff)
			p.Stuff = append(p.Stuff, bend.Stuff{layer})
		} else {
			of[i+1] = of[layer.Strips[0]]
		}
	}
	if l.Laid == work.LaidSandwich && len(layers) > 1 {
		p.Stuff, of[0] = []bend.Stuff{layers}, 0
	}
	for _, piece := range l.Pieces {
		if stuff, ok := of[piece.Strip]; ok {
			p.Pieces = append(p.Pieces, bentPiece(piece, stuff))
		}
	}
	return p
}

// sameBend in mm is what the radii of two stretches of one bend may differ by.
const sameBend = 1e-6

// bentPiece is a piece as far as it is bent; its arcs may be in parts.
func bentPiece(p cutlist.Piece, stuff int) bend.Piece {
	out := bend.Piece{Number: p.Number, Stuff: stuff}
	before := 0.0
	for _, s := range p.Segments {
		n := len(out.Arcs) - 1
		switch {
		case s.Radius == 0:
		case before != 0 && math.Abs(before-s.Radius) < sameBend:
			out.Arcs[n].Sweep += s.Length / math.Abs(s.Radius)
		default:
			out.Arcs = append(out.Arcs, bend.Arc{Radius: math.Abs(s.Radius), Sweep: s.Length / math.Abs(s.Radius)})
		}
		before = s.Radius
	}
	if len(p.Segments) == 0 {
		return out
	}
	for i, s := range [2]inlay.Segment{p.Segments[0], p.Segments[len(p.Segments)-1]} {
		turn := s.Radius // to the left looking along the strand; from its other end it is to the right
		if i == 1 {
			turn = -turn
		}
		out.Ends[i] = bend.End{Radius: math.Abs(s.Radius), Right: turn < 0, Cut: p.Ends[i].Angle}
	}
	return out
}
