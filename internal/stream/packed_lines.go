package stream

import (
	"math"
	"strings"

	"driftreach/geo"
)

// packedLines is what is asked of centerlines once they are connected, in some 25 bytes a line where
// lines share their values.
type packedLines struct {
	ids    string  // one after the other
	ends   []int32 // by line: where its id ends
	rows   []packedLine
	names  []string
	values []lineValues
}

// packedLine is one line: the indices of its name and values.
type packedLine struct {
	name, values int32
}

// lineValues are a line's numbers, and its words.
type lineValues struct {
	width           geo.Meters
	velocity        geo.MetersPerSecond
	drainage        geo.SquareKilometers
	discharge, mean geo.CubicMetersPerSecond
	slope           float64
	pass            geo.Share
	barrier         Barrier
	permanence      Permanence
}

// valueBits is lineValues as a key, to the last bit: NaN equals itself in it.
type valueBits struct {
	numbers    [7]uint64
	barrier    Barrier
	permanence Permanence
}

// packLines packs lines, without their paths.
func packLines(lines []Centerline) *packedLines {
	p := &packedLines{ends: make([]int32, len(lines)), rows: make([]packedLine, len(lines))}
	names, values := make(map[string]int32), make(map[valueBits]int32)
	size := 0
	for i := range lines {
		size += len(lines[i].ID)
	}
	var ids strings.Builder
	ids.Grow(size)
	for i := range lines {
		l := &lines[i]
		ids.WriteString(l.ID)
		p.ends[i] = int32(ids.Len())
		name, met := names[l.Name]
		if !met {
			name = int32(len(p.names))
			p.names = append(p.names, strings.Clone(l.Name))
			names[p.names[name]] = name
		}
		v := lineValues{l.BankfullWidth, l.MeanVelocity, l.Drainage, l.Discharge, l.MeanDischarge, l.Slope, l.BarrierPass, l.Barrier, l.Permanence}
		key := v.bits()
		at, met := values[key]
		if !met {
			at = int32(len(p.values))
			p.values = append(p.values, v)
			values[key] = at
		}
		p.rows[i] = packedLine{name: name, values: at}
	}
	p.ids = ids.String()
	return p
}

func (v *lineValues) bits() valueBits {
	b := valueBits{barrier: v.barrier, permanence: v.permanence}
	for k, x := range [...]float64{float64(v.width), float64(v.velocity), float64(v.drainage), float64(v.discharge), float64(v.mean), v.slope, float64(v.pass)} {
		b.numbers[k] = math.Float64bits(x)
	}
	return b
}

// line returns one line.
func (p *packedLines) line(i int32) Centerline {
	from := int32(0)
	if i > 0 {
		from = p.ends[i-1]
	}
	v := &p.values[p.rows[i].values]
	return Centerline{
		ID: p.ids[from:p.ends[i]], Name: p.names[p.rows[i].name],
		BankfullWidth: v.width, MeanVelocity: v.velocity, Drainage: v.drainage, Discharge: v.discharge, MeanDischarge: v.mean,
		Slope: v.slope, Barrier: v.barrier, BarrierPass: v.pass, Permanence: v.permanence,
	}
}

// Line returns a centerline. Once Pack has run, it has only what is asked of it then: id, name, width,
// what its velocity comes from, permanence and barrier.
func (n *Network) Line(i int32) Centerline {
	if n.packed != nil {
		return n.packed.line(i)
	}
	return n.Lines[i]
}

// LineName returns the name of a centerline.
func (n *Network) LineName(i int32) string {
	if n.packed != nil {
		return n.packed.names[n.packed.rows[i].name]
	}
	return n.Lines[i].Name
}

// CountLines returns the number of centerlines.
func (n *Network) CountLines() int {
	if n.packed != nil {
		return len(n.packed.rows)
	}
	return len(n.Lines)
}
