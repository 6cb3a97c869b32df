package drift

import (
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// Source is where one record's fragments enter the water.
type Source struct {
	Stand  int32
	Place  flow.Place
	Amount Amount     // a source of 0 releases nothing
	Bank   geo.Meters // from the patch to the nearest bank; only Percentiles uses it
}

// Released is every source of a batch.
type Released struct {
	Stands  int // number of stands; Source.Stand is below it
	Sources []Source
	Given   bool // the sources are given away: they may be sorted, and are of no use then
}

// inFlowOrder returns the sources that release something, sorted by place.
func (r Released) inFlowOrder() []Source {
	sources := r.Sources
	if !r.Given {
		sources = slices.Clone(sources)
	}
	sources = slices.DeleteFunc(sources, func(s Source) bool { return s.Amount <= 0 })
	slices.SortStableFunc(sources, byPlace)
	return sources
}

func byPlace(a, b Source) int {
	switch {
	case a.Place.Edge != b.Place.Edge:
		return int(a.Place.Edge) - int(b.Place.Edge)
	case a.Place.Offset < b.Place.Offset:
		return -1
	case a.Place.Offset > b.Place.Offset:
		return 1
	}
	return int(a.Stand) - int(b.Stand)
}

func flowSources(sources []Source) []flow.Source {
	out := make([]flow.Source, len(sources))
	for i, s := range sources {
		out[i] = flow.Source{Place: s.Place, Amount: float64(s.Amount)}
	}
	return out
}

// takeEdge removes the elements of one edge from the front of a list sorted by edge, and returns
// them.
func takeEdge[T any](list *[]T, edge int32, of func(*T) int32) []T {
	n := 0
	for n < len(*list) && of(&(*list)[n]) == edge {
		n++
	}
	taken := (*list)[:n:n]
	*list = (*list)[n:]
	return taken
}

// onEdge returns the sources of an edge, which must be at the front of the list.
func onEdge(sources []Source, edge int32) []Source {
	return takeEdge(&sources, edge, func(s *Source) int32 { return s.Place.Edge })
}

// drop is an amount that becomes afloat, or too old, at a place.
type drop struct {
	at     flow.Place
	amount Amount
}

// appendEntering appends what becomes afloat at each source.
func appendEntering(out []drop, sources []Source) []drop {
	for i := range sources {
		out = append(out, drop{sources[i].Place, sources[i].Amount})
	}
	return out
}

// load is the amounts afloat: by edge at its upper end, and by place the amounts that become too
// old on the way.
type load struct {
	inflow []Amount
	drops  []drop
}
