package season

import "math"

// Indoors is the temperature in degrees Fahrenheit of a room, 21 degrees Celsius; a few degrees
// more or less change the moisture by less than a tenth of a per cent.
const Indoors = 70.0

// Equilibrium is the moisture that wood comes to in air of a relative humidity, in per cent, at a
// temperature in degrees Fahrenheit: the model of two hydrates of Hailwood and Horrobin as
// fitted by W. T. Simpson (FPL-RN-0268, 1998; Wood Handbook, equation 4-5).
func Equilibrium(humidity, fahrenheit float64) float64 {
	t := fahrenheit
	w := 330 + 0.452*t + 0.00415*t*t
	k := 0.791 + 4.63e-4*t - 8.44e-7*t*t
	k1 := 6.34 + 7.75e-4*t - 9.35e-5*t*t
	k2 := 1.09 + 2.84e-2*t - 9.04e-5*t*t
	h := k * humidity / 100
	return 1800 / w * (h/(1-h) + (k1*h+2*k1*k2*h*h)/(1+k1*h+k1*k2*h*h))
}

// Humidity is the relative humidity of a room, in per cent, in which wood comes to a moisture:
// Equilibrium the other way round, which grows throughout.
func Humidity(moisture float64) float64 {
	const halvings = 50 // leave 1e-13 of 100 per cent
	low, high := 0.0, 100.0
	for range halvings {
		mid := (low + high) / 2
		if Equilibrium(mid, Indoors) < moisture {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Round(low*1e6) / 1e6
}
