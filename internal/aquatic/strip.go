package aquatic

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// Side is a side of a channel.
type Side uint8

// The sides, looking downstream.
const (
	Left Side = iota
	Right
)

// Strip is a piece of bank along which treatment areas lie: a side and a range of one channel's
// centerline, or a range of a lake's shore.
type Strip struct {
	Edge     int32 // of the network; -1 for a shore
	Side     Side
	Shore    int32 // ring of a lake, numbered as in Banks; -1 for a channel
	From, To geo.Meters
}

// Banks finds the pieces of bank beside given ground. It is read-only after NewBanks and safe for
// concurrent use.
type Banks struct {
	w      *Water
	ashore *linear.Index    // of rings
	rings  []orb.LineString // of lakes
	around [][]geo.Meters   // by ring: its measures
	lakes  []int32          // by ring: index of its surface
}

// NewBanks measures the shores of lakes. Linear in their vertices.
func (w *Water) NewBanks() *Banks {
	b := &Banks{w: w}
	for s := range w.net.Surfaces {
		if w.net.Surfaces[s].Kind != stream.Lake {
			continue
		}
		for _, polygon := range w.net.Surfaces[s].Areas {
			for _, ring := range polygon {
				b.rings, b.lakes = append(b.rings, orb.LineString(ring)), append(b.lakes, int32(s))
				b.around = append(b.around, earth.LengthsAlong(orb.LineString(ring)))
			}
		}
	}
	b.ashore = linear.NewIndex(b.rings)
	return b
}

// Path returns the piece of centerline or shore that belongs to a strip, in degrees.
func (b *Banks) Path(s Strip) orb.LineString {
	if s.Shore >= 0 {
		return linear.Cut(b.rings[s.Shore], b.around[s.Shore], s.From, s.To)
	}
	stretched := geo.Meters(1)
	if edge := &b.w.net.Net.Edges[s.Edge]; edge.Length > 0 {
		stretched = (edge.End - edge.Start) / edge.Length
	}
	path, measures := b.w.net.Paths.Measured(int(s.Edge))
	return linear.Cut(path, measures, s.From*stretched, s.To*stretched)
}

// Line returns the centerline of a strip; for a lake shore the first centerline on the lake, -1 for
// none.
func (b *Banks) Line(s Strip) int32 {
	if s.Edge >= 0 {
		return b.w.net.Net.Edges[s.Edge].Line
	}
	if edges := b.w.surfaces.edges[b.lakes[s.Shore]]; len(edges) > 0 {
		return b.w.net.Net.Edges[edges[0]].Line
	}
	return -1
}

// Of returns the strips of bank along which the patches of a stand lie. With counts, only the
// records for which it returns true are used. Strips may overlap. A place on the bank belongs to a
// strip where a line across the channel, from the centerline to the setback beyond the bank, meets
// a patch. A disc gives a strip as wide as its part in the zone; on the far bank, as wide as its
// part beyond the centerline. A drawn outline is sampled every metre along its edge, and along the
// centerlines inside it. A strip continues on the next edge where the channel neither divides nor
// joins another; otherwise it ends with its edge.
func (b *Banks) Of(st *stand.Stand, records []survey.Record, s stand.Settings, counts func(record int32) bool) []Strip {
	if len(b.w.half) == 0 {
		return nil
	}
	v := b.w.view(st, records, s)
	v.near(v.radius + b.w.farthest + b.w.setback)
	c := caster{Banks: b, view: v}
	for i := range v.patches {
		p := &v.patches[i]
		if counts != nil && !counts(st.Members[i]) || !v.lay(p) || p.bank > b.w.setback {
			continue
		}
		if p.outline != nil {
			c.outline(p)
		} else {
			c.disc(p)
		}
	}
	return c.strips
}
