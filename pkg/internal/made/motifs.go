package made

import "fmt"

// Pieces of jobs, to be put together: a motif, an inlay, a router. Lengths are mm.
const (
	Inlay = "[inlay]\ndepth = 3\nwidth = 5.08\n"
	Base  = "[router]\nguide = \"base\"\nrider = 100\nbit = 3.175\nflute = 16\n"
	// TwoLoops is a bar through four crossings and a loop at each end, turned twice: one
	// closed strand without a corner.
	TwoLoops = `[motif]
copies = 2
[[motif.line]]
name = "bar"
from = [-150, 70]
to = [150, 70]
[[motif.arc]]
name = "end"
center = [150, 0]
radius = 70
start = 90
sweep = -180
`
	// Cross is two bars that cross in the middle.
	Cross = `[[motif.line]]
name = "a"
from = [-150, 0]
to = [150, 0]
[[motif.line]]
name = "b"
from = [0, -150]
to = [0, 150]
`
	// Angle is two arms of 200 mm that meet at 60 degrees.
	Angle = `[[motif.path]]
name = "v"
d = "M 200 0 L 0 0 L 100 173.20508075688772"
`
)

// Chords is a motif of n straights round the middle, each crossing others.
func Chords(n int) string {
	return fmt.Sprintf("[motif]\ncopies = %d\n[[motif.line]]\nname = \"c\"\nfrom = [-190, 70]\nto = [190, 70]\n", n)
}
