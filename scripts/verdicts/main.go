// Command verdicts shows how often a trend is reported where there is none, and found where there
// is one. It uses simulated series of 6 to 32 quarters: judged one by one, as the trend command
// judges the total, and as streams judged together.
//
//	go run ./scripts/verdicts [SERIES]
package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// lengths are the lengths of the series in quarters, including those of the goals.
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
	told bool // there is a trend to find
}

// place is a part of the ground: its acres by quarter, and the quarters in which it is surveyed.
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
	{fivePercent, steady(0.05), true},
	{"2 % a quarter under 5 % noise", steady(0.02), true},
	{"5 % a quarter, a quarter of the ground each quarter", byTurns(4, 0.05), true},
}

const fivePercent = "5 % a quarter under 5 % noise"

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

// scaled turns draws into acres: mean 10, standard deviation a twentieth of it.
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

// byTurns surveys one of several parts each quarter, and all parts in the first.
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

// growing adds a place each quarter, which is surveyed from then on.
func growing(r *rand.Rand, n int) []place {
	all := make([]place, n)
	for p := range all {
		all[p] = place{scaled(drawn(r, n, 0.5)), func(k int) bool { return k >= p }}
	}
	return all
}

// judged is the trend of infested acres over the first n quarters of one series, judged as the
// total is.
func judged(places []place, n int) (trend.Trend, error) {
	h, err := history([][]place{places}, n)
	if err != nil {
		return trend.Trend{}, err
	}
	return h.Trend(0, trend.Infested), nil
}

// history is the history over the first n quarters of a total, or of a total and streams. The total
// comes first; with streams it is not used.
func history(sections [][]place, n int) (*trend.History, error) {
	batches := make([]trend.Batch, n)
	q := survey.Quarter{Year: 2020, Number: 1}
	for k := range batches {
		batches[k].Quarter = q
		q = q.Next()
	}
	for i, places := range sections {
		row := trend.NewRow(field.ScopeTotal)
		if i > 0 {
			row = trend.NewRow(field.ScopeWaterBody)
			row.Name = strconv.Itoa(i)
		}
		enter(batches, row, places)
	}
	return trend.Assemble(batches, trend.DefaultRules())
}

// enter adds the rows of a section to batches of consecutive quarters.
func enter(batches []trend.Batch, section trend.Row, places []place) {
	last, looked := make([]float64, len(places)), make([]int, len(places))
	for p := range looked {
		looked[p] = -1
	}
	for k := range batches {
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
		row := section
		row.Figures[trend.Infested] = fixed(mapped)
		if k > 0 {
			row.Figures[trend.Infested.Step()] = fixed(step)
		}
		for at := range k + 1 {
			if acres[at] > 0 {
				row.Looks = append(row.Looks, trend.Look{Quarter: batches[at].Quarter, Acres: fixed(acres[at])})
			}
		}
		batches[k].Rows = append(batches[k].Rows, row)
	}
}

func fixed(acres float64) int64 { return int64(math.Round(acres * 1e4)) }

func isTold(t trend.Trend) bool { return t.Direction == trend.Rising || t.Direction == trend.Falling }

// streams is the number judged together; every so many of them falls or rises by 5 % a quarter,
// where there are trends.
const (
	streams = 20
	every   = 4
)

// many judges streams together, in a number of histories. Streams without a trend have a
// correlation of 0.5. It returns the mean share of verdicts that are false (the controlled rate; 0
// where there is no verdict), and the share of true trends that are found.
func many(random *rand.Rand, histories, quarters int, trends bool) (wrong, found float64, err error) {
	for range histories {
		sections := [][]place{{{make([]float64, quarters), always}}}
		for i := range streams {
			draw := stories[0].make
			if trends && i%every == 0 {
				draw = steady(0.05)
			}
			sections = append(sections, draw(random, quarters))
		}
		h, err := history(sections, quarters)
		if err != nil {
			return 0, 0, err
		}
		told, right := 0, 0
		for i := range h.Sections[1:] {
			if !isTold(h.Trend(i+1, trend.Infested)) {
				continue
			}
			told++
			number, err := strconv.Atoi(h.Sections[i+1].Name)
			if err != nil {
				return 0, 0, err
			}
			if trends && (number-1)%every == 0 {
				right++
			}
		}
		wrong += float64(told-right) / float64(max(1, told)) / float64(histories)
		found += float64(right) / (streams / every) / float64(histories)
	}
	return wrong, found, nil
}

// writeMany prints the results for streams judged together.
func writeMany(out io.Writer, histories int) error {
	lines := [3]string{
		fmt.Sprintf("| %d trendless streams: false, of the verdicts |", streams),
		fmt.Sprintf("| %d streams, %d with 5 %% a quarter: false, of the verdicts |", streams, streams/every),
		"| the same: trends that are found |",
	}
	for _, n := range lengths {
		random := rand.New(rand.NewPCG(99, uint64(n)))
		none, _, err := many(random, histories, n, false)
		if err != nil {
			return err
		}
		some, found, err := many(random, histories, n, true)
		if err != nil {
			return err
		}
		for i, share := range []float64{none, some, found} {
			lines[i] += fmt.Sprintf(" %.1f |", 100*share)
		}
	}
	_, err := fmt.Fprintln(out, strings.Join(lines[:], "\n"))
	return err
}

// enough is the number of series from which the goals apply. Our choice: 7 % of them is then known
// to a percentage point.
const enough = 500

// missed says which goals a story misses at a length, where told is the share of its series with a
// verdict: at most 7 % for series without a trend and a correlation of 0.5 at 8 to 32 quarters, at
// least 80 % for a steady 5 % a quarter with 5 % noise at 12.
func missed(name string, quarters int, told float64) error {
	if name == stories[0].name && quarters >= 8 && told > 0.07 || name == fivePercent && quarters == 12 && told < 0.8 {
		return fmt.Errorf("%s, %d quarters: a verdict in %.1f %% of the series", name, quarters, 100*told)
	}
	return nil
}

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
	var wrong []error
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
			share := float64(told) / float64(series)
			fmt.Fprintf(out, " %.1f |", 100*share)
			if series >= enough {
				wrong = append(wrong, missed(s.name, n, share))
			}
		}
		fmt.Fprintln(out)
	}
	fmt.Fprint(out, "| withdrawn a quarter later, of the last three |")
	for at := range lengths {
		fmt.Fprintf(out, " %.1f |", 100*withdrawn[at]/float64(3*series))
	}
	fmt.Fprintln(out)
	wrong = append(wrong, writeMany(out, max(1, series/10)))
	return errors.Join(wrong...)
}
