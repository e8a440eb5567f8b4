package unit

import (
	"fmt"
	"math"
)

// Duration shows a time in seconds, to the second, and from an hour on to the
// minute: "45 s", "12 min 30 s", "2 h 5 min". What is negative or no number is
// "0 s".
func Duration(seconds float64) string {
	const minute, hour = 60, 3600
	const most = 1e9 // 30 years, and fits an int
	total := 0
	if seconds > 0 {
		total = int(math.Round(math.Min(seconds, most)))
	}
	switch {
	case total < minute:
		return fmt.Sprintf("%d s", total)
	case total < hour:
		return fmt.Sprintf("%d min %d s", total/minute, total%minute)
	}
	return fmt.Sprintf("%d h %d min", total/hour, total%hour/minute)
}
