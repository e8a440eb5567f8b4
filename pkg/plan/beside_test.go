package plan

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"testing"
)

// onCores makes something on one, two and sixteen processors, and reports what is
// made on more that isn't what is made on one.
func onCores(t *testing.T, name string, made func() any) {
	t.Helper()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	alone := made()
	for _, n := range []int{2, 16} {
		runtime.GOMAXPROCS(n)
		if got := made(); !reflect.DeepEqual(got, alone) {
			t.Errorf("%s on %d processors:\n%v\nand on one:\n%v", name, n, got, alone)
		}
	}
}

// TestCoresMakeNoDifference plans motifs on one, two and sixteen processors; of the
// rosette, whose plan takes seconds, only what is done side by side is made.
func TestCoresMakeNoDifference(t *testing.T) {
	r := fromFile(t, "looped-triangle")
	onCores(t, "the looped triangle", func() any { return r.plan() })
	for n := range motifs(t, 2) {
		name, r := exactMotif(t, n)
		for _, prefer := range prefers {
			r.job.Template.Prefer = prefer
			onCores(t, fmt.Sprint(name, prefer), func() any { return r.plan() })
		}
	}
	field := mustPrepare(t, crosses(5, 4, 90).text(9)+inlay+bushing)
	onCores(t, "crosses apart", func() any { return field.plan() })
	r = fromFile(t, "rosette")
	onCores(t, "the rosette's atoms", func() any {
		at := cutUp(&r.groove, positionsFor(paramsOf(r.job), &r.groove), math.Inf(1), false)
		at.relate()
		return at
	})
}

// TestEach: every number comes once, and of several panics the one of the lowest
// number goes on, on any number of processors.
func TestEach(t *testing.T) {
	onCores(t, "100 numbers", func() any {
		count := make([]int, 100)
		each(len(count), 7, func(i int) { count[i]++ })
		for i, n := range count {
			if n != 1 {
				t.Errorf("%d comes %d times", i, n)
			}
		}
		return count
	})
	onCores(t, "panics", func() (what any) {
		defer func() {
			if what = recover(); what != 23 {
				t.Errorf("%v goes on, want 23", what)
			}
		}()
		each(100, 7, func(i int) {
			if i > 22 {
				panic(i)
			}
		})
		return nil
	})
}
