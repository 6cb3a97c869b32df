package result

import (
	"slices"
	"strings"
)

// sumStreams returns a row for each stream. A stand belongs to its nearest one,
// upland stands too, and its fragments are counted there wherever they went; a
// reach belongs to the stream it lies on.
func sumStreams(run *Run) []Sum {
	rows := make(map[string]*Sum)
	quarter := run.Quarter.String()
	for i := range run.Stands {
		t := &run.Stands[i]
		s := row(rows, run, t.Zone.Line, quarter)
		s.addStand(t)
		s.addAcres(t, wholeAcres(t))
	}
	for i := range run.Reaches {
		r := &run.Reaches[i]
		row(rows, run, r.Line, quarter).addReach(r.Stage, units(r.LengthKm, Kilometers))
	}
	parts := make([]Sum, 0, len(rows))
	for _, s := range rows { // sorted below
		parts = append(parts, *s)
	}
	slices.SortFunc(parts, bySection)
	return parts
}

// row returns the sum the centerline at index i counts in.
func row(rows map[string]*Sum, run *Run, i int32, quarter string) *Sum {
	s := Sum{Scope: NoStream, Quarter: quarter}
	if i >= 0 {
		s.Scope, s.Name = WaterBody, run.line(i).Name
		if s.Name == "" {
			s.Scope = Unnamed
		}
	}
	key := string(s.Scope) + "\x00" + s.Name
	if rows[key] == nil {
		rows[key] = &s
	}
	return rows[key]
}

// bySection orders water bodies by name, then the unnamed, then no stream.
func bySection(a, b Sum) int {
	rank := map[Scope]int{WaterBody: 1, Unnamed: 2, NoStream: 3}
	if d := rank[a.Scope] - rank[b.Scope]; d != 0 {
		return d
	}
	return strings.Compare(a.Name, b.Name)
}
