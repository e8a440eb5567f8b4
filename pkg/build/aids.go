package build

import (
	"bytes"

	"strapwork/pkg/aids"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// pivot draws the bar of a job that swings on a pin. Nothing is split into cuts
// then, nor shared out over panels.
func (r *Result) pivot(step func(string)) {
	if r.Reached < Joined {
		return
	}
	step("finding the circles to swing")
	bar, found := aids.NewPivot(AidsParams(r.Job), r.Groove)
	r.Findings.Add(found...)
	r.Pivot = bar
	r.reach(Stretched, !found.HasErrors())
}

// writeBar writes the pivot bar and proves it by its holes.
func (r *Result) writeBar(layout dxf.Options, o Options) {
	r.Parts = r.drawable([]sheet.Part{r.Pivot.Part(AidsParams(r.Job), r.Kerf())})
	bar := r.Parts[0]
	data, ok := r.makePart(bar, layout, o)
	if !ok {
		return
	}
	read, err := pins(data, layout)
	if err != nil {
		r.unread(bar, err)
		return
	}
	r.proveBar(read, o)
}

// proveBar swings the router about the bar's holes as read back.
func (r *Result) proveBar(read []sheet.Hole, o Options) {
	o.Step("swinging the router on what was written")
	r.Proof = aids.ProvePivot(r.Groove, r.Pivot, read, r.Kerf()/2)
	r.judge()
}

// makeAid adds the files of a shop aid. One that a machine can't cut is left
// out and told: nothing depends on it.
func (r *Result) makeAid(p sheet.Part, layout dxf.Options, o Options) bool {
	if faults := sheet.Check(p.Sheet); len(faults) > 0 {
		f := faults[0]
		r.Findings.Warnf("template", "aid-undrawn", "the shop aid %s can't be cut and is left out: %s", p.Sheet.Name, f.Message).
			SetAt(f.At.X, f.At.Y).Hintf("make it by hand: %s", p.Sheet.Title)
		return false
	}
	_, ok := r.makePart(p, layout, o)
	return ok
}

// pins reads a sheet's file and returns the holes on the pins' layer, in mm.
func pins(data []byte, layout dxf.Options) ([]sheet.Hole, error) {
	d, err := dxf.Read(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	toMM := geom.Scaling(d.Units.MM())
	var holes []sheet.Hole
	for _, c := range d.Circles {
		if c.Layer == layerOf(layout, sheet.Pin) {
			holes = append(holes, sheet.Hole{Role: sheet.Pin, Center: toMM.Apply(c.Center), Radius: c.Radius * d.Units.MM()})
		}
	}
	return holes, nil
}

// writeAids writes the shop aids that the job has a use for.
func (r *Result) writeAids(layout dxf.Options, o Options) {
	var list []sheet.Part
	for _, p := range r.drawable(aids.Draw(AidsParams(r.Job), r.Groove, r.Proof.Leftovers, r.Shop.Cutter, r.Kerf())) {
		if r.makeAid(p, layout, o) {
			list = append(list, p)
		}
	}
	r.Parts = append(r.Parts, list...)
}
