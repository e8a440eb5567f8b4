package build

import (
	"bytes"
	"slices"

	"strapwork/pkg/aids"
	"strapwork/pkg/bend"
	"strapwork/pkg/diag"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/profile"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
)

// writeBar writes the pivot bar and proves it by its holes.
func (w *writer) writeBar() {
	w.Parts = w.drawable([]sheet.Part{w.Pivot.Part(AidsParams(w.Job), w.Kerf())})
	data := w.makeParts(w.Parts)[0]
	if data == nil {
		return
	}
	read, err := pins(data, w.layout)
	if err != nil {
		w.unread(w.Parts[0], err)
		return
	}
	w.proveBar(read)
}

type barProofIn struct {
	Groove made[groove.Groove]
	Bar    aids.Pivot
	Holes  []sheet.Hole
	Beside float64 // how far the cuts are from the lines, mm
}

func makeBarProof(in barProofIn) (proof.Proof, diag.Findings) {
	return aids.ProvePivot(in.Groove.Value, in.Bar, in.Holes, in.Beside), nil
}

// proveBar swings the router about the bar's holes as read back.
func (w *writer) proveBar(read []sheet.Hole) {
	w.a.Step("swinging the router on what was written")
	w.Proof = ask(w.a.Graph, "proof of the bar", barProofIn{w.a.groove, w.Pivot, read, w.Kerf() / 2}, makeBarProof).Value
	w.judge()
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

type aidsIn struct {
	Params    aids.Params
	Groove    made[groove.Groove]
	Leftovers []proof.Leftover
	Cutter    profile.Cutter
	Kerf      float64
}

func makeAids(in aidsIn) ([]sheet.Part, diag.Findings) {
	return aids.Draw(in.Params, in.Groove.Value, in.Leftovers, in.Cutter, in.Kerf), nil
}

// aids are the shop aids that the job has a use for, cut with some kerf.
func (w *writer) aids(kerf float64) []sheet.Part {
	in := aidsIn{AidsParams(w.Job), w.a.groove, w.Proof.Leftovers, w.Shop.Cutter, kerf}
	return ask(w.a.Graph, "aids", in, makeAids).Value
}

type formsIn struct {
	Params aids.Params
	Bends  bend.Plan
	Kerf   float64
}

func makeForms(in formsIn) ([]sheet.Part, diag.Findings) {
	return aids.DrawForms(in.Params, in.Bends, in.Kerf), nil
}

// forms are the bending forms and trimming holders that the job wants, cut with some
// kerf, less what is larger than the shop's bed.
func (w *writer) forms(kerf float64) []sheet.Part {
	if !w.Job.Inlay.Forms {
		return nil
	}
	all := ask(w.a.Graph, "forms", formsIn{AidsParams(w.Job), w.Bends, kerf}, makeForms).Value
	on := w.nestOptions()
	return slices.DeleteFunc(slices.Clone(all), func(p sheet.Part) bool { return on.Bed != (geom.Point{}) && !on.Fits(p.Sheet) })
}

// writeAids writes the shop aids, forms and holders. One that a machine can't cut is left
// out and reported: nothing depends on it.
func (w *writer) writeAids() {
	var can []sheet.Part
	sticks := w.makeSticks(w.Kerf())
	w.Findings.Add(sticks.Found...)
	for _, p := range w.drawable(slices.Concat(w.aids(w.Kerf()), w.forms(w.Kerf()), sticks.Value.parts)) {
		faults := sheet.Check(p.Sheet)
		if len(faults) == 0 {
			can = append(can, p)
			continue
		}
		f := faults[0]
		w.Findings.Warnf("template", "aid-undrawn", "the part %s can't be cut and is left out: %s", p.Sheet.Name, f.Message).
			SetAt(f.At.X, f.At.Y).Hintf("make it by hand: %s", p.Sheet.Title)
	}
	for i, data := range w.makeParts(can) {
		if data != nil {
			w.Parts = append(w.Parts, can[i])
		}
	}
}
