package trend

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/survey"
)

// place is some ground with the acres found there, quarter by quarter, in units of 10^-Decimals, or
// notLooked.
type place []int64

const notLooked = -1

// drawPlaces draws places that are surveyed in some quarters, with more, fewer or no acres than
// before.
func drawPlaces(dice *rand.Rand, n, quarters int) []place {
	out := make([]place, n)
	for i := range out {
		out[i] = make(place, quarters)
		often := 0.2 + 0.8*dice.Float64()
		for k := range out[i] {
			if out[i][k] = notLooked; dice.Float64() < often {
				out[i][k] = int64(dice.IntN(40)) * PerUnit / 10
			}
		}
	}
	return out
}

// last returns the latest quarter up to k in which a place was surveyed; -1 for none.
func (p place) last(k int) int {
	for ; k >= 0; k-- {
		if p[k] != notLooked {
			return k
		}
	}
	return -1
}

// first returns the quarter in which a place was first surveyed; -1 for none.
func (p place) first() int { return slices.IndexFunc(p, func(v int64) bool { return v != notLooked }) }

// toldOf makes the batches of these places: for each quarter the mapped acres, the change since the
// last look at each place, and when its acres were last looked at.
func toldOf(t *testing.T, places []place, quarters int) []Batch {
	t.Helper()
	var batches []Batch
	q := quarter(t, "2024Q3")
	begin := q.Ordinal()
	for k := range quarters {
		row := NewRow("total")
		looks := map[int]int64{}
		mapped, step, fresh, looked := int64(0), int64(0), int64(0), false
		for _, p := range places {
			at := p.last(k)
			if at < 0 {
				continue
			}
			mapped += p[at]
			looks[at] += p[at]
			if at != k {
				continue
			}
			looked = true
			if before := p.last(k - 1); before >= 0 {
				step += p[k] - p[before]
			} else {
				fresh += p[k]
			}
		}
		row.Figures[Infested] = mapped
		if k > 0 {
			row.Figures[Infested.Step()], row.Figures[FirstLookedAt] = step, fresh
		}
		for _, at := range slices.Sorted(maps.Keys(looks)) {
			row.Looks = append(row.Looks, Look{survey.Quarter{Year: int16((begin + at) / 4), Number: int8((begin+at)%4 + 1)}, looks[at]})
		}
		if looked && looks[k] == 0 { // surveyed, and nothing found: that is reported too
			if _, there := looks[k]; !there {
				row.Looks = append(row.Looks, Look{Quarter: q})
			}
		}
		batches = append(batches, Batch{Quarter: q, Rows: []Row{row}})
		q = q.Next()
	}
	return batches
}

// TestChainAgainstPlaces: twelve places drawn three hundred times. The values of a trend are the
// acres of the places at their last look up to each quarter; a place not yet surveyed counts with
// the acres first found. Each value is based on the looks at those places, in proportion to their
// acres. Summed place by place.
func TestChainAgainstPlaces(t *testing.T) {
	dice := rand.New(rand.NewPCG(2, 9))
	for n := range 300 {
		quarters := 2 + dice.IntN(9)
		places := drawPlaces(dice, 1+dice.IntN(12), quarters)
		h := &History{}
		if err := h.assemble(toldOf(t, places, quarters)); err != nil {
			t.Fatal(err)
		}
		chain, shares := h.Chain(0, Infested), h.ground(h.Sections[0].Ages, h.firstSeen(0))
		for k := range quarters {
			value, by, looked := int64(0), map[int]float64{}, false
			for _, p := range places {
				looked = looked || p[k] != notLooked
				at := p.last(k)
				if at < 0 {
					at = p.first()
				}
				if at >= 0 && p[at] > 0 {
					value += p[at]
					by[h.Quarters[at].Ordinal()] += float64(p[at])
				}
			}
			if chain[k] != value {
				t.Fatalf("case %d, quarter %d of %d: %d, want %d\n%v", n, k+1, quarters, chain[k], value, places)
			}
			if (h.Sections[0].Ages[k] != nil) != looked {
				t.Fatalf("case %d, quarter %d: somebody looked: %v, told %v", n, k+1, looked, h.Sections[0].Ages[k])
			}
			mapped := h.Sections[0].Figures[k][Infested]
			if !looked || mapped == 0 { // the age of no acres is undefined
				continue
			}
			for q, acres := range by {
				if got := shares[k][q]; !near(got, acres/float64(value), 1e-12) {
					t.Fatalf("case %d, quarter %d: %v of the acres were looked at in %d, want %v\n%v", n, k+1, got, q, acres/float64(value), places)
				}
			}
			if len(shares[k]) != len(by) {
				t.Fatalf("case %d, quarter %d: %v, want %v", n, k+1, shares[k], by)
			}
		}
	}
}

// TestSharedMemoryChangesNoVerdict: variances of S stored by other series are the same as a series
// would compute itself, whatever was surveyed when.
func TestSharedMemoryChangesNoVerdict(t *testing.T) {
	dice := rand.New(rand.NewPCG(6, 1))
	kept := memory{}
	for n := range 200 {
		quarters := Fewest + dice.IntN(4)
		if n%10 == 0 {
			quarters = 20 + dice.IntN(5) // equal quarters only
		}
		places := drawPlaces(dice, 1+dice.IntN(3), quarters)
		h := &History{}
		if err := h.assemble(toldOf(t, places, quarters)); err != nil {
			t.Fatal(err)
		}
		rules := Rules{Correlation: []float64{0, 0.25, 0.5}[dice.IntN(3)]}
		if got, want := h.trendOf(0, Infested, rules, kept), h.trendOf(0, Infested, rules, memory{}); got.Test != want.Test || got.Slope != want.Slope || got.Seasonal != want.Seasonal {
			t.Fatalf("case %d: %+v, alone %+v", n, got, want)
		}
	}
	if len(kept) < 20 {
		t.Errorf("%d variances were kept: the cases try too little", len(kept))
	}
}

// TestCovarianceOfLooks: by hand, two values based half each on looks of quarters 0 and 1, and 1
// and 2, where neighbours have a correlation of a half. With all places changing together: 1/4 of
// 1/2, 1/4, 1 and 1/2. With each place independent: the half surveyed in quarter 1 is the same in
// both, and the other halves are two quarters apart, 1/2 times 1/4. The variance of a value with
// two looks is 1/4 of 1, 1, 1/2 and 1/2 in the first case, and 1 in the second.
func TestCovarianceOfLooks(t *testing.T) {
	ages := []map[int]float64{{0: 0.5, 1: 0.5}, {1: 0.5, 2: 0.5}}
	for name, test := range map[string]struct {
		got        [][]float64
		self, both float64
	}{
		"together":     {covariance(ages, 0.5), 0.75, 0.5625},
		"place by one": {covarianceOfPlaces(ages, 0.5), 1, 0.625},
	} {
		for a := range 2 {
			for b := range 2 {
				want := test.both
				if a == b {
					want = test.self
				}
				if !near(test.got[a][b], want, 1e-12) {
					t.Errorf("%s: %d with %d is %g, want %g", name, a, b, test.got[a][b], want)
				}
			}
		}
	}
	// A quarter surveyed again, a quarter as before, a half three quarters older: 1/4 the same, then
	// in the order of looks 1/4 one quarter apart and 1/2 two.
	a, b := map[int]float64{0: 0.5, 2: 0.25, 3: 0.25}, map[int]float64{2: 0.5, 3: 0.5}
	if got := together(a, b, 0.5); !near(got, 0.25+0.25+0.25*0.25+0.25*0.125, 1e-12) {
		t.Errorf("%g", got)
	}
}

// TestSpreadOfSAgainstDraws: the variance of S of values based on looks of several quarters, all
// pairs and seasonal pairs, against twenty thousand draws of such values, with a standard error of
// 1 %.
func TestSpreadOfSAgainstDraws(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 3))
	ages := []map[int]float64{{0: 1}, {0: 0.4, 1: 0.6}, {1: 0.3, 2: 0.7}, {2: 1}, {2: 0.5, 4: 0.5}, {4: 0.2, 5: 0.8}, {6: 1}, {5: 0.5, 7: 0.5}}
	seasons := []int{1, 2, 3, 4, 1, 2, 3, 4}
	for _, seasonal := range []bool{false, true} {
		pairs := everyPair(seasons, seasonal)
		if want := map[bool]int{false: 28, true: 4}[seasonal]; len(pairs) != want {
			t.Fatalf("%d pairs, want %d", len(pairs), want)
		}
		square := 0.0
		const draws = 20_000
		for range draws {
			looks := trendless(dice, 8, 0.5)
			values := make([]float64, len(ages))
			for i, shares := range ages {
				for _, q := range slices.Sorted(maps.Keys(shares)) {
					values[i] += shares[q] * looks[q]
				}
			}
			s := 0.0
			for j := range values {
				for i := range j {
					if !seasonal || seasons[i] == seasons[j] {
						s += math.Copysign(1, values[j]-values[i])
					}
				}
			}
			square += s * s / draws
		}
		if got := spreadOfS(pairs, covariance(ages, 0.5)); !near(got, square, 0.04*square) {
			t.Errorf("seasonal %v: %.3f, by draws %.3f", seasonal, got, square)
		}
	}
	if spreadOfS(nil, nil) != 0 {
		t.Error("of no pairs")
	}
	if got := spreadOfS([]pair{{0, 1}}, [][]float64{{1, 1}, {1, 1}}); got != 0 {
		t.Errorf("two values that are one: %g", got)
	}
}

// TestTiesTakeFromTheVariance: by hand. Six values with two ties of two, and with three, have 6 x 5
// x 17 = 510 less 2 x 1 x 9 each, 474 and 456, eighteenths of S's variance; for correlated
// neighbours the variance without ties shrinks by the same 474/510 and 456/510.
func TestTiesTakeFromTheVariance(t *testing.T) {
	untied := spreadOfS(everyPair(make([]int, 6), false), covariance(ownLooks(6), 0.5))
	for _, test := range []struct {
		values []float64
		times  float64
	}{
		{[]float64{1, 2, 3, 4, 5, 6}, 1}, {[]float64{1, 1, 3, 3, 5, 6}, 474.0 / 510}, {[]float64{1, 1, 3, 3, 5, 5}, 456.0 / 510},
	} {
		got := seriesTrend(test.values, shifted(ownLooks(6)), DefaultRules(), memory{})
		if want := untied * test.times; !near(got.Test.Variance, want, 1e-9) || got.Test.Exact {
			t.Errorf("%v: variance %g, want %g", test.values, got.Test.Variance, want)
		}
		if want := float64(got.Test.S-1) / math.Sqrt(untied*test.times); !near(got.Test.Z, want, 1e-9) || !near(got.Test.P, math.Erfc(want/math.Sqrt2), 1e-12) {
			t.Errorf("%v: z %g, p %g, want z %g", test.values, got.Test.Z, got.Test.P, want)
		}
		if want := math.Erfc(14 / math.Sqrt(untied) / math.Sqrt2); !near(got.Test.LeastP, want, 1e-12) { // 15 pairs, less one
			t.Errorf("%v: least p %g, want %g", test.values, got.Test.LeastP, want)
		}
	}
}

// TestCorrelationOfBlocks: by hand, forty values in blocks of threes and minus threes about a level
// line. In blocks of ten, 36 of 39 neighbours are alike and 3 opposite: 33/39 = 0.846, rounded up
// to 0.85; of eleven 37 of 43, 0.860, 0.9; of five 32 less 7, 25/39 = 0.641, 0.65; of one all are
// opposite, and the setting is used. Where every second quarter has no value there are no
// neighbours; with one value fewer there is no estimate; a series that repeats for ten years of
// quarters counts as nine tenths.
func TestCorrelationOfBlocks(t *testing.T) {
	blocks := func(n, of int, every float64) []Sample {
		out := make([]Sample, n)
		for k := range out {
			out[k] = Sample{2000 + every*float64(k), float64(3 - 6*(k/of%2))}
		}
		return out
	}
	for _, test := range []struct {
		name    string
		samples []Sample
		set     float64
		want    float64
	}{
		{"ten", blocks(40, 10, 0.25), 0.5, 0.85}, {"eleven", blocks(44, 11, 0.25), 0.5, 0.9}, {"five", blocks(40, 5, 0.25), 0.5, 0.65}, {"five, and more was set", blocks(40, 5, 0.25), 0.7, 0.7},
		{"one", blocks(40, 1, 0.25), 0.5, 0.5}, {"every second quarter", blocks(40, 10, 0.5), 0.5, 0.5}, {"thirty-nine", blocks(39, 10, 0.25), 0.5, 0.5},
		{"forty years", blocks(160, 40, 0.25), 0.5, 0.9}, {"all the same", blocks(40, 50, 0.25), 0.3, 0.3},
	} {
		if slope := Slope(test.samples); slope != 0 {
			t.Fatalf("%s: slope %g", test.name, slope)
		}
		if got := correlation(test.samples, 0, test.set); !near(got, test.want, 1e-12) {
			t.Errorf("%s: %g, want %g", test.name, got, test.want)
		}
	}
	// The same about a line that rises by 8 a year.
	rising := blocks(40, 10, 0.25)
	for k := range rising {
		rising[k].Value += 8 * rising[k].Time
	}
	if got := correlation(rising, 8, 0.5); !near(got, 0.85, 1e-12) {
		t.Errorf("about a line: %g", got)
	}
	// One quarter missing in the middle of a block of ten removes two pairs of neighbours that are
	// alike.
	gap := slices.Delete(blocks(41, 10, 0.25), 25, 26) // 34 alike and 4 opposite, of 38, on a level a little off
	mean := 0.0
	for _, s := range gap {
		mean += s.Value / 40
	}
	sum, square := 0.0, 0.0
	for i := range gap {
		square += (gap[i].Value - mean) * (gap[i].Value - mean) / 40
		if i > 0 && i != 25 {
			sum += (gap[i].Value - mean) * (gap[i-1].Value - mean) / 38
		}
	}
	if got, want := correlation(gap, 0, 0.1), math.Ceil(20*sum/square)/20; !near(got, want, 1e-12) {
		t.Errorf("with a gap: %g, want %g", got, want)
	}
}

// The correlation of neighbouring quarters about a line that does not pass through their mean, in
// sums of whole numbers: for residuals v, n of them with sum S, near = sum of (n v - S)(n w - S)
// over n n, alone in the same way, rounded up to a twentieth.
func TestCorrelationAboutALineBesideTheMean(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	for range 50 {
		const n = 48
		samples, sum := make([]Sample, n), 0
		whole := make([]int, n)
		for k := range samples {
			whole[k] = random.IntN(7)
			if k > 0 && random.IntN(3) > 0 { // alike two times of three
				whole[k] = whole[k-1]
			}
			if k%12 == 0 {
				whole[k] += 40 // a few far above, so that mean and median differ
			}
			samples[k] = Sample{2000 + 0.25*float64(k), float64(whole[k])}
			sum += whole[k]
		}
		near, alone := 0, 0
		for k, v := range whole {
			alone += (n*v - sum) * (n*v - sum)
			if k > 0 {
				near += (n*v - sum) * (n*whole[k-1] - sum)
			}
		}
		// 20 near/(n-1) / (alone/n), rounded up
		found := math.Ceil(20*float64(near)*n/float64(alone)/(n-1)) / 20
		if want := max(-0.9, min(found, 0.9)); math.Abs(correlation(samples, 0, -0.9)-want) > 1e-12 {
			t.Errorf("%v: %v, want %v", whole, correlation(samples, 0, -0.9), want)
		}
	}
}

// TestSeasonsWhereTheyCanTell: twenty surveyed quarters are compared by season, nineteen are not;
// nor are six values within five years, which have too few equal quarters, nor four, which are not
// tested.
func TestSeasonsWhereTheyCanTell(t *testing.T) {
	series := func(at ...int) Trend {
		values := make([]float64, at[len(at)-1]+1)
		for k := range values {
			values[k] = -1
		}
		for i, k := range at {
			values[k] = float64(1 + i)
		}
		return trendOf(t, Rules{}, "2020Q1", values...)
	}
	all := func(n int) (at []int) {
		for k := range n {
			at = append(at, k)
		}
		return at
	}
	for _, test := range []struct {
		name     string
		got      Trend
		seasonal bool
		pairs    int
		slope    float64
	}{
		{"nineteen", series(all(19)...), false, 171, 4}, {"twenty", series(all(20)...), true, 40, 4},
		{"six in five years", series(0, 3, 7, 10, 14, 19), false, 15, 12.0 / 11}, {"four in five years", series(0, 7, 12, 19), false, 0, 2 * (3.0/19 + 1.0/6)},
	} {
		if test.got.Seasonal != test.seasonal || test.got.Test.Pairs != test.pairs || !near(test.got.Slope, test.slope, 1e-9) {
			t.Errorf("%s: seasonal %v, %d pairs, slope %.4f", test.name, test.got.Seasonal, test.got.Test.Pairs, test.got.Slope)
		}
	}
}

// TestWhoLooked: whether a quarter was surveyed, by the looks in its row; in a batch of an earlier
// version by acres not carried, by a level of 0 and by acres not detected.
func TestWhoLooked(t *testing.T) {
	q1, q2 := quarter(t, "2026Q1"), quarter(t, "2026Q2")
	row := func(infested, carried, gone int64, told bool, looks ...Look) *Row {
		r := &Row{Looks: looks, LooksTold: told}
		r.Figures[Infested], r.Figures[Carried], r.Figures[NotDetected] = infested, carried, gone
		return r
	}
	for i, test := range []struct {
		row  *Row
		want bool
	}{
		{row(5, 5, 0, true, Look{q1, 5}), false}, {row(5, 5, 0, true, Look{q1, 2}, Look{q2, 3}), true}, {row(0, 0, 0, true, Look{q2, 0}), true}, {row(5, 0, 0, true), false},
		{row(5, 5, 0, false), false}, {row(5, 4, 0, false), true}, {row(5, Blank, 0, false), true}, {row(0, 0, 0, false), true}, {row(5, 5, 1, false), true}, {row(5, 5, Blank, false), false},
	} {
		if got := test.row.lookedAt(q2); got != test.want {
			t.Errorf("row %d: %v", i, got)
		}
	}
	ages := row(0, 0, 0, true, Look{q1, 3}, Look{q2, 0}, Look{q1, 4}).ages(q2)
	if want := map[int]float64{q1.Ordinal(): 7}; !maps.Equal(ages, want) {
		t.Errorf("%v, want %v", ages, want)
	}
	if none := row(0, 0, 0, true, Look{q1, 0}).ages(q2); !maps.Equal(none, map[int]float64{q2.Ordinal(): 1}) {
		t.Errorf("%v", none)
	}
}

// TestNamesOfMeasures: the name a reader sees for each column.
func TestNamesOfMeasures(t *testing.T) {
	var got []string
	for _, m := range slices.Concat(Measures(), Parts(), Work()) {
		got = append(got, fmt.Sprintf("%s: %s, %s", m.Column(), m.Label(), m.Unit()))
	}
	want := []string{
		"live_acres: live, acres", "infested_acres: infested, acres", "gross_acres: gross, acres", "canopy_acres: canopy, acres", "zone_acres: in the zone, acres",
		"treated_stands_acres: treated stands, acres", "standing_dead_acres: standing dead, acres", "reach_at_risk_km: stream at risk, km", "previous_acres: the batch before, acres",
		"restated_acres: restated, acres", "observed_change_acres: observed change, acres", "new_acres: new, acres", "found_again_acres: found again, acres",
		"first_looked_at_acres: first looked at, acres", "not_detected_acres: not detected, acres", "cleared_acres: cleared, acres", "carried_acres: carried, acres",
		"work_done_acres: acres treated, acres",
	}
	if len(got) < len(want) || !slices.Equal(got[:len(want)], want) {
		t.Errorf("%q", got)
	}
	for _, name := range got[len(want):] { // by method and class
		column, label, _ := strings.Cut(name, "_acres: acres treated, ")
		if label != strings.ReplaceAll(strings.TrimPrefix(column, "work_done_"), "_", " ")+", acres" {
			t.Errorf("%q", name)
		}
	}
}

// TestFiguresAreRead: cells and their values, in hundred-millionths; by hand.
func TestFiguresAreRead(t *testing.T) {
	for _, test := range []struct {
		measure Measure
		cell    string
		want    int64
		ok      bool
	}{
		{Infested, "0", 0, true}, {Infested, "12", 12e8, true}, {Infested, "0.00000001", 1, true}, {Infested, "1.5", 15e7, true}, {Infested, "", 0, false}, {Infested, "-1", 0, false},
		{Infested, ".5", 0, false}, {Infested, "5.", 5e8, true}, {Infested, "1e3", 0, false}, {Infested, "90071992.54740991", 1<<53 - 1, true}, {Infested, "90071992.54740992", 0, false},
		{Live, "", Blank, true}, {New, "", Blank, true}, {New, "-1", 0, false}, {Observed, "-1.25", -125e6, true}, {Restated, "-1", -1e8, true}, {Infested.Step(), "-2", -2e8, true},
		{Cleared, "-2", 0, false}, {firstBand, "-2", 0, false}, {StandingDead.Step(), "-2", -2e8, true}, {Observed, "--2", 0, false}, {ReachAtRisk, "", 0, false},
	} {
		got, err := figure(test.measure, test.cell)
		if (err == nil) != test.ok || err == nil && got != test.want {
			t.Errorf("%d %q: %d, %v", test.measure, test.cell, got, err)
		}
	}
	f := Figures{}
	f[Live], f[Infested], f[Treated], f[StandingDead] = Blank, 10, 7, 4
	if f.live(); f[Live] != 0 { // below 0 there is none
		t.Error(f[Live])
	}
	f[Live], f[Treated] = Blank, Blank
	if f.live(); f[Live] != Blank {
		t.Error(f[Live])
	}
	f[Live], f[Treated] = 3, 1
	if f.live(); f[Live] != 3 {
		t.Error(f[Live])
	}
}
