package template

import (
	"fmt"
	"os"
	"testing"
	"time"

	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/weave"
)

func TestDev(t *testing.T) {
	f := os.Getenv("JOB")
	data, err := os.ReadFile(f)
	if err != nil {
		t.Skip()
	}
	t0 := time.Now()
	lap := func(s string) { fmt.Printf("%8.2f ms %s\n", float64(time.Since(t0).Microseconds())/1000, s) }
	j, fs := job.Read(f, data)
	fmt.Println(fs)
	if j == nil {
		return
	}
	m, fs := motif.Build(j)
	fmt.Println(fs)
	lap("motif")
	w, fs := weave.Build(m, j)
	fmt.Println(fs)
	lap("weave")
	g, fs := groove.Build(j, m, w)
	fmt.Println(fs)
	lap("groove")
	fmt.Println(CheckHeights(j, g))
	cuts, fs := g.Cuts()
	fmt.Println(fs)
	lap("cuts")
	for _, c := range cuts {
		fmt.Println(c.Name, c.From.Kind, c.From.S, c.From.At, c.From.Hidden, c.To.Kind, c.To.S, c.To.At, c.Centre.Area(), len(c.Centre.Loops()))
	}
	set, fs := Plan(j, g, cuts)
	fmt.Println(fs)
	lap("plan")
	var laid []Laid
	for _, p := range set.Parts(g.Size, 0) {
		l := Laid{ID: p.Panel, Positions: []Position{{}}}
		n := 0
		for _, x := range p.Sheet.Lines {
			if x.Role == sheet.Opening {
				l.Openings = append(l.Openings, x.Contour)
				n += x.Contour.Len()
			}
		}
		fmt.Println(p.Sheet.Name, len(l.Openings), n)
		if p.Layer == Wall {
			laid = append(laid, l)
		}
	}
	lap("parts")
	pr := Prove(g, laid, 0)
	lap("proof")
	fmt.Printf("%+v\n", pr)
}
