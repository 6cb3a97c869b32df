package survey

import (
	"encoding/binary"
	"errors"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
)

// AppendPacked adds to b all of a record but its file, for a temporary file of the same run.
func (r *Record) AppendPacked(b []byte) []byte {
	flags := byte(r.Status) << 3
	if r.Detected {
		flags |= 1
	}
	if r.Notes != "" {
		flags |= 2
	}
	if r.Outline != nil {
		flags |= 4
	}
	b = append(b, flags)
	for _, v := range [...]float64{r.Position[0], r.Position[1], float64(r.Uncertainty), float64(r.PatchArea), r.Cover, float64(r.StemHeight)} {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	b = binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(b, uint32(r.Begin)), uint32(r.End))
	b = AppendText(binary.AppendVarint(b, int64(r.Row)), r.ID)
	if r.Notes != "" {
		b = AppendText(b, r.Notes)
	}
	if r.Outline == nil {
		return b
	}
	return shape.AppendPolygons(b, r.Outline)
}

// packedGlance returns what Glance has of a record in what AppendPacked wrote.
func packedGlance(b []byte) Glance {
	number := func(i int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b[1+8*i:])) }
	day := func(i int) Day { return Day(binary.LittleEndian.Uint32(b[1+6*8+4*i:])) }
	return Glance{orb.Point{number(0), number(1)}, geo.Meters(number(2)), day(0), day(1), b[0]&1 > 0}
}

// Unpack makes r what AppendPacked wrote at the beginning of b, without a file. It keeps nothing of b; its
// texts are of one string. The error says that b is too short.
func (r *Record) Unpack(b []byte) error { return r.unpack(unpacking{rest: b}) }

// unpackNumbers is Unpack without texts.
func (r *Record) unpackNumbers(b []byte) error { return r.unpack(unpacking{rest: b, noTexts: true}) }

func (r *Record) unpack(u unpacking) error {
	flags := u.take(1)[0]
	u.apart = flags&4 > 0
	*r = Record{Detected: flags&1 > 0, Status: Status(flags >> 3)}
	r.Position = u.point()
	r.Uncertainty, r.PatchArea = geo.Meters(u.number()), geo.SquareMeters(u.number())
	r.Cover, r.StemHeight = u.number(), geo.Meters(u.number())
	r.Begin, r.End = Day(binary.LittleEndian.Uint32(u.take(4))), Day(binary.LittleEndian.Uint32(u.take(4)))
	r.Row, r.ID = int(u.signed()), u.text()
	if flags&2 > 0 {
		r.Notes = PackedNotes(u.text())
	}
	if flags&4 > 0 {
		r.Outline = make(orb.MultiPolygon, u.count(1))
		for i := range r.Outline {
			r.Outline[i] = make(orb.Polygon, u.count(1))
			for k := range r.Outline[i] {
				ring := make(orb.Ring, u.count(16))
				for v := range ring {
					ring[v] = u.point()
				}
				r.Outline[i][k] = ring
			}
		}
	}
	if u.short {
		return errShort
	}
	return nil
}

var errShort = errors.New("a record of a temporary file is cut off")

// unpacking reads packed bytes.
type unpacking struct {
	rest    []byte
	short   bool   // the bytes have ended
	noTexts bool   // texts are passed over
	apart   bool   // each text is copied by itself, since an outline follows, which would be copied with them
	texts   string // what followed when the first text was read, which the others are of
}

var nothing [8]byte

// take returns the next n bytes; zeros at the end.
func (u *unpacking) take(n int) []byte {
	if n > len(u.rest) {
		u.rest, u.short = nil, true
		return nothing[:min(n, len(nothing))]
	}
	out := u.rest[:n]
	u.rest = u.rest[n:]
	return out
}

// skip leaves out a number of n bytes; 0 if it is cut off.
func (u *unpacking) skip(n int) {
	if n <= 0 {
		n = len(u.rest) + 1
	}
	u.take(n)
}

func (u *unpacking) number() float64 {
	return math.Float64frombits(binary.LittleEndian.Uint64(u.take(8)))
}

func (u *unpacking) point() orb.Point { return orb.Point{u.number(), u.number()} }

func (u *unpacking) signed() int64 {
	v, n := binary.Varint(u.rest)
	u.skip(n)
	return v
}

// count reads a number of things of at least size bytes each.
func (u *unpacking) count(size int) int {
	v, n := binary.Uvarint(u.rest)
	u.skip(n)
	if v > uint64(len(u.rest)/size) {
		u.rest, u.short = nil, true
		return 0
	}
	return int(v)
}

func (u *unpacking) text() string {
	n := u.count(1)
	switch {
	case n == 0:
		return ""
	case u.noTexts:
		u.take(n)
		return ""
	case u.apart:
		return string(u.take(n))
	}
	if u.texts == "" {
		u.texts = string(u.rest)
	}
	from := len(u.texts) - len(u.rest)
	u.take(n)
	return u.texts[from : from+n]
}
