// Command verdicts shows how often a trend is told where there is none, and found
// where there is one: series of known truth of 8 to 32 quarters, judged one by one as
// the trend command judges the total.
//
//	go run ./scripts/verdicts [SERIES]
package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"strconv"

	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// lengths are the quarters of the series, those of the goals among them.
var lengths = []int{6, 8, 12, 16, 20, 24, 32}

func main() {
	series := 2000
	if len(os.Args) > 1 {
		n, err := strconv.Atoi(os.Args[1])
		if err != nil || n < 1 {
			fmt.Fprintln(os.Stderr, "verdicts: error: usage: verdicts [SERIES]")
			os.Exit(1)
		}
		series = n
	}
	if err := write(os.Stdout, series); err != nil {
		fmt.Fprintln(os.Stderr, "verdicts: error:", err)
		os.Exit(1)
	}
}

// story is one kind of series.
type story struct {
	name string
	make func(random *rand.Rand, quarters int) []place
	told bool // there is a trend to be found
}

// place is a part of the ground: its acres by quarter, and in which quarters
// somebody looks at it.
type place struct {
	acres  []float64
	looked func(k int) bool
}

var stories = []story{
	{"trendless, correlation 0.5", func(r *rand.Rand, n int) []place { return []place{{scaled(drawn(r, n, 0.5)), always}} }, false},
	{"trendless, no correlation", func(r *rand.Rand, n int) []place { return []place{{scaled(drawn(r, n, 0)), always}} }, false},
	{"trendless, a quarter of the ground each quarter", byTurns(4, 0), false},
	{"trendless, half of the ground each quarter", byTurns(2, 0), false},
	{"trendless, new ground each quarter", growing, false},
	{"5 % a quarter under 5 % noise", steady(0.05), true},
	{"2 % a quarter under 5 % noise", steady(0.02), true},
	{"5 % a quarter, a quarter of the ground each quarter", byTurns(4, 0.05), true},
}

func always(int) bool { return true }

// drawn are values of a first-order autoregression of unit variance.
func drawn(r *rand.Rand, n int, correlation float64) []float64 {
	x := make([]float64, n)
	for k := range x {
		x[k] = r.NormFloat64()
		if k > 0 {
			x[k] = correlation*x[k-1] + math.Sqrt(1-correlation*correlation)*x[k]
		}
	}
	return x
}

// scaled makes acres of draws: 10 with a deviation of a twentieth.
func scaled(x []float64) []float64 {
	for k := range x {
		x[k] = 10 + x[k]/2
	}
	return x
}

func steady(rate float64) func(*rand.Rand, int) []place {
	return func(r *rand.Rand, n int) []place {
		acres := make([]float64, n)
		for k := range acres {
			acres[k] = 10 * math.Pow(1+rate, float64(k)) * (1 + 0.05*r.NormFloat64())
		}
		return []place{{acres, always}}
	}
}

// byTurns looks at one of so many parts each quarter, at all in the first.
func byTurns(parts int, rate float64) func(*rand.Rand, int) []place {
	return func(r *rand.Rand, n int) []place {
		all := make([]place, parts)
		for p := range all {
			acres := scaled(drawn(r, n, 0.5))
			for k := range acres {
				acres[k] *= math.Pow(1+rate, float64(k))
			}
			all[p] = place{acres, func(k int) bool { return k == 0 || k%parts == p }}
		}
		return all
	}
}

// growing adds a place each quarter, which is looked at from then on.
func growing(r *rand.Rand, n int) []place {
	all := make([]place, n)
	for p := range all {
		all[p] = place{scaled(drawn(r, n, 0.5)), func(k int) bool { return k >= p }}
	}
	return all
}

// judged is the trend of infested acres over the first n quarters.
func judged(places []place, n int) (trend.Trend, error) {
	var batches []trend.Batch
	last, looked := make([]float64, len(places)), make([]int, len(places))
	for p := range looked {
		looked[p] = -1
	}
	q := survey.Quarter{Year: 2020, Number: 1}
	quarters := make([]survey.Quarter, 0, n)
	for k := range n {
		quarters = append(quarters, q)
		mapped, step := 0.0, 0.0
		acres := map[int]float64{}
		for p := range places {
			if places[p].looked(k) {
				if looked[p] >= 0 {
					step += places[p].acres[k] - last[p]
				}
				last[p], looked[p] = places[p].acres[k], k
			}
			if looked[p] >= 0 {
				mapped += last[p]
				acres[looked[p]] += last[p]
			}
		}
		row := trend.NewRow("total")
		row.Figures[trend.Infested] = fixed(mapped)
		if k > 0 {
			row.Figures[trend.Infested.Step()] = fixed(step)
		}
		for at := range k + 1 {
			if acres[at] > 0 {
				row.Looks = append(row.Looks, trend.Look{Quarter: quarters[at], Acres: fixed(acres[at])})
			}
		}
		batches = append(batches, trend.Batch{Quarter: q, Rows: []trend.Row{row}})
		q = q.Next()
	}
	h, err := trend.Assemble(batches, trend.DefaultRules())
	if err != nil {
		return trend.Trend{}, err
	}
	return h.Trend(0, trend.Infested), nil
}

func fixed(acres float64) int64 { return int64(math.Round(acres * 1e4)) }

func isTold(t trend.Trend) bool { return t.Direction == trend.Rising || t.Direction == trend.Falling }

// write prints the table.
func write(out io.Writer, series int) error {
	fmt.Fprint(out, "| verdicts, % of series |")
	for _, n := range lengths {
		fmt.Fprintf(out, " %d |", n)
	}
	fmt.Fprint(out, "\n|---|")
	for range lengths {
		fmt.Fprint(out, "--:|")
	}
	fmt.Fprintln(out)
	withdrawn := make([]float64, len(lengths))
	for i, s := range stories {
		fmt.Fprintf(out, "| %s |", s.name)
		for at, n := range lengths {
			random := rand.New(rand.NewPCG(uint64(i), uint64(n)))
			told := 0
			for range series {
				places := s.make(random, n+1)
				now, err := judged(places, n)
				if err != nil {
					return err
				}
				if !isTold(now) {
					continue
				}
				told++
				if s.told {
					next, err := judged(places, n+1)
					if err != nil {
						return err
					}
					if !isTold(next) {
						withdrawn[at]++
					}
				}
			}
			fmt.Fprintf(out, " %.1f |", 100*float64(told)/float64(series))
		}
		fmt.Fprintln(out)
	}
	fmt.Fprint(out, "| withdrawn a quarter later, of the last three |")
	for at := range lengths {
		fmt.Fprintf(out, " %.1f |", 100*withdrawn[at]/float64(3*series))
	}
	fmt.Fprintln(out)
	return nil
}
