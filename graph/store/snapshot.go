package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"reflect"
	"strings"

	"telltale/graph"
)

// A snapshot is the knowledge in CBOR (RFC 8949): an array of the digest of the
// files it was made from, a checksum (CRC-32C) of what follows, and the knowledge.
// A struct is an array of its exported fields in their order, null where it is
// zero. It is read into the types of package graph without copying a single text,
// which takes a third of the time that a general CBOR library takes; opening it is
// what every command waits for.

// The major types of CBOR, and the simple values that are used.
const (
	unsignedType = 0
	textType     = 3
	arrayType    = 4
	simpleType   = 7

	falseValue = 20
	trueValue  = 21
	nullValue  = 22
)

// packSnapshot writes a snapshot.
func packSnapshot(digest string, k *graph.Knowledge) ([]byte, error) {
	p := &packer{}
	p.value(reflect.ValueOf(k).Elem())
	if p.err != nil {
		return nil, p.err
	}
	out := packHead(nil, arrayType, 3)
	out = append(packHead(out, textType, uint64(len(digest))), digest...)
	out = packHead(out, unsignedType, uint64(checksum(string(p.out))))
	return append(out, p.out...), nil
}

// unpackSnapshot reads a snapshot of the files with that digest.
func unpackSnapshot(digest, snapshot string) (*graph.Knowledge, error) {
	header := string(append(packHead(packHead(nil, arrayType, 3), textType, uint64(len(digest))), digest...))
	if !strings.HasPrefix(snapshot, header) {
		return nil, errors.New("this snapshot was made from other files")
	}
	u := &unpacker{rest: snapshot[len(header):], fields: map[reflect.Type][]int{}}
	sum, err := u.head(unsignedType)
	if err != nil {
		return nil, err
	}
	if sum != uint64(checksum(u.rest)) {
		return nil, errors.New("this snapshot is damaged")
	}
	k := &graph.Knowledge{}
	if err := u.value(reflect.ValueOf(k).Elem()); err != nil {
		return nil, err
	}
	return k, nil
}

// checksum sums a text piece by piece, so that no copy of all of it is made.
func checksum(s string) uint32 {
	sum := crc32.New(crc32.MakeTable(crc32.Castagnoli))
	_, _ = io.CopyBuffer(sum, struct{ io.Reader }{strings.NewReader(s)}, make([]byte, 32<<10)) // neither can fail
	return sum.Sum32()
}

type packer struct {
	out []byte
	err error
}

// packHead writes a major type with its number, in as few bytes as it takes.
func packHead(out []byte, major byte, n uint64) []byte {
	switch {
	case n < 24:
		return append(out, major<<5|byte(n))
	case n <= math.MaxUint8:
		return append(out, major<<5|24, byte(n))
	case n <= math.MaxUint16:
		return binary.BigEndian.AppendUint16(append(out, major<<5|25), uint16(n))
	case n <= math.MaxUint32:
		return binary.BigEndian.AppendUint32(append(out, major<<5|26), uint32(n))
	}
	return binary.BigEndian.AppendUint64(append(out, major<<5|27), n)
}

func (p *packer) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			p.out = packHead(p.out, simpleType, nullValue)
			return
		}
		p.value(v.Elem())
	case reflect.String:
		p.out = append(packHead(p.out, textType, uint64(v.Len())), v.String()...)
	case reflect.Bool:
		simple := uint64(falseValue)
		if v.Bool() {
			simple = trueValue
		}
		p.out = packHead(p.out, simpleType, simple)
	case reflect.Float64:
		p.out = binary.BigEndian.AppendUint64(append(p.out, simpleType<<5|27), math.Float64bits(v.Float()))
	case reflect.Int:
		if v.Int() < 0 {
			p.err = fmt.Errorf("a snapshot has no room for a number below zero, %d", v.Int())
		}
		p.out = packHead(p.out, unsignedType, uint64(v.Int()))
	case reflect.Uint8:
		p.out = packHead(p.out, unsignedType, v.Uint())
	case reflect.Slice:
		p.out = packHead(p.out, arrayType, uint64(v.Len()))
		for i := range v.Len() {
			p.value(v.Index(i))
		}
	case reflect.Struct:
		p.fields(v)
	default:
		p.err = fmt.Errorf("a snapshot has no room for a %s", v.Type())
	}
}

func (p *packer) fields(v reflect.Value) {
	fields := exported(v.Type())
	zero := true
	for _, i := range fields {
		zero = zero && v.Field(i).IsZero()
	}
	if zero {
		p.out = packHead(p.out, simpleType, nullValue)
		return
	}
	p.out = packHead(p.out, arrayType, uint64(len(fields)))
	for _, i := range fields {
		p.value(v.Field(i))
	}
}

func exported(t reflect.Type) []int {
	var out []int
	for i := range t.NumField() {
		if t.Field(i).IsExported() {
			out = append(out, i)
		}
	}
	return out
}

type unpacker struct {
	rest   string
	fields map[reflect.Type][]int
	spare  []string // room for lists of texts, which are short and many
}

var errShort = errors.New("this snapshot ends too early")

// any reads a major type with its number.
func (u *unpacker) any() (major byte, n uint64, err error) {
	if u.rest == "" {
		return 0, 0, errShort
	}
	major, n = u.rest[0]>>5, uint64(u.rest[0]&31)
	u.rest = u.rest[1:]
	if n < 24 {
		return major, n, nil
	}
	if n > 27 {
		return 0, 0, fmt.Errorf("this snapshot holds a number of an unknown length, %d", n)
	}
	size := 1 << (n - 24)
	if len(u.rest) < size {
		return 0, 0, errShort
	}
	n = 0
	for _, b := range []byte(u.rest[:size]) {
		n = n<<8 | uint64(b)
	}
	u.rest = u.rest[size:]
	return major, n, nil
}

// head reads the number of a value of that major type.
func (u *unpacker) head(want byte) (uint64, error) {
	major, n, err := u.any()
	if err == nil && major != want {
		err = fmt.Errorf("this snapshot holds a value of type %d, expected %d", major, want)
	}
	return n, err
}

// length reads how long a text or an array is, which is no longer than what is
// left: every entry takes a byte at least.
func (u *unpacker) length(want byte) (int, error) {
	n, err := u.head(want)
	if err == nil && n > uint64(len(u.rest)) {
		err = errShort
	}
	return int(n), err
}

func (u *unpacker) text() (string, error) {
	n, err := u.length(textType)
	if err != nil {
		return "", err
	}
	out := u.rest[:n]
	u.rest = u.rest[n:]
	return out, nil
}

func (u *unpacker) value(v reflect.Value) error {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		return u.value(v.Elem())
	case reflect.Struct:
		return u.structure(v)
	case reflect.Slice:
		return u.slice(v)
	case reflect.String:
		s, err := u.text()
		v.SetString(s)
		return err
	case reflect.Bool, reflect.Float64:
		n, err := u.head(simpleType)
		if v.Kind() == reflect.Bool {
			v.SetBool(n == trueValue)
		} else {
			v.SetFloat(math.Float64frombits(n))
		}
		return err
	}
	n, err := u.head(unsignedType)
	if v.Kind() == reflect.Int {
		v.SetInt(int64(n))
	} else {
		v.SetUint(n)
	}
	return err
}

func (u *unpacker) structure(v reflect.Value) error {
	major, n, err := u.any()
	fields, known := u.fields[v.Type()]
	if !known {
		fields = exported(v.Type())
		u.fields[v.Type()] = fields
	}
	switch {
	case err != nil:
		return err
	case major == simpleType && n == nullValue:
		return nil
	case major != arrayType || n != uint64(len(fields)):
		return fmt.Errorf("this snapshot holds no %s where one is expected", v.Type())
	}
	for _, i := range fields {
		if err := u.value(v.Field(i)); err != nil {
			return err
		}
	}
	return nil
}

func (u *unpacker) slice(v reflect.Value) error {
	n, err := u.length(arrayType)
	if err != nil || n == 0 {
		return err
	}
	if list, ok := v.Addr().Interface().(*[]string); ok { // the commonest by far
		*list = u.strings(n)
		for i := range *list {
			if (*list)[i], err = u.text(); err != nil {
				return err
			}
		}
		return nil
	}
	v.Set(reflect.MakeSlice(v.Type(), n, n))
	for i := range n {
		if err := u.value(v.Index(i)); err != nil {
			return err
		}
	}
	return nil
}

// strings makes a list of texts. Nothing appended to it reaches its neighbour.
func (u *unpacker) strings(n int) []string {
	if len(u.spare) < n {
		u.spare = make([]string, max(n, 4096))
	}
	out := u.spare[:n:n]
	u.spare = u.spare[n:]
	return out
}
