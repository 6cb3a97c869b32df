package stretch

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/drift"
	"driftreach/internal/stream"
)

// arrivals says where the new stands of a simulated chain come from.
type arrivals struct {
	name    string
	drifted bool
	at      func(w *simulated) flow.Place
}

// simulated is a chain of batches with known truth.
type simulated struct {
	net    *stream.Network
	rng    *rand.Rand
	known  []drift.Source // stands that somebody found
	hidden []drift.Source // new stands that nobody has found yet
	roads  []flow.Place
}

// everyWhere is a place on the network, each metre as likely as any other.
func (w *simulated) everyWhere() flow.Place {
	total := geo.Meters(0)
	for _, e := range w.net.Net.Edges {
		total += e.Length
	}
	at := geo.Meters(w.rng.Float64()) * total
	for e, edge := range w.net.Net.Edges {
		if at <= edge.Length {
			return flow.Place{Edge: int32(e), Offset: at}
		}
		at -= edge.Length
	}
	panic("past the end")
}

// floated is where one fragment of some stand settles, with the true half-distance, which differs
// from the assumed one.
func (w *simulated) floated() flow.Place {
	from := w.known
	if len(w.hidden) > 0 && w.rng.Float64() < 0.3 {
		from = w.hidden
	}
	at := from[w.rng.IntN(len(from))].Place
	left := geo.Meters(w.rng.ExpFloat64() * 500 / math.Ln2)
	for {
		edge := &w.net.Net.Edges[at.Edge]
		if at.Offset+left <= edge.Length {
			return flow.Place{Edge: at.Edge, Offset: at.Offset + left}
		}
		down := w.net.Net.Down(at.Edge)
		if down < 0 {
			return flow.Place{Edge: at.Edge, Offset: edge.Length}
		}
		left -= edge.Length - at.Offset
		at = flow.Place{Edge: down}
	}
}

var ways = []arrivals{
	{"floated from stands of the network", true, (*simulated).floated},
	{"from upstream: at the head of any stream", false, func(w *simulated) flow.Place {
		for {
			if at := w.everyWhere(); len(w.net.Net.In(w.net.Net.Edges[at.Edge].From)) == 0 {
				return flow.Place{Edge: at.Edge, Offset: at.Offset / 4}
			}
		}
	}},
	{"dumped soil: anywhere", false, (*simulated).everyWhere},
	{"roads: where one of 30 crosses", false, func(w *simulated) flow.Place { return w.roads[w.rng.IntN(len(w.roads))] }},
}

// tree is a network with random bends: each branch runs south to a place on an earlier one.
func tree(t testing.TB, rng *rand.Rand, branches int) *stream.Network {
	spans := []span{{"s000", "", orb.Point{10, -36}, orb.Point{10, -36.06}}}
	for i := 1; i < branches; i++ {
		to := spans[rng.IntN(len(spans))].from
		spans = append(spans, span{fmt.Sprintf("s%03d", i), "", orb.Point{to[0] + 0.05*(rng.Float64()-0.5), to[1] + 0.01 + 0.03*rng.Float64()}, to})
	}
	return network(t, spans...)
}

// where is a place in degrees.
func where(net *stream.Network, at flow.Place) orb.Point {
	path := net.Paths.At(int(at.Edge))
	return linear.PointAt(path, earth.LengthsAlong(path), at.Offset)
}

// simulate runs quarters, each surveying some of the streams, more often near known stands. It
// returns how many of the new, unfound stands were on the list, how many there were, and the list's
// share of all kilometres.
func simulate(t testing.TB, way arrivals, seed uint64) (hit, all int, share float64) {
	rng := rand.New(rand.NewPCG(seed, 7))
	w := &simulated{net: tree(t, rng, 60), rng: rng}
	for range 30 {
		w.roads = append(w.roads, w.everyWhere())
	}
	for range 8 {
		w.known = append(w.known, drift.Source{Stand: int32(len(w.known)), Place: w.everyWhere(), Amount: drift.Amount(math.Exp(rng.NormFloat64()))})
	}
	s := DefaultSettings()
	var memory *Memory
	quarter := q1
	for range 8 {
		for range 6 {
			w.hidden = append(w.hidden, drift.Source{Place: way.at(w), Amount: 0.1})
		}
		// a third of the reaches with known stands are surveyed, and a tenth of the others
		looked := make([]bool, len(w.net.Net.Edges))
		for e := range looked {
			looked[e] = rng.Float64() < 0.1
		}
		for _, k := range w.known {
			looked[k.Place.Edge] = looked[k.Place.Edge] || rng.Float64() < 0.33
		}
		var seen []orb.LineString
		for e, is := range looked {
			if is {
				seen = append(seen, w.net.Paths.At(int(e)))
			}
		}
		index := linear.NewIndex(seen)
		var rest []drift.Source
		for _, h := range w.hidden {
			if looked[h.Place.Edge] {
				h.Stand = int32(len(w.known))
				w.known = append(w.known, h)
			} else {
				rest = append(rest, h)
			}
		}
		w.hidden = rest
		d := drift.Follow(w.net, drift.Released{Stands: len(w.known), Sources: w.known}, drift.DefaultSettings(), 1)
		k := Known{Quarter: quarter, Net: w.net, Half: half(w.net), Drift: &d, Memory: memory, Now: in(func(p orb.Point) bool {
			near, ok := index.Nearest(p)
			return ok && near.Distance < 20
		})}
		for _, one := range w.known {
			k.Stands = append(k.Stands, Stand{Live: true, On: one.Place, At: where(w.net, one.Place)})
		}
		s.Seed = seed
		list := Find(k, s)
		memory = &Memory{Quarter: quarter}
		var paths []orb.LineString
		var listed, total float64
		for i := range list {
			memory.Stretches = append(memory.Stretches, Remembered{list[i].Path, list[i].Cells})
			paths = append(paths, list[i].Path)
			total += float64(list[i].Length)
			if list[i].Listed {
				listed += float64(list[i].Length)
			}
		}
		share += listed / total / 8
		on := linear.NewIndex(paths)
		for _, h := range w.hidden {
			near, _ := on.Nearest(where(w.net, h.Place))
			all++
			if list[near.Line].Listed {
				hit++
			}
		}
		quarter = quarter.Next()
	}
	return hit, all, share
}

// In simulated chains with known truth, new stands that floated are on the list at least three
// times as often as on the same kilometres at random, and other new stands no less often than at
// random. A sample of what DRIFTREACH_LONG=1 runs a hundred times; the limits are wider for so few
// runs.
func TestNewStandsLieOnTheList(t *testing.T) {
	chains, slack := uint64(6), 0.75
	if os.Getenv("DRIFTREACH_LONG") != "" {
		chains, slack = 100, 0.97
	}
	for _, way := range ways {
		var hit, all, expected float64
		for seed := range chains {
			h, n, share := simulate(t, way, seed+1)
			hit, all, expected = hit+float64(h), all+float64(n), expected+share*float64(n)
		}
		ratio := hit / expected
		t.Logf("%-45s %5.0f new stands, %4.1f %% of them on %4.1f %% of the kilometres: %.2f times as often", way.name, all, 100*hit/all, 100*expected/all, ratio)
		if least := map[bool]float64{true: 3, false: 1}[way.drifted] * slack; ratio < least {
			t.Errorf("%s: %.2f times as often as at random, want %.2f", way.name, ratio, least)
		}
	}
}
