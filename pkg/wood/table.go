package wood

// Kind says what a material is, as far as a bench has to know.
type Kind int

const (
	// Timber is wood of any kind, dyed or not.
	Timber Kind = iota
	// Metal is cut with other dust and chips than wood.
	Metal
	// Other is bone, shell and what else is let in.
	Other
)

// A Material is what a strip or a board is of.
type Material struct {
	Name  string
	Base  string // what the table calls it, whatever it is dyed; "" of a colour alone
	Kind  Kind
	Color Color // of a wood as planed and dry, without finish; of metals brushed
	Vague bool  // it is dyed, and in which colour isn't said
}

// Shown is the colour in which a picture of finished work shows it.
func (m Material) Shown() Color {
	if m.Kind == Timber {
		return m.Color.Finished()
	}
	return m.Color
}

// row is a line of the table: the name, what else it is called, its colour.
type row struct {
	names string // with commas between; the first is its name
	lab   Color
}

// timbers are planed and dry heartwoods. Measured are
//
//   - beech: L* and a* in Acta Facultatis Xylologiae Zvolen 62(2), 2020, from a decrease
//     of 7.0 that is 9.7 %, and redness before any light; pine likewise, 9.2 and 11 %,
//   - steamed beech: L. Dzurenda and M. Dudiak, Forests 2024, 15(6), 1009.
//
// All others, and these two's b*, are common practice, from memory, within the ranges
// that were measured on 98 tropical species: L* 24 to 84, b* 2 to 37 (Diversity of wood
// colour in tropical timber species, IAWA Journal). A tree's wood differs from
// another's by more than most of these differ from their neighbours.
var timbers = []row{
	{"holly", Color{90, 0, 8}},
	{"sycamore, plane", Color{86, 2, 15}},
	{"hornbeam", Color{82, 3, 17}},
	{"maple", Color{84, 3, 17}},
	{"birch", Color{82, 3.5, 18}},
	{"lime, linden, basswood", Color{79, 4, 20}},
	{"aspen, cottonwood", Color{84, 2, 16}},
	{"poplar, yellow poplar, tulip poplar", Color{76, 1, 20}},
	{"spruce, fir", Color{84, 3, 21}},
	{"pine", Color{84, 4.5, 25}},
	{"ash", Color{78, 4, 19}},
	{"box, boxwood", Color{78, 4, 30}},
	{"lemonwood, degame", Color{76, 5, 30}},
	{"satinwood", Color{72, 7, 34}},
	{"yellowheart, pau amarello", Color{76, 5, 37}},
	{"bamboo", Color{74, 5, 24}},
	{"beech", Color{72, 6.4, 19}},
	{"steamed beech", Color{61.3, 12.4, 19.5}},
	{"oak", Color{67, 6, 20}},
	{"chestnut", Color{66, 5, 20}},
	{"alder", Color{67, 10, 22}},
	{"robinia, black locust, locust", Color{66, 5, 30}},
	{"larch", Color{66, 12, 28}},
	{"osage orange, maclura", Color{64, 12, 37}},
	{"pear", Color{64, 11, 18}},
	{"cherry", Color{62, 11, 22}},
	{"yew", Color{62, 14, 30}},
	{"olive, olivewood", Color{62, 8, 26}},
	{"elm", Color{62, 7, 20}},
	{"apple", Color{60, 12, 20}},
	{"harewood", Color{60, 0, 6}},
	{"zebrawood, zebrano", Color{60, 8, 22}},
	{"mulberry", Color{59, 12, 34}},
	{"tulipwood", Color{58, 20, 22}},
	{"cedar", Color{57, 15, 24}},
	{"iroko", Color{55, 8, 24}},
	{"lacewood, silky oak", Color{55, 12, 18}},
	{"pink ivory", Color{55, 24, 14}},
	{"plum", Color{53, 16, 20}},
	{"teak", Color{52, 9, 22}},
	{"koa", Color{52, 12, 24}},
	{"acacia", Color{50, 9, 22}},
	{"amboyna", Color{50, 16, 26}},
	{"redheart, chakte kok", Color{50, 26, 20}},
	{"jatoba", Color{48, 17, 20}},
	{"greenheart", Color{48, 2, 18}},
	{"mahogany", Color{48, 15, 21}},
	{"brown oak", Color{47, 7, 15}},
	{"padauk, padouk", Color{46, 27, 29}},
	{"laburnum", Color{45, 8, 24}},
	{"sapele, sapelli", Color{45, 14, 18}},
	{"thuya", Color{45, 18, 26}},
	{"walnut", Color{42, 6, 15}},
	{"smoked oak, fumed oak", Color{42, 5, 12}},
	{"bubinga", Color{42, 17, 17}},
	{"purpleheart, amaranth", Color{40, 14, 5}},
	{"lignum vitae", Color{40, 2, 14}},
	{"cocobolo", Color{40, 18, 20}},
	{"bloodwood, satine", Color{40, 28, 22}},
	{"ipe", Color{40, 7, 14}},
	{"snakewood, letterwood", Color{38, 18, 18}},
	{"kingwood", Color{36, 14, 10}},
	{"ziricote", Color{36, 4, 9}},
	{"rosewood, palisander", Color{34, 10, 10}},
	{"wenge", Color{34, 5, 9}},
	{"macassar ebony", Color{33, 4, 6}},
	{"bog oak, bogwood, bog wood", Color{32, 3, 6}},
	{"blackwood, grenadilla", Color{29, 3, 3}},
	{"ebony", Color{27, 1, 3}},
}

// metals are brushed, as they are after levelling, in even light (common practice).
var metals = []row{
	{"silver, sterling silver", Color{87, 0, 3}},
	{"aluminium, aluminum", Color{80, 0, -1}},
	{"tin", Color{78, 0, 2}},
	{"gold", Color{77, 8, 46}},
	{"nickel silver, german silver, white bronze, alpaca", Color{75, 0, 7}},
	{"brass", Color{73, 4, 40}},
	{"nickel", Color{72, 1, 6}},
	{"zinc", Color{68, -1, -2}},
	{"pewter", Color{66, 0, 1}},
	{"steel, stainless", Color{65, 0, -1}},
	{"metal", Color{65, 0, 1}},
	{"copper", Color{60, 24, 26}},
	{"titanium", Color{60, 1, 4}},
	{"bronze", Color{57, 12, 32}},
	{"iron", Color{52, 0, 1}},
	{"lead", Color{48, -1, -3}},
	{"gunmetal", Color{45, 3, 10}},
}

// others are neither (common practice).
var others = []row{
	{"mother of pearl, pearl, nacre, shell, mop", Color{88, 0, 4}},
	{"bone", Color{87, 2, 14}},
	{"ivory", Color{86, 2, 16}},
	{"antler", Color{74, 4, 16}},
	{"turquoise", Color{65, -26, -10}},
	{"abalone, paua", Color{60, -8, 2}},
	{"coral", Color{58, 35, 22}},
	{"horn", Color{40, 5, 14}},
	{"tortoiseshell", Color{35, 14, 24}},
	{"jet", Color{15, 0, 0}},
}

// dyes are veneers dyed through (common practice).
var dyes = []row{
	{"white, bleached", Color{93, 0, 5}},
	{"yellow", Color{80, 6, 56}},
	{"pink", Color{70, 28, 8}},
	{"orange", Color{62, 32, 48}},
	{"gray, grey", Color{60, 0, 3}},
	{"green", Color{46, -26, 18}},
	{"red", Color{42, 44, 24}},
	{"blue", Color{40, 0, -32}},
	{"brown", Color{40, 11, 18}},
	{"purple, violet", Color{34, 24, -20}},
	{"black, ebonised, ebonized", Color{22, 0, 1}},
}
