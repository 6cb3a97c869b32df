package result

import (
	"slices"
	"strings"

	"driftreach/internal/survey"
)

// Scope says what a summary row sums over.
type Scope string

// The scopes, in the order of the rows.
const (
	Total     Scope = "total"     // the whole batch
	WaterBody Scope = "waterBody" // stands whose nearest stream has the row's name
	Unnamed   Scope = "unnamed"   // stands whose nearest stream has no name
	NoStream  Scope = "noStream"  // stands of a batch without streams
)

// Sum is one row of the summary. Acres are in units of 1e-4, kilometres of
// 1e-4 and fragments of 1e-6, as the dictionary rounds them: sums of the
// stands' and reaches' own printed figures, exact and in any order.
type Sum struct {
	Scope   Scope
	Name    string // the water body's
	Quarter string

	Stands, Isolated, InZone            int
	Gross, Infested, Canopy, Zone       int64
	ByStatus                            [4]int64 // infested, by survey.Status
	ReachAtRisk, FloodReach             int64
	Released, Settled, Held, Aged, Left int64
}

// Summarize returns the total first and then a row for each water body that has
// a stand or a reach at risk, by name, then those without a name and without a
// stream. A stand belongs to its nearest stream, upland ones too, and its
// fragments are counted there wherever they went; a reach belongs to the stream
// it lies on. Every column of the total is the sum of the rows below it.
func Summarize(run *Run) []Sum {
	rows := make(map[string]*Sum)
	quarter := run.Quarter.String()
	for i := range run.Stands {
		s := &run.Stands[i]
		row(rows, run, s.Zone.Line, quarter).addStand(s)
	}
	for i := range run.Reaches {
		r := &run.Reaches[i]
		s := row(rows, run, r.Line, quarter)
		if r.Stage == 0 {
			s.ReachAtRisk += units(r.LengthKm, Kilometers)
		} else {
			s.FloodReach += units(r.LengthKm, Kilometers)
		}
	}
	parts := make([]Sum, 0, len(rows)+1)
	for _, s := range rows {
		parts = append(parts, *s)
	}
	slices.SortFunc(parts, bySection)
	total := Sum{Scope: Total, Quarter: quarter}
	for i := range parts {
		total.add(&parts[i])
	}
	return slices.Insert(parts, 0, total)
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

// units returns x in fixed point, 0 for what is not a number.
func units(x float64, u Unit) int64 {
	n, _ := scaled(x, u.Decimals())
	return n
}

func (s *Sum) addStand(t *Stand) {
	s.Stands++
	s.Isolated += ones(t.Isolated)
	s.InZone += ones(t.Zone.InZone)
	infested := units(float64(t.Infested.Acres()), Acres)
	s.Infested += infested
	s.Gross += units(float64(t.Gross.Acres()), Acres)
	s.Canopy += units(float64(t.Canopy.Acres()), Acres)
	s.Zone += units(float64(t.Zone.Area.Acres()), Acres)
	if int(t.Status) < len(s.ByStatus) {
		s.ByStatus[t.Status] += infested
	} else {
		s.ByStatus[survey.Untreated] += infested
	}
	b := booksOf(t.Drift)
	s.Released += b.released
	s.Settled += b.settled
	s.Held += b.held
	s.Aged += b.aged
	s.Left += b.left
}

func ones(b bool) int {
	if b {
		return 1
	}
	return 0
}

// add adds another row's figures.
func (s *Sum) add(o *Sum) {
	s.Stands += o.Stands
	s.Isolated += o.Isolated
	s.InZone += o.InZone
	s.Gross += o.Gross
	s.Infested += o.Infested
	s.Canopy += o.Canopy
	s.Zone += o.Zone
	for k := range s.ByStatus {
		s.ByStatus[k] += o.ByStatus[k]
	}
	s.ReachAtRisk += o.ReachAtRisk
	s.FloodReach += o.FloodReach
	s.Released += o.Released
	s.Settled += o.Settled
	s.Held += o.Held
	s.Aged += o.Aged
	s.Left += o.Left
}
