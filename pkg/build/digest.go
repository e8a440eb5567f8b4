package build

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"slices"
)

// A digest names a stage and its input: the SHA-256 of the stage's name and of all
// values in the input, what is behind pointers and in unexported fields too. What
// other stages made is named by its own digest, and not looked into.
type digest [sha256.Size]byte

// isMade reports what the walk below need not look into.
func (made[V]) isMade() {}

var madeType = reflect.TypeFor[interface{ isMade() }]()

func digestOf(stage string, in any) digest {
	return sha256.Sum256(appendValue([]byte(stage+"\n"), reflect.ValueOf(in)))
}

// appendValue writes a value down so that values that differ are written
// differently. The type isn't: a stage has one type of input, and of what can be
// of several types, an interface, it is.
func appendValue(b []byte, v reflect.Value) []byte {
	word := binary.LittleEndian.AppendUint64
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			return append(b, 1)
		}
		return append(b, 0)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return word(b, uint64(v.Int()))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uintptr:
		return word(b, v.Uint())
	case reflect.Float32, reflect.Float64:
		return word(b, math.Float64bits(v.Float()))
	case reflect.String:
		return append(word(b, uint64(v.Len())), v.String()...)
	case reflect.Struct:
		if v.Type().Implements(madeType) {
			return appendValue(b, v.FieldByName("key"))
		}
		for i := range v.NumField() {
			b = appendValue(b, v.Field(i))
		}
		return b
	case reflect.Slice:
		if v.IsNil() {
			return word(b, math.MaxUint64)
		}
		b = word(b, uint64(v.Len()))
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return append(b, v.Bytes()...)
		}
		return appendAll(b, v)
	case reflect.Array:
		return appendAll(b, v)
	case reflect.Map:
		return appendMap(b, v)
	case reflect.Pointer, reflect.Interface, reflect.Func:
		switch {
		case v.IsNil():
			return append(b, 0)
		case v.Kind() == reflect.Func:
			panic("a function is no input of a stage")
		case v.Kind() == reflect.Interface:
			b = append(b, v.Elem().Type().String()...)
		}
		return appendValue(append(b, 1), v.Elem())
	case reflect.Invalid, reflect.Complex64, reflect.Complex128, reflect.Chan, reflect.UnsafePointer:
	}
	panic(fmt.Sprintf("a %s is no input of a stage", v.Kind()))
}

func appendAll(b []byte, v reflect.Value) []byte {
	for i := range v.Len() {
		b = appendValue(b, v.Index(i))
	}
	return b
}

// appendMap writes a map's entries in the order of how they are written.
func appendMap(b []byte, v reflect.Value) []byte {
	var entries [][]byte
	for all := v.MapRange(); all.Next(); {
		entries = append(entries, appendValue(appendValue(nil, all.Key()), all.Value()))
	}
	slices.SortFunc(entries, bytes.Compare)
	b = binary.LittleEndian.AppendUint64(b, uint64(len(entries)))
	for _, e := range entries {
		b = append(b, e...)
	}
	return b
}
