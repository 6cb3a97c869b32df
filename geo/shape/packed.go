package shape

import (
	"bytes"
	"encoding/binary"
	"errors"
	"iter"
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"
)

// errPacked means that the bytes are not packed polygons.
var errPacked = errors.New("no packed polygons")

// Step is a place on a grid, in whole steps from its origin.
type Step [2]int64

// Packed holds polygons on a grid in little memory: every vertex as the steps from the vertex
// before, in as few bytes as possible, four or five for sides of some metres on a grid of
// centimetres. The zero value has no polygons.
type Packed struct {
	text []byte
	far  Far // of the text, if it is not in memory
}

// Far is a text that is elsewhere than in memory, such as on disk. Its bytes must not be changed.
type Far = interface{ Bytes() []byte }

// Keep returns the same polygons without their text in memory: put takes it and says where it is.
func (p Packed) Keep(put func(text []byte) (Far, error)) (Packed, error) {
	if len(p.text) == 0 {
		return p, nil
	}
	far, err := put(p.text)
	return Packed{far: far}, err
}

// bytes returns the text.
func (p Packed) bytes() []byte {
	if p.far != nil {
		return p.far.Bytes()
	}
	return p.text
}

// packer makes a Packed, ring by ring.
type packer struct {
	text []byte
	last Step
	room []Step // of the present ring
}

// packers has packers whose room is used again.
var packers = sync.Pool{New: func() any { return new(packer) }}

// add appends a ring without its closing vertex; an outer ring begins a polygon.
func (p *packer) add(outer bool, ring []Step) {
	head := uint64(len(ring)) << 1
	if outer {
		head |= 1
	}
	p.text = binary.AppendUvarint(p.text, head)
	for _, at := range ring {
		p.text = binary.AppendVarint(p.text, at[0]-p.last[0])
		p.text = binary.AppendVarint(p.text, at[1]-p.last[1])
		p.last = at
	}
}

// Pack returns the polygons of closed rings, each vertex at the step that step returns. It leaves
// out vertices at the same step as the one before, and rings of fewer than three vertices. A
// polygon whose outer ring is left out has no holes.
func Pack(mp orb.MultiPolygon, step func(orb.Point) Step) Packed {
	p := packers.Get().(*packer)
	defer packers.Put(p)
	p.text, p.last = p.text[:0], Step{}
	for _, polygon := range mp {
		outer := true
		for _, ring := range polygon {
			room := p.room[:0]
			for _, at := range ring[:len(ring)-1] {
				if s := step(at); len(room) == 0 || room[len(room)-1] != s {
					room = append(room, s)
				}
			}
			p.room = room
			if n := len(room); n > 1 && room[0] == room[n-1] {
				room = room[:n-1]
			}
			if len(room) >= 3 {
				p.add(outer, room)
			} else if outer {
				break
			}
			outer = false
		}
	}
	if len(p.text) == 0 {
		return Packed{}
	}
	return Packed{text: bytes.Clone(p.text)} // without spare capacity
}

// Each calls do with every ring, without its closing vertex: an outer ring and then its holes,
// polygon by polygon. The ring is valid only until do returns.
func (p Packed) Each(do func(outer bool, ring []Step)) {
	var room []Step
	var at Step
	for text := p.bytes(); len(text) > 0; {
		head, n := binary.Uvarint(text)
		room = slices.Grow(room[:0], int(head>>1))[:head>>1]
		text = text[n:]
		for i := range room {
			text = readVertex(text, &at)
			room[i] = at
		}
		do(head&1 == 1, room)
	}
}

// Polygons unpacks the polygons as closed rings, each vertex at the place that place returns.
func (p Packed) Polygons(place func(Step) orb.Point) orb.MultiPolygon {
	out := orb.MultiPolygon{}
	for outer, ring := range p.Rings(place) {
		if outer {
			out = append(out, nil)
		}
		polygon := &out[len(out)-1]
		*polygon = append(*polygon, slices.Clone(ring))
	}
	return out
}

// rooms has rooms for a ring, which are used again.
var rooms = sync.Pool{New: func() any { return new(orb.Ring) }}

// Rings unpacks the same rings one after another: the outer ring of each polygon and then its
// holes. A ring is valid only until the next.
func (p Packed) Rings(place func(Step) orb.Point) iter.Seq2[bool, orb.Ring] {
	return func(yield func(outer bool, ring orb.Ring) bool) {
		room := rooms.Get().(*orb.Ring)
		defer rooms.Put(room)
		var at Step
		for text := p.bytes(); len(text) > 0; {
			head, n := binary.Uvarint(text)
			text = text[n:]
			vertices := int(head >> 1)
			ring := slices.Grow((*room)[:0], vertices+1)[:vertices+1]
			for i := range ring[:vertices] {
				text = readVertex(text, &at)
				ring[i] = place(at)
			}
			ring[vertices] = ring[0]
			*room = ring
			if !yield(head&1 == 1, ring) {
				return
			}
		}
	}
}

// Rings returns the rings of polygons in the same order.
func Rings(mp orb.MultiPolygon) iter.Seq2[bool, orb.Ring] {
	return func(yield func(outer bool, ring orb.Ring) bool) {
		for _, polygon := range mp {
			for k, ring := range polygon {
				if !yield(k == 0, ring) {
					return
				}
			}
		}
	}
}

// readVertex moves at from one vertex to the next, and returns the text that is left. It reads two
// numbers as binary.Varint does; most take one or two bytes.
func readVertex(text []byte, at *Step) []byte {
	for k := range at {
		v, n := uint64(text[0]), 1
		if v >= 0x80 {
			if next := uint64(text[1]); next < 0x80 {
				v, n = v&0x7f|next<<7, 2
			} else {
				v, n = binary.Uvarint(text)
			}
		}
		at[k] += int64(v>>1) ^ -int64(v&1)
		text = text[n:]
	}
	return text
}

// GobEncode returns the polygons as bytes.
func (p Packed) GobEncode() ([]byte, error) { return p.bytes(), nil }

// GobDecode reads the bytes that GobEncode returned.
func (p *Packed) GobDecode(text []byte) error {
	for rest := text; len(rest) > 0; {
		head, n := binary.Uvarint(rest)
		if n <= 0 || head>>1 < 3 || head>>1 > uint64(len(rest)) {
			return errPacked
		}
		rest = rest[n:]
		for range 2 * (head >> 1) {
			_, n := binary.Varint(rest)
			if n <= 0 {
				return errPacked
			}
			rest = rest[n:]
		}
	}
	p.text, p.far = bytes.Clone(text), nil
	return nil
}

// OnSteps holds packed polygons whose coordinates are whole multiples of 1/perUnit. Unpacking
// returns exactly the same numbers.
type OnSteps struct {
	perUnit float64
	packed  Packed
}

// PackOnSteps packs polygons as returned by OnGrid.
func PackOnSteps(mp orb.MultiPolygon, perUnit float64) OnSteps {
	return OnSteps{perUnit, Pack(mp, func(p orb.Point) Step {
		return Step{int64(math.Round(p[0] * perUnit)), int64(math.Round(p[1] * perUnit))}
	})}
}

// Keep is Packed.Keep.
func (o OnSteps) Keep(put func(text []byte) (Far, error)) (OnSteps, error) {
	packed, err := o.packed.Keep(put)
	return OnSteps{o.perUnit, packed}, err
}

// GobEncode returns the polygons as bytes.
func (o OnSteps) GobEncode() ([]byte, error) {
	return append(binary.LittleEndian.AppendUint64(nil, math.Float64bits(o.perUnit)), o.packed.bytes()...), nil
}

// GobDecode reads the bytes that GobEncode returned.
func (o *OnSteps) GobDecode(text []byte) error {
	const bytesOfUnit = 8
	if len(text) < bytesOfUnit {
		return errPacked
	}
	o.perUnit = math.Float64frombits(binary.LittleEndian.Uint64(text))
	return o.packed.GobDecode(text[bytesOfUnit:])
}

// Polygons unpacks them.
func (o OnSteps) Polygons() orb.MultiPolygon { return o.packed.Polygons(o.place) }

// Rings unpacks them ring by ring, as Packed.Rings does.
func (o OnSteps) Rings() iter.Seq2[bool, orb.Ring] { return o.packed.Rings(o.place) }

// place returns a vertex in the unit of the polygons.
func (o OnSteps) place(s Step) orb.Point {
	return orb.Point{float64(s[0]) / o.perUnit, float64(s[1]) / o.perUnit}
}
