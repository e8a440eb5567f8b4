package preview

import (
	"encoding/base64"
	"encoding/binary"
	"math"
)

// A pack is arrays of numbers, one behind the other, each little-endian and
// beginning on a multiple of packAlign bytes, so that a page can look at them
// where they lie.
type pack struct {
	Bytes []byte
	Index []array
}

// packAlign is the size in bytes of the widest number in a pack.
const packAlign = 8

// array says where in a pack an array is.
type array struct {
	Name string `json:"name"`
	Type string `json:"type"` // f4, f8, i4 or u1: float, signed or unsigned, and bytes
	From int    `json:"from"` // in bytes
	Len  int    `json:"len"`  // in numbers
}

func (p *pack) begin(name, kind string, n int) {
	for len(p.Bytes)%packAlign != 0 {
		p.Bytes = append(p.Bytes, 0)
	}
	p.Index = append(p.Index, array{name, kind, len(p.Bytes), n})
}

// f4 adds numbers as 32-bit floats: a place 1 m from zero is good to 0.00003
// mm. NaN says that a number isn't known.
func (p *pack) f4(name string, v []float32) {
	p.begin(name, "f4", len(v))
	for _, x := range v {
		p.Bytes = binary.LittleEndian.AppendUint32(p.Bytes, math.Float32bits(x))
	}
}

func (p *pack) f8(name string, v []float64) {
	p.begin(name, "f8", len(v))
	for _, x := range v {
		p.Bytes = binary.LittleEndian.AppendUint64(p.Bytes, math.Float64bits(x))
	}
}

func (p *pack) i4(name string, v []int32) {
	p.begin(name, "i4", len(v))
	for _, x := range v {
		p.Bytes = binary.LittleEndian.AppendUint32(p.Bytes, uint32(x))
	}
}

func (p *pack) u1(name string, v []uint8) {
	p.begin(name, "u1", len(v))
	p.Bytes = append(p.Bytes, v...)
}

// text is the pack in base64, which no page can be broken with.
func (p *pack) text() string { return base64.StdEncoding.EncodeToString(p.Bytes) }
