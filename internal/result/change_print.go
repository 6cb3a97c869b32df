package result

// changeColumns are the parts of change that lead from the acres of the batch before
// to those now, but for the last, which leads away.
var changeColumns = [...]func(*Parts) *int64{
	func(p *Parts) *int64 { return &p.Observed },
	func(p *Parts) *int64 { return &p.Restated },
	func(p *Parts) *int64 { return &p.New },
	func(p *Parts) *int64 { return &p.FoundAgain },
	func(p *Parts) *int64 { return &p.FirstLooked },
	func(p *Parts) *int64 { return &p.NotDetected },
}

const (
	signedColumns = 2 // the first ones may be below 0
	away          = len(changeColumns) - 1
)

// printChange rounds the parts of change of rows so that each column adds up to a
// printed total, and each row to its infested acres. What the parts leave of a row is
// its acres in the batch before, which may differ by some of the last digit from what
// that batch printed of the row, and never in the total.
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

// printCleared rounds what was cleared and the rest of what was not detected.
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

// balance moves last digits of parts of change between rows, so that the acres of the
// batch before are nowhere below 0, and 0 where there were none. Columns and rows add
// up as before. Each search goes on where the last one ended: the cost is that of the
// rows.
type balance struct {
	rows       []Sum
	exact      []Parts // by row, before rounding
	step       int64
	more, less [len(changeColumns)]int // by column: the row to try next
	anyMore    int
}

// settle moves what has to move.
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

// raise gives a row one more of the last digit of acres in the batch before, from a row
// that has some: by a part that neither row goes without, else by the observed change.
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

// lower takes one from a row that had none, for a row that had some.
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

// move takes one of the last digit of a part from a row and gives it to another, or the
// other way for what leads away, so that the first has one more of acres before.
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

// gives says whether a row has the part, and may have less of it, or more of what leads
// away.
func (b *balance) gives(i, c int) bool {
	column := changeColumns[c]
	return *column(&b.exact[i]) != 0 && (c < signedColumns || c == away || *column(&b.rows[i].Change) >= b.step)
}

// takes says whether a row has the part, and may have more of it, or less of what leads
// away.
func (b *balance) takes(i, c int) bool {
	p := &b.rows[i].Change
	return *changeColumns[c](&b.exact[i]) != 0 && (c != away || p.NotDetected-p.Cleared >= b.step)
}

// find goes on to the next row that will do, -1 for none.
func (b *balance) find(next *int, will func(k int) bool) int {
	for ; *next < len(b.rows); *next++ {
		if will(*next) {
			return *next
		}
	}
	return -1
}
