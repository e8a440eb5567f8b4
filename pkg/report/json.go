package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"strapwork/pkg/geom"
)

// decimals is how many places after the point the JSON has: a millionth of a
// millimetre or of a degree, a thousand times finer than anybody cuts, and
// coarse enough to drop the noise of arithmetic.
const decimals = 6

// num is a number of the manifest: rounded, never "-0", never with an
// exponent.
type num float64

// MarshalJSON writes the number; one that isn't finite is an error.
func (n num) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("report: %v is not a number that JSON has", v)
	}
	return []byte(fixed(v, decimals)), nil
}

// fixed writes v with at most so many decimals, without idle zeros and never
// as "-0".
func fixed(v float64, places int) string {
	scale := math.Pow10(places)
	if r := math.Round(v * scale); math.Abs(r) < 1<<53 {
		v = r / scale
	}
	return strconv.FormatFloat(v+0, 'f', -1, 64) // -0 + 0 is 0
}

// xy is a place, mm from the motif's origin.
type xy [2]num

func toXY(p geom.Point) xy { return xy{num(p.X), num(p.Y)} }

// xyz is a place of a bit's tip, in the coordinates of its program.
type xyz [3]num

func nums(list []float64) []num {
	out := make([]num, len(list))
	for i, v := range list {
		out[i] = num(v)
	}
	return out
}

// encode writes a document as the tool's JSON: indented, places on one line,
// with a line end at its end, and <, > and & as they are.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return numberList.ReplaceAllFunc(b.Bytes(), oneLine), nil
}

// numberList is a list of nothing but numbers, spread over lines. Line ends
// don't occur within JSON strings, so none of it can be part of one.
var numberList = regexp.MustCompile(`\[\n\s+-?[0-9.]+(,\n\s+-?[0-9.]+)*\n\s+\]`)

// oneLine writes a list of numbers as people do: [60, -12.5].
func oneLine(list []byte) []byte {
	return []byte("[" + strings.Join(strings.Fields(strings.Trim(string(list), "[]")), " ") + "]")
}
