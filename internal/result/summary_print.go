package result

import "driftreach/internal/allocate"

// inPrint rounds the total of a batch, once, and then its rows so that they add up to it: the streams,
// and separately the reporting units.
func (r *Run) inPrint(total *Sum, parts ...[]Sum) {
	step := acreStep(r.acreDecimals())
	total.print(step)
	if r.Previous != nil {
		total.Change.print(total.Infested, step)
		for k, change := range total.Since.change {
			total.Since.change[k] = r.round(change)
		}
	}
	for _, rows := range parts {
		printRows(total, rows, step)
		if r.Previous != nil {
			printChange(total, rows, step)
		}
	}
}

// print rounds a total. The statuses add up to the infested acres.
func (s *Sum) print(step int64) {
	round := func(n int64) int64 { return allocate.Round(n, step) }
	s.Gross, s.Infested, s.Canopy, s.Zone = round(s.Gross), round(s.Infested), round(s.Canopy), round(s.Zone)
	s.Margin.resting, s.Margin.restingCanopy = min(s.Infested, round(s.Margin.resting)), min(s.Canopy, round(s.Margin.restingCanopy))
	copy(s.ByStatus[:], allocate.ToTotal(s.Infested, s.ByStatus[:], step, nil))
}

// print rounds the parts of change of a total, so that they add up to the difference between its
// printed infested acres and those of the previous batch.
func (p *Parts) print(infested, step int64) {
	rest := p.NotDetected - p.Cleared
	p.Previous = allocate.Round(p.Previous, step)
	change := allocate.ToTotal(infested-p.Previous, []int64{p.Observed, p.New, -p.NotDetected, p.Restated, p.FoundAgain, p.FirstLooked}, step, nil)
	p.Observed, p.New, p.NotDetected, p.Restated, p.FoundAgain, p.FirstLooked = change[0], change[1], -change[2], change[3], change[4], change[5]
	p.Cleared = allocate.ToTotal(p.NotDetected, []int64{p.Cleared, rest}, step, nil)[0]
	p.Carried = min(allocate.Round(p.Carried, step), infested)
}

// printRows rounds the acres of rows so that every column adds up to a printed total. In each row,
// infested acres are the sum of the statuses.
func printRows(total *Sum, rows []Sum, step int64) {
	for i := range rows {
		rows[i].Gross -= rows[i].Infested // only the gaps that were closed
	}
	total.Gross -= total.Infested
	printColumn(total, rows, step, func(s *Sum) *int64 { return &s.Gross }, nil)
	total.Gross += total.Infested
	for k := range total.ByStatus {
		printColumn(total, rows, step, func(s *Sum) *int64 { return &s.ByStatus[k] }, nil)
	}
	for i := range rows {
		s := &rows[i]
		s.Infested = 0
		for _, part := range s.ByStatus {
			s.Infested += part
		}
		s.Gross += s.Infested
	}
	printInside(total, rows, step, func(s *Sum) *int64 { return &s.Canopy }, infestedOf)
	printInside(total, rows, step, func(s *Sum) *int64 { return &s.Zone }, infestedOf)
	printInside(total, rows, step, func(s *Sum) *int64 { return &s.Margin.resting }, infestedOf)
	printInside(total, rows, step, func(s *Sum) *int64 { return &s.Margin.restingCanopy }, infestedOf)
}
