package season

import (
	"slices"
	"strings"

	"strapwork/pkg/diag"
)

// Handbook is the table that the coefficients are from.
const Handbook = "Wood Handbook FPL-GTR-190, table 13-5"

// A Row is a wood's coefficients.
type Row struct {
	names              string // with commas between; the first is its name
	Radial, Tangential float64
	Recalled           bool // from memory
}

// Name is what the wood is called.
func (r Row) Name() string { return r.called()[0] }

func (r Row) called() []string { return strings.Split(r.names, ", ") }

// rows are table 13-5's. The hardwoods are as printed there. Those marked are recalled; of these
// yellow poplar and the softwoods are in step with their shrinkages in table 4-3 by equation
// 13-3, as the hardwoods of one species are, to the last digit. Softwoods that aren't, as
// western redcedar, and woods that the table lacks are left out. A bare name is the one that is
// commonest as boards (common practice); "pine" and "cedar" could be any.
var rows = []Row{
	{"red alder, alder", 0.00151, 0.00256, false},
	{"apple", 0.00205, 0.00376, false},
	{"white ash, ash, American ash", 0.00169, 0.00274, false},
	{"black ash", 0.00172, 0.00274, false},
	{"green ash", 0.00169, 0.00274, false},
	{"Oregon ash", 0.00141, 0.00285, false},
	{"pumpkin ash", 0.00126, 0.00219, false},
	{"quaking aspen, aspen", 0.00119, 0.00234, false},
	{"American basswood, basswood", 0.00230, 0.00330, false},
	{"American beech, beech", 0.00190, 0.00431, false},
	{"yellow birch, birch", 0.00256, 0.00338, false},
	{"paper birch, white birch", 0.00219, 0.00304, false},
	{"river birch", 0.00162, 0.00327, false},
	{"sweet birch, cherry birch", 0.00256, 0.00338, false},
	{"yellow buckeye, buckeye", 0.00123, 0.00285, false},
	{"butternut", 0.00116, 0.00223, false},
	{"northern catalpa, catalpa", 0.00085, 0.00169, false},
	{"black cherry, cherry, American cherry", 0.00126, 0.00248, false},
	{"American chestnut, chestnut", 0.00116, 0.00234, false},
	{"eastern cottonwood, cottonwood", 0.00133, 0.00327, false},
	{"black cottonwood", 0.00123, 0.00304, false},
	{"American elm, elm, white elm", 0.00144, 0.00338, false},
	{"rock elm", 0.00165, 0.00285, false},
	{"slippery elm, red elm", 0.00169, 0.00315, false},
	{"winged elm", 0.00183, 0.00419, false},
	{"cedar elm", 0.00183, 0.00419, false},
	{"hackberry", 0.00165, 0.00315, false},
	{"pecan hickory, pecan", 0.00169, 0.00315, false},
	{"true hickory, hickory", 0.00259, 0.00411, false},
	{"honeylocust, honey locust", 0.00144, 0.00230, false},
	{"black locust, locust, robinia", 0.00158, 0.00252, false},
	{"Pacific madrone, madrone", 0.00194, 0.00451, false},
	{"cucumbertree, cucumber tree", 0.00180, 0.00312, false},
	{"southern magnolia, magnolia", 0.00187, 0.00230, false},
	{"sugar maple, maple, hard maple, rock maple", 0.00165, 0.00353, false},
	{"black maple", 0.00165, 0.00353, false},
	{"bigleaf maple, western maple", 0.00126, 0.00248, false},
	{"red maple, soft maple", 0.00137, 0.00289, false},
	{"silver maple", 0.00102, 0.00252, false},
	{"white oak, oak, American white oak", 0.00180, 0.00365, false},
	{"red oak, American red oak", 0.00158, 0.00369, false},
	{"live oak", 0.00230, 0.00338, false},
	{"Oregon white oak", 0.00144, 0.00327, false},
	{"overcup oak", 0.00183, 0.00462, false},
	{"common persimmon, persimmon", 0.00278, 0.00403, false},
	{"sassafras", 0.00137, 0.00216, false},
	{"sweetgum, red gum", 0.00183, 0.00365, false},
	{"American sycamore", 0.00172, 0.00296, false},
	{"tanoak", 0.00169, 0.00423, false},
	{"black tupelo, tupelo", 0.00176, 0.00308, false},
	{"water tupelo", 0.00144, 0.00267, false},
	{"black walnut, walnut, American walnut, American black walnut", 0.00190, 0.00274, false},
	{"yellow poplar, tulip poplar, poplar, American tulipwood", 0.00158, 0.00289, true},

	{"yellow cedar, Alaska cedar", 0.00095, 0.00208, true},
	{"Atlantic white cedar", 0.00099, 0.00187, true},
	{"eastern redcedar, eastern red cedar, aromatic cedar", 0.00106, 0.00162, true},
	{"incense cedar", 0.00112, 0.00180, true},
	{"Port Orford cedar", 0.00158, 0.00241, true},
	{"Douglas fir", 0.00165, 0.00267, true},
	{"balsam fir", 0.00099, 0.00241, true},
	{"noble fir", 0.00148, 0.00293, true},
	{"white fir, fir", 0.00112, 0.00245, true},
	{"western larch, larch", 0.00155, 0.00323, true},
	{"eastern white pine", 0.00071, 0.00212, true},
	{"western white pine", 0.00141, 0.00259, true},
	{"loblolly pine, southern pine, southern yellow pine", 0.00165, 0.00259, true},
	{"longleaf pine", 0.00176, 0.00263, true},
	{"ponderosa pine", 0.00133, 0.00216, true},
	{"red pine", 0.00130, 0.00252, true},
	{"sugar pine", 0.00099, 0.00194, true},
	{"Sitka spruce, spruce", 0.00148, 0.00263, true},
	{"Engelmann spruce", 0.00130, 0.00248, true},
	{"red spruce, Adirondack spruce", 0.00130, 0.00274, true},
	{"tamarack", 0.00126, 0.00259, true},

	{"iroko", 0.00153, 0.00205, true},
	{"African mahogany, khaya", 0.00141, 0.00201, true},
	{"mahogany, Honduras mahogany, American mahogany", 0.00172, 0.00238, true},
	{"primavera", 0.00106, 0.00180, true},
	{"Spanish cedar, cedro", 0.00141, 0.00219, true},
	{"teak", 0.00101, 0.00186, true},
}

// plain are words that say how a board looks, is cut or was treated, and not which tree it is.
var plain = []string{
	"figured", "curly", "fiddleback", "flamed", "quilted", "birdseye", "spalted", "crotch", "burl", "burr",
	"steamed", "smoked", "fumed", "reclaimed", "solid", "quartersawn", "flatsawn", "sawn", "heartwood", "wood",
}

// index has every row by each of its names, the words of which may come in any order:
// "oak, white".
var index = func() map[string]int {
	all := map[string]int{}
	for i, r := range rows {
		for _, n := range r.called() {
			all[sorted(words(n))] = i
		}
	}
	return all
}()

// words are a name's, without the plain ones.
func words(name string) []string {
	list := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" \t-,;/()", r) })
	return slices.DeleteFunc(list, func(w string) bool { return slices.Contains(plain, w) })
}

func sorted(words []string) string {
	words = slices.Sorted(slices.Values(words))
	return strings.Join(words, " ")
}

// Find is a wood's row by one of its names, and whether the table has it.
func Find(name string) (Row, bool) {
	list := words(name)
	i, ok := index[sorted(list)]
	if !ok && len(list) == 1 {
		i, ok = index[strings.TrimSuffix(list[0], "wood")] // applewood
	}
	if !ok {
		return Row{}, false
	}
	return rows[i], true
}

// mostLike is how many names a hint lists.
const mostLike = 4

// Like are names of the table that may have been meant: those that share their last word with
// a name, or else one that is spelt nearly like it.
func Like(name string) (list []string) {
	own := words(name)
	if len(own) == 0 {
		return nil
	}
	var all []string
	for _, r := range rows {
		all = append(all, r.called()...)
		called := words(r.Name())
		if called[len(called)-1] == own[len(own)-1] && len(list) < mostLike {
			list = append(list, r.Name())
		}
	}
	if len(list) > 0 {
		return list
	}
	if near := diag.Nearest(strings.Join(own, " "), all); near != "" {
		return []string{near}
	}
	return nil
}
