package stand

import (
	"bytes"
	"encoding/binary"
	"errors"
)

// GobEncode returns the outline as bytes, to be kept between two runs of one version.
func (o Outline) GobEncode() ([]byte, error) {
	var b bytes.Buffer
	b.Grow(8*(3+len(o.offset)) + 4*(3+len(o.rings)+len(o.holes)))
	sizes := [3]int32{int32(len(o.offset)), int32(len(o.rings)), int32(len(o.holes))}
	for _, field := range []any{sizes, o.origin, o.unit, o.offset, o.rings, o.holes} {
		if err := binary.Write(&b, binary.LittleEndian, field); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
}

// GobDecode reads what GobEncode returned.
func (o *Outline) GobDecode(text []byte) error {
	r := bytes.NewReader(text)
	var sizes [3]int32
	if err := binary.Read(r, binary.LittleEndian, &sizes); err != nil {
		return err
	}
	for _, n := range sizes {
		if n < 0 || int(n) > len(text) {
			return errors.New("an outline of no size")
		}
	}
	*o = Outline{}
	if sizes[0] > 0 {
		o.offset, o.rings, o.holes = make([][2]int32, sizes[0]), make([]int32, sizes[1]), make([]int32, sizes[2])
	}
	for _, field := range []any{&o.origin, &o.unit, o.offset, o.rings, o.holes} {
		if err := binary.Read(r, binary.LittleEndian, field); err != nil {
			return err
		}
	}
	return nil
}
