package result

// changeColumns are the parts of change. All but the last are added to the previous acres to get the
// present ones; the last (see away) is subtracted.
var changeColumns = [...]func(*Parts) *int64{
	func(p *Parts) *int64 { return &p.Observed },
	func(p *Parts) *int64 { return &p.Restated },
	func(p *Parts) *int64 { return &p.New },
	func(p *Parts) *int64 { return &p.FoundAgain },
	func(p *Parts) *int64 { return &p.FirstLooked },
	func(p *Parts) *int64 { return &p.NotDetected },
}

const (
	signedColumns = 2 // the first two may be negative
	away          = len(changeColumns) - 1
)

// printChange rounds the parts of change so that each column adds up to its printed total, and each row
// to its infested acres. The previous acres of a row follow from the others. They may differ in the
// last digit from what the previous batch printed for the row, but never in the total.
func printChange(total *Sum, rows []Sum, step int64) {
	exact := make([]Parts, len(rows))
	for i := range rows {
		exact[i] = rows[i].Change
	}
	printColumn(total, rows, step, func(s *Sum) *int64 { return &s.Change.Observed }, nil)
	printColumn(total, rows, step, func(s *Sum) *int64 { return &s.Change.Restated }, nil)
	printInside(total, rows, step, func(s *Sum) *int64 { return &s.Change.New }, infestedOf)
	printInside(total, rows, step, func(s *Sum) *int64 { return &s.Change.FoundAgain }, func(s *Sum) int64 { return max(0, s.Infested-s.Change.New) })
	printInside(total, rows, step, func(s *Sum) *int64 { return &s.Change.FirstLooked }, func(s *Sum) int64 { return max(0, s.Infested-s.Change.New-s.Change.FoundAgain) })
	printInside(total, rows, step, func(s *Sum) *int64 { return &s.Change.Carried }, infestedOf)
	printCleared(total, rows, step)
	for k := range total.Since.change {
		printColumn(total, rows, step, func(s *Sum) *int64 { return &s.Since.change[k] }, nil)
	}
	for i := range rows {
		c := &rows[i].Change
		c.Previous = rows[i].Infested - c.Restated - c.Observed - c.New - c.FoundAgain - c.FirstLooked + c.NotDetected
	}
	b := balance{rows: rows, exact: exact, step: step}
	b.settle()
}

// printCleared rounds cleared acres, and separately the rest of the acres not detected.
func printCleared(total *Sum, rows []Sum, step int64) {
	for i := range rows {
		rows[i].Change.NotDetected -= rows[i].Change.Cleared
	}
	total.Change.NotDetected -= total.Change.Cleared
	printColumn(total, rows, step, func(s *Sum) *int64 { return &s.Change.NotDetected }, nil)
	printColumn(total, rows, step, func(s *Sum) *int64 { return &s.Change.Cleared }, nil)
	total.Change.NotDetected += total.Change.Cleared
	for i := range rows {
		rows[i].Change.NotDetected += rows[i].Change.Cleared
	}
}

// balance moves units of the last digit between rows, so that previous acres are never negative, and
// are 0 in rows that had none. Sums of columns and rows stay the same. Each search continues where the
// last one ended, so the cost is proportional to the number of rows.
type balance struct {
	rows       []Sum
	exact      []Parts // by row, before rounding
	step       int64
	more, less [len(changeColumns)]int // by column: the next row to try
	anyMore    int
}

// settle makes all moves that are needed.
func (b *balance) settle() {
	for i := range b.rows {
		for b.rows[i].Change.Previous < 0 && b.raise(i) {
		}
	}
	for i := range b.rows {
		for b.exact[i].Previous == 0 && b.rows[i].Change.Previous > 0 && b.lower(i) {
		}
	}
}

// raise adds one unit of the last digit to the previous acres of row i and takes it from a row that has
// some. It uses a part of change that both rows have, or else the observed change.
func (b *balance) raise(i int) bool {
	for c, column := range changeColumns {
		if b.gives(i, c) {
			from := b.find(&b.more[c], func(k int) bool {
				return b.exact[k].Previous > 0 && b.rows[k].Change.Previous >= b.step && b.takes(k, c)
			})
			if from >= 0 {
				b.move(column, c, i, from)
				return true
			}
		}
	}
	from := b.find(&b.anyMore, func(k int) bool { return b.rows[k].Change.Previous >= b.step })
	if from >= 0 {
		b.move(changeColumns[0], 0, i, from)
	}
	return from >= 0
}

// lower takes one unit from row i, which had no previous acres, and gives it to a row that had some.
func (b *balance) lower(i int) bool {
	for c, column := range changeColumns {
		if b.takes(i, c) {
			to := b.find(&b.less[c], func(k int) bool { return k != i && b.exact[k].Previous > 0 && b.gives(k, c) })
			if to >= 0 {
				b.move(column, c, to, i)
				return true
			}
		}
	}
	return false
}

// move moves one unit of previous acres from one row to another, by changing part c of both rows: it
// gets smaller in row to and larger in row from, or the other way if it is the part that is subtracted.
func (b *balance) move(column func(*Parts) *int64, c, to, from int) {
	step := b.step
	if c == away {
		step = -step
	}
	*column(&b.rows[to].Change) -= step
	*column(&b.rows[from].Change) += step
	b.rows[to].Change.Previous += b.step
	b.rows[from].Change.Previous -= b.step
}

// gives says whether row i has part c and its previous acres can grow: the part can get smaller, or
// larger if it is the one that is subtracted.
func (b *balance) gives(i, c int) bool {
	column := changeColumns[c]
	return *column(&b.exact[i]) != 0 && (c < signedColumns || c == away || *column(&b.rows[i].Change) >= b.step)
}

// takes says whether row i has part c and its previous acres can shrink: the part can get larger, or
// smaller if it is the one that is subtracted.
func (b *balance) takes(i, c int) bool {
	p := &b.rows[i].Change
	return *changeColumns[c](&b.exact[i]) != 0 && (c != away || p.NotDetected-p.Cleared >= b.step)
}

// find returns the next row for which will is true; -1 for none.
func (b *balance) find(next *int, will func(k int) bool) int {
	for ; *next < len(b.rows); *next++ {
		if will(*next) {
			return *next
		}
	}
	return -1
}
