package result

import "driftreach/internal/allocate"

func infestedOf(s *Sum) int64 { return s.Infested }

// printColumn rounds one figure of rows so that it adds up to that of a printed total. In each row it
// is at most atMost.
func printColumn(total *Sum, rows []Sum, step int64, of func(*Sum) *int64, atMost func(*Sum) int64) {
	amounts := make([]int64, len(rows))
	var most []int64
	for i := range rows {
		amounts[i] = *of(&rows[i])
		if atMost != nil {
			most = append(most, atMost(&rows[i]))
		}
	}
	for i, part := range allocate.ToTotal(*of(total), amounts, step, most) {
		*of(&rows[i]) = part
	}
}

// printInside rounds a figure that is part of the infested acres of a row, so that it is at most
// atMost. If the rows cannot add up that way, because infested acres were rounded down in rows that
// consist only of this part, the limit is dropped: a row may then show a little more than its infested
// acres, in the last digit.
func printInside(total *Sum, rows []Sum, step int64, of func(*Sum) *int64, atMost func(*Sum) int64) {
	exact := make([]int64, len(rows))
	for i := range rows {
		exact[i] = *of(&rows[i])
	}
	printColumn(total, rows, step, of, atMost)
	left := *of(total)
	for i := range rows {
		left -= *of(&rows[i])
	}
	if left == 0 {
		return
	}
	for i := range rows {
		*of(&rows[i]) = exact[i]
	}
	printColumn(total, rows, step, of, nil)
}
