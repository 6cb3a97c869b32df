package drift

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/stream"
)

// afloat is what floats where: by edge the amount at its upper end, the loss
// per metre and the hours after which the first fragment comes there, mean and
// fast; and every source, sorted by place.
type afloat struct {
	inflow, rate []float64
	mean, fast   []float64
	times        times
	sources      []Source
}

// stretch is a piece of an edge on which exposure keeps one class.
type stretch struct {
	from, to geo.Meters
	amount   float64 // greatest on the piece
	class    Class
}

// reaches unites what the stands reach, edge by edge, and cuts it where the
// class of exposure changes.
func reaches(net *stream.Network, s Settings, x afloat, covers []cover) []Reach {
	var out []Reach
	at := 0
	for first := 0; first < len(covers); {
		edge := covers[first].piece.Edge
		last := first
		for last < len(covers) && covers[last].piece.Edge == edge {
			last++
		}
		for at < len(x.sources) && x.sources[at].Place.Edge < edge {
			at++
		}
		own, here := onEdge(x.sources[at:], edge), covers[first:last]
		levels := levels(&net.Net.Edges[edge], x.rate[edge], x.inflow[edge], own)
		for _, st := range s.stretches(levels, x.rate[edge], union(here)) {
			r := describe(net, edge, st)
			r.NearestStand, r.Stands = whose(here, st, x.rate[edge])
			r.HoursMean = arrival(&net.Net.Edges[edge], x.mean[edge], x.times.mean[edge], own, st.to)
			r.HoursFast = arrival(&net.Net.Edges[edge], x.fast[edge], x.times.fast[edge], own, st.to)
			r.Velocity = x.times.rung[edge]
			out = append(out, r)
		}
		first = last
	}
	return out
}

// covers lists every stand's pieces by edge, then downstream, then stand.
func covers(walks []walked) []cover {
	var n int
	for i := range walks {
		n += len(walks[i].pieces)
	}
	out := make([]cover, 0, n)
	for i := range walks {
		for _, p := range walks[i].pieces {
			out = append(out, cover{piece: p, stand: int32(i)})
		}
	}
	slices.SortFunc(out, func(a, b cover) int {
		return cmp.Or(cmp.Compare(a.piece.Edge, b.piece.Edge), cmp.Compare(a.piece.From, b.piece.From), cmp.Compare(a.stand, b.stand))
	})
	return out
}

func onEdge(sources []Source, edge int32) []Source {
	n := 0
	for n < len(sources) && sources[n].Place.Edge == edge {
		n++
	}
	return sources[:n]
}

// union merges covers sorted by start into stretches without overlap.
func union(covers []cover) []stretch {
	var out []stretch
	for _, c := range covers {
		if n := len(out); n > 0 && c.piece.From <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, c.piece.To)
		} else {
			out = append(out, stretch{from: c.piece.From, to: c.piece.To})
		}
	}
	return out
}

// levels lists where the amount afloat is known: at the edge's upper end and
// just below each source. Between levels it falls by exp(-k dx).
func levels(edge *flow.Edge, rate, inflow float64, sources []Source) []stretch {
	out := []stretch{{from: 0, to: edge.Length, amount: inflow}}
	for _, s := range sources {
		last := &out[len(out)-1]
		carried := last.amount * math.Exp(-rate*float64(s.Place.Offset-last.from))
		if s.Place.Offset == last.from {
			last.amount += s.Amount
			continue
		}
		last.to = s.Place.Offset
		out = append(out, stretch{from: s.Place.Offset, to: edge.Length, amount: carried + s.Amount})
	}
	return out
}

// stretches cuts the reached parts of an edge at exact class changes.
func (s Settings) stretches(levels []stretch, rate float64, reached []stretch) []stretch {
	var out []stretch
	for _, r := range reached {
		start := len(out)
		for _, l := range levels {
			from, to := max(r.from, l.from), min(r.to, l.to)
			for from < to {
				piece := s.piece(l, rate, from, to)
				out = join(out, start, piece)
				from = piece.to
			}
		}
	}
	return out
}

// piece is the stretch from a place below a level to where its class ends, at
// most to. A place where the amount equals a break belongs to the class below:
// so each piece has a length.
func (s Settings) piece(level stretch, rate float64, from, to geo.Meters) stretch {
	amount := level.amount * math.Exp(-rate*float64(from-level.from))
	p := stretch{from: from, to: to, amount: amount, class: s.class(amount)}
	for ; p.class > Low; p.class-- {
		floor := s.ExposureBreaks[p.class-1]
		if cut := level.from + geo.Meters(math.Log(level.amount/floor)/rate); cut > from {
			p.to = min(to, cut)
			break
		}
	}
	return p
}

// join appends a piece, or lengthens the last one of the same class.
func join(out []stretch, start int, piece stretch) []stretch {
	if n := len(out); n > start && out[n-1].class == piece.class {
		out[n-1].to = piece.to
		out[n-1].amount = max(out[n-1].amount, piece.amount)
		return out
	}
	return append(out, piece)
}

// whose returns the stand from which the largest share arrives at the start of
// a stretch (ties to the first) and how many stands reach some of it.
func whose(covers []cover, st stretch, rate float64) (nearest int32, stands int) {
	var seen []int32
	best := -1.0
	for _, c := range covers {
		if c.piece.From >= st.to {
			break
		}
		if c.piece.To <= st.from {
			continue
		}
		seen = append(seen, c.stand)
		if c.piece.From > st.from {
			continue
		}
		share := c.piece.ShareFrom * math.Exp(-rate*float64(st.from-c.piece.From))
		if share > best || share == best && c.stand < nearest {
			best, nearest = share, c.stand
		}
	}
	slices.Sort(seen)
	return nearest, len(slices.Compact(seen))
}

// describe gives a stretch its place on the river and its line on the map.
func describe(net *stream.Network, e int32, st stretch) Reach {
	edge := &net.Net.Edges[e]
	r := Reach{
		Line: edge.Line, FromKm: edge.RiverKm(st.from), ToKm: edge.RiverKm(st.to),
		LengthKm: (st.to - st.from).Kilometers(), Exposure: st.amount, Class: st.class,
	}
	if kind, _ := net.BarrierAt(e); st.to == edge.Length {
		r.Barrier = string(kind)
	}
	path := net.Paths[e]
	measures := linear.Measure(path)
	scale := 1.0
	if edge.Length > 0 {
		scale = measures[len(measures)-1] / float64(edge.Length)
	}
	r.Path = linear.Cut(path, measures, st.from*geo.Meters(scale), st.to*geo.Meters(scale))
	return r
}
