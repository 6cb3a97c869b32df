package learn

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/drift"
	"driftreach/internal/earlier"
	"driftreach/internal/estimate"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
)

// runs is the number of chains drawn of each kind: 200 if DRIFTREACH_LONG is set, as in
// scripts/learned, else a few. DRIFTREACH_RUNS sets another number.
func runs(few int) int {
	n := few
	if os.Getenv("DRIFTREACH_LONG") != "" {
		n = 200
	}
	if text := os.Getenv("DRIFTREACH_RUNS"); text != "" {
		fmt.Sscan(text, &n)
	}
	return n
}

// tally checks that the share of cases in which something was true is within limits.
func tally(t *testing.T, what string, so, of int, least, most float64) {
	t.Helper()
	share := float64(so) / float64(of)
	t.Logf("%-58s %3d of %3d, %5.1f %%", what, so, of, 100*share)
	switch { // the seeds are fixed, and the results of few runs were checked once
	case of < 10 && least > 0:
		least, most = 1, 1
	case of < 200:
		least, most = least-1/float64(of), min(1, most+1/float64(of))
	}
	if share < least || share > most {
		t.Errorf("%s: %d of %d", what, so, of)
	}
}

// valley is a river of 30 km with eight creeks of 5 km, in lines of 5 km.
func valley(rng *rand.Rand) *stream.Network {
	nan := math.NaN()
	var lines []stream.Centerline
	add := func(id string, path orb.LineString, order int) {
		lines = append(lines, stream.Centerline{
			ID: id, Name: id[:1], Path: path, FlowShare: geo.Share(nan), Sequence: nan, MeanVelocity: geo.MetersPerSecond(nan), Drainage: geo.SquareKilometers(nan), Discharge: geo.CubicMetersPerSecond(nan),
			MeanDischarge: geo.CubicMetersPerSecond(nan), Slope: nan, LocalArea: geo.SquareKilometers(nan), BarrierPass: geo.Share(nan), Order: order, Length: geo.Meters(nan),
		})
	}
	at := func(km, side float64) orb.Point { return orb.Point{10 + side/90, -36 - km/111} }
	cuts := []float64{0}
	for k := range 8 {
		cuts = append(cuts, 2+3.4*float64(k)+2*rng.Float64())
	}
	cuts = append(cuts, 32)
	for k := 1; k < len(cuts); k++ {
		add(fmt.Sprintf("r%d", k), orb.LineString{at(cuts[k-1], 0), at(cuts[k], 0)}, 3)
		if k < len(cuts)-1 {
			side := 5 * float64(1-2*(k%2))
			add(fmt.Sprintf("c%d", k), orb.LineString{at(cuts[k]-1, side), at(cuts[k], 0)}, 2)
		}
	}
	net, _ := stream.Connect(lines, nil, nil, flow.Options{Snap: 1})
	return net
}

// world is a chain of batches that were never files.
type world struct {
	chain  Chain
	rng    *rand.Rand
	rules  settings.Stages
	known  []drift.Source
	roads  []flow.Place
	factor float64 // true factor on the half-distances
}

const batches = 9

func newWorld(seed uint64, factor float64) *world {
	rng := rand.New(rand.NewPCG(seed, 18))
	rules, err := settings.Default().Stages()
	if err != nil {
		panic(err)
	}
	w := &world{rng: rng, rules: rules, factor: factor}
	w.chain.Net = valley(rng)
	w.chain.Grid = stretch.NewGrid(w.chain.Net, rules.SurveyNext)
	for range 12 {
		w.roads = append(w.roads, w.anywhere())
	}
	for range 14 {
		w.known = append(w.known, drift.Source{Place: w.anywhere(), Amount: drift.Amount(0.05 + 0.3*rng.ExpFloat64())})
	}
	return w
}

// anywhere is a random place, each metre equally likely.
func (w *world) anywhere() flow.Place {
	c := &w.chain.Grid.Cells[w.rng.IntN(len(w.chain.Grid.Cells))]
	return flow.Place{Edge: c.Piece.Edge, Offset: c.Piece.From + geo.Meters(w.rng.Float64())*c.Length}
}

// law gives, as weights of cells, where new stands come up in a quarter.
type law func(w *world) []float64

// drifted is proportional to what floats, with the true half-distances.
func drifted(w *world) []float64 {
	d := drift.Afloat(w.chain.Net, w.released(), w.rules.Drift.Scaled(drift.Factor(w.factor)))
	var out []float64
	for _, e := range d.ExposureOn(w.chain.Net, w.chain.Grid.Pieces()) {
		out = append(out, float64(e))
	}
	return out
}

// evenly is anywhere.
func evenly(w *world) []float64 {
	out := make([]float64, len(w.chain.Grid.Cells))
	for i := range out {
		out[i] = float64(w.chain.Grid.Cells[i].Length)
	}
	return out
}

// byRoads is within 200 m of roads, wherever stands are.
func byRoads(w *world) []float64 { return w.around(w.roads, 200) }

// clonal is within 400 m of known stands, upstream and downstream.
func clonal(w *world) []float64 {
	places := make([]flow.Place, len(w.known))
	for i := range w.known {
		places[i] = w.known[i].Place
	}
	return w.around(places, 400)
}

// around weighs the cells of an edge by their nearness to places on it.
func (w *world) around(places []flow.Place, reach float64) []float64 {
	out := make([]float64, len(w.chain.Grid.Cells))
	for i := range out {
		c := &w.chain.Grid.Cells[i]
		for _, p := range places {
			if p.Edge == c.Piece.Edge {
				out[i] += float64(c.Length) * math.Exp(-math.Abs(float64(c.Middle.Offset-p.Offset))/reach*2)
			}
		}
	}
	return out
}

func (w *world) released() drift.Released {
	r := drift.Released{Stands: len(w.known)}
	for i, s := range w.known {
		s.Stand = int32(i)
		r.Sources = append(r.Sources, s)
	}
	return r
}

// run draws the batches: each quarter brings new stands by the law (in groups if group is above 1),
// and crews that survey some of the cells and find what is there with the given probability.
func (w *world) run(by law, rate float64, group int, looks func(w *world, q int) []bool) (all []look, arrivals []Arrival) {
	c := &w.chain
	type stood struct {
		cell  int32
		place flow.Place
	}
	var hidden []stood
	var met [][]stood
	last := make([][2]stretch.Bank, len(c.Grid.Cells))
	for i := range last {
		for side := range last[i] {
			last[i][side].Last = stretch.Look{State: stretch.Never}
		}
	}
	quarter := survey.Quarter{Year: 2020, Number: 1}
	for q := range batches {
		weights := by(w)
		total := 0.0
		for _, v := range weights {
			total += v
		}
		for range w.poisson(rate / float64(group)) {
			u, k := total*w.rng.Float64(), 0
			for ; k < len(weights)-1 && u > weights[k]; k++ {
				u -= weights[k]
			}
			for range group {
				hidden = append(hidden, stood{int32(k), c.Grid.Cells[k].Middle})
			}
		}
		looked := looks(w, q)
		var found []stood
		rest := hidden[:0:0]
		for _, s := range hidden {
			if looked[s.cell] {
				found = append(found, s)
			} else {
				rest = append(rest, s)
			}
		}
		hidden, met = rest, append(met, found)
		for _, s := range found {
			w.known = append(w.known, drift.Source{Place: s.place, Amount: 0.01})
		}
		b := Batch{Batch: &earlier.Batch{Quarter: quarter}, Rules: w.rules, released: w.released()}
		b.drift = drift.Follow(c.Net, b.released, w.rules.Drift, 1)
		b.afloat = c.density(b.drift.ExposureOn(c.Net, c.Grid.Pieces()))
		for i := range last {
			if looked[i] {
				last[i][0].Last, last[i][1].Last = stretch.Look{State: stretch.Looked, Quarter: quarter}, stretch.Look{State: stretch.Looked, Quarter: quarter}
			}
		}
		b.banks = append([][2]stretch.Bank(nil), last...)
		c.Batches = append(c.Batches, b)
		quarter = quarter.Next()
	}
	all = c.looks()
	for i := range all {
		for _, s := range met[all[i].now] {
			if s.cell == all[i].cell {
				kind := Miss
				if all[i].everAtRisk {
					kind = Hit
				}
				arrivals = append(arrivals, Arrival{Kind: kind, Look: int32(i), On: s.place, batch: all[i].now})
			}
		}
	}
	return all, arrivals
}

func (w *world) poisson(mean float64) int {
	n, p := 0, math.Exp(-mean)
	for u := w.rng.Float64(); u > p; n++ {
		u -= p
		p *= mean / float64(n+1)
	}
	return n
}

// everyOther surveys each stretch in two quarters of three.
func everyOther(w *world, q int) []bool {
	out := make([]bool, len(w.chain.Grid.Cells))
	on := make([]bool, len(w.chain.Grid.Stretches))
	for i := range on {
		on[i] = q == 0 || w.rng.IntN(3) > 0
	}
	for i := range out {
		out[i] = on[w.chain.Grid.Cells[i].Stretch]
	}
	return out
}

// whereExpected surveys where much floats, and sometimes elsewhere.
func whereExpected(w *world, q int) []bool {
	d := drift.Afloat(w.chain.Net, w.released(), w.rules.Drift)
	out := make([]bool, len(w.chain.Grid.Cells))
	for i, x := range d.ExposureOn(w.chain.Net, w.chain.Grid.Pieces()) {
		density := float64(x) / float64(w.chain.Grid.Cells[i].Length.Kilometers())
		out[i] = w.rng.Float64() < map[bool]float64{true: 0.8, false: 0.25}[density > 0.05]
	}
	return out
}

// A half-distance is reported where stands drifted, and its interval contains the true one; none is
// reported where they came by roads, by rhizomes or from anywhere, or were searched for where they
// were expected.
func TestSimulatedHalfDistance(t *testing.T) {
	if testing.Short() {
		t.Skip("simulates chains")
	}
	o := DefaultOptions()
	for _, c := range []struct {
		name    string
		by      law
		rate    float64
		group   int
		looks   func(*world, int) []bool
		drifted bool
		ratio   bool // new stands are as frequent on stream at risk as elsewhere
	}{
		{"drift", drifted, 9, 1, everyOther, true, false},
		{"roadside arrivals", byRoads, 9, 1, everyOther, false, false},
		{"clonal spread", clonal, 9, 1, everyOther, false, false},
		{"from anywhere", evenly, 9, 1, everyOther, false, true},
		{"crews that look where they expect", evenly, 9, 1, whereExpected, false, true},
	} {
		n := runs(1)
		supported, within, even, few := 0, 0, 0, 0
		for run := range n {
			factor := []float64{0.5, 1, 2}[run%3]
			w := newWorld(uint64(1000+run), factor)
			looks, arrivals := w.run(c.by, c.rate, c.group, c.looks)
			d, err := w.chain.distance(t.Context(), looks, arrivals, w.rules.Drift, o, 1)
			if err != nil {
				t.Fatal(err)
			}
			if d.Verdict == Supported {
				supported++
			}
			if d.Verdict == TooLittle {
				few++
			}
			if holds(d.Scale.Scale, factor) {
				within++
			}
			risk := w.chain.risk(looks, arrivals, w.rules.Drift)
			if holds(risk.atRisk().Ratio, 1) {
				even++
			}
		}
		if c.drifted {
			tally(t, c.name+": half-distance within its interval", within, n, 0.90, 0.99)
			tally(t, c.name+": supported", supported, n, 0.5, 1)
		} else {
			tally(t, c.name+": supported, wrongly", supported, n, 0, 0.05)
		}
		t.Logf("%-58s %3d of %3d", c.name+": too little data", few, n)
		if c.ratio {
			tally(t, c.name+": ratio within its interval", even, n, 0.90, 0.99)
		}
	}
}

// Acres gone after work, stands cleared by a number of days of work, and growth are within their
// intervals, when crews differ and looks miss plants.
func TestSimulatedWork(t *testing.T) {
	n := runs(40)
	var gone, none, grew int
	cleared := map[int]int{}
	const truth, clears, yearly = 0.8, 0.6, 1.3
	for run := range n {
		rng := rand.New(rand.NewPCG(uint64(run), 5))
		if holds(treated(sprayed(rng, truth), DefaultOptions()).Groups[0].Control, truth) {
			gone++
		}
		for _, c := range treated(clearing(rng, clears), DefaultOptions()).Clear {
			if holds(c.Share, 1-math.Pow(1-clears, float64(c.Visits))) {
				cleared[c.Visits]++
			}
		}
		if treated(sprayed(rng, 0), DefaultOptions()).Groups[0].Control.Low > 0 {
			none++
		}
		if holds(grown(growing(rng, yearly)).Groups[0].Yearly, yearly) {
			grew++
		}
	}
	tally(t, "acres gone after work within their interval", gone, n, 0.90, 0.99)
	for _, v := range []int{1, 2, 4} {
		tally(t, fmt.Sprintf("share clear by %d days of work within its interval", v), cleared[v], n, 0.90, 0.99)
	}
	tally(t, "work that does nothing told to work", none, n, 0, 0.05)
	tally(t, "growth within its interval", grew, n, 0.90, 0.99)
}

// sprayed is 60 stands sprayed once by 20 crews of different skill: on average a share mean of the
// acres is gone.
func sprayed(rng *rand.Rand, mean float64) []history {
	var all []history
	skills := make([]float64, 20)
	for k := range skills {
		skills[k] = 0.1 * (2*rng.Float64() - 1)
	}
	for i := range 60 {
		size := 0.05 + 0.2*rng.ExpFloat64()
		left := size * max(0, 1-mean-skills[i%20]-0.1*(2*rng.Float64()-1))
		all = append(all, history{
			id:     fmt.Sprint(i),
			visits: []visit{{day: on("2024-02-01"), method: "spray", crew: fmt.Sprint(i % 20), acres: geo.Acres(math.NaN())}},
			sights: []sight{
				{day: on("2024-01-10"), found: true, live: geo.Acres(size), status: survey.Untreated},
				{day: on("2024-05-01"), found: true, live: geo.Acres(left), other: geo.Acres(size - left), status: survey.Resprout},
			},
		})
	}
	return all
}

// clearing is 60 stands that are worked on until somebody sees them clear: each day of work clears
// one for good with the given probability, and one look in four misses.
func clearing(rng *rand.Rand, clears float64) []history {
	var all []history
	for i := range 60 {
		h := history{id: fmt.Sprint(i), sights: []sight{{day: on("2024-01-10"), found: true, live: 1, status: survey.Untreated}}}
		done, seen := false, false
		for v := 0; v < 6 && !seen; v++ {
			at := on("2024-02-01").AddDate(0, 0, 180*v)
			h.visits = append(h.visits, visit{day: at, method: "spray", crew: fmt.Sprint(i % 20), acres: geo.Acres(math.NaN())})
			done = done || rng.Float64() < clears
			if v < 5 && rng.IntN(4) == 0 {
				continue
			}
			one := sight{day: at.AddDate(0, 0, 90)}
			if !done {
				one.found, one.live, one.status = true, 0.5, survey.Resprout
			}
			h.sights, seen = append(h.sights, one), done
		}
		all = append(all, h)
	}
	return all
}

// growing is 25 stands of some patches that grow, each measured to 15 %.
func growing(rng *rand.Rand, yearly float64) []history {
	var all []history
	for i := range 25 {
		h := history{id: fmt.Sprint(i)}
		patches := 1 + rng.IntN(6)
		own := math.Log(yearly) + 0.1*rng.NormFloat64()
		for q := range 4 + rng.IntN(4) {
			size := 0.0
			for range patches {
				size += 0.03 * math.Exp(own*float64(q)/4+0.15*rng.NormFloat64())
			}
			h.sights = append(h.sights, sight{day: on("2024-01-01").AddDate(0, 0, int(float64(q)*365.25/4)), found: true, live: geo.Acres(size), size: geo.Acres(size), counted: patches, status: survey.Untreated})
		}
		all = append(all, h)
	}
	return all
}

// The detection probability of one look is within its interval, for all looks, by size and by
// effort.
func TestSimulatedLooks(t *testing.T) {
	n := runs(60)
	all, small, slow, clear := 0, 0, 0, 0
	for run := range n {
		rng := rand.New(rand.NewPCG(uint64(run), 9))
		var used, uneven []SecondLook
		for range 60 {
			one := SecondLook{Size: 20, HoursPerKm: [2]float64{1.5, 1.5}, Found: [2]bool{rng.Float64() < 0.8, rng.Float64() < 0.8}}
			if one.Found[0] || one.Found[1] {
				used = append(used, one)
			}
			two := SecondLook{Size: 0.5, HoursPerKm: [2]float64{1.5, 0.5}, Found: [2]bool{rng.Float64() < 0.75, rng.Float64() < 0.5}}
			if two.Found[0] || two.Found[1] {
				uneven = append(uneven, two)
			}
		}
		var f, g Found
		f.group(used)
		g.group(uneven)
		if holds(f.Groups[0].Find, 0.8) {
			all++
		}
		for _, of := range append(f.Groups, g.Groups...) {
			switch {
			case of.By == "size" && of.Of == sizeClasses[2] && holds(of.Find, 0.8):
				small++
			case of.By == "effort" && of.Of == effortClasses[0] && holds(of.Find, 0.5):
				slow++
			}
		}
		// of places with a probability of a half, how many with two clear looks have nothing
		left, gone := 0, 0
		for range 400 {
			there := rng.Float64() < 0.5
			if there && slices.ContainsFunc(make([]bool, 2), func(bool) bool { return rng.Float64() < 0.8 }) {
				continue
			}
			if there {
				left++
			} else {
				gone++
			}
		}
		low, high := estimate.Absent(0.5, f.Groups[0].Find.Low, 2), estimate.Absent(0.5, f.Groups[0].Find.High, 2)
		if share := estimate.Wilson(gone, gone+left); share.High >= low && share.Low <= high {
			clear++
		}
	}
	tally(t, "share found by a look within its interval", all, n, 0.90, 0.99)
	tally(t, "share found of large plants within its interval", small, n, 0.90, 0.99)
	tally(t, "share found by a quick look within its interval", slow, n, 0.90, 0.995)
	tally(t, "nothing left as often as it says", clear, n, 0.95, 1)
}

// holds says whether a value is within an interval.
func holds(i estimate.Interval, v float64) bool { return i.Low <= v && v <= i.High }
