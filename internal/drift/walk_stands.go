package drift

import (
	"cmp"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/parallel"
)

// walked is the stream that one stand reaches.
type walked struct {
	risk       []flow.Piece // at risk
	beyond     []flow.Piece // possible stream, where it is more than the stream at risk
	possibleKm geo.Kilometers
	reached    []int32 // stands on possible stream
}

type walkOptions struct {
	floor   geo.Share
	workers int
	lakes   *lakes
}

// standsPerTask makes a task large enough to hand out. Our choice.
const standsPerTask = 64

// walk follows each stand downstream on its own. Sources are sorted by place.
func walk(net *flow.Network, t flow.Transport, stands int, sources []Source, o walkOptions) []walked {
	places := make([][]flow.Place, stands)
	for _, s := range sources {
		places[s.Stand] = append(places[s.Stand], s.Place)
	}
	out := make([]walked, stands)
	var tasks parallel.Group
	tasks.SetLimit(max(1, o.workers))
	free := make(chan *flow.Walker, max(1, o.workers))
	for range max(1, o.workers) {
		free <- net.NewWalker()
	}
	for first := 0; first < stands; first += standsPerTask {
		tasks.Go(func() error {
			walker := <-free
			defer func() { free <- walker }()
			for i := first; i < min(first+standsPerTask, stands); i++ {
				if len(places[i]) > 0 {
					out[i] = walkOne(net, t, places[i], o, walker)
					out[i].reached = reached(out[i].possible(), sources, int32(i))
				}
			}
			return nil
		})
	}
	_ = tasks.Wait() // no task returns an error
	return out
}

// walkOne follows one stand. Where the flow divides on the way it does so a second time; elsewhere
// possible stream and stream at risk are the same.
func walkOne(net *flow.Network, t flow.Transport, places []flow.Place, o walkOptions, walker *flow.Walker) walked {
	w := walked{risk: slices.Clone(o.lakes.reach(net, t, places, flow.Bound{Floor: float64(o.floor)}, walker))}
	w.possibleKm = length(w.risk)
	if parts(net, t, w.risk) {
		w.beyond = w.risk
		w.risk = slices.Clone(o.lakes.reach(net, t, places, flow.Bound{Floor: float64(o.floor), Divided: true}, walker))
	}
	return w
}

// possible returns all pieces that a stand's fragments could reach.
func (w *walked) possible() []flow.Piece {
	if w.beyond != nil {
		return w.beyond
	}
	return w.risk
}

// parts reports whether the pieces may lead into a branch that takes only part of the flow.
func parts(net *flow.Network, t flow.Transport, pieces []flow.Piece) bool {
	return slices.ContainsFunc(pieces, func(p flow.Piece) bool { return p.From == 0 && t.ShareOf(net, p.Edge) < 1 })
}

// length sums pieces.
func length(pieces []flow.Piece) geo.Kilometers {
	var m geo.Meters
	for _, p := range pieces {
		m += p.To - p.From
	}
	return m.Kilometers()
}

// reached lists the stands, except self, with a source on the pieces.
func reached(pieces []flow.Piece, sources []Source, self int32) []int32 {
	var out []int32
	for _, p := range pieces {
		start, _ := slices.BinarySearchFunc(sources, p, func(s Source, p flow.Piece) int {
			if s.Place.Edge != p.Edge {
				return int(s.Place.Edge) - int(p.Edge)
			}
			if s.Place.Offset < p.From {
				return -1
			}
			return 1
		})
		for _, s := range sources[start:] {
			if s.Place.Edge != p.Edge || s.Place.Offset > p.To {
				break
			}
			if s.Stand != self {
				out = append(out, s.Stand)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// covers lists every stand's pieces by edge, then downstream, then stand. It lets go of the pieces.
func covers(walks []walked, pieces func(*walked) *[]flow.Piece) []timedCover {
	var n int
	for i := range walks {
		n += len(*pieces(&walks[i]))
	}
	out := make([]timedCover, 0, n)
	for i := range walks {
		own := pieces(&walks[i])
		for _, p := range *own {
			out = append(out, timedCover{cover{p.Edge, int32(i), p.From, p.To, geo.Share(p.ShareFrom)}, p.HoursFrom, p.SlowFrom})
		}
		*own = nil
	}
	slices.SortFunc(out, func(a, b timedCover) int {
		return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.from, b.from), cmp.Compare(a.stand, b.stand))
	})
	return out
}
