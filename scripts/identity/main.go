// Command identity shows how often stands are taken for others, and acres reported gone or new by
// mistake, when only positions, measured patches, sampling and visits differ. It runs chains of
// three quarters with known truth, through real folders, family by family. Patches have the errors
// in the uncertainty settings: an independent one, and one common to all that one of two crews
// measures in a quarter. It prints how many true changes are within the P10 to P90 of the observed
// change.
//
//	go run ./scripts/identity [-chains N] [-places N] [-first SEED] [-at METRES] [FAMILY]
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// errors68 are the position errors in metres, each the radius that holds 68 %.
var errors68 = []float64{0, 2, 4, 8, 15}

// sample says which chains to run.
type sample struct {
	only   string    // families whose names begin with this
	at     []float64 // position errors
	first  uint64    // seed of the first chain of each family and error
	chains int       // number of chains for each
	places int       // number of places in a chain
}

func main() {
	s := sample{at: errors68}
	flag.IntVar(&s.chains, "chains", 4, "chains of each family and error")
	flag.IntVar(&s.places, "places", places, "places along the stream of a chain")
	flag.Uint64Var(&s.first, "first", 0, "seed of the first chain")
	at := flag.Float64("at", -1, "the only position error, in metres; all where below 0")
	flag.Parse()
	if s.only = flag.Arg(0); flag.NArg() > 1 || s.chains < 1 || s.places < 1 {
		fmt.Fprintln(os.Stderr, "identity: error: usage: identity [-chains N] [-places N] [-first SEED] [-at METRES] [FAMILY]")
		os.Exit(1)
	}
	if *at >= 0 {
		s.at = []float64{*at}
	}
	if err := write(os.Stdout, s); err != nil {
		fmt.Fprintln(os.Stderr, "identity: error:", err)
		os.Exit(1)
	}
}

// row is one family at one position error.
type row struct {
	family family
	error  float64
	truth  tally
}

// write prints the table.
func write(out io.Writer, s sample) error {
	wanted := slices.DeleteFunc(slices.Clone(families), func(f family) bool { return !strings.HasPrefix(f.name, s.only) })
	rows, err := measure(wanted, s)
	if err != nil {
		return err
	}
	tables := []struct {
		name  string
		cells func(t tally) []string
	}{
		{"pairs right / falsely not detected / falsely new, %", func(t tally) []string {
			return []string{percent(t.right, t.pairs, 1), percent(t.notDetected, t.acres, 2), percent(t.isNew, t.acres, 2)}
		}},
		{"falsely carried / observed change off by / true change within P10 to P90, %", func(t tally) []string {
			return []string{percent(t.carried, t.acres, 2), percent(t.observed, t.acres, 2), percent(t.within, t.intervals, 0)}
		}},
	}
	for i, table := range tables {
		if i > 0 {
			fmt.Fprintln(out)
		}
		fmt.Fprintf(out, "| %s |", table.name)
		for _, e := range s.at {
			fmt.Fprintf(out, " %g m |", e)
		}
		fmt.Fprintf(out, "\n|---|%s\n", strings.Repeat("--:|", len(s.at)))
		for k, r := range rows {
			if k%len(s.at) == 0 {
				fmt.Fprintf(out, "| %s |", r.family.name)
			}
			fmt.Fprintf(out, " %s |", strings.Join(table.cells(r.truth), " / "))
			if (k+1)%len(s.at) == 0 {
				fmt.Fprintln(out)
			}
		}
	}
	fmt.Fprintf(out, "\nTrue change within P10 to P90, all families: %s\n", strings.Join(within(rows, s.at), ", "))
	wrong := []error{uncovered(rows)}
	for _, r := range rows {
		wrong = append(wrong, r.missed()...)
	}
	return errors.Join(wrong...)
}

// within says, by position error, how many of the true changes of all families are within P10 to
// P90.
func within(rows []row, errors []float64) []string {
	var told []string
	for i, e := range errors {
		var all tally
		for k := i; k < len(rows); k += len(errors) {
			all.add(rows[k].truth)
		}
		told = append(told, fmt.Sprintf("%g m %.0f of %.0f", e, all.within, all.intervals))
	}
	return told
}

// uncovered returns an error when fewer than 80 % of the true changes are within P10 to P90, by
// more than chance: three standard deviations of a share in which the two changes of a chain are
// correlated. Our choice: two such changes count as 1.25 independent ones.
func uncovered(rows []row) error {
	var all tally
	for _, r := range rows {
		all.add(r.truth)
	}
	least := 0.8*all.intervals - 3*math.Sqrt(0.8*0.2*1.6*all.intervals)
	if all.within < least {
		return fmt.Errorf("%.0f of %.0f true changes lie within P10 to P90, less than %.0f", all.within, all.intervals, least)
	}
	return nil
}

// missed says which goals a row misses: up to 8 m less than 1 % of the acres falsely not detected
// and falsely new, above that less than 3 %; nine tenths of what is gone reported.
func (r *row) missed() []error {
	most := 1.0
	if r.error > 8 {
		most = 3
	}
	var out []error
	for _, f := range []struct {
		acres float64
		what  string
	}{{r.truth.notDetected, "not detected"}, {r.truth.isNew, "new"}} {
		if share := 100 * f.acres / r.truth.acres; !(share < most) {
			out = append(out, fmt.Errorf("%s at %g m: %.2f %% of the acres falsely %s", r.family.name, r.error, share, f.what))
		}
	}
	if r.truth.told < 0.9*r.truth.gone {
		out = append(out, fmt.Errorf("%s at %g m: %.1f of %.1f acres that are gone are told", r.family.name, r.error, r.truth.told, r.truth.gone))
	}
	return out
}

// percent writes a share, or a dash where the whole is 0.
func percent(part, of float64, decimals int) string {
	if of == 0 {
		return "–"
	}
	return strconv.FormatFloat(100*part/of, 'f', decimals, 64)
}

// measure runs chains of every family at every error, two at a time.
func measure(families []family, s sample) ([]row, error) {
	var rows []row
	for _, f := range families {
		for _, e := range s.at {
			rows = append(rows, row{family: f, error: e})
		}
	}
	top, err := os.MkdirTemp("", "identity")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(top)
	wrong := make([]error, len(rows))
	work := make(chan int)
	var group sync.WaitGroup
	for range 2 {
		group.Go(func() {
			for i := range work {
				for seed := s.first; seed < s.first+uint64(s.chains); seed++ {
					t, err := follow(rows[i].family, rows[i].error, seed, s.places, filepath.Join(top, strconv.Itoa(i)))
					if err != nil {
						wrong[i] = fmt.Errorf("%s at %g m: %w", rows[i].family.name, rows[i].error, err)
						break
					}
					rows[i].truth.add(t)
				}
			}
		})
	}
	for i := range rows {
		work <- i
	}
	close(work)
	group.Wait()
	for _, err := range wrong {
		if err != nil {
			return nil, err
		}
	}
	return rows, nil
}
