package trend

import (
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// ReadSummary reads the summary.csv of a batch of the given quarter. Columns are found by name,
// also under the names of earlier versions (PresentNames); others are skipped. Anything a batch
// never writes is an error that names the line.
func ReadSummary(r io.Reader, quarter survey.Quarter) (Batch, error) {
	b := Batch{Quarter: quarter}
	in := csv.NewReader(r)
	in.ReuseRecord = true
	header, err := in.Read()
	if err != nil {
		return b, fmt.Errorf("read the header: %w", err)
	}
	now, old := PresentNames(header)
	b.OldNames = old
	at, err := locate(now)
	if err != nil {
		return b, err
	}
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return b, err
		}
		if err := b.take(&at, cells); err != nil {
			line, _ := in.FieldPos(0)
			return b, fmt.Errorf("line %d: %w", line, err)
		}
	}
	return b, b.begins()
}

// HistoryOf reads the summaries of several batches from one table of cells: by quarter, each with its
// total first. Columns that an earlier version lacked are blank, as they are once a later batch has
// copied its rows. An error names the row.
func HistoryOf(header []string, rows [][]string) ([]Batch, error) {
	header, _ = PresentNames(header)
	width := len(header)
	for _, name := range slices.Concat(columns[:], offColumns[:], []string{looksColumn}) {
		if !slices.Contains(header, name) {
			header = append(header, name)
		}
	}
	at, err := locate(header)
	if err != nil {
		return nil, err
	}
	var all []Batch
	for i, cells := range rows {
		cells = slices.Concat(cells, make([]string, len(header)-width))
		quarter, err := survey.ParseQuarter(cells[at.quarter])
		if err != nil {
			return nil, fmt.Errorf("row %d: %w", i+1, err)
		}
		if n := len(all); n == 0 || all[n-1].Quarter != quarter {
			all = append(all, Batch{Quarter: quarter})
		}
		b := &all[len(all)-1]
		if err := cmp.Or(b.take(&at, cells), b.begins()); err != nil {
			return nil, fmt.Errorf("row %d: %w", i+1, err)
		}
	}
	return all, nil
}

// take adds a row.
func (b *Batch) take(at *places, cells []string) error {
	row, err := at.row(cells, b.Quarter)
	if err != nil {
		return err
	}
	b.Rows = append(b.Rows, row)
	if row.Scope != field.ScopeTotal {
		return nil
	}
	if at.reach >= 0 {
		b.ReachApart = cells[at.reach] != ""
	}
	b.DefaultShare, err = at.defaultShare(cells, row.Figures[Infested])
	return err
}

// defaultShare returns the share of the infested acres that rests on default patches; NaN where there
// are none, or the batch does not tell.
func (p *places) defaultShare(cells []string, infested int64) (float64, error) {
	if p.assumed < 0 || cells[p.assumed] == "" || infested <= 0 {
		return math.NaN(), nil
	}
	n, err := figure(Infested, cells[p.assumed])
	if err != nil {
		return 0, fmt.Errorf("%s: %w", field.AssumedAcres, err)
	}
	return float64(n) / float64(infested), nil
}

// begins checks that the rows begin with the total, as in every batch.
func (b *Batch) begins() error {
	if len(b.Rows) == 0 || b.Rows[0].Scope != field.ScopeTotal {
		return errors.New("the first row is not the total")
	}
	return nil
}

// places holds the column of each value of a summary.
type places struct {
	scope, name, unit, quarter int
	figures                    [measures]int // -1 for a column the batch lacks
	looks                      int           // -1 for none
	reach                      int           // -1 for none
	assumed                    int           // -1 for none
	off                        [offs]int     // -1 unless the batch has both
}

func locate(header []string) (places, error) {
	at := map[string]int{}
	for i, name := range header {
		at[name] = i
	}
	var p places
	find := func(name string, place *int) error {
		i, ok := at[name]
		if !ok {
			return fmt.Errorf("there is no column %s", name)
		}
		*place = i
		return nil
	}
	err := errors.Join(find(field.Scope, &p.scope), find(field.Name, &p.name), find(field.UnitID, &p.unit), find(field.Quarter, &p.quarter))
	for m := range p.figures {
		if _, there := at[columns[m]]; !there && Measure(m).mayLack() {
			p.figures[m] = -1
			continue
		}
		err = errors.Join(err, find(columns[m], &p.figures[m]))
	}
	if find(looksColumn, &p.looks) != nil {
		p.looks = -1
	}
	if find(reachColumn, &p.reach) != nil {
		p.reach = -1
	}
	if find(field.AssumedAcres, &p.assumed) != nil {
		p.assumed = -1
	}
	for k, name := range offColumns {
		if find(name, &p.off[k]) != nil {
			p.off[0] = -1
		}
	}
	return p, err
}

func (p *places) row(cells []string, quarter survey.Quarter) (r Row, err error) {
	r = Row{Scope: field.RowScope(strings.Clone(cells[p.scope])), Name: strings.Clone(check.FromCell(cells[p.name])), UnitID: strings.Clone(check.FromCell(cells[p.unit]))}
	if got := cells[p.quarter]; got != quarter.String() {
		return r, fmt.Errorf("quarter %q in a batch of %s", got, quarter)
	}
	for m, i := range p.figures {
		if i < 0 {
			r.Figures[m] = Blank
			continue
		}
		n, err := figure(Measure(m), cells[i])
		if err != nil {
			return r, fmt.Errorf("%s: %w", columns[m], err)
		}
		r.Figures[m] = n
	}
	r.Figures.live()
	if p.looks >= 0 {
		looks, err := parseLooks(cells[p.looks])
		if err != nil {
			return r, fmt.Errorf("%s: %w", looksColumn, err)
		}
		r.Looks, r.LooksTold = looks, true
	}
	if p.off[0] >= 0 {
		var off [offs]*Off
		for k, i := range p.off {
			if off[k], err = parseOff(cells[i]); err != nil {
				return r, fmt.Errorf("%s: %w", offColumns[k], err)
			}
		}
		if r.Off = &off; cells[p.off[offInfested]] == "" && r.Figures[Infested] > 0 { // not recorded
			r.Off = nil
		}
	}
	return r, nil
}

// looksColumn is the column with the quarters of the last looks at a section's ground.
const looksColumn = field.LastLooks

// reachColumn is the column that names what was different from the last batch when reach was made;
// blank for nothing.
const reachColumn = field.ReachBreak
