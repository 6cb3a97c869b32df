// Command identity shows how often stands are mistaken for others, and acres for
// gone or new, when only positions, measured patches, sampling and visits differ: chains
// of three quarters of known truth, through real folders, family by family. Patches are
// off as the settings of uncertainty say, each by itself and together what one of two
// crews measures in a quarter; it prints how many true changes lie within the P10 to
// P90 of the observed change.
//
//	go run ./scripts/identity [CHAINS [FAMILY]]
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// errors68 are the position errors in metres, each the radius that holds 68 %.
var errors68 = []float64{0, 2, 4, 8, 15}

func main() {
	chains, only := 4, ""
	if len(os.Args) > 1 {
		n, err := strconv.Atoi(os.Args[1])
		if err != nil || n < 1 || len(os.Args) > 3 {
			fmt.Fprintln(os.Stderr, "identity: error: usage: identity [CHAINS [FAMILY]]")
			os.Exit(1)
		}
		chains = n
	}
	if len(os.Args) > 2 {
		only = os.Args[2]
	}
	if err := write(os.Stdout, only, chains, places); err != nil {
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
func write(out io.Writer, only string, chains, places int) error {
	wanted := slices.DeleteFunc(slices.Clone(families), func(f family) bool { return !strings.HasPrefix(f.name, only) })
	rows, err := measure(wanted, errors68, chains, places)
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
		for _, e := range errors68 {
			fmt.Fprintf(out, " %g m |", e)
		}
		fmt.Fprintf(out, "\n|---|%s\n", strings.Repeat("--:|", len(errors68)))
		for k, r := range rows {
			if k%len(errors68) == 0 {
				fmt.Fprintf(out, "| %s |", r.family.name)
			}
			fmt.Fprintf(out, " %s |", strings.Join(table.cells(r.truth), " / "))
			if (k+1)%len(errors68) == 0 {
				fmt.Fprintln(out)
			}
		}
	}
	fmt.Fprintf(out, "\nTrue change within P10 to P90, all families: %s\n", strings.Join(within(rows), ", "))
	var wrong []error
	for _, r := range rows {
		wrong = append(wrong, r.missed()...)
	}
	return errors.Join(wrong...)
}

// within says, by position error, how many of the true changes of all families lie
// within P10 to P90.
func within(rows []row) []string {
	var told []string
	for i, e := range errors68 {
		var all tally
		for k := i; k < len(rows); k += len(errors68) {
			all.add(rows[k].truth)
		}
		told = append(told, fmt.Sprintf("%g m %.0f of %.0f", e, all.within, all.intervals))
	}
	return told
}

// missed says which goals a row misses: less than 1 % of the acres falsely not
// detected and falsely new up to 8 m, less than 3 % above; nine tenths of what is gone told.
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

// percent writes a share, a dash where there is nothing to share.
func percent(part, of float64, decimals int) string {
	if of == 0 {
		return "–"
	}
	return strconv.FormatFloat(100*part/of, 'f', decimals, 64)
}

// measure runs chains of every family at every error, two at a time.
func measure(families []family, errors []float64, chains, places int) ([]row, error) {
	var rows []row
	for _, f := range families {
		for _, e := range errors {
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
				for seed := range chains {
					t, err := follow(rows[i].family, rows[i].error, uint64(seed), places, filepath.Join(top, strconv.Itoa(i)))
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
