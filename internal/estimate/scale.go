package estimate

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"
)

// Spreading holds counts by row that may come from sources spreading in one direction, to estimate
// how far they spread. For each scale on a grid, Down is the expected intensity in a row when
// spread goes in that direction, and Up when it goes the other way. Spread to both sides alike has
// equal shares of both.
type Spreading struct {
	Counts []float64
	Ground []float64 // by row: expected intensity of arrivals without a known source, such as time observed
	Scales []float64 // ascending, above 0
	Down   [][]float64
	Up     [][]float64

	Draws int    // of the test; 199 can show a p of 1 in 100; 0 for no test
	Seed  uint64 // of the draws
}

// Scale is the estimated distance of spread.
type Scale struct {
	Scale    Interval  // of maximum likelihood; a bound outside the grid is 0 or infinite
	Profile  []float64 // by scale: twice the log likelihood below the maximum
	Directed float64   // events attributed to spread in one direction
	Either   float64   // events attributed to spread to both sides alike
	Ground   float64   // events attributed to neither
	Gain     float64   // twice the log likelihood gained by the direction
	P        float64   // how often as much is gained without any direction; NaN if not tested
}

// chi is the quantile of the chi-squared distribution with one degree of freedom at Level,
// 3.841459.
var chi = Normal * Normal

// Estimate fits three causes at every scale: the ground, spread to both sides alike (Down and Up
// together), and further spread downwards. It profiles the likelihood over the scale. The interval
// contains the scales whose doubled log likelihood is within 3.84 of the maximum (S. S. Wilks,
// Annals of Mathematical Statistics 9 (1938), 60-62).
//
// The direction is tested against the same model without the third cause. The scale has no meaning
// there, so no table applies to the gain (R. B. Davies, Biometrika 74 (1987), 33-43). The gain is
// compared with the gains of counts drawn from the model without a direction (A. C. Davison and D.
// V. Hinkley, Bootstrap Methods and their Application, 1997, section 4.2.3). The same seed gives
// the same result.
func (s *Spreading) Estimate() Scale {
	m := s.models()
	best, out := m.best(s.Counts), Scale{P: math.NaN()}
	for _, f := range best.with {
		out.Profile = append(out.Profile, 2*(best.log-f.log))
	}
	out.Scale = bounds(s.Scales, out.Profile)
	at := best.with[best.at].amounts
	out.Ground, out.Either, out.Directed = at[0], at[1], at[2]
	out.Gain = max(0, 2*(best.log-best.without))
	if s.Draws > 0 {
		out.P = m.chance(s, best, out.Gain)
	}
	return out
}

// models holds the columns of the causes, by scale.
type models struct {
	ground []float64
	either [][]float64
	down   [][]float64
}

func (s *Spreading) models() models {
	m := models{ground: scaled(s.Ground)}
	for i := range s.Scales {
		both := make([]float64, len(s.Ground))
		for r := range both {
			both[r] = s.Down[i][r] + s.Up[i][r]
		}
		m.either, m.down = append(m.either, scaled(both)), append(m.down, scaled(s.Down[i]))
	}
	return m
}

// scaled returns a column scaled to sum to 1; zeros stay zeros.
func scaled(column []float64) []float64 {
	total := 0.0
	for _, v := range column {
		total += v
	}
	out := make([]float64, len(column))
	for i, v := range column {
		if total > 0 {
			out[i] = v / total
		}
	}
	return out
}

// fit is amounts with their log likelihood.
type fit struct {
	amounts []float64
	log     float64
}

// fits is the models fitted at every scale.
type fits struct {
	with    []fit // with all three causes
	at      int   // index of the best scale
	log     float64
	plain   fit // the best model without a direction
	plainAt int
	without float64
}

func (m *models) best(counts []float64) fits {
	out := fits{log: math.Inf(-1), without: math.Inf(-1)}
	rows := rowsOf(counts)
	for i := range m.down {
		r := m.at(i, counts, rows)
		f := fit{}
		f.amounts, f.log = r.Fit()
		out.with = append(out.with, f)
		if f.log > out.log {
			out.at, out.log = i, f.log
		}
		r.columns = r.columns[:2]
		f.amounts, f.log = r.Fit()
		if f.log > out.without {
			out.plain, out.plainAt, out.without = f, i, f.log
		}
	}
	return out
}

// rowsOf lists the rows with a count.
func rowsOf(counts []float64) []int {
	var rows []int
	for i, y := range counts {
		if y > 0 {
			rows = append(rows, i)
		}
	}
	return rows
}

// at returns the model at one scale.
func (m *models) at(i int, counts []float64, rows []int) Rates {
	r := Rates{columns: make([][]float64, 3)}
	for _, row := range rows {
		r.counts = append(r.counts, counts[row])
		for k, column := range [][]float64{m.ground, m.either[i], m.down[i]} {
			r.columns[k] = append(r.columns[k], column[row])
		}
	}
	return r
}

// mostAs is the number of draws with at least the same gain after which drawing stops. Our choice:
// p is then known to a third of its value, and is not small.
const mostAs = 10

// sameGain is the difference below which two gains are the same: what rounding and the end of the
// iterations leave. Our choice.
const sameGain = 1e-7

// chance returns the p of a gain: one more than the draws with at least the same gain, over one
// more than all draws. When mostAs draws have reached it before the last, drawing stops, and p is
// mostAs over the draws so far (J. Besag and P. Clifford, Biometrika 78 (1991), 301-304).
func (m *models) chance(s *Spreading, best fits, gain float64) float64 {
	sums := make([]float64, len(m.ground))
	total := 0.0
	for i := range sums {
		total += best.plain.amounts[0]*m.ground[i] + best.plain.amounts[1]*m.either[best.plainAt][i]
		sums[i] = total
	}
	events := 0
	for _, y := range s.Counts {
		events += int(y)
	}
	as := 0
	random := rand.New(rand.NewPCG(s.Seed, 0))
	counts := make([]float64, len(sums))
	for draw := range s.Draws {
		clear(counts)
		for range events {
			counts[min(len(sums)-1, sort.SearchFloat64s(sums, total*random.Float64()))]++
		}
		drawn := m.best(counts)
		if 2*(drawn.log-drawn.without) >= gain-sameGain {
			as++
		}
		if as == mostAs {
			return float64(as) / float64(draw+1)
		}
	}
	return float64(as+1) / float64(s.Draws+1)
}

// bounds returns the scale with the lowest profile value, and the scales on either side where the
// profile crosses chi above it. Between the steps of the grid the lowest value is that of the parabola
// through the three lowest points, and the bounds lie where the root of the profile, which is nearly
// straight, crosses that of chi, all in the logarithm of the scale (W. N. Venables and B. D. Ripley,
// Modern Applied Statistics with S, 4th edition, 2002, section 8.4). It is exact for a parabola.
func bounds(scales, profile []float64) Interval {
	at := 0
	for i, v := range profile {
		if v < profile[at] {
			at = i
		}
	}
	best, low := lowest(scales, profile, at)
	root := func(k int) float64 { return math.Sqrt(profile[k] - low) }
	cross := func(in, out int) float64 {
		x, z := math.Log(scales[in]), root(in)
		if in == at {
			x, z = best, 0
		}
		share := (math.Sqrt(chi) - z) / (root(out) - z)
		return math.Exp(x + share*(math.Log(scales[out])-x))
	}
	i := Interval{math.Exp(best), 0, math.Inf(1)}
	if best == math.Log(scales[at]) {
		i.Value = scales[at]
	}
	for k := at; k > 0; k-- {
		if profile[k-1]-low > chi {
			i.Low = cross(k, k-1)
			break
		}
	}
	for k := at; k+1 < len(profile); k++ {
		if profile[k+1]-low > chi {
			i.High = cross(k, k+1)
			break
		}
	}
	return i
}

// lowest returns the logarithm of the scale at which the parabola through the lowest point and its two
// neighbours is lowest, and its value there. At the ends of the grid, and where the three are level, it
// is the point itself. The grid is even in the logarithm.
func lowest(scales, profile []float64, at int) (scale, value float64) {
	scale, value = math.Log(scales[at]), profile[at]
	if at == 0 || at == len(profile)-1 {
		return scale, value
	}
	below, above := profile[at-1]-value, profile[at+1]-value
	if !(below+above > 0) {
		return scale, value
	}
	shift := (below - above) / (below + above) / 2
	return scale + shift*(math.Log(scales[at+1])-scale), value - (below-above)*(below-above)/(below+above)/8
}

// Needed returns the number of events needed to detect, with a power of 8 in 10 at a level of 1 in
// 100, that all events spread down with a given scale of the grid. The mean gain of one event is
// twice the Kullback-Leibler divergence of that model from the nearest model without a direction
// (S. Kullback and R. A. Leibler, Annals of Mathematical Statistics 22 (1951), 79-86). The gain
// needed is (2.326 + 0.842)^2, the squared sum of the two normal quantiles. Infinite where the rows
// cannot distinguish the two.
func (s *Spreading) Needed(scale int) float64 {
	m := s.models()
	law := m.down[scale]
	rows := rowsOf(law)
	entropy := 0.0
	for _, row := range rows {
		entropy += law[row] * math.Log(law[row])
	}
	best := math.Inf(-1)
	for i := range m.down {
		r := m.at(i, law, rows)
		r.columns = r.columns[:2]
		_, log := r.Fit()
		best = max(best, log)
	}
	// at the maximum the amounts sum to the count, here 1
	gain := 2 * (entropy - (best + 1))
	if len(rows) == 0 || !(gain > 1e-9) {
		return math.Inf(1)
	}
	const quantiles = 2.326 + 0.842
	return math.Ceil(quantiles * quantiles / gain)
}

// Nearest returns the index of the scale with the ratio nearest to a value.
func (s *Spreading) Nearest(value float64) int {
	best := 0
	for i, v := range s.Scales {
		if math.Abs(math.Log(v/value)) < math.Abs(math.Log(s.Scales[best]/value)) {
			best = i
		}
	}
	return best
}

// Finite says whether both bounds are finite and above 0.
func (i Interval) Finite() bool {
	return i.Low > 0 && !slices.ContainsFunc([]float64{i.Value, i.Low, i.High}, func(v float64) bool { return math.IsInf(v, 0) || math.IsNaN(v) })
}
