package verify

import (
	"math"
	"math/big"
	"slices"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/treatment"
	"driftreach/internal/trend"
)

// additive are the columns of a summary in which the rows by stream, and the rows by unit if there are
// any, add up to the total.
var additive = []string{
	field.Stands, field.Isolated, field.AquaticZoneStands, field.GrossAcres, field.InfestedAcres, field.CanopyAcres, field.ZoneAcres, field.AssumedAcres, field.AssumedCanopyAcres,
	field.UntreatedAcres, field.TreatedStandsAcres, field.ResproutAcres, field.StandingDeadAcres,
	field.PreviousAcres, field.RestatedAcres, field.ObservedChangeAcres, field.NewAcres, field.FoundAgainAcres, field.FirstLookedAtAcres, field.NotDetectedAcres, field.ClearedAcres, field.CarriedAcres,
	field.LiveAcres, field.GrossSinceLastLookAcres, field.InfestedSinceLastLookAcres, field.CanopySinceLastLookAcres, field.ZoneSinceLastLookAcres,
	field.TreatedStandsSinceLastLookAcres, field.StandingDeadSinceLastLookAcres,
	field.ReachAtRiskKm, field.Released, field.Settled, field.HeldAtBarriers, field.LostToAge, field.LeftAtOutlets,
}

// part is a column and its sign.
type part struct {
	column string
	sign   int64
}

// parts are the columns, with their signs, that lead from the acres of the previous batch to the
// present ones.
var parts = []part{
	{field.PreviousAcres, 1}, {field.RestatedAcres, 1}, {field.ObservedChangeAcres, 1}, {field.NewAcres, 1}, {field.FoundAgainAcres, 1},
	{field.FirstLookedAtAcres, 1}, {field.NotDetectedAcres, -1},
}

// Summary checks a summary, header first: its rows against each other, against the stands, and against
// the manifest's counts if they are given.
func Summary(rows [][]string, stands []Stand, counts map[string]int) []string {
	t, wrong := heldRows(rows)
	if wrong != nil {
		return wrong
	}
	t.stands(stands, counts)
	return t.all()
}

// Rows checks the rows of a summary by themselves, in exact decimals: totals against the rows by stream
// and by unit, acres by status against all acres, change against the acres of both batches. It also
// reports cells that are not figures, and figures that must not be negative.
func Rows(rows [][]string) []string {
	t, wrong := heldRows(rows)
	if wrong != nil {
		return wrong
	}
	return t.all()
}

// heldRows checks the rows of a summary against each other. wrong says why that is not possible.
func heldRows(rows [][]string) (t *table, wrong []string) {
	t = &table{at: map[string]int{}, rows: rows[1:]}
	names, _ := trend.PresentNames(rows[0])
	for i, name := range names {
		t.at[name] = i
	}
	scope, found := t.at[field.Scope]
	if !found || len(t.rows) == 0 || t.rows[0][scope] != string(field.ScopeTotal) {
		return nil, []string{"the first row is not the total"}
	}
	for _, column := range slices.Concat(additive, workColumns(names)) {
		at, there := t.at[column]
		if !there || t.rows[0][at] == "" {
			continue
		}
		total := t.number(0, column)
		for _, scopes := range [][]field.RowScope{field.ByStream, field.ByUnit} {
			sum, n := new(big.Rat), 0
			for i := range t.rows {
				if slices.Contains(scopes, field.RowScope(t.rows[i][scope])) {
					sum.Add(sum, t.number(i, column))
					n++
				}
			}
			if n > 0 && sum.Cmp(total) != 0 {
				t.addf("%s: the rows of %s add up to %s, and the total says %s", column, scopes[0], decimal(sum), decimal(total))
			}
		}
	}
	t.plausible(names)
	t.statuses()
	t.change()
	t.work(names)
	return t, nil
}

// plausible reports, in every row, cells that are not figures, negative figures that must not be, and
// percentiles out of order.
func (t *table) plausible(names []string) {
	for i := range t.rows {
		for _, name := range names {
			if !isFigure(name) || t.rows[i][t.at[name]] == "" {
				continue
			}
			n := t.number(i, name)
			if n.Sign() < 0 && !mayFall(name) {
				t.addf("row %d: %s is %s, below 0", i+1, name, decimal(n))
			}
			of, isLow := strings.CutSuffix(name, "_p10")
			if !isLow {
				continue
			}
			last, lastName := n, name
			for _, higher := range []string{of + "_p50", of + "_p90"} {
				if at, there := t.at[higher]; there && t.rows[i][at] != "" {
					if m := t.number(i, higher); m.Cmp(last) < 0 {
						t.addf("row %d: %s is %s, and %s is %s", i+1, lastName, decimal(last), higher, decimal(m))
					} else {
						last, lastName = m, higher
					}
				}
			}
		}
	}
}

// isFigure says whether a column of a summary contains figures, judged by its name.
func isFigure(column string) bool {
	for _, percentile := range []string{"_p10", "_p50", "_p90"} {
		column = strings.TrimSuffix(column, percentile)
	}
	return strings.HasSuffix(column, "_acres") || strings.HasSuffix(column, "_km") || slices.Contains(additive, column)
}

// mayFall says whether figures of a column may be negative: changes, and series on the same ground,
// which are a level minus changes.
func mayFall(column string) bool {
	return strings.HasPrefix(column, field.SameGround) || strings.HasPrefix(column, field.ObservedChangeAcres) || column == field.RestatedAcres || strings.HasSuffix(column, "_since_last_look_acres")
}

// statuses checks the infested and live acres of every row against the acres by status.
func (t *table) statuses() {
	for i := range t.rows {
		for _, c := range []struct {
			of string
			by []string
		}{
			{field.InfestedAcres, []string{field.UntreatedAcres, field.TreatedStandsAcres, field.ResproutAcres, field.StandingDeadAcres}},
			{field.LiveAcres, []string{field.UntreatedAcres, field.ResproutAcres}},
		} {
			at, there := t.at[c.of]
			_, split := t.at[c.by[0]]
			if !there || !split || t.rows[i][at] == "" {
				continue
			}
			sum := new(big.Rat)
			for _, name := range c.by {
				sum.Add(sum, t.number(i, name))
			}
			if said := t.number(i, c.of); sum.Cmp(said) != 0 {
				t.addf("row %d: %s is %s, and %s add up to %s", i+1, c.of, decimal(said), strings.Join(c.by, ", "), decimal(sum))
			}
		}
	}
}

// workColumns returns the columns of control work in a summary.
func workColumns(names []string) []string {
	var out []string
	for _, name := range names {
		if strings.HasPrefix(name, treatment.Prefix) {
			out = append(out, name)
		}
	}
	return out
}

// work checks the acres treated by method and by class against all acres treated, in every row.
func (t *table) work(names []string) {
	const all = treatment.Prefix + field.Acres
	for i := range t.rows {
		methods, classes, any := new(big.Rat), new(big.Rat), false
		for _, name := range workColumns(names) {
			switch named := func(s treatment.Split) bool { return s.Acres() == name }; {
			case !strings.HasSuffix(name, "_acres") || name == all:
			case slices.ContainsFunc(treatment.ByClass[:], named):
				classes.Add(classes, t.number(i, name))
			default:
				methods.Add(methods, t.number(i, name))
			}
			any = true
		}
		if !any {
			return
		}
		acres := t.number(i, all)
		for _, c := range []struct {
			of  string
			sum *big.Rat
		}{{"methods", methods}, {"formulation classes", classes}} {
			if c.sum.Cmp(acres) != 0 {
				t.addf("row %d: the acres treated by %s add up to %s, and %s says %s", i+1, c.of, decimal(c.sum), all, decimal(acres))
			}
		}
	}
}

// change checks the parts of change of every row against its acres.
func (t *table) change() {
	for i := range t.rows {
		if at, found := t.at[field.PreviousAcres]; !found || t.rows[i][at] == "" {
			continue
		}
		sum := new(big.Rat)
		for _, p := range parts {
			sum.Add(sum, new(big.Rat).Mul(big.NewRat(p.sign, 1), t.number(i, p.column)))
		}
		if now := t.number(i, field.InfestedAcres); sum.Cmp(now) != 0 {
			t.addf("row %d: the parts of change lead to %s acres, and infested_acres says %s", i+1, decimal(sum), decimal(now))
		}
	}
}

// stands checks the total against the stands and the counts.
func (t *table) stands(stands []Stand, counts map[string]int) {
	var gross, infested, canopy, zone float64
	zoned, isolated, carried := 0, 0, 0
	for i := range stands {
		s := &stands[i]
		gross, infested, canopy, zone = gross+s.Gross, infested+s.Infested, canopy+s.Canopy, zone+s.Zone
		zoned, isolated, carried = zoned+one(s.Zoned), isolated+one(s.Isolated), carried+one(s.Carried)
	}
	if counts != nil {
		t.counts(counts, len(stands), zoned, isolated, carried)
	}
	slack := rounding * float64(len(stands)+1)
	for _, c := range []struct {
		column string
		sum    float64
	}{{field.GrossAcres, gross}, {field.InfestedAcres, infested}, {field.CanopyAcres, canopy}, {field.ZoneAcres, zone}} {
		said, _ := t.number(0, c.column).Float64()
		if !(math.Abs(said-c.sum) <= slack) {
			t.addf("%s is %v, and the stands add up to %.4f", c.column, said, c.sum)
		}
	}
}

// counts checks the numbers of stands against those of the total and of the manifest.
func (t *table) counts(counts map[string]int, stands, zoned, isolated, carried int) {
	for _, c := range []struct {
		column, count string
		n             int
	}{{field.Stands, "stands", stands}, {field.AquaticZoneStands, "aquatic_zone_stands", zoned}, {field.Isolated, "isolated_stands", isolated}} {
		if said := t.number(0, c.column); said.Cmp(big.NewRat(int64(c.n), 1)) != 0 {
			t.addf("%s is %s, and there are %d in %s", c.column, decimal(said), c.n, standsFile)
		}
		if said, there := counts[c.count]; there && said != c.n {
			t.addf("%s counts %d %s, and there are %d in %s", manifestFile, said, c.count, c.n, standsFile)
		}
	}
	if said, there := counts["carried_stands"]; there && said != carried {
		t.addf("%s counts %d carried_stands, and there are %d in %s", manifestFile, said, carried, standsFile)
	}
}

func one(is bool) int {
	if is {
		return 1
	}
	return 0
}
