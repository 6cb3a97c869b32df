// Command order shows by how much the recommended treatment order beats
// others: the share of exposure taken away, averaged over the acres treated,
// for the recommended order, the largest stands first, and random orders.
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
	"driftreach/internal/intake"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// orders is how many random orders are tried. Our choice: the mean is good to
// a few thousandths.
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
	file := func(name string) []intake.Source {
		return []intake.Source{{Name: name, Open: func() (io.ReadCloser, error) { return os.Open(name) }}}
	}
	ctx, s := context.Background(), batch.DefaultSettings()
	s.Drift.Draws = 0
	observed, err := batch.Read(ctx, batch.Inputs{Points: file(args[0]), Streams: file(args[1]), Quarter: quarter}, s, batch.Host{})
	if err != nil {
		return err
	}
	answer, err := batch.Compute(ctx, observed, s, batch.Host{})
	if err != nil {
		return err
	}
	show(answer)
	return nil
}

// show prints the mean share taken away by each order.
func show(answer *result.Run) {
	recommended := make([]int, len(answer.Stands))
	for i := range recommended {
		recommended[i] = i
	}
	largest := slices.Clone(recommended)
	slices.SortStableFunc(largest, func(a, b int) int {
		return cmp.Compare(answer.Stands[b].Infested, answer.Stands[a].Infested)
	})
	random := rand.New(rand.NewPCG(1, 1))
	var sum, best float64
	shuffled := slices.Clone(recommended)
	for range orders {
		random.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		mean := meanShare(answer, shuffled)
		sum, best = sum+mean, max(best, mean)
	}
	fmt.Printf("%d stands; exposure taken away, mean over the acres treated:\n", len(answer.Stands))
	fmt.Printf("  recommended    %5.1f %%\n", 100*meanShare(answer, recommended))
	fmt.Printf("  largest first  %5.1f %%\n", 100*meanShare(answer, largest))
	fmt.Printf("  random         %5.1f %% (mean of %d, best %.1f %%)\n", 100*sum/orders, orders, 100*best)
}

// meanShare is the area under the curve of exposure taken away against acres
// treated, both as shares: 0.5 for a spread that follows acres evenly.
func meanShare(answer *result.Run, order []int) float64 {
	var acres, exposure, area float64
	for _, i := range order {
		s := &answer.Stands[i]
		area += float64(s.Infested) * (exposure + s.Drift.Exposure/2)
		acres += float64(s.Infested)
		exposure += s.Drift.Exposure
	}
	if acres == 0 || exposure == 0 {
		return 0
	}
	return area / (acres * exposure)
}
