package bend

// Springback of a metal strip, by the formula of S. Kalpakjian and S. Schmid,
// Manufacturing Engineering and Technology, on bending sheet:
//
//	Ri / Rf = 4 x^3 - 3 x + 1,  x = Ri Y / (E t)
//
// with the radius Ri round the form and Rf after letting go, the yield stress Y, the
// modulus of elasticity E and the thickness t. It follows from a strip that yields at Y
// and no further, bent about its middle line, to which the radii here belong. At x = 1/2
// the outermost fibre only just yields: beyond that the strip springs back whole.

// whole is x at which the ratio is 0.
const whole = 0.5

// x is the part of the formula that stands for the strip.
func x(radius, thickness, yield, modulus float64) float64 {
	return radius * yield / (modulus * thickness)
}

// Springs reports whether a strip bent to a radius is still within its spring: it goes
// straight again by itself, and is held in its bend by the groove alone.
func Springs(radius, thickness, yield, modulus float64) bool {
	return x(radius, thickness, yield, modulus) >= whole
}

// Ratio is Ri / Rf of a strip bent to the radius ri; 0 where it springs back whole.
func Ratio(ri, thickness, yield, modulus float64) float64 {
	if Springs(ri, thickness, yield, modulus) {
		return 0
	}
	x := x(ri, thickness, yield, modulus)
	return 4*x*x*x - 3*x + 1
}

// Round is the radius to which a strip is bent so that it is left with the radius rf.
// There is one for every rf, since the ratio falls from 1 to 0 as ri grows; it is found
// by halving. Of a strip that springs at rf it is of no use: a little more yield changes
// what is left of the bend by far more than ri.
func Round(rf, thickness, yield, modulus float64) float64 {
	lo, hi := 0.0, min(rf, whole/x(1, thickness, yield, modulus))
	for {
		ri := (lo + hi) / 2
		switch {
		case ri <= lo || ri >= hi: // no number lies between
			return ri
		case ri < rf*Ratio(ri, thickness, yield, modulus):
			lo = ri
		default:
			hi = ri
		}
	}
}
