package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/aids"
	"strapwork/pkg/bend"
	"strapwork/pkg/build"
	"strapwork/pkg/cutlist"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
)

// bendsFacts is how the strips are bent; nil where all are straight.
type bendsFacts struct {
	Rows    []bendFacts
	Stuff   []stuffFacts
	Holders []holderFacts
	// Whether a bend is made in a way.
	Dry, Sprung, Cold, Heated, Steamed, Tight, Unknown bool
	Glued, Alone                                       bool // a lay-up that is glued first bends so, or is glued up in its form
	Wood                                               bool // one that is heated or steamed
	Rods                                               bool // a form is a rod
	Drawn, Left                                        bool // forms are made, or some aren't
	Undrawn                                            int  // of the ends that are trimmed in holders: have none
	Longer                                             num  // a bent piece is cut
	Stack                                              bool // strips are higher than the forms' sheet
}

// bendFacts is bends of one strip that are made alike.
type bendFacts struct {
	Strips      []int  // none of a lay-up
	Material    string // of the layer that decides
	Radius      num    // of the middle
	Widest      num
	Count       int // of pieces
	Strain      num // of the outermost fibre, per cent
	Way         string
	Sprung      bool      // a metal within its spring
	Alone       bool      // a lay-up's strips bend alone
	Rounds      []num     // to which a metal's middle is bent: low, usual, high yield stress
	Forms       []formUse // that it is bent round
	Laminations int       // that the strip may be glued up of in place of being bent; 0: none
	Each        num
	LamWay      string
}

// formUse is the form that a bend is made round; without a name it is to be found.
type formUse struct {
	Name   string
	Radius num
	Rod    bool
}

// stuffFacts is a strip's material as far as it bends, and from where that is known.
type stuffFacts struct {
	Strips    []int
	Material  string
	Thickness num
	Known     bool
	Metal     bool
	Of        string // the profile
	Temper    string
	Yield     [3]num // MPa
	Modulus   num
	Limits    []limitFacts
	Thickest  num // that bends dry at the tightest bend; 0 of a metal
	Tightest  num
}

type limitFacts struct {
	Way    string
	Strain num // per cent
	Source string
}

// holderFacts is a holder and the ends that are trimmed in it; one or two.
type holderFacts struct {
	Name string
	Ends []tipFacts
}

type tipFacts struct {
	Tip    num // degrees
	Pieces []int
}

func newBends(r build.Result) *bendsFacts {
	plan := r.Bends
	if len(plan.Bends) == 0 {
		return nil
	}
	out := &bendsFacts{Longer: cutlist.Bent}
	made := map[string]bool{}
	for _, p := range r.Parts {
		made[p.Sheet.Name] = p.Ply == sheet.Form || p.Ply == sheet.Holder
		if p.Ply == sheet.Form && p.Thickness < r.List.Height {
			out.Stack = true
		}
	}
	uses := formsOf(plan, made)
	for i, b := range plan.Bends {
		row := out.row(plan, b)
		row.Forms = uses[i]
		for _, f := range row.Forms {
			out.Rods, out.Drawn, out.Left = out.Rods || f.Rod, out.Drawn || f.Name != "", out.Left || !f.Rod && f.Name == ""
		}
		out.add(row)
	}
	for i, s := range plan.Stuff {
		for _, l := range s {
			if f := newStuff(plan, i, l); !slices.ContainsFunc(out.Stuff, func(o stuffFacts) bool { return slices.Equal(o.Strips, f.Strips) }) {
				out.Stuff = append(out.Stuff, f)
			}
		}
	}
	out.Undrawn = len(plan.Trims)
	for _, h := range aids.Holders(plan) {
		if !made[h.Name] {
			continue
		}
		f := holderFacts{Name: h.Name}
		for _, t := range h.Trims {
			f.Ends = append(f.Ends, tipFacts{num(math.Round(plan.Trims[t].Tip*1800/math.Pi) / 10), plan.Trims[t].Pieces})
			out.Undrawn--
		}
		out.Holders = append(out.Holders, f)
	}
	return out
}

// add adds a row, or its pieces to one that says the same: what bends dry is said once
// for all radii.
func (f *bendsFacts) add(row bendFacts) {
	if n := len(f.Rows) - 1; n >= 0 && row.Way == "dry" && f.Rows[n].Way == "dry" && slices.Equal(row.Strips, f.Rows[n].Strips) && row.Alone == f.Rows[n].Alone {
		f.Rows[n].Widest = row.Widest
		f.Rows[n].Count += row.Count
		return
	}
	f.Rows = append(f.Rows, row)
}

func (f *bendsFacts) row(plan bend.Plan, b bend.Bend) bendFacts {
	stuff, v := plan.Stuff[b.Stuff], b.Verdict
	l := stuff[v.Layer]
	row := bendFacts{Material: l.Material, Radius: num(b.Radius), Widest: num(b.Widest), Count: len(b.Pieces), Strain: num(100 * v.Strain), Way: v.Way.String(), Alone: !v.Glued}
	if len(stuff) == 1 {
		row.Strips = l.Strips
	}
	metal := l.Known && l.Of.Metal()
	switch v.Way {
	case bend.Dry:
		row.Sprung = metal
		f.Sprung, f.Dry = f.Sprung || metal, f.Dry || !metal
	case bend.Cold:
		f.Cold = true
		if b.Rounds[0] > 0 {
			row.Rounds = nums(b.Rounds[:])
		}
	case bend.Heated:
		f.Heated, f.Wood = true, true
	case bend.Steamed:
		f.Steamed, f.Wood = true, true
	case bend.Tight:
		f.Tight = true
	case bend.Unknown:
		f.Unknown = true
	}
	if len(stuff) > 1 {
		f.Glued, f.Alone = f.Glued || v.Glued, f.Alone || !v.Glued
	}
	if lam := l.Laminate(b.Radius); lam.N > 1 && (v.Way == bend.Steamed || v.Way == bend.Tight || v.Way == bend.Heated && lam.Way == bend.Dry) {
		row.Laminations, row.Each, row.LamWay = lam.N, num(math.Round(100*lam.Each)/100), lam.Way.String()
	}
	return row
}

// formsOf are the forms of each bend, from the low yield stress to the high.
func formsOf(plan bend.Plan, made map[string]bool) map[int][]formUse {
	names := map[int]string{}
	for _, f := range aids.Forms(plan) {
		for _, e := range f.Edges {
			if made[f.Name] {
				names[e] = f.Name
			}
		}
	}
	uses := map[int][]formUse{}
	for i := range plan.Bends {
		for y := -1; y <= 2; y++ {
			for k, e := range plan.Edges {
				if slices.Contains(e.Uses, bend.Use{Bend: i, Yield: y}) {
					uses[i] = append(uses[i], formUse{names[k], num(e.Radius), aids.Rod(e)})
				}
			}
		}
	}
	return uses
}

func newStuff(plan bend.Plan, stuff int, l bend.Layer) stuffFacts {
	out := stuffFacts{Strips: l.Strips, Material: l.Material, Thickness: num(l.Thickness), Known: l.Known}
	if !l.Known {
		return out
	}
	out.Metal, out.Of = l.Of.Metal(), l.Of.Name
	add := func(way string, limit profile.Limit) {
		if limit.Strain > 0 {
			out.Limits = append(out.Limits, limitFacts{way, num(100 * limit.Strain), limit.Source})
		}
	}
	if out.Metal {
		out.Temper, out.Modulus = l.Temper.Name, num(l.Of.Modulus)
		for i, y := range l.Temper.Yield {
			out.Yield[i] = num(y)
		}
		add("cold", l.Temper.Limit)
		out.Limits = append(out.Limits, limitFacts{Way: "modulus", Source: l.Of.Source})
		return out
	}
	add("dry", l.Of.Dry)
	add("heated", l.Of.Heated)
	add("steamed", l.Of.Steamed)
	if i := slices.IndexFunc(plan.Bends, func(b bend.Bend) bool { return b.Stuff == stuff && b.Verdict.Way > bend.Dry }); i >= 0 {
		out.Tightest, out.Thickest = num(plan.Bends[i].Radius), num(math.Floor(100*bend.Thickest(l.Dry(), plan.Bends[i].Radius))/100)
	}
	return out
}

// Ways says the limits in one line: "dry 0.9 % (source); ...".
func (s stuffFacts) Ways() string {
	var list []string
	for _, l := range s.Limits {
		if l.Strain > 0 {
			list = append(list, fmt.Sprintf("%s %s %% (%s)", l.Way, decimal(l.Strain, 2), l.Source))
		}
	}
	return strings.Join(list, "; ")
}
