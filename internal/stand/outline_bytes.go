package stand

import (
	"encoding/binary"
	"errors"
	"math"
)

// originBytes is the number of bytes of the origin.
const originBytes = 16

// GobEncode returns the outline as bytes, to be stored between two runs of the same version.
func (o Outline) GobEncode() ([]byte, error) {
	var text []byte
	for _, v := range o.origin {
		text = binary.LittleEndian.AppendUint64(text, math.Float64bits(v))
	}
	rings, err := o.packed.GobEncode()
	return append(text, rings...), err
}

// GobDecode reads the bytes that GobEncode returned.
func (o *Outline) GobDecode(text []byte) error {
	if len(text) < originBytes {
		return errors.New("an outline without an origin")
	}
	for k := range o.origin {
		o.origin[k] = math.Float64frombits(binary.LittleEndian.Uint64(text[8*k:]))
	}
	return o.packed.GobDecode(text[originBytes:])
}
