// Command order compares the recommended treatment order with other orders: the share of exposure
// removed, averaged over the acres treated, for the recommended order, the largest stands first,
// and random orders.
//
//	go run ./scripts/order points.csv streams.geojson 2026Q3
package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"slices"

	"driftreach/internal/batch"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// orders is the number of random orders tried. Our choice: the mean is good to a few thousandths.
const orders = 1000

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "order:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 3 {
		return fmt.Errorf("usage: order POINTS STREAMS QUARTER")
	}
	quarter, err := survey.ParseQuarter(args[2])
	if err != nil {
		return err
	}
	file := func(name string) []format.Source {
		return []format.Source{{Name: name, Open: func() (io.ReadCloser, error) { return os.Open(name) }}}
	}
	ctx, s := context.Background(), settings.Default()
	s.Drift.Draws = 0
	observed, err := observed.Read(ctx, observed.Inputs{Of: map[string]observed.Files{"points": {Sources: file(args[0])}, "streams": {Sources: file(args[1])}}, Quarter: quarter}, s, host.Host{})
	if err != nil {
		return err
	}
	answer, err := batch.Compute(ctx, observed, s, host.Host{})
	if err != nil {
		return err
	}
	show(os.Stdout, compare(answer))
	showBeginnings(os.Stdout, beginnings(answer))
	return nil
}

// share is the exposure removed by an order, averaged over the acres treated: at once, and lasting.
// A stand treated before one upstream of it grows again from the fragments of that one, so its
// effect lasts only once the stands upstream are treated too.
type share struct{ day, lasting float64 }

// comparison holds the results of the orders.
type comparison struct {
	stands                       int // to treat
	recommended, largest, random share
}

// compare computes the recommended order, the largest stands first, and the mean of random orders.
func compare(answer *result.Run) comparison {
	r := region{answer: answer, above: above(answer)}
	var recommended []int
	for _, step := range answer.Steps {
		if step.Treat {
			recommended = append(recommended, int(step.Stand))
		}
	}
	largest := slices.Clone(recommended)
	slices.SortStableFunc(largest, func(a, b int) int {
		return cmp.Compare(answer.Stands[b].Infested, answer.Stands[a].Infested)
	})
	out := comparison{stands: len(recommended), recommended: r.share(recommended), largest: r.share(largest)}
	random := rand.New(rand.NewPCG(1, 1))
	shuffled := slices.Clone(recommended)
	for range orders {
		random.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		one := r.share(shuffled)
		out.random.day, out.random.lasting = out.random.day+one.day/orders, out.random.lasting+one.lasting/orders
	}
	return out
}

// show prints a comparison.
func show(w io.Writer, c comparison) {
	fmt.Fprintf(w, "%d stands to treat; exposure taken away, mean over the acres treated:\n", c.stands)
	fmt.Fprintf(w, "  %-16s %8s %8s\n", "order", "that day", "lasting")
	line := func(name string, s share) {
		fmt.Fprintf(w, "  %-16s %7.1f%% %7.1f%%\n", name, 100*s.day, 100*s.lasting)
	}
	line("recommended", c.recommended)
	line("largest first", c.largest)
	line("random, mean", c.random)
}

// region is the data on which orders are compared.
type region struct {
	answer *result.Run
	above  [][]int // by stand: the stands to treat whose fragments reach it
}

// above returns, by stand, the stands whose fragments reach it.
func above(answer *result.Run) [][]int {
	out := make([][]int, len(answer.Stands))
	for i := range answer.Stands {
		for _, below := range answer.Stands[i].Drift.Reached {
			if answer.Stands[below].Advice.Order != answer.Stands[i].Advice.Order {
				out[below] = append(out[below], i)
			}
		}
	}
	return out
}

func (r region) share(order []int) share {
	return share{r.meanShare(order, false), r.meanShare(order, true)}
}

// meanShare is the area under the curve of exposure removed against acres treated, both as shares:
// 0.5 if exposure follows acres evenly.
func (r region) meanShare(order []int, lasting bool) float64 {
	at := make(map[int]int, len(order))
	for i, stand := range order {
		at[stand] = i
	}
	gain := make([]float64, len(order))
	for i, stand := range order {
		counts := i
		if lasting {
			for _, a := range r.above[stand] {
				if k, treat := at[a]; treat {
					counts = max(counts, k)
				}
			}
		}
		gain[counts] += float64(r.answer.Stands[stand].Drift.Exposure)
	}
	var acres, exposure, area float64
	for i, stand := range order {
		infested := float64(r.answer.Stands[stand].Infested)
		area += infested * (exposure + gain[i]/2)
		acres += infested
		exposure += gain[i]
	}
	if acres == 0 || exposure == 0 {
		return 0
	}
	return area / (acres * exposure)
}
