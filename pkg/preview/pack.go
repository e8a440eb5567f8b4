package preview

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"math"
)

// A pack is columns of whole numbers, one behind the other, deflated as a whole (RFC
// 1951): a page of 200,000 moves has to be read on a bench's old tablet too. Lengths
// and times become whole numbers by a scale.
type pack struct {
	Bytes []byte // as they are before they are deflated
	Index []array
}

// array says where in a pack a column is, and how it is written.
type array struct {
	Name string `json:"name"`
	Type string `json:"type"` // whole, rise or bytes: see the methods of pack
	From int    `json:"from"` // in bytes
	Len  int    `json:"len"`  // in numbers
	Per  num    `json:"per"`  // how many there are of one unit
}

func (p *pack) begin(name, kind string, n int, per float64) {
	p.Index = append(p.Index, array{name, kind, len(p.Bytes), n, num(per)})
}

// whole adds numbers as they are: seven bits a byte, lowest first, the sign in the
// lowest bit of all (as encoding/binary's varints).
func (p *pack) whole(name string, per float64, v []int64) {
	p.begin(name, "whole", len(v), per)
	for _, x := range v {
		p.Bytes = binary.AppendVarint(p.Bytes, x)
	}
}

// rise adds by how much each number is more than the one before it, the first than 0.
func (p *pack) rise(name string, per float64, v []int64) {
	p.begin(name, "rise", len(v), per)
	before := int64(0)
	for _, x := range v {
		p.Bytes = binary.AppendVarint(p.Bytes, x-before)
		before = x
	}
}

func (p *pack) bytes(name string, v []byte) {
	p.begin(name, "bytes", len(v), 1)
	p.Bytes = append(p.Bytes, v...)
}

// units is a number in parts of a unit. What no page has to distinguish, as no number is
// in it exactly on both sides, is taken as the largest that it has.
func units(v, per float64) int64 {
	const most = 1 << 50 // rises of it are whole numbers of a script's, which are exact up to 2^53
	return int64(math.Round(math.Max(-most, math.Min(most, v*per))))
}

// text is the pack deflated, in base64, which no page can be broken with.
func (p *pack) text() string {
	var b bytes.Buffer
	z, err := flate.NewWriter(&b, flate.BestCompression)
	if err == nil {
		if _, err = z.Write(p.Bytes); err == nil {
			err = z.Close()
		}
	}
	if err != nil {
		panic(err) // the level is one of its own, and a buffer takes all
	}
	return base64.StdEncoding.EncodeToString(b.Bytes())
}
