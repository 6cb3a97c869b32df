package verify

import "fmt"

// mostTold is the most problems that are reported for one table. Our choice.
const mostTold = 20

// faults are what is wrong with one table. Those after the first mostTold are only counted.
type faults struct {
	first []string
	more  int
}

func (f *faults) addf(format string, args ...any) {
	if len(f.first) == mostTold {
		f.more++
		return
	}
	f.first = append(f.first, fmt.Sprintf(format, args...))
}

// all returns the faults, and how many more there are.
func (f *faults) all() []string {
	if f.more == 0 {
		return f.first
	}
	return append(f.first, fmt.Sprintf("and %d more", f.more))
}

// told reports the faults of a table.
func (r *Report) told(name string, f *faults) {
	for _, text := range f.all() {
		r.addf(name, "%s", text)
	}
	*f = faults{}
}
